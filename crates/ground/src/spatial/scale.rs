//! On which scale readings are worked with: as they are, or as logarithms where a few high ones pull the mean up.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::sites::{MOST_READINGS, MappedValue};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Readings more skewed than this are worked with as logarithms.
pub const LOG_FROM_SKEWNESS: f64 = 1.0;
/// Fewer readings do not show a skewness (our judgement).
pub const LEAST_READINGS: usize = 10;

/// A scale to work on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Scale {
    /// As they were read.
    Plain,
    /// Natural logarithms; what comes out of it is a median.
    Logarithm,
}

impl Scale {
    /// By the skewness of readings: logarithms where it passes one, all are above nothing, and their logarithms are less
    /// skewed.
    #[must_use]
    pub fn of(readings: &[f64]) -> Self {
        if readings.len() < LEAST_READINGS || readings.iter().any(|reading| *reading <= 0.0) {
            return Self::Plain;
        }
        let logarithms: Vec<f64> = readings.iter().map(|reading| libm::log(*reading)).collect();
        let (plain, after) = (skewness(readings), skewness(&logarithms));
        match (plain, after) {
            (Some(plain), Some(after)) if plain > LOG_FROM_SKEWNESS && after.abs() < plain => Self::Logarithm,
            _ => Self::Plain,
        }
    }

    /// A reading on this scale.
    #[must_use]
    pub fn put(self, reading: f64) -> f64 {
        match self {
            Self::Plain => reading,
            Self::Logarithm => libm::log(reading),
        }
    }

    /// Back from this scale.
    #[must_use]
    pub fn back(self, value: f64) -> f64 {
        match self {
            Self::Plain => value,
            Self::Logarithm => libm::exp(value),
        }
    }
}

/// The third standardized moment of readings, `m3 / m2^1.5`. `None` for fewer than three, or all alike.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
pub fn skewness(readings: &[f64]) -> Option<f64> {
    if readings.len() < 3 {
        return None;
    }
    let n = readings.len() as f64;
    let mean = readings.iter().sum::<f64>() / n;
    let moment = |of: fn(f64) -> f64| readings.iter().map(|one| of(one - mean)).sum::<f64>() / n;
    let square = moment(|off| off * off);
    (square > 1e-12 * mean * mean).then(|| moment(|off| off * off * off) / (square * square.sqrt()))
}

/// Input of `map-scale`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MapScaleInput {
    /// Readings, 3 or more.
    pub readings: Vec<MappedValue>,
}

/// Output of `map-scale`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MapScaleOutput {
    /// Skewness of the readings.
    pub skewness: f64,
    /// Skewness of their logarithms; none where a reading is not above nothing.
    pub skewness_of_logarithms: Option<f64>,
    /// The scale to work on.
    pub scale: Scale,
}

/// The scale of a map.
pub struct MapScale;

impl Method for MapScale {
    type Input = MapScaleInput;
    type Output = MapScaleOutput;

    const CARD: Card = Card {
        name: "map-scale",
        title: "Readings as they are, or their logarithms",
        topic: Topic::Maps,
        computes: "How skewed readings are, and whether a map of them is better worked on the scale of logarithms.",
        validity: &[
            "Logarithms where the skewness passes 1, every reading is above nothing, and the logarithms are less skewed; from 10 readings on (our judgement).",
            "What is worked on logarithms and brought back is a median and its range. The mean of a place lies higher, and hangs so much on the variogram that it is not told.",
        ],
        sources: &[
            Cite::new("WebsterOliver2007", "transformation where the skewness passes 1, recalled"),
            Cite::new("JoanesGill1998", "the third standardized moment, g1"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let readings = [12.0, 15.0, 14.0, 18.0, 22.0, 17.0, 25.0, 31.0, 44.0, 120.0];
        MapScaleInput { readings: readings.map(MappedValue::literal).to_vec() }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let count = input.readings.len();
        if !(3..=MOST_READINGS).contains(&count) {
            return Err(Refusal::new("readings", format!("{count} readings cannot be judged for skewness"))
                .given(count)
                .accepted(format!("3 to {MOST_READINGS} readings"))
                .example("[12, 15, 14, 44]"));
        }
        let readings: Vec<f64> = input.readings.iter().map(|one| one.get()).collect();
        let skew = skewness(&readings).ok_or_else(|| {
            Refusal::new("readings", "all readings are alike, so they have no skewness")
                .given(readings[0])
                .accepted("readings that differ")
                .example("[12, 15, 14, 44]")
        })?;
        let logarithms: Option<Vec<f64>> =
            readings.iter().map(|one| (*one > 0.0).then(|| libm::log(*one))).collect();
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "The limit of 1 is recalled from the publication and was not read again.",
        )];
        if count < LEAST_READINGS {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                format!("{count} readings are too few to show a skewness: they are taken as they are."),
            ));
        }
        Ok(Answer::with_notes(
            MapScaleOutput {
                skewness: skew,
                skewness_of_logarithms: logarithms.and_then(|all| skewness(&all)),
                scale: Scale::of(&readings),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "skewness",
                "mean of (reading − mean)³ over the 3/2 power of the mean of (reading − mean)²",
                format!("{} readings", input.readings.len()),
                format!("{:.3}", answer.value.skewness),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "scale",
                "logarithms above a skewness of 1",
                answer.value.skewness_of_logarithms.map_or_else(
                    || "a reading is not above nothing".to_owned(),
                    |after| format!("logarithms have {after:.3}"),
                ),
                match answer.value.scale {
                    Scale::Plain => "as they were read",
                    Scale::Logarithm => "logarithms",
                },
            )
            .cite(Self::CARD.sources[0])
    }
}
