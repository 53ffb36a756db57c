//! A sampling plan in words: its field sheet and its labels.

use advice::plan::FarmPlan;
use advice::results::{PlanRow, plan_rows};
use advice::sampling_plan::{CAUTIONS, tell};
use advice::words::depth;
use book::model::{Frame, Point, SamplingPlan, SamplingPurpose};
use book::{Held, Snapshot, Tag};
use figures::plan::PlanSize;
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem, show};
use ground::spatial::plane::distance_m;
use jiff::civil::Date;

use super::boxes::boxes;
use super::field_sheet::{FieldPoint, FieldSheet};
use super::labels::BagLabel;
use super::plan_picture::{PointsPicture, points_picture, sides_m};
use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::render::render;
use crate::sheet::Cautions;

const INCH_CM: f64 = 2.54;

/// So many numbers have room on the picture when they are large enough for an arm's length.
const FEW_POINTS: usize = 15;

/// The labels of a plan's bags; without a day there is a line to write it on.
#[must_use]
pub fn plan_labels(
    snapshot: &Snapshot,
    plan: &Held<SamplingPlan>,
    units: UnitSystem,
    day: Option<Date>,
) -> Vec<BagLabel> {
    let body = &plan.body;
    let plot = snapshot.plot(body.plot).map(|plot| plot.body.name.clone()).unwrap_or_default();
    let rows = plan_rows(body);
    let count = rows.len();
    let in_place = body.purpose == SamplingPurpose::Structure;
    rows.iter()
        .map(|row| BagLabel {
            tag: Tag::Bag { plan: plan.id, number: row.number },
            bag: match in_place {
                true => format!("Point {}", row.number),
                false => format!("Bag {} of {count}", row.number),
            },
            depth: layer(body.from_cm.get(), body.to_cm.get(), units),
            plot: plot.clone(),
            points: if in_place { String::new() } else { points_words(row) },
            day: day.map(advice::words::day).unwrap_or_default(),
        })
        .collect()
}

/// "Points 1, 4 and 7"; empty where the plan does not say.
fn points_words(row: &PlanRow) -> String {
    match row.points[..] {
        [] => String::new(),
        [one] => format!("Point {one}"),
        [ref first @ .., last] if first.len() < 6 => {
            let first: Vec<String> = first.iter().map(u16::to_string).collect();
            format!("Points {} and {last}", first.join(", "))
        }
        ref all => format!("{} points", all.len()),
    }
}

/// "0 to 6 in", "7 1/2 to 12 in".
#[must_use]
pub fn layer(from_cm: f64, to_cm: f64, units: UnitSystem) -> String {
    // Whole inches where centimetres were meant, as in 15 cm; what is typed in halves stays so.
    let told = |cm: f64| {
        let whole = units == UnitSystem::Metric || (cm / INCH_CM - (cm / INCH_CM).round()).abs() < 0.2;
        if whole { depth(cm, units) } else { show(cm, Dimension::Depth, units) }
    };
    let (from, to) = (told(from_cm), told(to_cm));
    let same_unit = from.rsplit_once(' ').zip(to.rsplit_once(' ')).filter(|(from, to)| from.1 == to.1);
    format!("{} to {to}", same_unit.map_or(from.as_str(), |(from, _)| from.0))
}

/// The field sheet of a plan.
#[must_use]
pub fn plan_sheet(snapshot: &Snapshot, plan: &Held<SamplingPlan>, units: UnitSystem) -> FieldSheet {
    let body = &plan.body;
    let farm = FarmPlan::about(snapshot, body);
    let plot = snapshot.plot(body.plot).map(|plot| plot.body.name.clone()).unwrap_or_default();
    let layer = layer(body.from_cm.get(), body.to_cm.get(), units);
    let rows = plan_rows(body);
    let walk = tell::Walk::of(body);
    let mut cautions = Cautions::default();
    for caution in CAUTIONS {
        cautions.sign(caution);
    }
    let mut facts = vec![
        ["Depth".to_owned(), layer.clone()],
        ["Points".to_owned(), body.points.len().to_string()],
        ["Laid out".to_owned(), body.design.words().to_owned()],
        ["Made on".to_owned(), advice::words::day(body.made_on)],
    ];
    if body.purpose != SamplingPurpose::Structure {
        facts.push(["Bags".to_owned(), body.bags.to_string()]);
        facts.push(["Cores to a bag".to_owned(), body.cores_per_bag.to_string()]);
    }
    let mut sheet = FieldSheet::new(format!("Field sheet: {plot}"));
    sheet.lead = vec![format!("{}: {layer}, for {}.", body.name, body.purpose.words())]
        .into_iter()
        .chain(Some(body.note.clone()).filter(|note| !note.is_empty()))
        .collect();
    sheet.facts = facts;
    sheet.steps = tell::steps(&walk, units);
    sheet.bring = tell::bring(body.purpose, walk.apart);
    sheet.points = points(&farm, body, &rows, units);
    sheet.columns = boxes(body.purpose);
    sheet.cautions = cautions.into_list();
    let placed = body.points.iter().filter_map(|point| Some((point, farm.on_its_sheet(body, point.at)?)));
    let points: Vec<_> = placed.map(|(point, at)| (point.number, at, point.bag)).collect();
    if points.is_empty() {
        return sheet;
    }
    let figure = points_picture(&PointsPicture {
        title: &body.name,
        farm: &farm,
        plot: body.plot,
        plot_name: &plot,
        sides_m: snapshot.plot(body.plot).and_then(|plot| sides_m(&plot.body)),
        points: &points,
        date: &advice::words::day(body.made_on),
        units,
        size: if points.len() <= FEW_POINTS { PlanSize::Phone } else { PlanSize::Paper },
    });
    sheet.with_picture(figure.svg, &figure.description)
}

/// The sheet as PDF.
///
/// # Errors
/// A fault of the program.
pub fn plan_sheet_pdf(
    snapshot: &Snapshot,
    plan: &Held<SamplingPlan>,
    units: UnitSystem,
    options: &SheetOptions,
) -> Result<Vec<u8>, SheetError> {
    render(&plan_sheet(snapshot, plan, units), options)
}

/// The points in walking order; where the plot is not drawn, a row for each core.
fn points(farm: &FarmPlan, plan: &SamplingPlan, rows: &[PlanRow], units: UnitSystem) -> Vec<FieldPoint> {
    let bag_of = |number: u16| {
        rows.iter()
            .find(|row| row.points.contains(&number))
            .filter(|_| plan.purpose != SamplingPurpose::Structure)
            .map_or_else(String::new, |row| row.number.to_string())
    };
    if plan.points.is_empty() {
        return (1..=plan.bags)
            .map(|bag| FieldPoint {
                number: String::new(),
                bag: bag.to_string(),
                walk: format!("{} cores on a zigzag over the whole plot", plan.cores_per_bag),
            })
            .collect();
    }
    let mut before: Option<Point> = None;
    plan.points
        .iter()
        .map(|point| {
            let at = farm.on_its_sheet(plan, point.at);
            let walk = match (before, at) {
                (from, Some(to)) if plan.frame == Frame::PlotCorner => from_corner(from, to, units),
                (Some(from), Some(to)) if farm.origin.is_none() => length(distance_m(from, to), units),
                (Some(from), Some(to)) => leg(from, to, units),
                (None, Some(to)) => start(farm, plan, to, units),
                _ => String::new(),
            };
            before = at.or(before);
            FieldPoint { number: point.number.to_string(), bag: bag_of(point.number), walk }
        })
        .collect()
}

/// "64 ft north-east".
fn leg(from: Point, to: Point, units: UnitSystem) -> String {
    format!("{} {}", length(distance_m(from, to), units), heading(from, to))
}

/// The way on a plot that is not drawn: along its longer side and across it, for nobody knows where north is.
fn from_corner(from: Option<Point>, to: Point, units: UnitSystem) -> String {
    let Some(from) = from else {
        return format!(
            "{} along the longer side from a corner, {} across: begin here",
            length(to[0], units),
            length(to[1], units)
        );
    };
    let [along, across] = [to[0] - from[0], to[1] - from[1]];
    format!(
        "{} {}, {} {}",
        length(along.abs(), units),
        if along < 0.0 { "back" } else { "on" },
        length(across.abs(), units),
        if across < 0.0 { "nearer to the longer side" } else { "farther across" }
    )
}

/// The way to the first point, from the corner of the plot that lies nearest.
fn start(farm: &FarmPlan, plan: &SamplingPlan, to: Point, units: UnitSystem) -> String {
    let corners = farm.area_of(plan.plot).map_or(&[][..], |(outer, _)| outer);
    let nearest = corners.iter().min_by(|a, b| distance_m(**a, to).total_cmp(&distance_m(**b, to)));
    nearest.map_or_else(
        || "begin here".to_owned(),
        |corner| format!("{} of the nearest corner: begin here", leg(*corner, to, units)),
    )
}

/// A distance to be paced: whole feet or metres.
fn length(m: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::UsCustomary => format!("{:.0} ft", m / 0.3048),
        UnitSystem::Metric if m >= 10.0 => format!("{m:.0} m"),
        UnitSystem::Metric => show((m * 10.0).round() / 10.0, Dimension::Length, units),
    }
}

/// The one of eight directions that lies nearest.
fn heading(from: Point, to: Point) -> &'static str {
    const EIGHT: [&str; 8] =
        ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];
    let degrees = libm::atan2(to[0] - from[0], to[1] - from[1]).to_degrees().rem_euclid(360.0);
    EIGHT[((degrees / 45.0).round() as usize) % 8]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_layer_names_its_unit_once() {
        // 1 in = 2.54 cm exactly.
        let us = UnitSystem::UsCustomary;
        assert_eq!(layer(0.0, 15.0, us), "0 to 6 in");
        assert_eq!(layer(19.05, 30.48, us), "7 1/2 to 12 in");
        assert_eq!(layer(0.0, 20.0, UnitSystem::Metric), "0 to 20 cm");
    }

    #[test]
    fn headings_are_those_of_the_compass() {
        for (to, word) in [
            ([0.0, 5.0], "north"),
            ([5.0, 5.0], "north-east"),
            ([5.0, 0.0], "east"),
            ([-5.0, -5.0], "south-west"),
            ([-1.0, 5.0], "north"),
            ([-5.0, 4.0], "north-west"),
        ] {
            assert_eq!(heading([0.0, 0.0], to), word, "{to:?}");
        }
    }
}
