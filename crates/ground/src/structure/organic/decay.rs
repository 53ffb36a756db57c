//! The share of its organic matter that the ground loses in a year.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::composition::ClayPercent;

crate::quantity! {
    /// Mean air temperature of the year.
    pub struct YearMeanTemperature: "mean temperature of the year", "°C", -10.0 ..= 35.0, example 11.0;
    /// Lime in the soil as calcium carbonate.
    pub struct LimePercent: "calcium carbonate", "%", 0.0 ..= 80.0, example 0.0;
}

/// The equation reaches nothing at 5 °C and less below: it is held to at least this, per year.
pub const LEAST_DECAY: f64 = 0.003;

/// Share of the organic matter lost in a year.
#[must_use]
pub fn decay_per_year(mean_c: f64, clay_percent: f64, lime_percent: f64) -> f64 {
    // Clay and lime stand in g/kg in the published equation.
    let hold = (1.0 + 0.005 * 10.0 * clay_percent) * (1.0 + 0.0015 * 10.0 * lime_percent);
    (0.03 * (1.0 + 0.2 * (mean_c - 10.0)) / hold).max(LEAST_DECAY)
}

/// Input of `organic-matter-decay`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DecayInput {
    /// Mean air temperature of the year; in a tunnel that of its soil.
    pub mean_c: YearMeanTemperature,
    /// Clay.
    pub clay_percent: ClayPercent,
    /// Calcium carbonate; none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lime_percent: Option<LimePercent>,
}

/// Output of `organic-matter-decay`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct DecayOutput {
    /// Share of the organic matter lost in a year, 0 to 1.
    pub decay_per_year: f64,
    /// Years in which half would be gone without additions.
    pub half_life_years: f64,
}

/// Decay of organic matter.
pub struct OrganicMatterDecay;

impl Method for OrganicMatterDecay {
    type Input = DecayInput;
    type Output = DecayOutput;

    const CARD: Card = Card {
        name: "organic-matter-decay",
        title: "How fast organic matter goes",
        topic: Topic::Structure,
        computes: "The share of its organic matter that ground loses in a year, by warmth, clay and lime. Warm sand burns \
                   it three times as fast as cool clay, so that the same compost builds up one and is gone in the other.",
        validity: &[
            "Mean temperatures of about 8 to 15 °C; below, the loss is held to at least 0.3 % a year, and flagged.",
            "Tillage, irrigation and cover are not in it: the warm, moist ground of a tunnel loses 1.2 to 1.5 times as much (common practice).",
        ],
        sources: &[Cite::new("HeninDupuis1945", "yearly loss with the correction for warmth, clay and lime")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        DecayInput {
            mean_c: YearMeanTemperature::literal(11.0),
            clay_percent: ClayPercent::literal(15.0),
            lime_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let mean = input.mean_c.get();
        let decay =
            decay_per_year(mean, input.clay_percent.get(), input.lime_percent.map_or(0.0, Bounded::get));
        let mut notes = Vec::new();
        if !(8.0..=15.0).contains(&mean) {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "The equation was made for mean temperatures of about 8 to 15 °C; outside it is a guess.",
            ));
        }
        Ok(Answer::with_notes(
            DecayOutput { decay_per_year: decay, half_life_years: std::f64::consts::LN_2 / decay },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "share lost in a year",
                "0.03 (1 + 0.2 (T − 10)) / ((1 + 0.005 clay)(1 + 0.0015 lime)), clay and lime in g/kg, at least 0.003",
                format!(
                    "T {}, clay {} g/kg, lime {} g/kg",
                    input.mean_c.get(),
                    10.0 * input.clay_percent.get(),
                    10.0 * input.lime_percent.map_or(0.0, Bounded::get)
                ),
                format!("{:.4}", answer.value.decay_per_year),
            )
            .cite(Self::CARD.sources[0])
    }
}
