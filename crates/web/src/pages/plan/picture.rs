//! The plan as a picture.

use advice::plan::{Drawn, FarmPlan};
use figures::plan::{PlanPicture, PlanShape, PlanSize, plan};
use ground::kit::units::UnitSystem;

/// What is drawn, for the picture.
pub(crate) fn shapes(plan: &FarmPlan) -> Vec<PlanShape> {
    plan.parts.iter().map(shape).collect()
}

pub(crate) fn shape(part: &Drawn) -> PlanShape {
    let name = if part.name == part.kind.words() { String::new() } else { part.name.clone() };
    report::plan_shape(part, name)
}

/// One picture of a size.
pub(crate) fn drawn(
    id: &str,
    title: &str,
    plan_of: &FarmPlan,
    shapes: &[PlanShape],
    size: PlanSize,
    system: UnitSystem,
) -> figures::Figure {
    plan(&PlanPicture {
        id,
        title,
        shapes,
        points: &[],
        points_are: "",
        corners: &[],
        walk: &[],
        date: "",
        north_up: plan_of.origin.is_some(),
        size,
        system,
    })
}

/// For a phone and for a wide page: the one that fits is shown.
pub(super) fn both(plan_of: &FarmPlan, shapes: &[PlanShape], system: UnitSystem) -> String {
    let phone = drawn("plan", "The farm from above", plan_of, shapes, PlanSize::Phone, system);
    let wide = drawn("plan-wide", "The farm from above", plan_of, shapes, PlanSize::Wide, system);
    format!("{}{}", phone.svg, wide.svg)
}
