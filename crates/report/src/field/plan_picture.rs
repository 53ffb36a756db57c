//! A plot from above with the points of its sampling plan, for pages and paper alike.

use advice::plan::FarmPlan;
use advice::sampling_plan::{Corner, tell};
use book::model::{EntryId, Plot, Point, Shape};
use figures::Figure;
use figures::plan::{PlanForm, PlanKind, PlanPicture, PlanPoint, PlanShape, PlanSize, plan};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;

/// What else is shown lies within so many metres of the plot.
const AROUND_M: f64 = 15.0;

/// What is drawn of a plot.
#[derive(Debug, Clone, Copy)]
pub struct PointsPicture<'a> {
    /// Its title.
    pub title: &'a str,
    /// The plan of the farm.
    pub farm: &'a FarmPlan,
    /// The plot.
    pub plot: EntryId,
    /// What it is called.
    pub plot_name: &'a str,
    /// The sides of a plot that is not drawn, the longer first.
    pub sides_m: Option<(f64, f64)>,
    /// The points in walking order: number, place, and bag.
    pub points: &'a [(u16, Point, Option<u16>)],
    /// The corner that they are counted from, with the other end of its side.
    pub corner: Option<Corner>,
    /// The day on it.
    pub date: &'a str,
    /// Units of its scale bar.
    pub units: UnitSystem,
    /// How large its words are beside it.
    pub size: PlanSize,
}

/// The sides of a plot of which they are known, the longer first.
#[must_use]
pub fn sides_m(plot: &Plot) -> Option<(f64, f64)> {
    match plot.shape {
        Shape::Rectangle { length_m, width_m } => {
            let (one, other) = (length_m.get(), width_m.get());
            Some((one.max(other), one.min(other)))
        }
        Shape::Area { .. } => None,
    }
}

/// Draws it. A plot that is not drawn on the plan, and whose points are counted from its corner, is a rectangle of its
/// sides, its longer side along the page; of one that was parted its zones are drawn.
#[must_use]
pub fn points_picture(shown: &PointsPicture<'_>) -> Figure {
    let walk: Vec<Point> = shown.points.iter().map(|point| point.1).collect();
    let mut shapes: Vec<PlanShape> =
        shown.farm.near(shown.plot, &walk, AROUND_M).iter().map(crate::plan_shape_among_beds).collect();
    match shown.sides_m {
        Some((long, short)) if shown.farm.parts.is_empty() => shapes.push(PlanShape {
            kind: PlanKind::Plot,
            name: shown.plot_name.to_owned(),
            form: PlanForm::Area {
                outer: vec![[0.0, 0.0], [long, 0.0], [long, short], [0.0, short]],
                holes: Vec::new(),
            },
        }),
        _ => {}
    }
    let points: Vec<PlanPoint> = shown
        .points
        .iter()
        .map(|(number, at, bag)| PlanPoint { label: number.to_string(), at: *at, note: tell::bag(*bag) })
        .collect();
    let corners: Vec<(&str, Point)> =
        shown.corner.iter().flat_map(|corner| [("A", corner.at), ("B", corner.towards)]).collect();
    plan(&PlanPicture {
        // Two sizes may stand on one page.
        id: if shown.size == PlanSize::Wide { "sampling-plan-wide" } else { "sampling-plan" },
        title: shown.title,
        shapes: &shapes,
        points: &points,
        points_are: "places to pull cores",
        corners: &corners,
        walk: &walk,
        date: shown.date,
        // On a plan that is not fixed to the Earth, north is nobody's.
        north_up: shown.farm.origin.is_some(),
        size: shown.size,
        system: shown.units,
    })
}
