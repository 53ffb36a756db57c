//! The mean of readings weighed by the inverse of a power of their distance: no model, and no word on how sure.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::sites::{Place, PlaceAt, ReadingAt, SAME_PLACE_M, distance_m, sites};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Power of the distance.
    pub struct DistancePower: "power of the distance", "", 0.1 ..= 10.0, example 2.0;
}

/// Power where none is given.
pub const USUAL_POWER: f64 = 2.0;

/// The weighed mean for a place; at a reading's own place that reading.
#[must_use]
pub fn inverse_distance(at: &[Place], values: &[f64], place: Place, power: f64) -> f64 {
    let (mut sum, mut weights) = (0.0, 0.0);
    for (site, value) in at.iter().zip(values) {
        let apart = distance_m(*site, place);
        if apart < SAME_PLACE_M {
            return *value;
        }
        let weight = libm::pow(apart, -power);
        sum += weight * value;
        weights += weight;
    }
    sum / weights
}

/// Input of `inverse-distance`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InverseDistanceInput {
    /// Readings, each with its place.
    pub readings: Vec<ReadingAt>,
    /// Places to estimate.
    pub places: Vec<PlaceAt>,
    /// Power of the distance; 2 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub power: Option<DistancePower>,
}

/// Output of `inverse-distance`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct InverseDistanceOutput {
    /// At each place, in the order given.
    pub values: Vec<f64>,
}

/// Inverse distance weighting.
pub struct InverseDistance;

impl Method for InverseDistance {
    type Input = InverseDistanceInput;
    type Output = InverseDistanceOutput;

    const CARD: Card = Card {
        name: "inverse-distance",
        title: "Readings weighed by their distance",
        topic: Topic::Maps,
        computes: "The mean of readings for a place, each weighed by the inverse of a power of its distance.",
        validity: &[
            "Tells nothing of how sure it is, so no map here is drawn with it; it stands beside kriging for comparison.",
            "Readings that crowd together count for more than they tell.",
        ],
        sources: &[Cite::new("Shepard1968", "the weighed mean")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        InverseDistanceInput {
            readings: vec![
                ReadingAt::literal(0.0, 0.0, 6.1),
                ReadingAt::literal(30.0, 0.0, 6.5),
                ReadingAt::literal(0.0, 40.0, 6.9),
            ],
            places: vec![PlaceAt::literal(0.0, 10.0)],
            power: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (at, values) = sites(&input.readings, 1)?;
        let power = input.power.map_or(USUAL_POWER, |power| power.get());
        let values =
            input.places.iter().map(|place| inverse_distance(&at, &values, place.place(), power)).collect();
        Ok(Answer::with_notes(
            InverseDistanceOutput { values },
            vec![Note::new(NoteKind::Method, "Nothing is known of how far off these figures are.")],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        input.places.iter().zip(&answer.value.values).take(3).fold(
            Working::new(),
            |working, (place, value)| {
                working
                    .step(
                        "a place",
                        "Σ reading / distance^power, over Σ 1 / distance^power",
                        format!(
                            "{} readings, at {} m east, {} m north",
                            input.readings.len(),
                            place.east_m.get(),
                            place.north_m.get()
                        ),
                        format!("{value:.4}"),
                    )
                    .cite(Self::CARD.sources[0])
            },
        )
    }
}
