//! Where the points go.

use book::Held;
use book::model::{Design, PartKind, Plot, Point, SamplingPlan, SamplingPoint, Shape as PlotShape};
use ground::kit::{Bounded, Refusal};
use ground::spatial::sampling::coverage::{Spreading, spread};
use ground::spatial::sampling::ground_to_sample::{Ground, nothing_left};
use ground::spatial::sampling::shape::{Area, Shape};
use ground::spatial::sampling::slabs::Slabs;
use ground::spatial::sampling::stratified_random::stratified_points;
use ground::spatial::sampling::walking::{length_m, short_order};
use ground::spatial::sampling::zigzag::{Way, zigzag};

use super::around::{KeptTo, beds, kept_to, obstacles, places_of};
use super::number::MOST_PLACES;
use super::{Numbers, OutlineFrom, SamplingAsk, again};
use crate::plan::FarmPlan;

/// The usual distance from the edges of a plot; a tenth of its width where that is less (common practice).
const MARGIN_M: f64 = 2.0;
/// Strokes of a zigzag walk: a W.
const STROKES: usize = 4;

/// Points and what goes with them.
pub(super) struct Laid {
    pub(super) outline: OutlineFrom,
    pub(super) area_m2: Option<f64>,
    pub(super) margin_m: f64,
    pub(super) keeps_off: Vec<String>,
    pub(super) points: Vec<SamplingPoint>,
    pub(super) walk_m: f64,
    pub(super) remarks: Vec<String>,
    pub(super) kept_to: KeptTo,
    /// How many of the points lie in drawn beds; nothing where none is drawn.
    pub(super) in_beds: Option<usize>,
}

pub(super) fn lay_out(
    farm: &FarmPlan,
    plot: &Held<Plot>,
    ask: &SamplingAsk,
    numbers: &Numbers,
    earlier: Option<&Held<SamplingPlan>>,
) -> Result<Laid, Refusal> {
    let drawn = farm.area_of(plot.id);
    let (outline, area) = match (drawn, plot.body.shape) {
        (Some((outer, holes)), _) => {
            (OutlineFrom::Drawn, Area { outer: outer.to_vec(), holes: holes.to_vec() })
        }
        (None, PlotShape::Rectangle { length_m, width_m }) => {
            let (one, other) = (length_m.get(), width_m.get());
            (OutlineFrom::Sides, Area::rectangle(one.max(other), one.min(other)))
        }
        (None, PlotShape::Area { .. }) => {
            return Ok(Laid {
                outline: OutlineFrom::Nothing,
                area_m2: None,
                margin_m: ask.margin_m.unwrap_or(MARGIN_M),
                keeps_off: Vec::new(),
                points: Vec::new(),
                walk_m: 0.0,
                kept_to: KeptTo::Plot,
                in_beds: None,
                remarks: vec![
                    "Only the area of this plot is known, so no places are given: draw it on the plan, or give its sides, and they will be.".to_owned(),
                ],
            });
        }
    };
    let area_m2 = Slabs::of(&area).area_m2();
    // Points that were taken before stay where they are.
    let (kept_to, only_in) = match earlier {
        Some(_) => (KeptTo::Plot, Vec::new()),
        None => kept_to(farm, plot, (outline == OutlineFrom::Drawn).then_some(&area), ask)?,
    };
    // A bed may lie at the very edge of its plot.
    let usual = if kept_to == KeptTo::Beds { 0.0 } else { usual_margin(&area, area_m2) };
    let margin_m = ask.margin_m.unwrap_or(usual);
    let (keep_outs, keeps_off) = if outline == OutlineFrom::Drawn {
        obstacles(farm, plot, &area, ask)
    } else {
        (Vec::new(), Vec::new())
    };
    let ground = Ground { plot: area, margin_m, keep_outs, only_in };
    let mut remarks = Vec::new();
    let places = usize::from(numbers.places.max(1));
    let point = |(at, stratum): (Point, Option<u16>)| SamplingPoint { number: 1, at, stratum, bag: None };
    let points: Vec<SamplingPoint> = match ask.design {
        Design::StratifiedRandom => {
            let each = if ask.apart { 2 } else { usize::from(numbers.bags).max(2) };
            let parts = places.div_ceil(each).min(usize::from(MOST_PLACES) / each).max(1);
            stratified_points(&ground, parts, each, ask.seed)
                .ok_or_else(|| nothing_left(&ground))?
                .into_iter()
                .map(|found| point((found.at, Some(found.stratum + 1))))
                .collect()
        }
        Design::Zigzag => {
            remarks.push(
                "Cross the beds on this walk and never go along them; no honest error can be told from it."
                    .to_owned(),
            );
            let way = Way {
                strokes: STROKES,
                beds_run_degrees: beds_run(farm, plot),
                first_step: None,
                seed: ask.seed,
            };
            let walk = zigzag(&ground, places, &way).ok_or_else(|| nothing_left(&ground))?;
            walk.points.into_iter().map(|at| point((at, None))).collect()
        }
        Design::SpatialCoverage => {
            let how = Spreading { equal_area: !ask.apart, seed: ask.seed, ..Spreading::default() };
            let found = spread(&ground, places, &how).ok_or_else(|| nothing_left(&ground))?;
            (1_u16..).zip(found.points).map(|(part, at)| point((at, Some(part)))).collect()
        }
        Design::Repeat => match earlier {
            Some(earlier) => again::points(farm, plot, earlier, &ground, &mut remarks)?,
            None => Vec::new(),
        },
        Design::ByHand => {
            return Err(Refusal::new("design", "points set by hand cannot be laid out")
                .given("set by hand")
                .accepted(
                    "stratified random, zigzag walk, spatial coverage, or the points of an earlier plan",
                )
                .example("stratified_random"));
        }
    };
    let places: Vec<Point> = points.iter().map(|point| point.at).collect();
    let gate = (outline == OutlineFrom::Drawn).then(|| gate(farm, &places)).flatten();
    // What was walked before is walked the same way again.
    let order = if earlier.is_some() { (0..points.len()).collect() } else { short_order(&places, gate) };
    let walk_m = length_m(&places, &order, None);
    let points = order.iter().map(|at| points[*at]).collect();
    let beds: Vec<Shape> = beds(farm, plot).collect();
    let held = |at: &&Point| beds.iter().any(|bed| bed.distance_m(**at) <= 0.0);
    let in_beds =
        (!beds.is_empty() && outline == OutlineFrom::Drawn).then(|| places.iter().filter(held).count());
    Ok(Laid {
        outline,
        area_m2: Some(area_m2),
        margin_m,
        keeps_off,
        points,
        walk_m,
        remarks,
        kept_to,
        in_beds,
    })
}

/// Two metres, or a tenth of the width of a narrow plot.
fn usual_margin(area: &Area, area_m2: f64) -> f64 {
    let [west, south, east, north] = area.bounds();
    let long = (east - west).hypot(north - south);
    let width = if long > 0.0 { area_m2 / long } else { 0.0 };
    (10.0 * (0.1 * width).min(MARGIN_M)).round() / 10.0
}

/// Which way the first drawn bed of the plot runs, clockwise from north.
fn beds_run(farm: &FarmPlan, plot: &Held<Plot>) -> Option<f64> {
    let bed = farm.parts.iter().find(|part| part.kind == PartKind::Bed && part.plot == Some(plot.id))?;
    let places: Vec<Point> = places_of(bed).collect();
    let next = places.iter().cycle().skip(1);
    let (from, to) = places.iter().zip(next).max_by(|(a, b), (c, d)| {
        let length = |a: &Point, b: &Point| (b[0] - a[0]).hypot(b[1] - a[1]);
        length(a, b).total_cmp(&length(c, d))
    })?;
    Some((to[0] - from[0]).atan2(to[1] - from[1]).to_degrees().rem_euclid(360.0))
}

/// Where the walk starts: the track nearest to a point, where one is drawn.
fn gate(farm: &FarmPlan, points: &[Point]) -> Option<Point> {
    let gap = |a: Point, b: Point| (a[0] - b[0]).hypot(a[1] - b[1]);
    farm.parts
        .iter()
        .filter(|part| part.kind == PartKind::Track)
        .flat_map(places_of)
        .map(|at| (points.iter().map(|point| gap(at, *point)).fold(f64::INFINITY, f64::min), at))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|nearest| nearest.1)
}
