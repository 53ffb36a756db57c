//! What the plan says: areas and ways round in the farm's units, and what is wrong with an outline.

use book::Snapshot;
use book::model::{EntryId, Form, KeepOutWhy, PartKind, Point};
use ground::kit::quantity::number;
use ground::kit::units::{Dimension, UnitSystem, show};
use ground::spatial::outline::{Area, Fault, faults, overlap_m2};
use ground::spatial::plane;
use serde::Serialize;

use super::{Drawn, FarmPlan, Origin, rings};

/// A part of the plan, measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartTold {
    /// Its record.
    pub id: EntryId,
    /// The revision of the record.
    pub revision: u32,
    /// What it is, by its key.
    pub kind: PartKind,
    /// What it is, in words.
    pub kind_words: &'static str,
    /// What it is called.
    pub name: String,
    /// The plot it shows or lies in.
    pub plot: Option<EntryId>,
    /// The bed it shows.
    pub bed: Option<EntryId>,
    /// The structure it shows.
    pub structure: Option<EntryId>,
    /// Which of several equal ones.
    pub number: Option<u16>,
    /// Why nothing is sampled there.
    pub why: Option<KeepOutWhy>,
    /// Point, line or area.
    pub form: &'static str,
    /// Its outer ring, its line or its one place: metres east and north.
    pub points: Vec<Point>,
    /// What is cut out of it.
    pub holes: Vec<Vec<Point>>,
    /// Area.
    pub area_m2: Option<f64>,
    /// Way once round an area, or length of a line.
    pub perimeter_m: Option<f64>,
    /// The area in the farm's units; empty where it has none.
    pub area_words: String,
    /// The way round, or the length, in the farm's units.
    pub perimeter_words: String,
    /// What is wrong with it, or should be known.
    pub remarks: Vec<String>,
    /// Can the page mend its outline?
    pub mendable: bool,
    /// Area that was typed for the plot, where it differs by more than 2 %.
    pub typed_area_m2: Option<f64>,
}

/// The whole plan, measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlanTold {
    /// Its origin.
    pub origin: Option<Origin>,
    /// What is drawn.
    pub parts: Vec<PartTold>,
}

/// Drawn and typed areas that differ by no more than this agree.
const AGREE: f64 = 0.02;
/// Plots and beds that share less than this touch.
pub(super) const TOUCH_M2: f64 = 0.1;

/// Measures the plan and looks for what is wrong with it.
#[must_use]
pub fn told(snapshot: &Snapshot, plan: &FarmPlan, system: UnitSystem) -> PlanTold {
    let mut parts: Vec<PartTold> = plan.parts.iter().map(|part| one(snapshot, plan, part, system)).collect();
    let areas: Vec<(usize, Area)> = plan
        .parts
        .iter()
        .enumerate()
        .filter(|(_, part)| part.kind == PartKind::Plot)
        .filter_map(|(place, part)| Some((place, area_of(&part.form)?)))
        .collect();
    for (at, (one, area)) in areas.iter().enumerate() {
        for (other, with) in &areas[at + 1..] {
            let shared = overlap_m2(area, with);
            if shared > TOUCH_M2 {
                let words = show(shared, Dimension::Area, system);
                for (here, there) in [(*one, *other), (*other, *one)] {
                    let name = parts[there].name.clone();
                    parts[here].remarks.push(format!("It lies over {name}: they share {words}."));
                    parts[here].mendable = true;
                }
            }
        }
    }
    PlanTold { origin: plan.origin, parts }
}

/// What is wrong with the parts that came onto the plan between two states of the book, by their names.
#[must_use]
pub fn new_remarks(before: &Snapshot, after: &Snapshot, system: UnitSystem) -> Vec<String> {
    told(after, &FarmPlan::of(after), system)
        .parts
        .into_iter()
        .filter(|part| before.plan_parts.iter().all(|held| held.id != part.id))
        .flat_map(|part| {
            let name = part.name;
            part.remarks.into_iter().map(move |remark| format!("{name}: {remark}"))
        })
        .collect()
}

/// The outline that a plot goes by, measured beside what was typed for it. Whether it lies over others is told by the
/// whole plan.
#[must_use]
pub fn told_of_plot(
    snapshot: &Snapshot,
    plan: &FarmPlan,
    plot: EntryId,
    system: UnitSystem,
) -> Option<PartTold> {
    plan.drawn_of(plot).map(|part| one(snapshot, plan, part, system))
}

/// An area in the farm's units.
#[must_use]
pub fn area_words(area_m2: f64, system: UnitSystem) -> String {
    show(area_m2, Dimension::Area, system)
}

pub(super) fn area_of(form: &Form) -> Option<Area> {
    rings(form).map(|(outer, holes)| Area { outer: outer.to_vec(), holes: holes.to_vec() })
}

fn one(snapshot: &Snapshot, plan: &FarmPlan, part: &Drawn, system: UnitSystem) -> PartTold {
    let length = |metres: f64| show(metres, Dimension::Length, system);
    let (form, points, holes, area_m2, perimeter_m) = match &part.form {
        Form::Point { at } => ("point", vec![*at], Vec::new(), None, None),
        Form::Line { through } => ("line", through.clone(), Vec::new(), None, Some(plane::length_m(through))),
        Form::Area { outer, holes } => (
            "area",
            outer.clone(),
            holes.clone(),
            Some(plane::area_m2(outer, holes)),
            Some(plane::perimeter_m(outer)),
        ),
    };
    let found = area_of(&part.form).map(|area| faults(&area)).unwrap_or_default();
    let mut remarks: Vec<String> = found.iter().map(|fault| fault_words(fault, system)).collect();
    let pieces = if area_m2.is_some() { pieces_with(plan, part) } else { 0 };
    // The size of a plot in several pieces was written down for all of them.
    let typed =
        (pieces == 1).then(|| snapshot.plot(part.plot?)).flatten().map(|plot| plot.body.shape.area_m2());
    let typed_area_m2 = match (typed, area_m2) {
        (Some(typed), Some(drawn)) if found.is_empty() && (drawn / typed - 1.0).abs() > AGREE => {
            remarks.push(format!(
                "Drawn it has {}, but {} were written down for the plot: {} % {}.",
                area_words(drawn, system),
                area_words(typed, system),
                number(((drawn / typed - 1.0).abs() * 1000.0).round() / 10.0),
                if drawn > typed { "more" } else { "less" }
            ));
            Some(typed)
        }
        _ => None,
    };
    if pieces > 1 {
        remarks.push(format!(
            "This plot lies in {pieces} pieces: places to sample and maps go by the largest. Make plots of their own of the others to sample them."
        ));
    }
    PartTold {
        id: part.id,
        revision: part.revision,
        kind: part.kind,
        kind_words: part.kind.words(),
        name: part.name.clone(),
        plot: part.plot,
        bed: part.bed,
        structure: part.structure,
        number: part.number,
        why: part.why,
        form,
        points,
        holes,
        area_m2,
        perimeter_m,
        area_words: area_m2.map(|area| area_words(area, system)).unwrap_or_default(),
        perimeter_words: perimeter_m.map(length).unwrap_or_default(),
        remarks,
        mendable: !found.is_empty(),
        typed_area_m2,
    }
}

/// How many areas are drawn of the plot that a part shows, itself among them; none of what shows no plot.
fn pieces_with(plan: &FarmPlan, part: &Drawn) -> usize {
    let Some(plot) = part.plot.filter(|_| part.kind == PartKind::Plot) else { return 0 };
    plan.pieces_of(plot).count()
}

fn fault_words(fault: &Fault, system: UnitSystem) -> String {
    match fault {
        Fault::CrossesItself { at, count } => {
            let place = format!(
                "{} east and {} north of the origin",
                show(at[0], Dimension::Length, system),
                show(at[1], Dimension::Length, system)
            );
            if *count == 1 {
                format!("Its outline crosses itself {place}, so its area is not to be trusted.")
            } else {
                format!(
                    "Its outline crosses itself in {count} places, first {place}; its area is not to be trusted."
                )
            }
        }
        Fault::RepeatedCorners { count: 1 } => "One corner stands twice in a row.".to_owned(),
        Fault::RepeatedCorners { count } => format!("{count} corners stand twice in a row."),
        Fault::Tiny { area_m2 } => {
            format!("It is tiny, {}: perhaps a slip of the hand.", area_words(*area_m2, system))
        }
        Fault::HoleOutside => "What is cut out of it does not lie inside it.".to_owned(),
    }
}
