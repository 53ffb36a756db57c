//! A sampling plan in words: its field sheet and its labels.

use advice::plan::FarmPlan;
use advice::results::{PlanRow, plan_rows};
use advice::sampling_plan::{CAUTIONS, ToldPlan, heading, place_words, tape, tell, told};
use book::model::{Point, SamplingPlan, SamplingPurpose};
use book::{Held, Snapshot, Tag};
use figures::plan::PlanSize;
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
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
pub use advice::sampling_plan::tell::layer_between as layer;

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

/// The field sheet of a plan.
#[must_use]
pub fn plan_sheet(snapshot: &Snapshot, plan: &Held<SamplingPlan>, units: UnitSystem) -> FieldSheet {
    let body = &plan.body;
    let farm = FarmPlan::about(snapshot, body);
    let told = told(snapshot, plan.id, units);
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
        .chain(told.iter().flat_map(|told| told.remarks.clone()))
        .collect();
    sheet.facts = facts;
    sheet.steps = tell::steps(&walk, units);
    sheet.bring = tell::bring(body.purpose, walk.apart);
    sheet.points = points(&farm, body, &rows, told.as_ref(), units);
    sheet.way =
        told.as_ref().and_then(|told| told.corner).map_or_else(String::new, |corner| corner.words(units));
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
        corner: told.and_then(|told| told.corner),
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
fn points(
    farm: &FarmPlan,
    plan: &SamplingPlan,
    rows: &[PlanRow],
    told: Option<&ToldPlan>,
    units: UnitSystem,
) -> Vec<FieldPoint> {
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
                step: String::new(),
            })
            .collect();
    }
    let north = farm.origin.is_some();
    let mut before: Option<Point> = None;
    let found = told.map_or(&[][..], |told| &told.points[..]);
    found
        .iter()
        .map(|point| {
            let walk = match (point.along_across_m, point.degrees) {
                (Some(place), _) => place_words(place, units),
                (None, Some([longitude, latitude])) => format!("{latitude:.6}, {longitude:.6}"),
                (None, None) => String::new(),
            };
            let step = before.zip(point.metres).map_or_else(String::new, |(from, to)| {
                let far = tape(distance_m(from, to), units);
                if north { format!("{far} {}", heading(from, to)) } else { far }
            });
            before = point.metres.or(before);
            FieldPoint { number: point.number.to_string(), bag: bag_of(point.number), walk, step }
        })
        .collect()
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
        // 45 cm are 17.7 in, and were meant as 18; 2 1/4 in were typed as such.
        assert_eq!(layer(0.0, 45.0, us), "0 to 18 in");
        assert_eq!(layer(0.0, 45.72, us), "0 to 18 in");
        assert_eq!(layer(5.715, 15.0, us), "2 1/4 to 6 in");
    }
}
