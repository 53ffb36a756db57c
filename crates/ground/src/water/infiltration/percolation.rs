//! The percolation hole, read as a sign of how the ground drains.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::intake_class::MM_PER_INCH;
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Fall of the water in the hole.
    pub struct Fall: "fall of the water", "mm", 1.0 ..= 1000.0, example 25.4;
    /// Minutes the fall took.
    pub struct FallMinutes: "minutes for the fall", "min", 0.1 ..= 10000.0, example 25.0;
}

/// What a percolation rate says of the ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PercolationSign {
    /// Under 1 minute per inch: gravel, coarse sand or a channel.
    TooFast,
    /// 1 to 5 minutes per inch.
    Fast,
    /// Over 5 to 30 minutes per inch.
    Medium,
    /// Over 30 to 60 minutes per inch.
    Slow,
    /// Over 60 minutes per inch: such ground is commonly refused for drain fields.
    VerySlow,
}

impl PercolationSign {
    /// Sign of a rate in minutes per inch.
    #[must_use]
    pub fn of(minutes_per_inch: f64) -> Self {
        match minutes_per_inch {
            m if m < 1.0 => Self::TooFast,
            m if m <= 5.0 => Self::Fast,
            m if m <= 30.0 => Self::Medium,
            m if m <= 60.0 => Self::Slow,
            _ => Self::VerySlow,
        }
    }

    /// What it means for beds.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::TooFast => "water runs straight through: gravel, coarse sand or a channel",
            Self::Fast => "drains fast, as sand does",
            Self::Medium => "drains as sandy loam and loam do",
            Self::Slow => "drains slowly, as heavy or packed loam does",
            Self::VerySlow => "hardly drains: clay, a pan or a water table near",
        }
    }
}

/// Minutes per inch of a fall.
#[must_use]
pub fn minutes_per_inch(fall_mm: f64, minutes: f64) -> f64 {
    minutes * MM_PER_INCH / fall_mm
}

/// Input of `percolation-test`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PercolationInput {
    /// Fall of the water after the hole was soaked overnight.
    pub fall_mm: Fall,
    /// Minutes it took.
    pub time_min: FallMinutes,
}

/// Output of `percolation-test`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PercolationOutput {
    /// The rate as it is written.
    pub minutes_per_inch: f64,
    /// Fall of the water in an hour. Not the conductivity of the ground.
    pub fall_mm_h: f64,
    /// What it says of the ground.
    pub sign: PercolationSign,
}

/// Percolation test.
pub struct PercolationTest;

impl Method for PercolationTest {
    type Input = PercolationInput;
    type Output = PercolationOutput;

    const CARD: Card = Card {
        name: "percolation-test",
        title: "Percolation hole",
        topic: Topic::Water,
        computes: "Reads a percolation hole as minutes per inch and as a sign of how the ground drains. It is a sign \
                   and no more: a hole loses water to all sides under a falling head, so its rate is not a conductivity.",
        validity: &["A hole soaked beforehand, usually overnight, and the last of several equal falls."],
        sources: &[Cite::new("EpaOnsite1980", "percolation rates")],
        cautions: &[
            "Design and siting of septic fields is regulated and licensed work; nothing here may be used for it.",
            "Have buried pipes and cables located before you dig.",
        ],
    };

    fn example() -> Self::Input {
        PercolationInput { fall_mm: Fall::literal(25.4), time_min: FallMinutes::literal(25.0) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let rate = minutes_per_inch(input.fall_mm.get(), input.time_min.get());
        Ok(Answer::with_notes(
            PercolationOutput {
                minutes_per_inch: rate,
                fall_mm_h: input.fall_mm.get() * 60.0 / input.time_min.get(),
                sign: PercolationSign::of(rate),
            },
            vec![
                Note::new(
                    NoteKind::Method,
                    "The limits were made for drain fields and are used here as a symptom; a ring test says more about a bed.",
                ),
                Note::new(
                    NoteKind::Provenance,
                    "The limits are recalled; what each means for a bed is our judgement.",
                ),
            ],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "percolation rate",
                "minutes × 25.4 / fall in mm",
                format!("{} × 25.4 / {}", number(input.time_min.get()), number(input.fall_mm.get())),
                format!("{:.1} min per inch: {}", answer.value.minutes_per_inch, answer.value.sign.words()),
            )
            .cite(Self::CARD.sources[0])
    }
}
