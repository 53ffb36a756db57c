//! What is drawn about a plot: what its points keep away from, and what they may be kept to.

use book::Held;
use book::model::{Form, PartKind, Place as PlotPlace, Plot, Point, SamplingPurpose};
use ground::kit::Refusal;
use ground::spatial::sampling::shape::{Area, Shape};
use serde::Serialize;

use super::SamplingAsk;
use crate::plan::{Drawn, FarmPlan};

/// Nothing is sampled so near to a building, tunnel, tree, post or drain (judgement: roots, drips and digging).
const NEAR_M: f64 = 1.0;
/// So far from the middle of a row of trees the ground is taken for that under their branches (judgement).
const UNDER_TREES_M: f64 = 2.0;

/// What the points are kept to.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "to", rename_all = "snake_case")]
pub enum KeptTo {
    /// The whole plot.
    Plot,
    /// The beds drawn on it.
    Beds,
    /// Strips beside the rows of trees drawn on it.
    TreeRows {
        /// From so far beside the row.
        from_m: f64,
        /// To so far.
        to_m: f64,
    },
    /// They belong beside rows of trees, and no row is drawn.
    TreeRowsNotDrawn,
}

/// What the points of a plot are kept to, and the ground that is. Of a plot that is not drawn nobody knows what is drawn
/// on it.
pub(super) fn kept_to(
    farm: &FarmPlan,
    plot: &Held<Plot>,
    drawn: Option<&Area>,
    ask: &SamplingAsk,
) -> Result<(KeptTo, Vec<(Shape, f64)>), Refusal> {
    if ask.in_beds {
        let beds: Vec<(Shape, f64)> =
            drawn.map(|_| beds(farm, plot).map(|bed| (bed, 0.0)).collect()).unwrap_or_default();
        if beds.is_empty() {
            return Err(Refusal::new(
                "in_beds",
                "no bed of this plot is drawn on the plan, so none can be kept to",
            )
            .given("in the beds only")
            .accepted("a plot whose beds are drawn on the plan, or the whole plot")
            .example("the whole plot"));
        }
        return Ok((KeptTo::Beds, beds));
    }
    let feeds_trees = ask.purpose == SamplingPurpose::Fertility && plot.body.place == PlotPlace::Orchard;
    if !feeds_trees {
        return Ok((KeptTo::Plot, Vec::new()));
    }
    let rows: Vec<(Shape, f64)> = farm
        .parts
        .iter()
        .filter(|part| {
            part.kind == PartKind::Tree
                && drawn.is_some_and(|area| along(part).into_iter().any(|at| area.holds(at)))
        })
        .map(|part| (shape_of(part), UNDER_TREES_M))
        .collect();
    let kept = match rows.len() {
        0 => KeptTo::TreeRowsNotDrawn,
        _ => KeptTo::TreeRows { from_m: NEAR_M, to_m: UNDER_TREES_M },
    };
    Ok((kept, rows))
}

/// The beds of a plot that are drawn as pieces of ground.
pub(super) fn beds<'a>(farm: &'a FarmPlan, plot: &Held<Plot>) -> impl Iterator<Item = Shape> + use<'a> {
    let plot = plot.id;
    let of_plot = move |part: &&Drawn| part.kind == PartKind::Bed && part.plot == Some(plot);
    farm.parts.iter().filter(of_plot).map(shape_of).filter(|shape| matches!(shape, Shape::Area(_)))
}

/// What is drawn near the plot and would mislead, with how far to stay from it.
pub(super) fn obstacles(
    farm: &FarmPlan,
    plot: &Held<Plot>,
    area: &Area,
    ask: &SamplingAsk,
) -> (Vec<(Shape, f64)>, Vec<String>) {
    let under_cover = matches!(plot.body.place, PlotPlace::HighTunnel | PlotPlace::Greenhouse);
    let whole = Shape::Area(area.clone());
    let mut found = Vec::new();
    let mut told = Vec::new();
    for part in &farm.parts {
        let (away, what) = match part.kind {
            PartKind::KeepOut => (ask.keep_off_m, part.why.map_or(part.kind.words(), |why| why.words())),
            PartKind::Building | PartKind::Tree | PartKind::Post | PartKind::Drain | PartKind::WaterPoint => {
                (NEAR_M, part.kind.words())
            }
            PartKind::StandingWater | PartKind::Track => (NEAR_M, part.kind.words()),
            PartKind::Tunnel if !under_cover => (NEAR_M, part.kind.words()),
            _ => continue,
        };
        let shape = shape_of(part);
        if along(part).into_iter().any(|at| whole.distance_m(at) <= away) || touches(&shape, area, away) {
            let name = if part.name.is_empty() || part.name == part.kind.words() {
                String::new()
            } else {
                format!(" ({})", part.name)
            };
            let line = format!("{what}{name}: {away} m");
            if !told.contains(&line) {
                told.push(line);
            }
            found.push((shape, away));
        }
    }
    (found, told)
}

/// Places along a part, a metre apart: a fence may cross a plot far from its own ends.
fn along(part: &Drawn) -> Vec<Point> {
    let places: Vec<Point> = places_of(part).collect();
    let mut found = places.clone();
    for pair in places.windows(2) {
        let (east, north) = (pair[1][0] - pair[0][0], pair[1][1] - pair[0][1]);
        let metres = east.hypot(north).min(10_000.0);
        let mut done = 1.0;
        while done < metres {
            found.push([pair[0][0] + east * done / metres, pair[0][1] + north * done / metres]);
            done += 1.0;
        }
    }
    found
}

fn touches(shape: &Shape, area: &Area, away: f64) -> bool {
    area.outer.iter().any(|at| shape.distance_m(*at) <= away)
}

fn shape_of(part: &Drawn) -> Shape {
    match &part.form {
        Form::Point { at } => Shape::Point(*at),
        Form::Line { through } => Shape::Line(through.clone()),
        Form::Area { outer, holes } => Shape::Area(Area { outer: outer.clone(), holes: holes.clone() }),
    }
}

pub(super) fn places_of(part: &Drawn) -> impl Iterator<Item = Point> + '_ {
    let places: &[Point] = match &part.form {
        Form::Point { at } => std::slice::from_ref(at),
        Form::Line { through } => through,
        Form::Area { outer, .. } => outer,
    };
    places.iter().copied()
}
