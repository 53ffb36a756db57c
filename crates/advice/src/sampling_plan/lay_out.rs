//! Where the points go.

use book::model::{
    Design, EntryId, Form, Frame, PartKind, Place as PlotPlace, Plot, Point, SamplingPoint,
    Shape as PlotShape,
};
use book::{Held, Snapshot};
use ground::kit::{Bounded, Refusal};
use ground::spatial::sampling::coverage::{Spreading, spread};
use ground::spatial::sampling::ground_to_sample::{Ground, nothing_left};
use ground::spatial::sampling::shape::{Area, Shape};
use ground::spatial::sampling::slabs::Slabs;
use ground::spatial::sampling::stratified_random::stratified_points;
use ground::spatial::sampling::walking::{length_m, short_order};
use ground::spatial::sampling::zigzag::{Way, zigzag};

use super::{Numbers, OutlineFrom, SamplingAsk};
use crate::plan::{Drawn, FarmPlan};

/// The usual distance from the edges of a plot; a tenth of its width where that is less (common practice).
const MARGIN_M: f64 = 2.0;
/// Strokes of a zigzag walk: a W.
const STROKES: usize = 4;
/// Nothing is sampled so near to a building, tunnel, tree, post or drain (judgement: roots, drips and digging).
const NEAR_M: f64 = 1.0;

/// Points and what goes with them.
pub(super) struct Laid {
    pub(super) outline: OutlineFrom,
    pub(super) area_m2: Option<f64>,
    pub(super) margin_m: f64,
    pub(super) keeps_off: Vec<String>,
    pub(super) points: Vec<SamplingPoint>,
    pub(super) walk_m: f64,
    pub(super) remarks: Vec<String>,
    /// The plan whose points are taken again.
    pub(super) repeats: Option<EntryId>,
}

pub(super) fn lay_out(
    snapshot: &Snapshot,
    farm: &FarmPlan,
    plot: &Held<Plot>,
    ask: &SamplingAsk,
    numbers: &Numbers,
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
                repeats: None,
                remarks: vec![
                    "Only the area of this plot is known, so no places are given: draw it on the plan, or give its sides, and they will be.".to_owned(),
                ],
            });
        }
    };
    let area_m2 = Slabs::of(&area).area_m2();
    let margin_m = ask.margin_m.unwrap_or_else(|| usual_margin(&area, area_m2));
    let (keep_outs, keeps_off) = if outline == OutlineFrom::Drawn {
        obstacles(farm, plot, &area, ask)
    } else {
        (Vec::new(), Vec::new())
    };
    let ground = Ground { plot: area, margin_m, keep_outs };
    let mut remarks = Vec::new();
    let mut repeats = None;
    let places = usize::from(numbers.places.max(1));
    let points = match ask.design {
        Design::StratifiedRandom => {
            let each = if ask.apart { 2 } else { usize::from(numbers.bags).max(2) };
            let parts = places.div_ceil(each).max(1);
            stratified_points(&ground, parts, each, ask.seed)
                .ok_or_else(|| nothing_left(&ground))?
                .into_iter()
                .map(|point| (point.at, Some(point.stratum + 1)))
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
            walk.points.into_iter().map(|at| (at, None)).collect()
        }
        Design::SpatialCoverage => {
            let how = Spreading { equal_area: !ask.apart, seed: ask.seed, ..Spreading::default() };
            let found = spread(&ground, places, &how).ok_or_else(|| nothing_left(&ground))?;
            (1_u16..).zip(found.points).map(|(part, at)| (at, Some(part))).collect()
        }
        Design::Repeat => {
            let (earlier, points) = again(snapshot, farm, plot, ask, &ground, &mut remarks)?;
            repeats = Some(earlier);
            points
        }
        Design::ByHand => {
            return Err(Refusal::new("design", "points set by hand cannot be laid out")
                .given("set by hand")
                .accepted(
                    "stratified random, zigzag walk, spatial coverage, or the points of an earlier plan",
                )
                .example("stratified_random"));
        }
    };
    let places: Vec<Point> = points.iter().map(|point: &(Point, Option<u16>)| point.0).collect();
    let gate = (outline == OutlineFrom::Drawn).then(|| gate(farm, &places)).flatten();
    let order = short_order(&places, gate);
    let walk_m = length_m(&places, &order, None);
    let points = order
        .iter()
        .map(|at| SamplingPoint { number: 1, at: points[*at].0, stratum: points[*at].1, bag: None })
        .collect();
    Ok(Laid { outline, area_m2: Some(area_m2), margin_m, keeps_off, points, walk_m, remarks, repeats })
}

/// Two metres, or a tenth of the width of a narrow plot.
fn usual_margin(area: &Area, area_m2: f64) -> f64 {
    let [west, south, east, north] = area.bounds();
    let long = (east - west).hypot(north - south);
    let width = if long > 0.0 { area_m2 / long } else { 0.0 };
    (10.0 * (0.1 * width).min(MARGIN_M)).round() / 10.0
}

/// What is drawn near the plot and would mislead, with how far to stay from it.
fn obstacles(
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

fn places_of(part: &Drawn) -> impl Iterator<Item = Point> + '_ {
    let places: &[Point] = match &part.form {
        Form::Point { at } => std::slice::from_ref(at),
        Form::Line { through } => through,
        Form::Area { outer, .. } => outer,
    };
    places.iter().copied()
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

/// A point with the part of the plot that it stands for.
type OfPart = (Point, Option<u16>);

/// The earlier plan that is meant, and its points as far as they still lie on the ground.
fn again(
    snapshot: &Snapshot,
    farm: &FarmPlan,
    plot: &Held<Plot>,
    ask: &SamplingAsk,
    ground: &Ground,
    remarks: &mut Vec<String>,
) -> Result<(EntryId, Vec<OfPart>), Refusal> {
    let earlier = match ask.repeats {
        Some(id) => snapshot.sampling_plan(id).filter(|plan| plan.body.plot == plot.id),
        None => snapshot
            .sampling_plans
            .iter()
            .filter(|plan| plan.body.plot == plot.id && !plan.body.points.is_empty())
            .max_by_key(|plan| plan.body.made_on),
    };
    let Some(earlier) = earlier else {
        return Err(Refusal::new(
            "design",
            "this plot has no earlier sampling plan whose points could be taken again",
        )
        .given("the points of an earlier plan")
        .accepted("stratified random, zigzag walk or spatial coverage, for the first time")
        .example("stratified_random"));
    };
    let corner = earlier.body.frame == Frame::PlotCorner;
    if corner && farm.area_of(plot.id).is_some() {
        return Err(Refusal::new(
            "design",
            "the earlier plan counts from a corner of this plot, before it was drawn: nobody can say which corner that is",
        )
        .given("the points of an earlier plan")
        .accepted("a new layout on the plot as it is drawn now")
        .example("stratified_random"));
    }
    let mut points = Vec::new();
    for point in &earlier.body.points {
        match farm.on_its_sheet(&earlier.body, point.at).filter(|at| ground.allows(*at)) {
            Some(at) => points.push((at, point.stratum)),
            None => remarks.push(format!(
                "Point {} of the earlier plan no longer lies on ground to sample and was left out.",
                point.number
            )),
        }
    }
    if points.is_empty() {
        return Err(nothing_left(ground));
    }
    Ok((earlier.id, points))
}
