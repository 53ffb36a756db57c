//! The plan of the farm: the demonstration's drawn ground, and places that must never be mixed.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use advice::plan::{FarmPlan, told};
use advice::sampling_plan::{SamplingAsk, sampling_report};
use book::Snapshot;
use book::model::{
    EntryId, Form, Frame, KeepOutWhy, Outline, PartKind, PlanPart, Point, Sample, SamplingPurpose, Spot,
};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
use ground::spatial::outline::{Area, overlap_m2};
use ground::spatial::plane;

use crate::yard::{Yard, stamp};

fn area(plan: &FarmPlan, plot: EntryId) -> Area {
    let (outer, holes) = plan.area_of(plot).unwrap();
    Area { outer: outer.to_vec(), holes: holes.to_vec() }
}

fn places(form: &Form) -> Vec<Point> {
    match form {
        Form::Point { at } => vec![*at],
        Form::Line { through } => through.clone(),
        Form::Area { outer, .. } => outer.clone(),
    }
}

#[test]
fn every_plot_of_the_demonstration_is_drawn_as_large_as_it_was_typed() {
    let snapshot = Yard::demo().snapshot();
    let plan = FarmPlan::of(&snapshot);
    let told = told(&snapshot, &plan, UnitSystem::UsCustomary);
    for part in &told.parts {
        assert!(part.remarks.is_empty(), "{}: {:?}", part.name, part.remarks);
    }
    for plot in &snapshot.plots {
        let drawn = area(&plan, plot.id).area_m2();
        let typed = plot.body.shape.area_m2();
        assert!((drawn / typed - 1.0).abs() < 1e-4, "{}: {drawn} m² of {typed}", plot.body.name);
    }
    for (at, one) in snapshot.plots.iter().enumerate() {
        for other in &snapshot.plots[at + 1..] {
            assert!(overlap_m2(&area(&plan, one.id), &area(&plan, other.id)) < 1e-6);
        }
    }
}

#[test]
fn its_parts_lie_where_they_belong() {
    let snapshot = Yard::demo().snapshot();
    let plan = FarmPlan::of(&snapshot);
    let edge = plan.parts.iter().find(|part| part.kind == PartKind::FarmEdge).unwrap();
    let edge = places(&edge.form);
    for part in
        plan.parts.iter().filter(|part| part.kind == PartKind::Plot || part.kind == PartKind::Building)
    {
        assert!(places(&part.form).iter().all(|at| plane::inside(&edge, *at)), "{}", part.name);
    }
    // Beds, trees, wet spots and what is kept out of lie in their plot, to a millimetre.
    for part in &plan.parts {
        let Some(plot) = part.plot.filter(|_| part.kind != PartKind::Plot) else { continue };
        let ground = area(&plan, plot).outer;
        let middle = plane::centre(&ground).unwrap();
        for at in places(&part.form) {
            let inward = [0, 1].map(|axis| at[axis] + (middle[axis] - at[axis]) * 1e-4);
            assert!(plane::inside(&ground, inward), "{} at {at:?}", part.name);
        }
    }
    // As many beds are drawn as the book counts, in their sizes.
    for bed in &snapshot.beds {
        let drawn: Vec<_> = plan.parts.iter().filter(|part| part.bed == Some(bed.id)).collect();
        assert_eq!(drawn.len(), usize::from(bed.body.count), "{}", bed.body.name);
        for part in drawn {
            let wanted = bed.body.length_m.get() * bed.body.width_m.get();
            assert!((plane::ring_area_m2(&places(&part.form)) - wanted).abs() < 1e-3, "{}", part.name);
        }
    }
    for kind in [
        PartKind::Tunnel,
        PartKind::Drain,
        PartKind::Tree,
        PartKind::StandingWater,
        PartKind::KeepOut,
        PartKind::Track,
        PartKind::WaterPoint,
        PartKind::Post,
    ] {
        assert!(plan.parts.iter().any(|part| part.kind == kind), "no {kind:?}");
    }
    assert!(plan.keep_outs().all(|part| part.why.is_some()));
}

/// Water stands where the book says it does, and the plan to pull cores keeps off it.
#[test]
fn the_plan_for_lower_clay_lies_in_its_outline_and_off_the_wet_spot() {
    let snapshot = Yard::demo().snapshot();
    let plan = FarmPlan::of(&snapshot);
    let lower = snapshot.plot_named("Lower clay").unwrap().id;
    let kept = snapshot.sampling_plans.iter().find(|held| held.body.plot == lower).unwrap();
    assert_eq!(kept.body.frame, Frame::Wgs84);
    let wet = plan.parts.iter().find(|part| part.kind == PartKind::StandingWater).unwrap();
    assert_eq!(wet.plot, Some(lower));
    let gate = plan.keep_outs().find(|part| part.plot == Some(lower)).unwrap();
    assert_eq!(gate.why, Some(KeepOutWhy::WheelTrack));
    for point in &kept.body.points {
        let at = plan.place(kept.body.frame, point.at).unwrap();
        assert!(plane::inside(&area(&plan, lower).outer, at), "point {} at {at:?}", point.number);
        for off in [&wet.form, &gate.form] {
            assert!(!plane::inside(&places(off), at), "point {} at {at:?}", point.number);
        }
    }
    let ask = SamplingAsk::usual(SamplingPurpose::Fertility);
    let report = sampling_report(&snapshot, snapshot.plot(lower).unwrap(), &ask, advice::demo::DAY).unwrap();
    assert!(
        report.split.iter().any(|split| split.what == "wet spot" && split.why.contains("drawn on the plan"))
    );
}

/// A book whose plots are known by their sides alone.
fn undrawn() -> Yard {
    let mut yard = Yard::demo();
    let snapshot = yard.snapshot();
    for held in snapshot.plan_parts.iter().filter(|held| held.body.kind == PartKind::Plot) {
        yard.book.withdraw(held.id, held.number, "a test", &stamp()).unwrap();
    }
    yard
}

fn keep_plan(yard: &mut Yard, name: &str) -> EntryId {
    let snapshot = yard.snapshot();
    let ask = SamplingAsk { seed: 11, ..SamplingAsk::usual(SamplingPurpose::Fertility) };
    let plot = snapshot.plot_named(name).unwrap();
    let report = sampling_report(&snapshot, plot, &ask, advice::demo::DAY).unwrap();
    let kept = report.plan(&snapshot, None, 0, advice::demo::DAY).unwrap();
    assert_eq!(kept.frame, Frame::PlotCorner);
    yard.book.record(kept, &stamp()).unwrap().id
}

fn spot_of_first(snapshot: &Snapshot, plan: EntryId) -> (Option<Point>, Sample) {
    let held = snapshot.sampling_plan(plan).unwrap();
    let sample = Sample {
        spot: Some(Spot::numbered(plan, held.body.points[0].number)),
        plot: held.body.plot,
        ..snapshot.samples[0].body.clone()
    };
    (FarmPlan::of(snapshot).spot_of_sample(snapshot, &sample), sample)
}

/// Two plots that are not drawn both count from a corner of their own: their points are never places of one plan.
#[test]
fn points_of_plots_that_are_not_drawn_are_no_places_of_the_farm() {
    let mut yard = undrawn();
    let plans = ["Hill field", "Sand knoll"].map(|name| keep_plan(&mut yard, name));
    let snapshot = yard.snapshot();
    for plan in plans {
        assert_eq!(spot_of_first(&snapshot, plan).0, None);
        // On its own sheet it is drawn all the same, without a place on the Earth.
        let told = advice::sampling_plan::told(&snapshot, plan, UnitSystem::UsCustomary).unwrap();
        assert!(told.points.iter().all(|point| point.metres.is_some() && point.degrees.is_none()));
        assert!(told.walk_m > 0.0 && told.in_degrees().is_err());
    }
    // Drawn later, nobody knows which corner it was: the old points do not jump onto the plan.
    let hill = snapshot.plot_named("Hill field").unwrap().id;
    let corners = vec![[500.0, 500.0], [545.72, 500.0], [545.72, 524.384], [500.0, 524.384]];
    let part = PlanPart {
        plot: Some(hill),
        ..PlanPart::drawn(PartKind::Plot, Outline::area(Frame::Metres, corners))
    };
    yard.book.record(part, &stamp()).unwrap();
    let snapshot = yard.snapshot();
    assert_eq!(spot_of_first(&snapshot, plans[0]).0, None);
    let again = SamplingAsk {
        design: book::model::Design::Repeat,
        repeats: Some(plans[0]),
        ..SamplingAsk::usual(SamplingPurpose::Fertility)
    };
    let refused =
        sampling_report(&snapshot, snapshot.plot(hill).unwrap(), &again, advice::demo::DAY).unwrap_err();
    assert!(refused.message.contains("which corner"), "{refused}");
}

#[test]
fn a_place_from_a_corner_of_a_plot_is_refused_on_the_plan_itself() {
    let mut yard = Yard::demo();
    let part = PlanPart::drawn(PartKind::Tree, Outline::point(Frame::PlotCorner, [3.0, 4.0]));
    let refused = yard.book.record(part, &stamp()).unwrap_err().to_string();
    assert!(refused.contains("corner of a plot"), "{refused}");
}
