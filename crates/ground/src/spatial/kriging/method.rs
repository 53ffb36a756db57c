//! Ordinary kriging as a registered method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::block::block_points;
use super::field::{Estimate, Field, Nugget};
use super::near::near_field;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::spatial::sites::{Place, PlaceAt, ReadingAt, sites};
use crate::spatial::variogram::likelihood::{VariogramLikelihood, singular};
use crate::spatial::variogram::model::VariogramGiven;

crate::quantity! {
    /// Side of a block.
    pub struct BlockSide: "side of the block", "m", 0.01 ..= 1e5, example 5.0;
    /// How many of the nearest readings count.
    pub struct NearestCount: "number of nearest readings", "", 2.0 ..= 1000.0, example 12.0;
}

/// A block instead of a point.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BlockGiven {
    /// Side from west to east.
    pub east_m: BlockSide,
    /// Side from south to north.
    pub north_m: BlockSide,
}

/// Input of `ordinary-kriging`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KrigingInput {
    /// Readings, each with its place.
    pub readings: Vec<ReadingAt>,
    /// The model.
    pub variogram: VariogramGiven,
    /// What the nugget is taken for.
    pub nugget_is: Nugget,
    /// Places to estimate; with a block, its middles.
    pub places: Vec<PlaceAt>,
    /// Only this many of the nearest readings; all of them where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nearest: Option<NearestCount>,
    /// The mean over a block instead of a point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub block: Option<BlockGiven>,
}

/// Output of `ordinary-kriging`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct KrigingOutput {
    /// At each place, in the order given.
    pub at: Vec<Estimate>,
}

/// Ordinary kriging.
pub struct OrdinaryKriging;

impl Method for OrdinaryKriging {
    type Input = KrigingInput;
    type Output = KrigingOutput;

    const CARD: Card = Card {
        name: "ordinary-kriging",
        title: "What lies between the readings",
        topic: Topic::Maps,
        computes: "The best weighted mean of readings for places between them, under a variogram and one unknown mean, and the \
                   variance of its error; for a point or for the mean of a block.",
        validity: &[
            "Only as good as the variogram: see map-limits for how many readings that takes.",
            "For bags mixed from several cores the nugget is mostly error of the reading, and should be no less than the known error.",
            "Not beyond the readings: outside their hull the estimate runs back to the mean.",
        ],
        sources: &[
            Cite::new("Matheron1963", "the weights"),
            Cite::new("WebsterOliver2007", "chapter 8, ordinary kriging"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let example = VariogramLikelihood::example();
        KrigingInput {
            readings: example.readings,
            variogram: example.variogram,
            nugget_is: Nugget::ReadingError,
            places: vec![PlaceAt::literal(10.0, 10.0), PlaceAt::literal(20.0, 20.0)],
            nearest: None,
            block: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (at, values) = sites(&input.readings, 2)?;
        let model = input.variogram.plain("variogram")?;
        let estimate = |field: &Field, values: &[f64], place: Place| {
            let solved = field.solve(values);
            match input.block {
                None => field.estimate(&solved, place),
                Some(block) => field
                    .estimate_block(&solved, &block_points(place, block.east_m.get(), block.north_m.get())),
            }
        };
        let places = input.places.iter().map(|place| place.place());
        let estimates: Option<Vec<Estimate>> = match input.nearest {
            None => Field::new(&at, model, input.nugget_is)
                .map(|field| places.map(|place| estimate(&field, &values, place)).collect()),
            Some(count) => {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "2 to 1000")]
                let count = count.get().round() as usize;
                places
                    .map(|place| {
                        near_field(&at, &values, model, input.nugget_is, place, count)
                            .map(|(field, near)| estimate(&field, &near, place))
                    })
                    .collect()
            }
        };
        let mut notes = Vec::new();
        if values.len() < 30 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                format!(
                    "{} readings are too few to know a variogram by; the variance takes it as known.",
                    values.len()
                ),
            ));
        }
        Ok(Answer::with_notes(KrigingOutput { at: estimates.ok_or_else(singular)? }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        input.places.iter().zip(&answer.value.at).take(3).fold(Working::new(), |working, (place, one)| {
            working
                .step(
                    "an estimate",
                    "Σ weight × reading, the weights adding to 1, with the least variance that the model allows",
                    format!(
                        "{} readings, at {} m east, {} m north",
                        input.readings.len(),
                        place.east_m.get(),
                        place.north_m.get()
                    ),
                    format!("{:.4} ± {:.4}", one.value, one.variance.sqrt()),
                )
                .cite(Self::CARD.sources[0])
        })
    }
}
