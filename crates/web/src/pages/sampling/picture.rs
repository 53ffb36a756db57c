//! The plot from above with its points.

use advice::plan::FarmPlan;
use book::model::{EntryId, Point};
use figures::Figure;
use figures::plan::{PlanForm, PlanKind, PlanPicture, PlanPoint, PlanShape, PlanSize, plan};
use ground::kit::units::UnitSystem;

/// What else is shown lies within so many metres of the plot.
const AROUND_M: f64 = 15.0;

/// What is drawn of a plot.
pub(super) struct Shown<'a> {
    pub(super) title: &'a str,
    pub(super) farm: &'a FarmPlan,
    pub(super) plot: EntryId,
    pub(super) plot_name: &'a str,
    /// The sides of a plot that is not drawn.
    pub(super) sides_m: Option<(f64, f64)>,
    pub(super) points: &'a [(u16, Point, String)],
    pub(super) date: &'a str,
    pub(super) units: UnitSystem,
}

/// Draws it.
pub(super) fn draw(shown: &Shown<'_>) -> Figure {
    let drawn = shown.farm.area_of(shown.plot);
    let mut shapes = Vec::new();
    match (drawn, shown.sides_m) {
        (Some(_), _) => {
            let about = shown.farm.near(shown.plot, &[], AROUND_M);
            shapes.extend(about.iter().map(report::plan_shape_among_beds));
        }
        (None, Some((long, short))) => shapes.push(PlanShape {
            kind: PlanKind::Plot,
            name: shown.plot_name.to_owned(),
            form: PlanForm::Area {
                outer: vec![[0.0, 0.0], [long, 0.0], [long, short], [0.0, short]],
                holes: Vec::new(),
            },
        }),
        (None, None) => {}
    }
    let points: Vec<PlanPoint> = shown
        .points
        .iter()
        .map(|(number, at, note)| PlanPoint { label: number.to_string(), at: *at, note: note.clone() })
        .collect();
    let walk: Vec<Point> = shown.points.iter().map(|point| point.1).collect();
    plan(&PlanPicture {
        id: "sampling-plan",
        title: shown.title,
        shapes: &shapes,
        points: &points,
        points_are: "places to pull cores",
        walk: &walk,
        date: shown.date,
        north_up: drawn.is_some(),
        size: PlanSize::Wide,
        system: shown.units,
    })
}
