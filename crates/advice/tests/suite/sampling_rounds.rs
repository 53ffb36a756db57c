//! Rounds of sampling: bags that carry the same name, the cores in them, the spread they tell, and when the next is due.

use crate::yard::results_about;
use advice::results::{Kept, ResultsAbout, read_results, read_table, record_results};
use advice::sampling_plan::{SamplingAsk, SpreadFrom, sampling_report, tell, told};
use advice::work::proposals;
use book::model::seen::{OrganicMatter, OrganicMatterPercent};
use book::model::{
    Design, EntryId, Farm, Observation, Place, Plot, Sample, SampleDepth, SamplingPurpose, Seen, Shape, Spot,
    UnitSystem,
};
use book::{Book, Snapshot, Stamp};
use ground::fertility::analysis::report::{Amount, Analyte, LabFigure, LabReport, Procedure, ReportUnit};
use ground::kit::Bounded;
use jiff::Timestamp;
use jiff::civil::{Date, date};

const TODAY: Date = date(2026, 5, 21);

struct Ground {
    _folder: tempfile::TempDir,
    book: Book,
    plot: EntryId,
}

fn stamp() -> Stamp {
    Stamp::new(Timestamp::UNIX_EPOCH, "Ada")
}

fn ground(units: UnitSystem, shape: Shape) -> Ground {
    let folder = tempfile::tempdir().expect("a folder");
    let farm = Farm::named("Invented Farm", units);
    let mut book = Book::create(folder.path().join("a.farmbook"), farm, &stamp()).expect("a book");
    let plot = Plot {
        name: "North field".to_owned(),
        place: Place::OpenField,
        shape,
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        organic: None,
        zone_of: None,
        cover: None,
    };
    let plot = book.record(plot, &stamp()).expect("a plot").id;
    Ground { _folder: folder, book, plot }
}

fn rectangle() -> Shape {
    Shape::Rectangle { length_m: Bounded::literal(60.0), width_m: Bounded::literal(20.0) }
}

impl Ground {
    fn snapshot(&self) -> Snapshot {
        self.book.snapshot().expect("a snapshot")
    }

    fn report(&self, ask: &SamplingAsk) -> advice::sampling_plan::SamplingReport {
        let snapshot = self.snapshot();
        let plot = snapshot.plot(self.plot).expect("the plot");
        sampling_report(&snapshot, plot, ask, TODAY).expect("it is answered")
    }

    fn keep(&mut self, ask: &SamplingAsk) -> EntryId {
        let plan = self.report(ask).plan(&self.snapshot(), None, 0, TODAY).expect("a plan");
        self.book.record(plan, &stamp()).expect("it is kept").id
    }

    fn about(&self, plan: Option<EntryId>, on: Date) -> ResultsAbout {
        results_about(self.plot, plan, on)
    }

    fn enter(&mut self, about: ResultsAbout, text: &str) -> Kept {
        let (columns, rows, _) = read_table(text).expect("the headings are sound");
        let results = read_results(&self.snapshot(), about, &columns, &rows).expect("nothing is wrong");
        record_results(&mut self.book, &results, &stamp()).expect("it is stored")
    }

    /// Phosphorus of a bag, ppm.
    fn phosphorus(&mut self, value: f64, cores: Option<u16>, to_cm: f64, spot: Option<Spot>) {
        let on = date(2026, 4, 6);
        let sample = Sample {
            plot: self.plot,
            taken_on: on,
            from_cm: SampleDepth::literal(0.0),
            to_cm: SampleDepth::literal(to_cm),
            cores,
            taken_by: String::new(),
            bag_label: String::new(),
            import: None,
            spot,
            note: String::new(),
        };
        let sample = self.book.record(sample, &stamp()).expect("a bag").id;
        let figure = LabFigure {
            analyte: Analyte::Phosphorus,
            procedure: Procedure::NotStated,
            unit: ReportUnit::Ppm,
            amount: Amount::Exactly(value),
        };
        let seen = Seen::LabReport(LabReport { figures: vec![figure], ..LabReport::new("A") });
        self.see(Some(sample), on, seen);
    }

    fn see(&mut self, sample: Option<EntryId>, seen_on: Date, seen: Seen) {
        let plot = self.plot;
        let body = Observation {
            plot,
            sample,
            seen_on,
            seen_by: String::new(),
            note: String::new(),
            import: None,
            spot: None,
            seen,
        };
        self.book.record(body, &stamp()).expect("it is recorded");
    }
}

#[test]
fn a_bag_called_1_of_another_round_or_depth_is_another_bag() {
    let mut ground = ground(UnitSystem::UsCustomary, rectangle());
    let table = "bag,pH\n1,6.4\n";
    let first = ground.enter(ground.about(None, date(2024, 4, 12)), table);
    let second = ground.enter(ground.about(None, date(2026, 4, 12)), &table.replace("6.4", "5.9"));
    let deeper = ResultsAbout { to_cm: SampleDepth::literal(45.0), ..ground.about(None, date(2026, 4, 12)) };
    let third = ground.enter(deeper, &table.replace("6.4", "7.1"));
    assert_eq!([first.samples.len(), second.samples.len(), third.samples.len()], [1, 1, 1]);
    let snapshot = ground.snapshot();
    let of = |id: EntryId| snapshot.sample(id).expect("the bag").body.clone();
    assert_eq!(of(second.samples[0]).taken_on, date(2026, 4, 12));
    assert_eq!(of(third.samples[0]).to_cm.get(), 45.0);
    // More of the same bag on the same day joins it.
    let more = ground.enter(ground.about(None, date(2026, 4, 12)), "bag,organic_matter\n1,3.1\n");
    assert_eq!((more.samples.len(), more.observations.len()), (0, 1));
}

#[test]
fn a_bag_of_a_plan_knows_its_cores() {
    let mut ground = ground(UnitSystem::Metric, rectangle());
    let usual = SamplingAsk::usual(SamplingPurpose::Fertility);
    let mixed = ground.keep(&SamplingAsk { bags: Some(2), ..usual });
    let apart = ground.keep(&SamplingAsk { apart: true, cores: Some(6), ..usual });
    for plan in [mixed, apart] {
        let kept = ground.enter(ground.about(Some(plan), TODAY), "bag,pH\n1,6.4\n2,6.6\n");
        let snapshot = ground.snapshot();
        let body = &snapshot.sampling_plan(plan).expect("the plan").body;
        for (number, id) in (1_u16..).zip(&kept.samples) {
            let sample = &snapshot.sample(*id).expect("the bag").body;
            let points = body.points.iter().filter(|point| point.bag == Some(number)).count();
            let wanted = if plan == apart { body.cores_per_bag } else { u16::try_from(points).unwrap() };
            assert_eq!(sample.cores, Some(wanted));
            assert!(wanted > 5, "{wanted}");
        }
    }
}

#[test]
fn a_push_of_the_probe_is_stored_once_and_dashes_are_nothing() {
    let mut ground = ground(UnitSystem::UsCustomary, rectangle());
    let plan = ground.keep(&SamplingAsk::usual(SamplingPurpose::Structure));
    let table = "point,hard_from,pH\n1,9 in,-\n2,none 18 in,\n3,-,-\n4,\u{2013},\n";
    let kept = ground.enter(ground.about(Some(plan), TODAY), table);
    assert_eq!((kept.observations.len(), kept.known_already), (2, 0));
    let again = ground.enter(ground.about(Some(plan), TODAY), table);
    assert_eq!((again.observations.len(), again.known_already), (0, 2));
    // Another reading at the same point is stored where it is said to be a second one.
    let table = "point,hard_from\n1,11 in\n";
    let (columns, rows, _) = read_table(table).expect("the headings are sound");
    let refused = read_results(&ground.snapshot(), ground.about(Some(plan), TODAY), &columns, &rows);
    assert!(refused.expect_err("it says otherwise")[0].refusal.message.contains("second reading"));
    let second = ResultsAbout { second_reading: true, ..ground.about(Some(plan), TODAY) };
    let other = ground.enter(second, table);
    assert_eq!((other.observations.len(), other.known_already), (1, 0));
}

/// The variance of a mean of n is the variance over n, and variances of independent parts add (Snedecor and Cochran,
/// Statistical Methods; recalled). 40, 50, 60 and 70 have mean 55 and variance 500/3; a laboratory that strays by 8 % has
/// 0.0064 times the mean square, 3150.
#[test]
fn the_spread_of_cores_is_freed_of_the_laboratory_and_of_bags_that_were_not_counted() {
    let values = [40.0, 50.0, 60.0, 70.0];
    let between: f64 = 500.0 / 3.0 - 0.0064 * 3150.0;
    let usual = SamplingAsk::usual(SamplingPurpose::Fertility);
    let spread = |fill: &mut dyn FnMut(&mut Ground)| {
        let mut ground = ground(UnitSystem::Metric, rectangle());
        fill(&mut ground);
        ground.report(&usual).spread
    };
    let mixed = spread(&mut |ground| {
        values.iter().for_each(|value| ground.phosphorus(*value, Some(8), 20.0, None));
    });
    assert!((mixed.taken_percent - 100.0 * (8.0 * between).sqrt() / 55.0).abs() < 1e-9, "{mixed:?}");
    assert!(matches!(mixed.from, SpreadFrom::Own { results: 4, year: 2026 }));
    // A bag about one point tells how places differ, however many cores are in it.
    let apart = spread(&mut |ground| {
        let plan = ground.keep(&SamplingAsk { apart: true, cores: Some(6), ..usual });
        for (number, value) in (1..).zip(values) {
            ground.phosphorus(value, Some(8), 20.0, Some(Spot::numbered(plan, number)));
        }
    });
    assert!((apart.taken_percent - 100.0 * between.sqrt() / 55.0).abs() < 1e-9, "{apart:?}");
    // Nobody counted, or two layers of two bags each: nothing is told of the spread.
    let uncounted = spread(&mut |ground| {
        values.iter().for_each(|value| ground.phosphorus(*value, None, 20.0, None));
    });
    let layers = spread(&mut |ground| {
        for (value, to_cm) in values.iter().zip([20.0, 20.0, 50.0, 50.0]) {
            ground.phosphorus(*value, Some(8), to_cm, None);
        }
    });
    for none in [uncounted, layers] {
        assert!(matches!(none.from, SpreadFrom::Table { .. }), "{none:?}");
    }
}

/// Phosphorus: 39 to 157 % (Mulla and McBratney 2000, recalled); 78 % is their geometric mean.
#[test]
fn the_published_spread_is_told_and_the_half_that_is_supposed() {
    let ground = ground(UnitSystem::Metric, rectangle());
    let report = ground.report(&SamplingAsk::usual(SamplingPurpose::Fertility));
    assert_eq!(report.spread.published_high_percent, Some(157.0));
    // (t CV / E)² with E 20 % and 90 %: z 1.645 alone asks 166.8, Student's t a little more.
    let widest = report.numbers.asked_published.expect("a number");
    assert!((167..=170).contains(&widest), "{widest}");
    let said = tell::sentences(&report, UnitSystem::Metric).number.join(" ");
    assert!(
        said.contains("39 to 157 %") && said.contains("39 to 78 %") && said.contains("our judgement"),
        "{said}"
    );
    assert!(said.contains(&format!("{widest} at the 157 %")), "{said}");
    let fine = SamplingAsk { error_percent: 0.5, ..SamplingAsk::usual(SamplingPurpose::Fertility) };
    let said = tell::sentences(&ground.report(&fine), UnitSystem::Metric).number.join(" ");
    assert!(!said.contains("pulls"), "{said}");
}

#[test]
fn a_plan_for_structure_pushes_the_probe_and_fills_no_bag() {
    let mut ground = ground(UnitSystem::UsCustomary, rectangle());
    let ask = SamplingAsk::usual(SamplingPurpose::Structure);
    let said = tell::sentences(&ground.report(&ask), UnitSystem::UsCustomary);
    assert!(said.lead.starts_with("Push the probe at ") && said.lead.contains("18 in deep"), "{}", said.lead);
    let plan = ground.keep(&ask);
    let lead = tell::kept(
        &told(&ground.snapshot(), plan, UnitSystem::UsCustomary).expect("the plan"),
        UnitSystem::UsCustomary,
    );
    let job = |ground: &Ground, plan: EntryId| {
        let key = format!("sampling.{plan}");
        let jobs = proposals(&ground.snapshot(), [], TODAY);
        jobs.into_iter().find(|job| job.key == key).expect("it waits").what
    };
    for text in [&said.lead, &lead, &job(&ground, plan), &said.number.join(" ")] {
        assert!(!text.contains("bag") && !text.contains("ull "), "{text}");
    }
    // The second layer begins where the first ends.
    let ask = SamplingAsk::usual(SamplingPurpose::Texture);
    let subsoil = ground.report(&ask).plan(&ground.snapshot(), None, 1, TODAY).expect("a plan");
    let subsoil = ground.book.record(subsoil, &stamp()).expect("it is kept").id;
    assert!(job(&ground, subsoil).contains("from 8 in to 20 in deep"), "{}", job(&ground, subsoil));
}

/// Three years in the open field: RB209 of 2023 asks for three to five, and looking again goes by three.
#[test]
fn a_plot_is_due_by_the_interval_of_looking_again_and_by_results_that_answer() {
    let mut ground = ground(UnitSystem::Metric, rectangle());
    let fertility = SamplingAsk::usual(SamplingPurpose::Fertility);
    ground.phosphorus(40.0, Some(15), 20.0, None);
    let organic = OrganicMatter { percent: OrganicMatterPercent::literal(3.0), method: None };
    ground.see(None, date(2026, 5, 2), Seen::OrganicMatter(organic));
    let report = ground.report(&fertility);
    assert_eq!((report.last_on, report.due_on), (Some(date(2026, 4, 6)), Some(date(2029, 4, 6))));
    let report = ground.report(&SamplingAsk::usual(SamplingPurpose::OrganicMatter));
    assert_eq!(report.last_on, Some(date(2026, 5, 2)));
    // A bag of phosphorus says nothing of nitrate.
    let nitrate = ground.report(&SamplingAsk::usual(SamplingPurpose::Nitrate));
    assert_eq!((nitrate.last_on, nitrate.due_on), (None, None));
}

#[test]
fn a_plan_that_repeats_says_which_one() {
    let mut ground = ground(UnitSystem::Metric, rectangle());
    let usual = SamplingAsk::usual(SamplingPurpose::Fertility);
    let first = ground.keep(&usual);
    let again = ground.keep(&SamplingAsk { design: Design::Repeat, ..usual });
    let snapshot = ground.snapshot();
    assert_eq!(snapshot.sampling_plan(again).expect("the plan").body.repeats, Some(first));
    assert_eq!(snapshot.sampling_plan(first).expect("the plan").body.repeats, None);
}

/// 2 ha are 4.9 acres (4046.856 m² each); one bag stands for 4 acres, 1.6 ha, at most.
#[test]
fn a_large_plot_is_told_in_the_units_of_the_farm() {
    for (units, wanted, not) in [
        (UnitSystem::Metric, "2.0 ha; one bag is to stand for 1.6 ha at most", "acre"),
        (UnitSystem::UsCustomary, "4.9 acres; one bag is to stand for 4 acres at most", " ha;"),
    ] {
        let ground = ground(units, Shape::Area { area_m2: Bounded::literal(20_000.0) });
        let report = ground.report(&SamplingAsk::usual(SamplingPurpose::Fertility));
        let size = report.split.iter().find(|split| split.what == "size").expect("it is large");
        assert!(size.why.contains(wanted) && !size.why.contains(not), "{}", size.why);
    }
}
