//! Places on a plot by chance alone.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::ground_to_sample::{GivenGround, Ground, nothing_left};
use super::shape::Place;
use super::slabs::Slabs;
use crate::kit::chance::Chance;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Points to lay out.
    pub struct PointCount: "points", "", 1.0 ..= 500.0, example 15.0;
    /// What chance starts from.
    pub struct Seed: "seed", "", 0.0 ..= 4294967295.0, example 7.0;
}

/// A count given as a quantity.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "counts and seeds within their range"
)]
pub(crate) fn whole(value: f64) -> u64 {
    value.round() as u64
}

/// Tries before the ground is given up; a plot of which less than a thousandth is left is refused.
const TRIES: usize = 200_000;

/// Places drawn evenly from the ground to sample. `None` where (next to) nothing of it is left.
#[must_use]
pub fn random_points(ground: &Ground, count: usize, seed: u64) -> Option<Vec<Place>> {
    let slabs = Slabs::of(&ground.plot);
    let mut chance = Chance::new(seed);
    let mut points = Vec::with_capacity(count);
    for _ in 0..TRIES.max(200 * count) {
        if points.len() == count {
            break;
        }
        let place = slabs.draw(&mut chance)?;
        if ground.allows(place) {
            points.push(place);
        }
    }
    (points.len() == count).then_some(points)
}

/// Input of the methods that lay out points.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RandomPointsInput {
    /// The plot and what to keep out of.
    pub ground: GivenGround,
    /// How many.
    pub points: PointCount,
    /// The same seed gives the same points.
    pub seed: Seed,
}

/// Output of `random-points`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct RandomPointsOutput {
    /// Metres east and north of each.
    pub points: Vec<Place>,
    /// Area of the plot, holes left out.
    pub plot_m2: f64,
}

/// Points by chance.
pub struct RandomPoints;

impl Method for RandomPoints {
    type Input = RandomPointsInput;
    type Output = RandomPointsOutput;

    const CARD: Card = Card {
        name: "random-points",
        title: "Points by chance",
        topic: Topic::Spatial,
        computes: "Places drawn evenly from a plot of any outline, holes and strips to keep out of left aside. Their mean has an \
                   honest error; stratified random points have a smaller one for the same walk.",
        validity: &[
            "The same seed gives the same points. Chance leaves gaps: for a map take spatial coverage.",
        ],
        sources: &[Cite::new("Turk1990", "generating random points in triangles")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        RandomPointsInput {
            ground: GivenGround::literal(&[[0.0, 0.0], [60.0, 0.0], [60.0, 20.0], [0.0, 20.0]], 2.0),
            points: PointCount::literal(8.0),
            seed: Seed::literal(7.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ground = input.ground.ground()?;
        #[expect(clippy::cast_possible_truncation, reason = "at most 500")]
        let count = whole(input.points.get()) as usize;
        let points =
            random_points(&ground, count, whole(input.seed.get())).ok_or_else(|| nothing_left(&ground))?;
        Ok(Answer::plain(RandomPointsOutput { points, plot_m2: Slabs::of(&ground.plot).area_m2() }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "places",
                "a triangle of the plot by its area, a place in it evenly, drawn again where it is to be kept out of",
                format!("{:.0} m², seed {}", answer.value.plot_m2, input.seed.get()),
                format!("{} places", answer.value.points.len()),
            )
            .cite(Self::CARD.sources[0])
    }
}
