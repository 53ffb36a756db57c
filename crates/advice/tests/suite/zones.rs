//! A plot that was parted into zones: what it leaves, what its zones take over, and results that come late.

use crate::yard::{Yard, results_about, stamp};
use advice::again::farm_again;
use advice::feeding::acidity::{AcidityOptions, acidity};
use advice::feeding::lab::lab_reading;
use advice::maps::{Property, ZonesTold, accept, back_to_one, map_report, zones};
use advice::plan::{FarmPlan, as_kept};
use advice::results::{Kept, read_results, read_table, record_results};
use advice::sampling_plan::{SamplingAsk, sampling_report};
use advice::work::proposals;
use advice::{Attention, AttentionKind, Options, demo, farm_report, plot_reports};
use book::model::plan::{Form, PartKind, PlanPart, Point};
use book::model::{Application, Bed, EntryId, Placed, SamplingPurpose, SpreadMaterial};
use book::{BookError, Snapshot, Tag};
use ground::fertility::analysis::report::Analyte;
use ground::kit::Bounded;
use ground::spatial::plane;

const PH: Property = Property::Lab(Analyte::PhWater);

fn told(snapshot: &Snapshot, whole: EntryId) -> ZonesTold {
    let map = map_report(snapshot, PH, Some(whole), demo::DAY).expect("a plot");
    zones(&map, &FarmPlan::of(snapshot), 2).expect("zones of the map")
}

/// The demonstration with its pasture in two zones.
fn parted() -> (Yard, EntryId, Vec<EntryId>) {
    let mut yard = Yard::demo();
    let whole = yard.plot("Long pasture");
    let plots = part(&mut yard, whole).expect("it is parted");
    (yard, whole, plots)
}

fn part(yard: &mut Yard, whole: EntryId) -> book::Result<Vec<EntryId>> {
    let snapshot = yard.snapshot();
    let told = told(&snapshot, whole);
    accept(&mut yard.book, &snapshot, &told, &stamp())
}

/// A bed of 10 m by 1 m, drawn with its south-west corner at a place where one is given.
fn bed(yard: &mut Yard, plot: EntryId, name: &str, corner: Option<Point>) -> EntryId {
    let bed = Bed {
        plot,
        name: name.to_owned(),
        length_m: Bounded::literal(10.0),
        width_m: Bounded::literal(1.0),
        count: 1,
    };
    let id = yard.book.record(bed, &stamp()).expect("a bed").id;
    if let Some([x, y]) = corner {
        let outer = vec![[x, y], [x + 10.0, y], [x + 10.0, y + 1.0], [x, y + 1.0]];
        let outline = as_kept(&FarmPlan::of(&yard.snapshot()), Form::Area { outer, holes: Vec::new() });
        let part = PlanPart { plot: Some(plot), bed: Some(id), ..PlanPart::drawn(PartKind::Bed, outline) };
        yard.book.record(part, &stamp()).expect("it is drawn");
    }
    id
}

fn inside(zone: &advice::maps::ZoneTold, at: Point) -> bool {
    plane::encloses(&zone.outer, &zone.holes, at)
}

#[test]
fn plans_lists_and_sums_are_of_the_zones_alone() {
    let yard = Yard::demo();
    let area =
        |snapshot: &Snapshot| -> f64 { snapshot.plots.iter().map(|plot| plot.body.shape.area_m2()).sum() };
    let before = area(&yard.snapshot());
    let (yard, whole, plots) = parted();
    let snapshot = yard.snapshot();
    // The outline of the pasture has its typed size, so the farm stays as large as it was.
    assert!((area(&snapshot) - before).abs() < 1e-3 * before, "{} of {before}", area(&snapshot));
    let options = Options { weigh_measurements: false, ..Options::default() };
    let farm = farm_report(&snapshot, &options);
    assert!(farm.plots.iter().all(|plot| plot.id != whole));
    assert_eq!((farm.parted.len(), farm.parted[0].id, farm.parted[0].zones.len()), (1, whole, 2));
    // A jar that was set down stands where it stands.
    let pressing = |one: &&Attention| one.plot == whole && one.kind != AttentionKind::JarSettling;
    assert_eq!(farm.attention.iter().find(pressing).map(|one| &one.text), None);
    let visits = farm_again(&snapshot, demo::DAY).visits;
    assert!(visits.iter().all(|visit| visit.plot != whole), "the whole is not looked at again");
    for zone in &plots {
        assert!(visits.iter().any(|visit| visit.plot == *zone), "its zones are");
    }
    let jobs = proposals(&snapshot, &plot_reports(&snapshot, &options), demo::DAY);
    let of_whole: Vec<&str> =
        jobs.iter().filter(|job| job.plot == Some(whole)).map(|job| job.what.as_str()).collect();
    assert!(of_whole.is_empty(), "{of_whole:?}");
    let map = map_report(&snapshot, PH, None, demo::DAY).expect("the farm");
    assert!(map.plots.iter().all(|plot| plot.plot != whole));
}

#[test]
fn beds_go_to_the_zone_they_are_drawn_in_and_come_back() {
    let mut yard = Yard::demo();
    let whole = yard.plot("Long pasture");
    // The pasture lies from 120 to 204 m east and 40 to 90 m north; its zones lie west and east.
    let west = bed(&mut yard, whole, "Western", Some([124.0, 60.0]));
    let east = bed(&mut yard, whole, "Eastern", Some([190.0, 60.0]));
    let zoned = told(&yard.snapshot(), whole).zones;
    let plots = part(&mut yard, whole).expect("it is parted");
    let snapshot = yard.snapshot();
    for (bed, middle) in [(west, [129.0, 60.5]), (east, [195.0, 60.5])] {
        let zone = zoned.iter().position(|zone| inside(zone, middle)).expect("a zone holds it");
        assert_eq!(snapshot.bed(bed).map(|bed| bed.body.plot), Some(plots[zone]));
        let drawn = snapshot.plan_parts.iter().find(|part| part.body.bed == Some(bed));
        assert_eq!(drawn.and_then(|part| part.body.plot), Some(plots[zone]));
    }
    assert_ne!(snapshot.bed(west).map(|bed| bed.body.plot), snapshot.bed(east).map(|bed| bed.body.plot));
    back_to_one(&mut yard.book, &snapshot, whole, &stamp()).expect("they go back");
    let snapshot = yard.snapshot();
    assert_eq!(snapshot.beds_of(whole).count(), 2);
    assert!(!snapshot.is_parted(whole));
    // One that is not drawn could lie in either zone: nothing is done before that is known.
    bed(&mut yard, whole, "Somewhere", None);
    match part(&mut yard, whole) {
        Err(BookError::Refused(refusal)) => assert_eq!(refusal.given, "Somewhere"),
        other => panic!("{other:?}"),
    }
    assert!(!yard.snapshot().is_parted(whole));
}

#[test]
fn a_row_of_beds_across_the_border_is_parted_with_the_plot() {
    let mut yard = Yard::demo();
    let whole = yard.plot("Long pasture");
    let count = 7;
    let row = Bed {
        plot: whole,
        name: "Row".to_owned(),
        length_m: Bounded::literal(20.0),
        width_m: Bounded::literal(1.0),
        count,
    };
    let row = yard.book.record(row, &stamp()).expect("a bed").id;
    let drawn = |number: u16| {
        let x = 124.0 + 12.0 * f64::from(number);
        vec![[x, 55.0], [x + 1.0, 55.0], [x + 1.0, 75.0], [x, 75.0]]
    };
    for number in 0..count {
        let form = Form::Area { outer: drawn(number), holes: Vec::new() };
        let outline = as_kept(&FarmPlan::of(&yard.snapshot()), form);
        let part = PlanPart {
            plot: Some(whole),
            bed: Some(row),
            number: Some(number + 1),
            ..PlanPart::drawn(PartKind::Bed, outline)
        };
        yard.book.record(part, &stamp()).expect("it is drawn");
    }
    let zoned = told(&yard.snapshot(), whole).zones;
    let plots = part(&mut yard, whole).expect("it is parted");
    let snapshot = yard.snapshot();
    let beds: u16 = plots.iter().flat_map(|plot| snapshot.beds_of(*plot)).map(|bed| bed.body.count).sum();
    assert_eq!(beds, count, "no bed is lost and none is there twice");
    for plot in &plots {
        assert_eq!(snapshot.beds_of(*plot).count(), 1, "each zone has its part of the row");
    }
    for part in snapshot.plan_parts.iter().filter(|part| part.body.kind == PartKind::Bed) {
        let Some(number) =
            part.body.number.filter(|_| part.body.plot.is_some_and(|plot| plots.contains(&plot)))
        else {
            continue;
        };
        let middle = [124.5 + 12.0 * f64::from(number - 1), 65.0];
        let zone = zoned.iter().position(|zone| inside(zone, middle)).expect("a zone holds it");
        assert_eq!(part.body.plot, Some(plots[zone]), "bed {number}");
        let bed = part.body.bed.and_then(|bed| snapshot.bed(bed)).expect("it shows a bed");
        assert_eq!(bed.body.plot, plots[zone]);
    }
    // Something written of the row as one holds its beds together.
    back_to_one(&mut yard.book, &snapshot, whole, &stamp()).expect("they go back");
    let row = Bed { name: "Row of old".to_owned(), ..snapshot.bed(row).expect("the row").body.clone() };
    let row = yard.book.record(Bed { plot: whole, count: 2, ..row }, &stamp()).expect("a bed").id;
    for number in [0, 6] {
        let form = Form::Area { outer: drawn(number), holes: Vec::new() };
        let outline = as_kept(&FarmPlan::of(&yard.snapshot()), form);
        let part = PlanPart { plot: Some(whole), bed: Some(row), ..PlanPart::drawn(PartKind::Bed, outline) };
        yard.book.record(part, &stamp()).expect("it is drawn");
    }
    let spread = Application {
        plot: whole,
        bed: Some(row),
        spread: SpreadMaterial::Catalogue("limestone".to_owned()),
        on: demo::DAY,
        kg: Bounded::literal(5.0),
        placed: Placed::Incorporated,
        job: None,
        note: String::new(),
    };
    yard.book.record(spread, &stamp()).expect("it is kept");
    match part(&mut yard, whole) {
        Err(BookError::Refused(refusal)) => assert_eq!(refusal.given, "Row of old"),
        other => panic!("{other:?}"),
    }
}

#[test]
fn zones_of_a_zone_are_joined_first() {
    let (mut yard, whole, plots) = parted();
    // By the readings that moved there the larger zone may be parted again; by hand, as a zone of a zone.
    let snapshot = yard.snapshot();
    let of = snapshot.plot(plots[0]).expect("a zone").body.clone();
    let inner = book::model::Plot { name: "Inner".to_owned(), zone_of: Some(plots[0]), ..of };
    yard.book.record(inner, &stamp()).expect("it is kept");
    let snapshot = yard.snapshot();
    let refused = back_to_one(&mut yard.book, &snapshot, whole, &stamp());
    assert!(matches!(refused, Err(BookError::Refused(refusal)) if refusal.message.contains("itself")));
    assert!(yard.snapshot().is_parted(whole));
}

fn enter(yard: &mut Yard, plot: EntryId, plan: EntryId, table: &str) -> Kept {
    let about = results_about(plot, Some(plan), demo::DAY);
    let (columns, rows, _) = read_table(table).expect("the headings are sound");
    let results = read_results(&yard.snapshot(), about, &columns, &rows).expect("nothing is wrong");
    record_results(&mut yard.book, &results, &stamp()).expect("it is stored")
}

#[test]
fn results_of_a_plan_older_than_the_zones_go_where_the_bags_were_pulled() {
    let mut yard = Yard::demo();
    let whole = yard.plot("Long pasture");
    let ask = SamplingAsk { apart: true, cores: Some(6), ..SamplingAsk::usual(SamplingPurpose::Fertility) };
    let snapshot = yard.snapshot();
    let plot = snapshot.plot(whole).expect("the plot");
    let report = sampling_report(&snapshot, plot, &ask, demo::DAY).expect("it is answered");
    let plan = report.plan(&snapshot, None, 0, demo::DAY).expect("a plan");
    let points: Vec<Point> = plan.points.iter().map(|point| point.at).collect();
    let frame = plan.frame;
    let plan = yard.book.record(plan, &stamp()).expect("it is kept").id;
    let first = enter(&mut yard, whole, plan, "bag,pH\n1,6.4\n");
    let zoned = told(&yard.snapshot(), whole).zones;
    let plots = part(&mut yard, whole).expect("it is parted");
    let farm = FarmPlan::of(&yard.snapshot());
    let zone_of = |at: Point| {
        let at = farm.place(frame, at).expect("it has a place");
        plots[zoned.iter().position(|zone| inside(zone, at)).expect("a zone holds it")]
    };
    // More of the first bag, and others that the book has not seen.
    let late = "bag,organic_matter,pH\n1,3.1,\n2,,6.1\n3,,6.5\n4,,6.0\n5,,6.6\n6,,6.2\n";
    let kept = enter(&mut yard, whole, plan, late);
    assert_eq!((first.samples.len(), kept.samples.len(), kept.observations.len()), (1, 5, 6));
    let snapshot = yard.snapshot();
    let mut zones_met = Vec::new();
    for (number, at) in (1_u16..).zip(points) {
        let code = Tag::Bag { plan, number }.short().to_string();
        let bags: Vec<_> = snapshot.samples.iter().filter(|sample| sample.body.bag_label == code).collect();
        assert_eq!(bags.len(), 1, "bag {number} is one sample");
        assert_eq!(bags[0].body.plot, zone_of(at), "bag {number}");
        let found = snapshot.observations.iter().filter(|seen| seen.body.sample == Some(bags[0].id));
        assert!(found.clone().all(|seen| seen.body.plot == bags[0].body.plot));
        assert_eq!(found.count(), if number == 1 { 2 } else { 1 });
        zones_met.push(bags[0].body.plot);
    }
    zones_met.sort_unstable();
    zones_met.dedup();
    assert_eq!(zones_met.len(), 2, "the points lie in both zones");
    // Typed again, all of it is known.
    let again = enter(&mut yard, whole, plan, late);
    assert_eq!((again.observations.len(), again.known_already), (0, 6));
}

/// The pasture was sampled at 36 places on one day: it is as sour as their mean, and not as the last bag that was typed in.
#[test]
fn a_plot_of_many_bags_is_told_by_their_mean() {
    let yard = Yard::demo();
    let whole = yard.plot("Long pasture");
    let snapshot = yard.snapshot();
    let found: Vec<f64> = snapshot
        .lab_reports_on(whole)
        .filter_map(|(_, report)| report.first(Analyte::PhWater)?.amount.exactly())
        .collect();
    assert_eq!(found.len(), 36);
    let mean = found.iter().sum::<f64>() / 36.0;
    let report = yard.report(whole);
    let acidity = acidity(&snapshot, &report, AcidityOptions::default(), demo::DAY).expect("a plot");
    let test = acidity.test.as_ref().expect("it was tested");
    assert_eq!(test.bags, 36);
    let ph = test.ph_water.expect("a pH");
    assert!((ph - mean).abs() < 0.006, "{ph} of {mean}");
    assert!((ph - found[35]).abs() > 0.1, "the last bag alone is another pH");
    let lab = lab_reading(&snapshot, whole, None).expect("a plot");
    assert!(lab.report.as_ref().is_some_and(|report| report.from.contains("mean of 36 bags")));
    assert_eq!(lab.others.len(), 36);
}
