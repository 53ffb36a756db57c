//! The plan and sampling plans line by line.

use advice::words::day;
use book::Snapshot;
use book::model::{Form, Frame, Outline, PlanPart, Point, SamplingPlan, Spot, Underlay};
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem, show};

use super::Line;
use super::record::name_of;
use crate::form::shown;

/// What a part of the plan is called.
pub(super) fn part_title(part: &PlanPart) -> String {
    if part.name.is_empty() { part.kind.words().to_owned() } else { part.name.clone() }
}

fn place(frame: Frame, [x, y]: Point, units: UnitSystem) -> String {
    let length = |metres: f64| show(metres, Dimension::Length, units);
    match frame {
        // Six decimals of a degree are a hand.
        Frame::Wgs84 => format!("latitude {y:.6}°, longitude {x:.6}°"),
        Frame::Metres => format!("{} east, {} north", length(x), length(y)),
        Frame::PlotCorner => format!("{} along the plot, {} across it", length(x), length(y)),
    }
}

fn outline(outline: &Outline, units: UnitSystem) -> String {
    match &outline.form {
        Form::Point { at } => place(outline.frame, *at, units),
        Form::Line { through } => format!("a line through {} places", through.len()),
        Form::Area { outer, holes } if holes.is_empty() => format!("an area of {} corners", outer.len()),
        Form::Area { outer, holes } => format!("an area of {} corners, {} cut out", outer.len(), holes.len()),
    }
}

/// Where something was taken or seen.
pub(super) fn spot(spot: &Spot, snapshot: &Snapshot) -> String {
    let number = spot
        .plan
        .zip(spot.number)
        .map(|(plan, number)| format!("point {number} of {}", name_of(snapshot, plan)));
    let units = snapshot.farm.body.units;
    let at = spot.at.map(|located| {
        let within = located.within_m.map(|within| show(within.get(), Dimension::Length, units));
        let within = within.map(|within| format!(", within {within}")).unwrap_or_default();
        format!("{}{within}", place(located.frame, located.at, units))
    });
    number.into_iter().chain(at).collect::<Vec<_>>().join("; ")
}

/// A part of the plan.
pub(super) fn part(part: &PlanPart, snapshot: &Snapshot) -> Vec<Line> {
    let PlanPart { kind, name, outline: drawn, plot, bed, structure, number, why, import: _, note } = part;
    let linked = |id: &Option<book::model::EntryId>| id.map(|id| name_of(snapshot, id)).unwrap_or_default();
    vec![
        Line::new("Kind", kind.words()),
        Line::new("Name", name),
        Line::new("Plot", linked(plot)),
        Line::new("Bed", linked(bed)),
        Line::new("Structure", linked(structure)),
        Line::new("Number", number.map(|number| number.to_string()).unwrap_or_default()),
        Line::new("Why", why.map(|why| why.words()).unwrap_or_default()),
        Line::new("Drawn as", outline(drawn, snapshot.farm.body.units)),
        Line::new("Note", note),
    ]
}

/// A picture under the plan.
pub(super) fn underlay(underlay: &Underlay, units: UnitSystem) -> Vec<Line> {
    let Underlay { name, sha256: _, media_type: _, width_px, height_px, fixed, opacity_percent, note } =
        underlay;
    let fixed: Vec<String> = fixed
        .iter()
        .map(|point| {
            format!("pixel {}, {} is {}", point.x_px, point.y_px, place(point.frame, point.at, units))
        })
        .collect();
    vec![
        Line::new("Name", name),
        Line::new("Size", format!("{width_px} by {height_px} pixels")),
        Line::new("Fixed by", fixed.join("; ")),
        Line::new("Opacity", opacity_percent.map(|share| format!("{} %", share.get())).unwrap_or_default()),
        Line::new("Note", note),
    ]
}

/// A sampling plan.
pub(super) fn sampling(sampling: &SamplingPlan, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let SamplingPlan {
        plot,
        name,
        made_on,
        purpose,
        design,
        seed,
        frame: _,
        points,
        from_cm,
        to_cm,
        cores_per_bag,
        bags,
        repeats,
        note,
    } = sampling;
    vec![
        Line::new("Plot", name_of(snapshot, *plot)),
        Line::new("Name", name),
        Line::new("Made on", day(*made_on)),
        Line::new("For", purpose.words()),
        Line::new("Points", format!("{}, {}", points.len(), design.words())),
        Line::new("Seed", seed.to_string()),
        Line::new("Depth", format!("{} to {}", shown(*from_cm, units), shown(*to_cm, units))),
        Line::new("Cores to a bag", cores_per_bag.to_string()),
        Line::new("Bags", bags.to_string()),
        Line::new("Again the points of", repeats.map(|id| name_of(snapshot, id)).unwrap_or_default()),
        Line::new("Note", note),
    ]
}
