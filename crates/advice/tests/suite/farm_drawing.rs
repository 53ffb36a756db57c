//! Drawing on the plan and correcting what is drawn: nothing else changes with it.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use advice::plan::{
    Drawing, FarmPlan, along_longest, beds_kept, told, told_of_plot, typed_corners, typed_place,
};
use book::model::{EntryId, Form, PartKind, PlanPart};
use book::{BookError, Snapshot};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
use ground::spatial::beds::{BedRules, bed_layout};
use ground::spatial::outline::Area;

use crate::yard::{Yard, stamp};

/// Corrects a part as the page does: with the name that is shown.
fn correct(
    yard: &mut Yard,
    part: EntryId,
    change: impl FnOnce(&Snapshot, &mut Drawing),
) -> Result<(), BookError> {
    let snapshot = yard.snapshot();
    let plan = FarmPlan::of(&snapshot);
    let shown = plan.parts.iter().find(|one| one.id == part).unwrap().clone();
    let mut drawing = Drawing {
        kind: shown.kind,
        name: shown.name.clone(),
        plot: shown.plot,
        why: shown.why,
        form: shown.form.clone(),
        sides_m: None,
        note: String::new(),
    };
    change(&snapshot, &mut drawing);
    yard.book.write(|writing| drawing.correct(writing, &snapshot, &plan, part, shown.revision, &stamp()))
}

fn part_of(snapshot: &Snapshot, plot: EntryId) -> EntryId {
    let mut drawn = snapshot.plan_parts.iter();
    drawn.find(|part| part.body.kind == PartKind::Plot && part.body.plot == Some(plot)).unwrap().id
}

fn moved(form: &Form, by: f64) -> Form {
    let Form::Area { outer, holes } = form else { panic!("{form:?}") };
    let mut outer = outer.clone();
    outer[0][0] += by;
    Form::Area { outer, holes: holes.clone() }
}

#[test]
fn a_moved_outline_with_a_number_renames_no_plot() {
    let mut yard = Yard::demo();
    let plot = yard.plot("Lower clay");
    let part = part_of(&yard.snapshot(), plot);
    let held = yard.snapshot().plan_parts.iter().find(|held| held.id == part).unwrap().clone();
    let numbered = PlanPart { number: Some(12), ..held.body };
    yard.book.revise(part, held.number, numbered, "", &stamp()).unwrap();
    correct(&mut yard, part, |_, drawing| drawing.form = moved(&drawing.form, 0.5)).unwrap();
    assert_eq!(yard.snapshot().plot(plot).unwrap().body.name, "Lower clay");
    // A name that was typed is taken.
    correct(&mut yard, part, |_, drawing| drawing.name = "Lower field".to_owned()).unwrap();
    assert_eq!(yard.snapshot().plot(plot).unwrap().body.name, "Lower field");
}

#[test]
fn an_outline_given_to_another_plot_leaves_both_names() {
    let mut yard = Yard::demo();
    let (one, other) = (yard.plot("Lower clay"), yard.plot("Sand knoll"));
    let part = part_of(&yard.snapshot(), one);
    correct(&mut yard, part, |_, drawing| drawing.plot = Some(other)).unwrap();
    let snapshot = yard.snapshot();
    assert_eq!(snapshot.plot(one).unwrap().body.name, "Lower clay");
    assert_eq!(snapshot.plot(other).unwrap().body.name, "Sand knoll");
    let plan = FarmPlan::of(&snapshot);
    let drawn = plan.parts.iter().find(|held| held.id == part).unwrap();
    assert_eq!(drawn.plot, Some(other));
    // Now that plot lies in two pieces, and that is said.
    let told = told(&snapshot, &plan, UnitSystem::UsCustomary);
    let pieces: Vec<_> =
        told.parts.iter().filter(|told| told.plot == Some(other) && told.kind == PartKind::Plot).collect();
    assert_eq!(pieces.len(), 2);
    assert!(pieces.iter().all(|piece| piece.remarks.iter().any(|remark| remark.contains("in 2 pieces"))));
}

#[test]
fn a_single_bed_takes_the_sides_it_is_drawn_with() {
    let mut yard = Yard::demo();
    let snapshot = yard.snapshot();
    let plot = yard.plot("New ground");
    let plan = FarmPlan::of(&snapshot);
    let corner = plan.area_of(plot).unwrap().0[0];
    let [x, y] = corner;
    let bed = |long: f64| Form::Area {
        outer: vec![[x, y], [x + 1.2, y], [x + 1.2, y + long], [x, y + long]],
        holes: Vec::new(),
    };
    let drawing = Drawing {
        kind: PartKind::Bed,
        name: "Seed bed".to_owned(),
        plot: Some(plot),
        why: None,
        form: bed(30.0),
        sides_m: None,
        note: String::new(),
    };
    let part = yard.book.write(|writing| drawing.add(writing, &plan, &stamp())).unwrap();
    correct(&mut yard, part, |_, drawing| {
        drawing.form = bed(15.0);
        drawing.name = "Nursery bed".to_owned();
    })
    .unwrap();
    let snapshot = yard.snapshot();
    let held = snapshot.beds.iter().find(|bed| bed.body.name == "Nursery bed").unwrap();
    assert!((held.body.length_m.get() - 15.0).abs() < 1e-3, "{:?}", held.body);
    assert!((held.body.width_m.get() - 1.2).abs() < 1e-3, "{:?}", held.body);
}

#[test]
fn beds_are_not_laid_over_beds() {
    let mut yard = Yard::demo();
    let plot = yard.plot("New ground");
    let keep = |yard: &mut Yard, bed_m: f64| {
        let snapshot = yard.snapshot();
        let plan = FarmPlan::of(&snapshot);
        let (outer, holes) = plan.area_of(plot).unwrap();
        let area = Area { outer: outer.to_vec(), holes: holes.to_vec() };
        let rules = BedRules {
            bed_m: Bounded::literal(bed_m),
            path_m: Bounded::literal(0.45),
            bearing_degrees: Bounded::literal(along_longest(&area)),
            margin_m: Bounded::literal(0.0),
            shortest_m: Bounded::literal(3.0),
        };
        let layout = bed_layout(&area, &rules).unwrap();
        assert!(!layout.beds.is_empty());
        yard.book.write(|writing| beds_kept(writing, &plan, plot, "Beds", bed_m, &layout, &stamp()))
    };
    keep(&mut yard, 0.75).unwrap();
    let before = yard.snapshot().beds.len();
    let refused = keep(&mut yard, 1.2).unwrap_err();
    assert!(refused.to_string().contains("beds are drawn on this ground already"), "{refused}");
    assert_eq!(yard.snapshot().beds.len(), before);
}

#[test]
fn a_side_with_a_bearing_is_no_place_on_the_earth() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let plan = FarmPlan::of(&snapshot);
    let corners =
        |text: &str| typed_corners("corners", text, [0.0, 0.0], &snapshot, &plan, UnitSystem::Metric);
    for text in ["20 m 90°\n10 m 0°\n20 m 270°", "66ft 90°\n33ft 0°\n66ft 270°"] {
        let (read, _) = corners(text).unwrap();
        assert!((read[1][0] - read[0][0] - 20.0).abs() < 0.2, "{text}: {read:?}");
    }
    // Three decimals of a degree near the farm are degrees, not feet.
    let farm = plan.origin.unwrap();
    let text = format!("{:.3}, {:.3}", farm.latitude_degrees + 0.001, farm.longitude_degrees);
    let (at, _) = typed_place("at", &text, &snapshot, &plan, UnitSystem::UsCustomary).unwrap();
    assert!((50.0..250.0).contains(&at[1]), "{text}: {at:?}");
    let (at, _) = typed_place("at", "42.5, 93.5", &snapshot, &plan, UnitSystem::Metric).unwrap();
    assert_eq!(at, [42.5, 93.5]);
}

/// What was drawn last is not what a plot goes by: points and maps lie on the largest piece, and so does what is told.
#[test]
fn a_plot_in_pieces_is_told_by_the_piece_it_goes_by() {
    let mut yard = Yard::demo();
    let plot = yard.plot("Lower clay");
    let largest = part_of(&yard.snapshot(), plot);
    let corners = vec![[900.0, 900.0], [920.0, 900.0], [920.0, 910.0], [900.0, 910.0]];
    let plan = FarmPlan::of(&yard.snapshot());
    let drawing = Drawing {
        kind: PartKind::Plot,
        name: String::new(),
        plot: Some(plot),
        why: None,
        form: Form::Area { outer: corners, holes: Vec::new() },
        sides_m: None,
        note: String::new(),
    };
    let last = yard.book.write(|writing| drawing.add(writing, &plan, &stamp())).unwrap();
    let snapshot = yard.snapshot();
    let plan = FarmPlan::of(&snapshot);
    let of_plot = told_of_plot(&snapshot, &plan, plot, UnitSystem::Metric).unwrap();
    assert_ne!(of_plot.id, last);
    assert_eq!(of_plot.id, largest);
    assert_eq!(of_plot.points, plan.area_of(plot).unwrap().0);
    // The size was written down for all pieces together: it is held against none of them.
    assert_eq!(of_plot.typed_area_m2, None);
    assert!(of_plot.remarks[0].contains("in 2 pieces"), "{:?}", of_plot.remarks);
    // The same is told of it among all parts.
    let told = told(&snapshot, &plan, UnitSystem::Metric);
    assert_eq!(told.parts.iter().find(|part| part.id == largest), Some(&of_plot));
}
