//! Micronutrients by Mehlich 3: short, enough, or so much that it should be watched.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// A micronutrient by Mehlich 3.
    pub struct MicronutrientPpm: "micronutrient", "ppm", 0.0 ..= 5000.0, example 2.0;
    /// pH in water.
    pub struct MicronutrientPh: "pH in water", "", 2.0 ..= 11.5, example 6.5;
}

/// The micronutrients of the scheme.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Micronutrient {
    /// Zinc.
    Zinc,
    /// Copper.
    Copper,
    /// Boron.
    Boron,
    /// Iron.
    Iron,
    /// Manganese, by its activity index.
    Manganese,
}

/// Where a figure stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MicronutrientLevel {
    /// Short.
    Deficient,
    /// Enough.
    Enough,
    /// So much that it should be watched.
    Watch,
}

impl MicronutrientLevel {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Deficient => "short",
            Self::Enough => "enough",
            Self::Watch => "high, to be watched",
        }
    }
}

/// Boron above this is flagged, ppm: hot-water boron above 2 to 5 ppm injures sensitive crops (recalled). The
/// source's own upper figure, 20 ppm, looks like a slip of the copy.
pub const BORON_FLAG_PPM: f64 = 2.0;
/// pH below which manganese may poison crops [Mississippi1584].
pub const MANGANESE_TOXIC_BELOW_PH: f64 = 5.2;

impl Micronutrient {
    /// Short below the first, to be watched above the second; ppm, and the activity index for manganese.
    #[must_use]
    pub fn limits(self) -> (f64, f64) {
        match self {
            Self::Zinc => (1.0, 50.0),
            Self::Copper => (0.5, 20.0),
            Self::Boron => (0.5, BORON_FLAG_PPM),
            Self::Iron => (50.0, 100.0),
            Self::Manganese => (25.0, 100.0),
        }
    }
}

/// Activity index of manganese: what a soil of this pH lets crops have.
#[must_use]
pub fn manganese_activity_index(manganese_ppm: f64, ph_water: f64) -> f64 {
    101.7 + 3.75 * manganese_ppm - 15.2 * ph_water
}

/// Where a value (manganese: its index) stands. A value at the lower limit is enough, at the upper one too.
#[must_use]
pub fn level(nutrient: Micronutrient, value: f64) -> MicronutrientLevel {
    match nutrient.limits() {
        (low, _) if value < low => MicronutrientLevel::Deficient,
        (_, high) if value > high => MicronutrientLevel::Watch,
        _ => MicronutrientLevel::Enough,
    }
}

/// Input of `micronutrient-mehlich-3`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MicronutrientInput {
    /// Which.
    pub nutrient: Micronutrient,
    /// By Mehlich 3.
    pub value_ppm: MicronutrientPpm,
    /// pH in water; manganese needs it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph_water: Option<MicronutrientPh>,
}

/// Output of `micronutrient-mehlich-3`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct MicronutrientOutput {
    /// Where it stands.
    pub level: MicronutrientLevel,
    /// Short below this; ppm, or the index.
    pub short_below: f64,
    /// To be watched above this.
    pub watch_above: f64,
    /// Activity index, for manganese.
    pub activity_index: Option<f64>,
}

/// Micronutrients by Mehlich 3.
pub struct MicronutrientMehlich3;

impl Method for MicronutrientMehlich3 {
    type Input = MicronutrientInput;
    type Output = MicronutrientOutput;

    const CARD: Card = Card {
        name: "micronutrient-mehlich-3",
        title: "Micronutrients by Mehlich 3",
        topic: Topic::Fertility,
        computes: "Whether zinc, copper, boron, iron or manganese by Mehlich 3 is short, enough, or so high that it should be \
                   watched. Manganese is read by an index that counts the pH.",
        validity: &[
            "Mehlich 3 alone, by the levels of one state's laboratory; micronutrient tests foretell a response poorly, and a \
             leaf test says more.",
        ],
        sources: &[
            Cite::new("RutgersMicronutrients", "micronutrient levels and manganese activity index"),
            Cite::new("Mississippi1584", "manganese toxicity"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        MicronutrientInput {
            nutrient: Micronutrient::Manganese,
            value_ppm: MicronutrientPpm::literal(10.0),
            ph_water: Some(MicronutrientPh::literal(6.5)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let value = input.value_ppm.get();
        let mut notes = Vec::new();
        let activity_index = match (input.nutrient, input.ph_water) {
            (Micronutrient::Manganese, None) => {
                return Err(Refusal::new("ph_water", "manganese is read together with the pH, and none was given")
                    .given("nothing")
                    .accepted("pH in water")
                    .example(6.5));
            }
            (Micronutrient::Manganese, Some(ph)) => {
                if ph.get() < MANGANESE_TOXIC_BELOW_PH {
                    notes.push(Note::new(
                        NoteKind::Method,
                        "Below pH 5.2 manganese is likely to poison crops: lime before anything else.",
                    ));
                }
                Some(manganese_activity_index(value, ph.get()))
            }
            _ => None,
        };
        let (short_below, watch_above) = input.nutrient.limits();
        if input.nutrient == Micronutrient::Boron {
            notes.push(Note::new(
                NoteKind::Provenance,
                "The source's upper level of boron, 20 ppm, looks like a slip of the copy; 2 ppm is taken instead (recalled: \
                 more than 2 to 5 ppm of hot-water boron injures sensitive crops).",
            ));
        }
        Ok(Answer::with_notes(
            MicronutrientOutput {
                level: level(input.nutrient, activity_index.unwrap_or(value)),
                short_below,
                watch_above,
                activity_index,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let out = &answer.value;
        let mut working = Working::new();
        if let (Some(index), Some(ph)) = (out.activity_index, input.ph_water) {
            working = working
                .step(
                    "manganese activity index",
                    "101.7 + 3.75 × Mn - 15.2 × pH",
                    format!("101.7 + 3.75 × {} - 15.2 × {}", input.value_ppm.get(), ph.get()),
                    format!("{index:.1}"),
                )
                .cite(Self::CARD.sources[0]);
        }
        working
            .step(
                "level",
                format!("short below {}, to be watched above {}", out.short_below, out.watch_above),
                format!("{}", out.activity_index.unwrap_or(input.value_ppm.get())),
                out.level.words(),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn manganese_needs_the_ph_and_limits_belong_to_enough() {
        let mut input = MicronutrientMehlich3::example();
        input.ph_water = None;
        assert_eq!(MicronutrientMehlich3::compute(&input).unwrap_err().field, "ph_water");
        assert_eq!(level(Micronutrient::Zinc, 1.0), MicronutrientLevel::Enough);
        assert_eq!(level(Micronutrient::Zinc, 0.99), MicronutrientLevel::Deficient);
        assert_eq!(level(Micronutrient::Zinc, 50.1), MicronutrientLevel::Watch);
    }
}
