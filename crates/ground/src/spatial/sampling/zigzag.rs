//! A zigzag walk over a plot, with points at equal steps.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::ground_to_sample::{GivenGround, Ground, nothing_left};
use super::random_points::{PointCount, Seed, whole};
use super::shape::Place;
use crate::kit::chance::Chance;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Strokes of the zigzag.
    pub struct Strokes: "strokes of the zigzag", "", 1.0 ..= 40.0, example 4.0;
    /// Where in its step the first point stands.
    pub struct FirstStep: "place of the first point in its step", "", 0.0 ..= 1.0, example 0.5;
    /// Which way beds run, clockwise from north.
    pub struct BedsRun: "direction of the beds, clockwise from north", "°", 0.0 ..= 360.0, example 90.0;
}

/// A walk with its points.
#[derive(Debug, Clone, PartialEq)]
pub struct Walk {
    /// Its turns.
    pub turns: Vec<Place>,
    /// Points in the order in which it meets them.
    pub points: Vec<Place>,
    /// Metres of it on the ground to sample.
    pub on_ground_m: f64,
}

/// How the walk goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Way {
    /// Strokes: four make a W.
    pub strokes: usize,
    /// Which way beds run, degrees clockwise from north: strokes cross them. Without, along the longer side.
    pub beds_run_degrees: Option<f64>,
    /// Where in its step the first point stands; by itself drawn, with the corner the walk starts at.
    pub first_step: Option<f64>,
    /// What chance starts from.
    pub seed: u64,
}

/// Pieces the walk is looked at in.
const PIECES: usize = 4_000;

/// A walk of `count` points at equal steps over what of the zigzag lies on the ground to sample. `None` where nothing
/// does.
#[must_use]
pub fn zigzag(ground: &Ground, count: usize, way: &Way) -> Option<Walk> {
    let mut chance = Chance::new(way.seed);
    let (offset, low_first, west_first) = way.first_step.map_or_else(
        || (chance.uniform(), chance.uniform() < 0.5, chance.uniform() < 0.5),
        |offset| (offset, true, true),
    );
    let (along, [low, left, high, right]) = boxed(ground, way.beds_run_degrees);
    let margin = ground.margin_m;
    let (low, high) = (low + margin, high - margin);
    let (left, right) = (left + margin, right - margin);
    if low >= high || left >= right {
        return None;
    }
    let strokes = way.strokes.max(1);
    let mut turns: Vec<Place> = (0..=strokes)
        .map(|turn| {
            let u = low + (high - low) * turn as f64 / strokes as f64;
            let v = if (turn % 2 == 0) == low_first { left } else { right };
            [u * along[0] - v * along[1], u * along[1] + v * along[0]]
        })
        .collect();
    if !west_first {
        turns.reverse();
    }
    // The ground may cut the walk: only what lies on it is counted.
    let per_stroke = PIECES.div_ceil(strokes);
    let pieces: Vec<(Place, Place)> = turns
        .windows(2)
        .flat_map(|pair| {
            let at = |share: f64| [0, 1].map(|axis| pair[0][axis] + (pair[1][axis] - pair[0][axis]) * share);
            (0..per_stroke).map(move |piece| {
                (at(piece as f64 / per_stroke as f64), at((piece + 1) as f64 / per_stroke as f64))
            })
        })
        .filter(|(a, b)| ground.allows(middle(*a, *b)))
        .collect();
    let piece_m = pieces.first().map(|(a, b)| super::shape::gap_squared(*a, *b).sqrt())?;
    let total = pieces.len() as f64;
    let points = (0..count)
        .map(|point| {
            let at = (point as f64 + offset) / count as f64 * total;
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a place in the list"
            )]
            let piece = (at as usize).min(pieces.len() - 1);
            let share = at - piece as f64;
            let (a, b) = pieces[piece];
            let exact = [0, 1].map(|axis| a[axis] + (b[axis] - a[axis]) * share);
            if ground.allows(exact) { exact } else { middle(a, b) }
        })
        .collect();
    Some(Walk { turns, points, on_ground_m: total * piece_m })
}

fn middle(a: Place, b: Place) -> Place {
    [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])]
}

/// Direction the walk advances in, and the ends of the plot along it and across it.
fn boxed(ground: &Ground, beds_run_degrees: Option<f64>) -> (Place, [f64; 4]) {
    let ends = |along: Place| {
        ground.plot.outer.iter().fold(
            [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY],
            |[low, left, high, right], [x, y]| {
                let (u, v) = (x * along[0] + y * along[1], y * along[0] - x * along[1]);
                [low.min(u), left.min(v), high.max(u), right.max(v)]
            },
        )
    };
    if let Some(degrees) = beds_run_degrees {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        let along = [sin, cos];
        return (along, ends(along));
    }
    // The smallest box round a plot has a side along one of its own (Freeman and Shapira 1975).
    let mut best = ([1.0, 0.0], ends([1.0, 0.0]));
    let size = |[low, left, high, right]: [f64; 4]| (high - low) * (right - left);
    for (a, b) in ground.plot.sides() {
        let length = super::shape::gap_squared(a, b).sqrt();
        if length > 0.0 {
            let along = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
            let found = ends(along);
            if size(found) < size(best.1) * (1.0 - 1e-9) {
                best = (along, found);
            }
        }
    }
    let (along, [low, left, high, right]) = best;
    let along = if high - low >= right - left { along } else { [-along[1], along[0]] };
    // One of the two ways to look along it, whichever corner was drawn first.
    let along = if along[0] < -1e-12 || (along[0].abs() <= 1e-12 && along[1] < 0.0) {
        along.map(|axis| -axis)
    } else {
        along
    };
    (along, ends(along))
}

/// Refuses more points than anyone walks.
pub(crate) fn most_points(field: &str, count: usize) -> Result<(), Refusal> {
    if count <= 500 {
        return Ok(());
    }
    Err(Refusal::new(field, "these are more points than anyone walks")
        .given(count)
        .accepted("at most 500 points")
        .example("15"))
}

/// Input of `zigzag-points`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ZigzagInput {
    /// The plot and what to keep out of.
    pub ground: GivenGround,
    /// Points.
    pub points: PointCount,
    /// Strokes: four make a W.
    pub strokes: Strokes,
    /// Which way beds run; strokes cross them. Without, the walk goes along the longer side.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beds_run_degrees: Option<BedsRun>,
    /// Where in its step the first point stands; left out, it is drawn, with the corner the walk starts at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_step: Option<FirstStep>,
    /// The same seed gives the same points.
    pub seed: Seed,
}

/// Output of `zigzag-points`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ZigzagOutput {
    /// Metres east and north of each, in the order of the walk.
    pub points: Vec<Place>,
    /// Turns of the walk.
    pub turns: Vec<Place>,
    /// Length of the walk on the ground to sample.
    pub walk_m: f64,
}

/// Zigzag walk.
pub struct Zigzag;

impl Method for Zigzag {
    type Input = ZigzagInput;
    type Output = ZigzagOutput;

    const CARD: Card = Card {
        name: "zigzag-points",
        title: "Zigzag walk",
        topic: Topic::Spatial,
        computes: "Points at equal steps along a zigzag over a plot of any outline, from a start drawn by chance: the quickest \
                   way to fill one bag without a map in the hand.",
        validity: &[
            "The points are not chosen by chance, so the error of their mean cannot be worked out.",
            "Cross beds, rows and bands, never walk along them: a walk in step with them sees only one kind of ground.",
        ],
        sources: &[
            Cite::new("SamplingPractice", "zigzag walk"),
            Cite::new("FreemanShapira1975", "smallest box round a plot"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        ZigzagInput {
            ground: GivenGround::literal(&[[0.0, 0.0], [60.0, 0.0], [60.0, 20.0], [0.0, 20.0]], 2.0),
            points: PointCount::literal(12.0),
            strokes: Strokes::literal(4.0),
            beds_run_degrees: None,
            first_step: None,
            seed: Seed::literal(7.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ground = input.ground.ground()?;
        #[expect(clippy::cast_possible_truncation, reason = "at most 500 and 40")]
        let (count, strokes) = (whole(input.points.get()) as usize, whole(input.strokes.get()) as usize);
        let way = Way {
            strokes,
            beds_run_degrees: input.beds_run_degrees.map(Bounded::get),
            first_step: input.first_step.map(Bounded::get),
            seed: whole(input.seed.get()),
        };
        let walk = zigzag(&ground, count, &way).ok_or_else(|| nothing_left(&ground))?;
        Ok(Answer::with_notes(
            ZigzagOutput { points: walk.points, turns: walk.turns, walk_m: walk.on_ground_m },
            vec![Note::new(
                NoteKind::Method,
                "No honest error can be told from a zigzag walk; take stratified random points where it is needed.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "points",
                "(k + first step) · length / points, along what of the zigzag lies on the ground to sample",
                format!(
                    "{:.1} m, {} strokes, {} points",
                    answer.value.walk_m,
                    input.strokes.get(),
                    input.points.get()
                ),
                format!("every {:.1} m", answer.value.walk_m / input.points.get()),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::super::shape::{Area, Shape};
    use super::*;

    #[test]
    fn strokes_cross_the_beds_whichever_way_they_run() {
        let ground = Ground::whole(Area::rectangle(60.0, 20.0));
        // Beds that run north: the walk advances north, and every stroke goes from one long end to the other.
        let way = Way { strokes: 4, beds_run_degrees: Some(0.0), first_step: Some(0.5), seed: 0 };
        let turns = zigzag(&ground, 8, &way).unwrap().turns;
        for (turn, place) in turns.iter().enumerate() {
            assert!((place[1] - 5.0 * turn as f64).abs() < 1e-9, "{turns:?}");
            assert!(place[0].abs() < 1e-9 || (place[0] - 60.0).abs() < 1e-9, "{turns:?}");
        }
        let usual = zigzag(&ground, 8, &Way { beds_run_degrees: None, ..way }).unwrap().turns;
        assert!((usual[4][0] - usual[0][0]).abs() > 59.0, "{usual:?}");
    }

    #[test]
    fn a_turned_plot_gets_the_same_walk_turned() {
        let turned = |[x, y]: Place| [0.8 * x - 0.6 * y, 0.6 * x + 0.8 * y];
        let straight = Area::rectangle(60.0, 20.0);
        let slanted =
            Area { outer: straight.outer.iter().map(|place| turned(*place)).collect(), holes: vec![] };
        let way = Way { strokes: 4, beds_run_degrees: None, first_step: Some(0.5), seed: 0 };
        let one = zigzag(&Ground { margin_m: 1.0, ..Ground::whole(straight) }, 9, &way).unwrap();
        let other = zigzag(&Ground { margin_m: 1.0, ..Ground::whole(slanted) }, 9, &way).unwrap();
        for (a, b) in one.points.iter().zip(&other.points) {
            let a = turned(*a);
            assert!((a[0] - b[0]).abs() < 1e-6 && (a[1] - b[1]).abs() < 1e-6, "{a:?} {b:?}");
        }
    }

    #[test]
    fn what_is_kept_out_of_is_stepped_over() {
        let ground = Ground {
            plot: Area::rectangle(60.0, 20.0),
            margin_m: 1.0,
            keep_outs: vec![(Shape::Point([30.0, 10.0]), 8.0)],
            only_in: vec![],
        };
        for seed in 0..20 {
            let way = Way { strokes: 4, beds_run_degrees: None, first_step: None, seed };
            let walk = zigzag(&ground, 15, &way).unwrap();
            assert_eq!(walk.points.len(), 15);
            assert!(walk.points.iter().all(|point| ground.allows(*point)), "{seed}");
        }
    }
}
