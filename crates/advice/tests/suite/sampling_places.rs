//! Where cores are pulled and where their bags go: again as before, in beds, beside trees, in pieces, on large and small plots.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use advice::demo;
use advice::plan::FarmPlan;
use advice::sampling_plan::{KeptTo, SamplingAsk, SamplingReport, kept_already, sampling_report, tell, told};
use advice::work::proposals;
use book::model::{
    Design, EntryId, Form, Frame, Outline, PartKind, PlanPart, Plot, Point, Sample, SampleDepth,
    SamplingPurpose, Shape, UnitSystem,
};
use book::{Snapshot, Tag};
use ground::kit::Bounded;
use ground::spatial::plane;

use crate::yard::{Yard, stamp};

const US: UnitSystem = UnitSystem::UsCustomary;

fn usual() -> SamplingAsk {
    SamplingAsk::usual(SamplingPurpose::Fertility)
}

fn report(snapshot: &Snapshot, plot: &str, ask: &SamplingAsk) -> SamplingReport {
    sampling_report(snapshot, snapshot.plot_named(plot).unwrap(), ask, demo::DAY).unwrap()
}

fn keep(yard: &mut Yard, plot: &str, ask: &SamplingAsk) -> EntryId {
    let snapshot = yard.snapshot();
    let plan = report(&snapshot, plot, ask).plan(&snapshot, None, 0, demo::DAY).unwrap();
    yard.book.record(plan, &stamp()).unwrap().id
}

fn bag(yard: &mut Yard, plot: &str, label: &str) {
    let plot = yard.snapshot().plot_named(plot).unwrap().id;
    let sample = Sample {
        plot,
        taken_on: demo::DAY,
        from_cm: SampleDepth::literal(0.0),
        to_cm: SampleDepth::literal(20.0),
        cores: Some(12),
        taken_by: String::new(),
        bag_label: label.to_owned(),
        import: None,
        spot: None,
        note: String::new(),
    };
    yard.book.record(sample, &stamp()).unwrap();
}

fn sized(yard: &mut Yard, plot: &str, area_m2: f64) {
    let snapshot = yard.snapshot();
    let held = snapshot.plot_named(plot).unwrap();
    for part in snapshot.plan_parts.iter().filter(|part| part.body.plot == Some(held.id)) {
        yard.book.withdraw(part.id, part.number, "a test", &stamp()).unwrap();
    }
    let mut body = held.body.clone();
    body.shape = Shape::Area { area_m2: Bounded::new(area_m2).unwrap() };
    yard.book.revise(held.id, held.number, body, "a test", &stamp()).unwrap();
}

#[test]
fn points_taken_again_go_into_the_bags_they_went_into() {
    let mut yard = Yard::demo();
    for ask in [
        SamplingAsk { bags: Some(2), cores: Some(14), seed: 5, ..usual() },
        SamplingAsk { bags: Some(3), design: Design::Zigzag, ..usual() },
        SamplingAsk { apart: true, cores: Some(7), ..usual() },
    ] {
        let first = keep(&mut yard, "Hill field", &ask);
        let again = SamplingAsk { design: Design::Repeat, repeats: Some(first), ..usual() };
        let second = keep(&mut yard, "Hill field", &again);
        let snapshot = yard.snapshot();
        let [before, after] = [first, second].map(|id| &snapshot.sampling_plan(id).unwrap().body);
        assert_eq!((after.bags, after.cores_per_bag), (before.bags, before.cores_per_bag));
        assert_eq!(after.points.len(), before.points.len());
        for (old, new) in before.points.iter().zip(&after.points) {
            assert_eq!((new.number, new.bag, new.stratum), (old.number, old.bag, old.stratum));
            assert!((new.at[0] - old.at[0]).hypot(new.at[1] - old.at[1]) < 1e-9);
        }
        // Other bags can be asked for.
        let other = report(&snapshot, "Hill field", &SamplingAsk { bags: Some(4), ..again });
        assert_eq!(other.numbers.bags, 4);
    }
}

#[test]
fn a_bag_of_one_plan_is_not_taken_for_another() {
    let mut yard = Yard::demo();
    let two = SamplingAsk { bags: Some(2), ..usual() };
    let [first, second] = [5, 6].map(|seed| keep(&mut yard, "Hill field", &SamplingAsk { seed, ..two }));
    bag(&mut yard, "Hill field", &Tag::Bag { plan: first, number: 2 }.short().to_string());
    let snapshot = yard.snapshot();
    let [one, other] = [first, second].map(|id| told(&snapshot, id, US).unwrap());
    assert!(one.taken && !other.taken);
    let jobs = proposals(&snapshot, [], demo::DAY);
    let waits = |id: EntryId| jobs.iter().any(|job| job.key == format!("sampling.{id}"));
    assert!(!waits(first) && waits(second));
    // The bag is counted at each of the points that fill it, and at no other.
    for point in &one.points {
        assert_eq!(point.samples, usize::from(point.bag == Some(2)), "point {}", point.number);
    }
    // The same plan is not kept twice, whatever it is called, until soil was taken for it.
    let plan = |seed| {
        let report = report(&snapshot, "Hill field", &SamplingAsk { seed, ..two });
        report.plan(&snapshot, Some("Another name".to_owned()), 0, demo::DAY).unwrap()
    };
    assert_eq!(kept_already(&snapshot, &plan(6)).map(|held| held.id), Some(second));
    assert!(kept_already(&snapshot, &plan(5)).is_none() && kept_already(&snapshot, &plan(7)).is_none());
    // A bag that only has a number is still taken for a plan of its plot and depth.
    bag(&mut yard, "Hill field", "1");
    assert!(told(&yard.snapshot(), second, US).unwrap().taken);
}

fn inside(farm: &FarmPlan, plot: EntryId, at: Point) -> bool {
    farm.parts.iter().any(|part| {
        matches!(&part.form, Form::Area { outer, .. }
            if part.kind == PartKind::Bed && part.plot == Some(plot) && plane::inside(outer, at))
    })
}

#[test]
fn points_are_kept_to_the_beds_where_that_is_asked() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let farm = FarmPlan::of(&snapshot);
    let found = report(&snapshot, "Creek field", &usual());
    let counted = found.points.iter().filter(|point| inside(&farm, found.plot, point.at)).count();
    assert_eq!(found.in_beds, Some(counted));
    assert!(counted < found.points.len(), "some lie between the beds");
    let said = tell::sentences(&found, US).place.join(" ");
    assert!(
        said.contains(&format!("{counted} of the {} points lie in drawn beds", found.points.len())),
        "{said}"
    );
    for design in [Design::StratifiedRandom, Design::SpatialCoverage] {
        let found = report(&snapshot, "Creek field", &SamplingAsk { in_beds: true, design, ..usual() });
        assert_eq!(found.kept_to, KeptTo::Beds);
        assert!(found.points.len() >= 12);
        for point in &found.points {
            assert!(inside(&farm, found.plot, point.at), "{design:?}: {:?}", point.at);
        }
    }
    let none = SamplingAsk { in_beds: true, ..usual() };
    let orchard = snapshot.plot_named("Young orchard").unwrap();
    assert_eq!(sampling_report(&snapshot, orchard, &none, demo::DAY).unwrap_err().field, "in_beds");
}

/// "In the tree row, inside the drip line" (Washington State University, as in the table of protocols).
#[test]
fn cores_for_trees_are_pulled_beside_their_rows() {
    let mut yard = Yard::demo();
    let snapshot = yard.snapshot();
    let farm = FarmPlan::of(&snapshot);
    let found = report(&snapshot, "Young orchard", &usual());
    let rows: Vec<&Vec<Point>> = farm
        .parts
        .iter()
        .filter(|part| part.kind == PartKind::Tree && part.plot == Some(found.plot))
        .filter_map(|part| match &part.form {
            Form::Line { through } => Some(through),
            _ => None,
        })
        .collect();
    assert_eq!(rows.len(), 5);
    assert!(found.points.len() >= 20);
    for point in &found.points {
        // The rows of the demonstration run north from their first place to their last.
        let gap = rows
            .iter()
            .map(|row| {
                let beyond = (row[0][1] - point.at[1]).max(point.at[1] - row[1][1]).max(0.0);
                (row[0][0] - point.at[0]).hypot(beyond)
            })
            .fold(f64::INFINITY, f64::min);
        assert!((0.99..=2.01).contains(&gap), "{gap} m from the nearest row");
    }
    let said = tell::sentences(&found, US).place.join(" ");
    assert!(said.contains("3 ft to 7 ft from the drawn rows of trees"), "{said}");
    let id = keep(&mut yard, "Young orchard", &usual());
    let remarks = told(&yard.snapshot(), id, US).unwrap().remarks.join(" ");
    for part in ["in the tree row, inside the drip line", "Layer 1 of 2", "The layer of 6 to 18 in"] {
        assert!(remarks.contains(part), "{part} is not in {remarks}");
    }
    // Nothing but fertility is sought under trees.
    let texture = report(&snapshot, "Young orchard", &SamplingAsk::usual(SamplingPurpose::Texture));
    assert_eq!(texture.kept_to, KeptTo::Plot);
}

#[test]
fn a_plot_in_two_pieces_says_that_one_is_sampled() {
    let mut yard = Yard::demo();
    let said =
        |yard: &Yard| tell::sentences(&report(&yard.snapshot(), "Hill field", &usual()), US).place.join(" ");
    assert!(!said(&yard).contains("pieces"));
    let hill = yard.snapshot().plot_named("Hill field").unwrap().id;
    let corners = vec![[300.0, 146.0], [310.0, 146.0], [310.0, 150.0], [300.0, 150.0]];
    let outline = Outline::area(Frame::Metres, corners);
    let part = PlanPart { plot: Some(hill), ..PlanPart::drawn(PartKind::Plot, outline) };
    yard.book.record(part, &stamp()).unwrap();
    let wanted = "drawn in 2 pieces, and only the largest is sampled";
    assert!(said(&yard).contains(wanted), "{}", said(&yard));
    let id = keep(&mut yard, "Hill field", &usual());
    assert!(told(&yard.snapshot(), id, US).unwrap().remarks.join(" ").contains(wanted));
}

/// 40 ha hold 24.7 pieces of 4 acres (1.6187 ha), so 25.
#[test]
fn large_and_small_plots_are_told_so() {
    let mut yard = Yard::demo();
    sized(&mut yard, "Hill field", 400_000.0);
    let lead = tell::sentences(&report(&yard.snapshot(), "Hill field", &usual()), US).lead;
    assert!(lead.contains("take it in 25 parts. In each part pull"), "{lead}");
    sized(&mut yard, "Hill field", 1.0);
    let twenty = SamplingAsk { cores: Some(24), ..usual() };
    let said = tell::sentences(&report(&yard.snapshot(), "Hill field", &twenty), US).number.join(" ");
    // 1 m² shared by 24 is 0.2 m square each: 8 in.
    assert!(said.contains("some 8 in apart"), "{said}");
    let large = tell::sentences(&report(&yard.snapshot(), "Lower clay", &twenty), US).number.join(" ");
    assert!(!large.contains("On so small a plot"), "{large}");
}

/// A plan keeps at most 500 points, so none may be asked that comes out with more.
#[test]
fn five_hundred_cores_make_a_plan_that_can_be_kept() {
    let mut yard = Yard::demo();
    for (cores, bags) in [(500, None), (499, Some(2)), (500, Some(7)), (500, Some(499))] {
        let ask = SamplingAsk { cores: Some(cores), bags, ..usual() };
        let found = report(&yard.snapshot(), "Hill field", &ask);
        assert!((450..=500).contains(&found.points.len()), "{cores} {bags:?}: {}", found.points.len());
        keep(&mut yard, "Hill field", &ask);
    }
}

/// A rectangle can be laid on its corner in two ways, and only one is the picture.
#[test]
fn a_plot_that_is_not_drawn_says_on_which_side_of_its_corner_it_lies() {
    let mut yard = Yard::demo();
    let snapshot = yard.snapshot();
    let hill = snapshot.plot_named("Hill field").unwrap().id;
    for part in snapshot.plan_parts.iter().filter(|part| part.body.plot == Some(hill)) {
        yard.book.withdraw(part.id, part.number, "a test", &stamp()).unwrap();
    }
    let found = report(&yard.snapshot(), "Hill field", &usual());
    let corner = found.corner.unwrap();
    // 45.72 m are 150 ft; from the first corner along east the plot lies to the north, on the left.
    let said = corner.words(US);
    assert!(said.contains("on your left") && said.contains("150 ft away"), "{said}");
    for point in &found.points {
        assert_eq!(corner.to(point.at), point.at);
        assert!(point.at[1] > 0.0);
    }
    // Nor is it known where on it the beds and trees of the plan are.
    let orchard = snapshot.plot_named("Young orchard").unwrap().id;
    let parts = snapshot.plan_parts.iter();
    for part in parts.filter(|part| part.body.kind == PartKind::Plot && part.body.plot == Some(orchard)) {
        yard.book.withdraw(part.id, part.number, "a test", &stamp()).unwrap();
    }
    let held = snapshot.plot(orchard).unwrap();
    let shape = Shape::Rectangle { length_m: Bounded::literal(45.0), width_m: Bounded::literal(40.0) };
    let body = Plot { shape, ..held.body.clone() };
    yard.book.revise(held.id, held.number, body, "a test", &stamp()).unwrap();
    assert_eq!(report(&yard.snapshot(), "Young orchard", &usual()).kept_to, KeptTo::TreeRowsNotDrawn);
}

#[test]
fn the_number_of_a_probe_is_of_pushes() {
    let yard = Yard::demo();
    let ask = SamplingAsk { bags: Some(3), apart: true, ..SamplingAsk::usual(SamplingPurpose::Structure) };
    let found = report(&yard.snapshot(), "Hill field", &ask);
    let said = tell::sentences(&found, US).number.join(" ");
    assert!(said.contains(" pushes") && !said.contains("core") && !said.contains("laboratory"), "{said}");
    assert_eq!(found.numbers.bags, 1);
}
