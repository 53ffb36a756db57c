//! Exchangeable sodium: from the adsorption ratio of the saturation extract, and what it means for the ground.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Sodium adsorption ratio of the saturation extract.
    pub struct AdsorptionRatio: "sodium adsorption ratio", "", 0.0 ..= 100.0, example 10.0;
    /// Share of the exchange sites that hold sodium.
    pub struct ExchangeableSodium: "exchangeable sodium", "%", 0.0 ..= 100.0, example 8.0;
    /// EC of the saturation extract.
    pub struct ExtractEc: "conductivity of the saturation extract", "dS/m", 0.0 ..= 50.0, example 1.5;
}

/// Exchangeable sodium at and above which ground is sodic in the United States, percent.
pub const SODIC_FROM_PERCENT: f64 = 15.0;
/// Adsorption ratio at and above which it is.
pub const SODIC_FROM_RATIO: f64 = 13.0;
/// Exchangeable sodium from which ground that disperses is called sodic in Australia, percent.
pub const WATCH_FROM_PERCENT: f64 = 6.0;
/// EC of the saturation extract at and above which ground is saline, dS/m.
pub const SALINE_FROM_DS_M: f64 = 4.0;
const CITE: Cite = Cite::new("Handbook60", "p. 26, exchangeable sodium against adsorption ratio");

/// Exchangeable sodium, percent, in balance with a saturation extract of an adsorption ratio.
#[must_use]
pub fn exchangeable_sodium_percent(adsorption_ratio: f64) -> f64 {
    let ratio = (-0.0126 + 0.014_75 * adsorption_ratio).max(0.0);
    100.0 * ratio / (1.0 + ratio)
}

/// How sodium stands in some ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SodiumStanding {
    /// Too little to matter.
    None,
    /// Some ground disperses from here on: look at a crumb in rain water.
    Watch,
    /// Sodic.
    Sodic,
    /// Sodic and salty.
    SalineSodic,
}

impl SodiumStanding {
    /// From exchangeable sodium and, where it is known, the conductivity of the saturation extract.
    #[must_use]
    pub fn of(sodium_percent: f64, extract_ds_m: Option<f64>) -> Self {
        match sodium_percent {
            share if share >= SODIC_FROM_PERCENT => {
                if extract_ds_m.is_some_and(|ec| ec >= SALINE_FROM_DS_M) {
                    Self::SalineSodic
                } else {
                    Self::Sodic
                }
            }
            share if share >= WATCH_FROM_PERCENT => Self::Watch,
            _ => Self::None,
        }
    }

    /// As a clause.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::None => "sodium is no trouble here",
            Self::Watch => "there is sodium enough for some ground to go to slurry in rain",
            Self::Sodic => "this ground is sodic",
            Self::SalineSodic => "this ground is sodic and salty",
        }
    }
}

/// Input of `sodium-standing`: the adsorption ratio or the exchangeable sodium itself.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SodiumInput {
    /// Sodium adsorption ratio of the saturation extract.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adsorption_ratio: Option<AdsorptionRatio>,
    /// Exchangeable sodium, where the laboratory gives it; it outweighs the ratio.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sodium_percent: Option<ExchangeableSodium>,
    /// EC of the saturation extract.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extract_ds_m: Option<ExtractEc>,
}

/// Output of `sodium-standing`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SodiumOutput {
    /// Exchangeable sodium.
    pub exchangeable_sodium_percent: f64,
    /// How it stands.
    pub standing: SodiumStanding,
}

/// How sodium stands.
pub struct SodiumStandingMethod;

impl Method for SodiumStandingMethod {
    type Input = SodiumInput;
    type Output = SodiumOutput;

    const CARD: Card = Card {
        name: "sodium-standing",
        title: "Sodium in the ground",
        topic: Topic::Fertility,
        computes: "The share of the exchange sites that hold sodium, from the adsorption ratio of the saturation extract, and \
                   whether that makes the ground sodic: the one case in which gypsum mends its structure.",
        validity: &[
            "The line of the salinity handbook, recalled; fitted to western soils. The classical pair of 13 and 15 % agrees within 0.2.",
            "15 % is the limit of the United States, 6 % that of Australia for ground that disperses: test a crumb in rain water.",
        ],
        sources: &[CITE],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SodiumInput {
            adsorption_ratio: Some(AdsorptionRatio::literal(10.0)),
            sodium_percent: None,
            extract_ds_m: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let percent = match (input.sodium_percent, input.adsorption_ratio) {
            (Some(percent), _) => percent.get(),
            (None, Some(ratio)) => exchangeable_sodium_percent(ratio.get()),
            (None, None) => {
                return Err(Refusal::new(
                    "adsorption_ratio",
                    "give the sodium adsorption ratio or the exchangeable sodium",
                )
                .given("neither")
                .accepted("0 to 100")
                .example("10"));
            }
        };
        Ok(Answer::with_notes(
            SodiumOutput {
                exchangeable_sodium_percent: percent,
                standing: SodiumStanding::of(percent, input.extract_ds_m.map(Bounded::get)),
            },
            vec![Note::new(NoteKind::Provenance, "The line and the limits are recalled, not read again.")],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let numbers = match (input.sodium_percent, input.adsorption_ratio) {
            (None, Some(ratio)) => format!("r = −0.0126 + 0.01475 × {}", number(ratio.get())),
            _ => "as the laboratory gives it".to_owned(),
        };
        Working::new()
            .step(
                "exchangeable sodium",
                "r = −0.0126 + 0.01475 SAR; 100 r / (1 + r)",
                numbers,
                format!(
                    "{:.1} %: {}",
                    answer.value.exchangeable_sodium_percent,
                    answer.value.standing.words()
                ),
            )
            .cite(CITE)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_classical_pair_agrees_and_standing_rises() {
        assert!((exchangeable_sodium_percent(SODIC_FROM_RATIO) - SODIC_FROM_PERCENT).abs() <= 0.2);
        assert_eq!(exchangeable_sodium_percent(0.0), 0.0);
        let standing: Vec<_> = (0..40).map(|at| SodiumStanding::of(f64::from(at), Some(2.0))).collect();
        assert!(standing.windows(2).all(|pair| pair[0] <= pair[1]));
        assert_eq!(SodiumStanding::of(20.0, Some(6.0)), SodiumStanding::SalineSodic);
    }
}
