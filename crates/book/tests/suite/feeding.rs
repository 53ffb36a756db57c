//! The shelf, what was spread and harvested, imports and jobs: what a record may say, and what the
//! snapshot makes of them.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::{farm, plain_plot, stamp};
use book::model::*;
use book::{Body, Book, BookError, Kind};
use ground::fertility::analysis::report::{Amount, Analyte, LabFigure, LabReport, Procedure, ReportUnit};
use ground::kit::{Bounded, Refusal};
use jiff::civil::{Date, date};
use serde_json::json;

struct Yard {
    _folder: tempfile::TempDir,
    book: Book,
    plot: EntryId,
    bed: EntryId,
    second: i64,
}

fn yard() -> Yard {
    let folder = tempfile::tempdir().unwrap();
    let mut book = Book::create(folder.path().join("t.farmbook"), farm(), &stamp(0, "Ada")).unwrap();
    let plot = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap().id;
    let bed = Bed {
        plot,
        name: "Rows".into(),
        length_m: Bounded::literal(30.0),
        width_m: Bounded::literal(1.0),
        count: 2,
    };
    let bed = book.record(bed, &stamp(2, "Ada")).unwrap().id;
    Yard { _folder: folder, book, plot, bed, second: 10 }
}

fn refused<T: std::fmt::Debug>(result: book::Result<T>) -> Refusal {
    match result {
        Err(BookError::Refused(refusal)) => refusal,
        other => panic!("{other:?}"),
    }
}

impl Yard {
    fn keep<T: Record>(&mut self, body: T) -> EntryId {
        self.second += 1;
        self.book.record(body, &stamp(self.second, "Ada")).unwrap().id
    }

    fn refuses<T: Record + std::fmt::Debug>(&mut self, body: T) -> Refusal {
        self.second += 1;
        refused(self.book.record(body, &stamp(self.second, "Ada")))
    }

    fn stock(&mut self, material: EntryId, on: Date, kg: f64, what: StockChange) {
        self.keep(Stock { material, on, kg: Bounded::literal(kg), what, note: String::new() });
    }

    fn spread(&self, material: EntryId, bed: Option<EntryId>, on: Date, kg: f64) -> Application {
        Application {
            plot: self.plot,
            bed,
            spread: SpreadMaterial::Shelf(material),
            on,
            kg: Bounded::literal(kg),
            placed: Placed::Incorporated,
            job: None,
            note: String::new(),
        }
    }

    fn job(&self, key: &str) -> JobWord {
        JobWord {
            key: key.to_owned(),
            plot: Some(self.plot),
            bed: None,
            choice: JobChoice::Accepted,
            until: None,
            changed: None,
            reason: String::new(),
            done: None,
            as_planned: PlannedJob {
                what: "Spread 4 lb of feather meal".into(),
                place: "East".into(),
                from: None,
                to: None,
                materials: Vec::new(),
            },
        }
    }
}

/// Counted 50, then bought 20, lost 5, spread 12: 53 in hand, as anyone with a pencil finds.
#[test]
fn what_is_in_hand_is_the_last_count_and_what_came_after() {
    let mut yard = yard();
    let meal = yard.keep(Material::named("Feather meal"));
    let day = |number| date(2026, 4, number);
    yard.stock(meal, day(1), 80.0, StockChange::Counted);
    yard.stock(meal, day(2), 1000.0, StockChange::Bought);
    yard.stock(meal, day(10), 50.0, StockChange::Counted);
    // Of the day of the count: the count has it already.
    yard.stock(meal, day(10), 7.0, StockChange::Bought);
    yard.stock(meal, day(11), 20.0, StockChange::Bought);
    yard.stock(meal, day(12), 5.0, StockChange::Lost);
    let before = yard.spread(meal, None, day(9), 3.0);
    let after = yard.spread(meal, Some(yard.bed), day(13), 12.0);
    yard.keep(before);
    yard.keep(after);
    let hand = yard.book.snapshot().unwrap().in_hand(meal);
    assert_eq!((hand.kg, hand.bought_kg, hand.lost_kg, hand.spread_kg), (53.0, 20.0, 5.0, 12.0));
    assert_eq!(hand.counted.map(|count| (count.on, count.kg)), Some((day(10), 50.0)));
    // Never counted: what was bought, less what was spread, even below nothing.
    let lime = yard.keep(Material::named("Lime"));
    let much = yard.spread(lime, None, day(1), 40.0);
    yard.keep(much);
    assert_eq!(yard.book.snapshot().unwrap().in_hand(lime).kg, -40.0);
}

/// The plot is 300 m² and its two rows 60: a fifth of what goes on the plot reaches the rows.
#[test]
fn a_bed_gets_its_share_of_what_goes_on_the_whole_plot() {
    let mut yard = yard();
    let meal = yard.keep(Material::named("Feather meal"));
    let other = Bed {
        plot: yard.plot,
        name: "Others".into(),
        length_m: Bounded::literal(30.0),
        width_m: Bounded::literal(1.0),
        count: 1,
    };
    let other = yard.keep(other);
    for application in [
        yard.spread(meal, None, date(2026, 4, 1), 30.0),
        yard.spread(meal, Some(yard.bed), date(2026, 5, 1), 3.0),
        yard.spread(meal, Some(other), date(2026, 5, 1), 100.0),
        yard.spread(meal, Some(yard.bed), date(2025, 5, 1), 50.0),
    ] {
        yard.keep(application);
    }
    let snapshot = yard.book.snapshot().unwrap();
    let on_bed: Vec<f64> = snapshot.spread_on_bed(yard.bed, 2026).iter().map(|spread| spread.kg).collect();
    assert_eq!(on_bed, [6.0, 3.0]);
    assert_eq!(snapshot.spread_on_bed(yard.bed, 2026)[0].kg_m2(), 0.1);
    let on_plot: f64 = snapshot.spread_on_plot(yard.plot, 2026).iter().map(|spread| spread.kg).sum();
    assert_eq!(on_plot, 133.0);
}

#[test]
fn an_import_is_undone_as_a_whole_or_not_at_all() {
    let mut yard = yard();
    let import = Import {
        file_name: "results.csv".into(),
        laboratory: None,
        file_sha256: "ab".repeat(32),
        rows: 2,
        columns: Vec::new(),
        remarks: Vec::new(),
        note: String::new(),
    };
    let import = yard.keep(import);
    let ph = LabFigure {
        analyte: Analyte::PhWater,
        procedure: Procedure::Water1To1,
        unit: ReportUnit::None,
        amount: Amount::Exactly(6.2),
    };
    let plot = yard.plot;
    let seen = |import: Option<EntryId>, day: i8| Observation {
        plot,
        sample: None,
        seen_on: date(2026, 4, day),
        seen_by: String::new(),
        note: String::new(),
        import,
        spot: None,
        seen: Seen::LabReport(LabReport { figures: vec![ph], ..LabReport::new("County laboratory") }),
    };
    let first = yard.keep(seen(Some(import), 1));
    yard.keep(seen(Some(import), 2));
    yard.keep(seen(None, 3));
    // One was corrected since, one withdrawn: both belong to the import all the same.
    yard.book.revise(first, 1, seen(Some(import), 4), "day", &stamp(90, "Ada")).unwrap();
    let third = yard.keep(seen(Some(import), 5));
    yard.book.withdraw(third, 1, "twice", &stamp(91, "Ada")).unwrap();
    assert_eq!(yard.book.snapshot().unwrap().observations_of_import(import).count(), 2);

    assert_eq!(yard.book.undo_import(import, "the wrong farm", &stamp(92, "Ada")).unwrap(), 2);
    let snapshot = yard.book.snapshot().unwrap();
    assert_eq!(snapshot.lab_reports_on(plot).count(), 1);
    assert!(snapshot.import(import).is_none() && snapshot.import_of_file(&"ab".repeat(32)).is_none());
    assert!(yard.book.check().unwrap().is_clean());
    // A second time there is nothing to undo, and nothing is written.
    let mark = yard.book.change_mark().unwrap();
    assert!(
        refused(yard.book.undo_import(import, "", &stamp(93, "Ada"))).message.contains("withdrawn already")
    );
    assert!(matches!(
        yard.book.undo_import(plot, "", &stamp(93, "Ada")),
        Err(BookError::NotFound { what: "import", .. })
    ));
    assert_eq!(yard.book.change_mark().unwrap(), mark);
}

#[test]
fn a_job_is_answered_once_and_the_answer_can_change() {
    let mut yard = yard();
    let word = yard.job("lime.east.2026");
    let id = yard.keep(word.clone());
    assert_eq!(yard.refuses(word.clone()).field, "key");
    let done = JobWord { done: Some(JobDone { on: date(2026, 4, 3), note: String::new() }), ..word.clone() };
    yard.book.revise(id, 1, done.clone(), "done", &stamp(60, "Ada")).unwrap();
    // Whoever saw the first answer and says the same a second time is told.
    assert!(matches!(yard.book.revise(id, 1, done, "done", &stamp(61, "Ada")), Err(BookError::Clash { .. })));
    assert_eq!(yard.book.snapshot().unwrap().job("lime.east.2026").unwrap().number, 2);
    yard.book.withdraw(id, 2, "", &stamp(62, "Ada")).unwrap();
    yard.keep(word);
}

#[test]
fn a_job_says_what_belongs_to_its_answer() {
    let mut yard = yard();
    let word = yard.job("own.1");
    for (wrong, field) in [
        (JobWord { key: "two words".into(), ..word.clone() }, "key"),
        (JobWord { choice: JobChoice::Postponed, ..word.clone() }, "until"),
        (JobWord { until: Some(date(2026, 4, 3)), ..word.clone() }, "until"),
        (JobWord { choice: JobChoice::Changed, ..word.clone() }, "changed"),
        (
            JobWord { choice: JobChoice::Changed, changed: Some(JobChange::default()), ..word.clone() },
            "changed",
        ),
        (
            JobWord {
                changed: Some(JobChange { note: "half".into(), ..JobChange::default() }),
                ..word.clone()
            },
            "changed",
        ),
        (JobWord { choice: JobChoice::Refused, ..word.clone() }, "reason"),
        (
            JobWord {
                choice: JobChoice::Refused,
                reason: "grass".into(),
                done: Some(JobDone { on: date(2026, 4, 3), note: String::new() }),
                ..word.clone()
            },
            "done",
        ),
    ] {
        assert_eq!(yard.refuses(wrong).field, field);
    }
    assert!(word.is_own() && !yard.job("lime.x").is_own());
}

#[test]
fn links_must_lead_to_records_of_their_kind() {
    let mut yard = yard();
    let (plot, bed) = (yard.plot, yard.bed);
    let day = date(2026, 4, 1);
    let harvest = Harvest { planting: bed, on: day, kg: Bounded::literal(3.0), note: String::new() };
    assert_eq!(yard.refuses(harvest.clone()).field, "planting");
    let stock = Stock {
        material: plot,
        on: day,
        kg: Bounded::literal(3.0),
        what: StockChange::Bought,
        note: String::new(),
    };
    assert_eq!(yard.refuses(stock).field, "material");
    let wrong = yard.spread(plot, Some(bed), day, 2.0);
    assert_eq!(yard.refuses(wrong).field, "spread.shelf");
    let west = yard.keep(plain_plot("West"));
    let meal = yard.keep(Material::named("Feather meal"));
    let elsewhere = Application { plot: west, ..yard.spread(meal, Some(bed), day, 2.0) };
    assert_eq!(yard.refuses(elsewhere).field, "bed");

    // A harvest counts as long as its planting does, and the planting as long as its bed.
    let planting = Planting {
        bed,
        crop: PlantedCrop::Catalogue("tomato".into()),
        planted_on: day,
        how: PlantedHow::Sown,
        harvest_on: None,
        ended_on: None,
        mulch: None,
        yield_goal_kg: Some(Bounded::literal(90.0)),
        note: String::new(),
    };
    let planting = yard.keep(planting);
    let kept = yard.keep(Harvest { planting, ..harvest });
    let snapshot = yard.book.snapshot().unwrap();
    assert_eq!(snapshot.harvests_on(plot, 2026).len(), 1);
    assert_eq!(snapshot.plot_of(&snapshot.harvests[0].body.clone().into()), Some(plot));
    yard.book.withdraw(planting, 1, "", &stamp(80, "Ada")).unwrap();
    assert!(yard.book.snapshot().unwrap().harvests.is_empty());
    yard.book.restore(planting, 2, "", &stamp(81, "Ada")).unwrap();
    yard.book.withdraw(bed, 1, "", &stamp(82, "Ada")).unwrap();
    assert!(yard.book.snapshot().unwrap().harvests.is_empty());
    yard.book.restore(bed, 2, "", &stamp(83, "Ada")).unwrap();
    assert_eq!(yard.book.snapshot().unwrap().harvests[0].id, kept);
}

#[test]
fn a_soil_test_with_a_slipped_point_is_refused_with_its_place() {
    let mut yard = yard();
    let json = json!({
        "plot": yard.plot, "seen_on": "2026-04-12",
        "seen": { "what": "lab_report", "figures": [
            { "analyte": "ph_water", "procedure": "water_1_1", "unit": "none", "amount": { "exactly": 71.0 } },
        ] },
    });
    let refusal = Body::read(Kind::Observation, &json).unwrap_err();
    assert_eq!((refusal.field.as_str(), refusal.example.as_str()), ("seen.figures[0].amount", "7.1"));
    let plot = yard.plot;
    let material = Material {
        sieves: vec![
            Sieve { mesh: 60, passing_percent: Bounded::literal(50.0) },
            Sieve { mesh: 8, passing_percent: Bounded::literal(90.0) },
        ],
        ..Material::named("Lime")
    };
    assert_eq!(yard.refuses(material).field, "sieves[1].mesh");
    let heading = LabHeading {
        heading: "pH".into(),
        means: HeadingMeans::Figure {
            analyte: Analyte::PhWater,
            procedure: Procedure::Olsen,
            unit: ReportUnit::None,
        },
    };
    let laboratory = Laboratory {
        name: "County".into(),
        columns: vec![heading],
        basis_depth_cm: None,
        note: String::new(),
    };
    assert_eq!(yard.refuses(laboratory).field, "columns[0].means.procedure");
    assert!(yard.book.snapshot().unwrap().lab_report_of(plot).is_none());
}
