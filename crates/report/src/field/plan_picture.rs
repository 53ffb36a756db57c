//! The picture of a sampling plan for its sheet: the plot, what lies about it, and the points in walking order.

use advice::plan::FarmPlan;
use book::model::{Frame, Point, SamplingPlan};
use figures::Figure;
use figures::plan::{PlanPicture, PlanPoint, PlanShape, PlanSize, plan};
use ground::kit::units::UnitSystem;

/// What lies farther from the plot than this is left out, m.
const ABOUT_M: f64 = 15.0;

/// The picture; `None` where no point of the plan can be placed.
pub(super) fn picture(farm: &FarmPlan, of: &SamplingPlan, units: UnitSystem) -> Option<Figure> {
    let points: Vec<PlanPoint> = of
        .points
        .iter()
        .filter_map(|point| {
            let note = point.bag.map_or_else(String::new, |bag| format!("bag {bag}"));
            Some(PlanPoint { label: point.number.to_string(), at: farm.on_its_sheet(of, point.at)?, note })
        })
        .collect();
    if points.is_empty() {
        return None;
    }
    let places: Vec<Point> = points.iter().map(|point| point.at).collect();
    let shapes: Vec<PlanShape> =
        farm.near(of.plot, &places, ABOUT_M).iter().map(crate::plan_shape_among_beds).collect();
    Some(plan(&PlanPicture {
        id: "field-plan",
        title: &of.name,
        shapes: &shapes,
        points: &points,
        points_are: "points",
        walk: &places,
        date: &advice::words::day(of.made_on),
        north_up: of.frame != Frame::PlotCorner,
        size: PlanSize::Wide,
        system: units,
    }))
}
