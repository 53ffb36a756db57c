//! The picture of a sampling plan for its sheet: the plot, what lies about it, and the points in walking order.

use advice::plan::{Drawn, FarmPlan};
use book::model::{Form, PartKind, Point, SamplingPlan};
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
    let outline = farm.area_of(of.plot).map_or(&[][..], |(outer, _)| outer);
    let around: Vec<Point> = outline.iter().copied().chain(points.iter().map(|point| point.at)).collect();
    let shapes: Vec<PlanShape> =
        farm.parts.iter().filter(|part| shown(part, of, &around)).map(crate::plan_shape_among_beds).collect();
    let walk: Vec<Point> = points.iter().map(|point| point.at).collect();
    Some(plan(&PlanPicture {
        id: "field-plan",
        title: &of.name,
        shapes: &shapes,
        points: &points,
        points_are: "points",
        walk: &walk,
        date: &advice::words::day(of.made_on),
        north_up: true,
        size: PlanSize::Wide,
        system: units,
    }))
}

/// The plot, and what lies in it or beside it; other plots and the farm's edge would make the plot small.
fn shown(part: &Drawn, of: &SamplingPlan, around: &[Point]) -> bool {
    if part.kind == PartKind::Plot {
        return part.plot == Some(of.plot);
    }
    if part.kind == PartKind::FarmEdge {
        return false;
    }
    let bound = |axis: usize, least: bool| {
        let values = around.iter().map(|at| at[axis]);
        if least {
            values.fold(f64::INFINITY, f64::min) - ABOUT_M
        } else {
            values.fold(f64::NEG_INFINITY, f64::max) + ABOUT_M
        }
    };
    let near = |at: &Point| (0..2).all(|axis| (bound(axis, true)..=bound(axis, false)).contains(&at[axis]));
    let places: &[Point] = match &part.form {
        Form::Point { at } => std::slice::from_ref(at),
        Form::Line { through } => through,
        Form::Area { outer, .. } => outer,
    };
    !places.is_empty() && places.iter().all(near)
}
