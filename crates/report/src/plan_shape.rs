//! A drawn part of the plan as a picture shows it; for sheets and pages alike.

use advice::plan::Drawn;
use book::model::{Form, PartKind};
use figures::plan::{PlanForm, PlanKind, PlanShape};

/// A drawn part under a name, which may be empty.
#[must_use]
pub fn plan_shape(part: &Drawn, name: String) -> PlanShape {
    let form = match &part.form {
        Form::Point { at } => PlanForm::Point(*at),
        Form::Line { through } => PlanForm::Line(through.clone()),
        Form::Area { outer, holes } => PlanForm::Area { outer: outer.clone(), holes: holes.clone() },
    };
    PlanShape { kind: kind(part.kind), name, form }
}

/// A drawn part under its name; beds go without, for by the dozen they would write over each other.
#[must_use]
pub fn plan_shape_among_beds(part: &Drawn) -> PlanShape {
    let name = if part.kind == PartKind::Bed { String::new() } else { part.name.clone() };
    plan_shape(part, name)
}

fn kind(kind: PartKind) -> PlanKind {
    match kind {
        PartKind::Plot => PlanKind::Plot,
        PartKind::Bed => PlanKind::Bed,
        PartKind::Tunnel => PlanKind::Tunnel,
        PartKind::Building => PlanKind::Building,
        PartKind::Drain => PlanKind::Drain,
        PartKind::Post => PlanKind::Post,
        PartKind::Tree => PlanKind::Tree,
        PartKind::StandingWater => PlanKind::StandingWater,
        PartKind::KeepOut => PlanKind::KeepOut,
        PartKind::Track => PlanKind::Track,
        PartKind::WaterPoint => PlanKind::WaterPoint,
        PartKind::FarmEdge => PlanKind::FarmEdge,
        PartKind::Other => PlanKind::Other,
    }
}
