//! The stress that a loss of yield speaks of.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Yield as a share of what full watering gives.
    pub struct YieldShare: "yield share", "%", 0.0 ..= 100.0, example 61.0;
    /// How hard a loss of water use strikes the yield.
    pub struct YieldResponse: "yield response factor", "", 0.2 ..= 2.0, example 1.15;
}

/// Seasonal mean stress coefficient behind a yield, both 0 to 1 (eq. 90 solved for ETadj/ETc).
#[must_use]
pub fn stress_behind(yield_share: f64, yield_response_factor: f64) -> f64 {
    (1.0 - (1.0 - yield_share) / yield_response_factor).max(0.0)
}

/// Share of the full yield that a share of the full water use leaves (eq. 90), 0 to 1.
#[must_use]
pub fn yield_share(use_share: f64, yield_response_factor: f64) -> f64 {
    (1.0 - yield_response_factor * (1.0 - use_share)).clamp(0.0, 1.0)
}

/// Input of `stress-behind-yield`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct YieldStressInput {
    /// Yield as a share of what full watering gives there.
    pub yield_percent: YieldShare,
    /// Yield response factor of the crop over its season.
    pub yield_response_factor: YieldResponse,
}

/// Output of `stress-behind-yield`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct YieldStressOutput {
    /// Mean stress coefficient of the season, 0 to 1.
    pub stress_coefficient: f64,
}

/// Stress behind a yield.
pub struct StressBehindYield;

impl Method for StressBehindYield {
    type Input = YieldStressInput;
    type Output = YieldStressOutput;

    const CARD: Card = Card {
        name: "stress-behind-yield",
        title: "Water stress behind a yield",
        topic: Topic::Irrigation,
        computes: "How short of water a crop was over its season, from the yield it gave beside what it gives when \
                   watered in full.",
        validity: &[
            "The loss must be from want of water alone, spread over the season.",
            "Below half the full yield the straight line behind it no longer holds well.",
        ],
        sources: &[Cite::new("Fao56", "eq. 90; example 44")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        YieldStressInput {
            yield_percent: YieldShare::literal(80.0),
            yield_response_factor: YieldResponse::literal(1.05),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let share = input.yield_percent.get() / 100.0;
        let value =
            YieldStressOutput { stress_coefficient: stress_behind(share, input.yield_response_factor.get()) };
        let notes = if share < 0.5 {
            vec![Note::new(
                NoteKind::OutsideRange,
                "Less than half the full yield: the straight line is drawn on beyond what it is good for.",
            )]
        } else {
            Vec::new()
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "mean stress coefficient",
                "Ks = 1 − (1 − Ya/Ym) / Ky",
                format!(
                    "1 − (1 − {}) / {}",
                    input.yield_percent.get() / 100.0,
                    input.yield_response_factor.get()
                ),
                format!("{:.3}", answer.value.stress_coefficient),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back() {
        for share in [0.4, 0.61, 0.9, 1.0] {
            assert!((yield_share(stress_behind(share, 1.15), 1.15) - share).abs() < 1e-12);
        }
        assert_eq!(stress_behind(0.0, 0.5), 0.0);
    }
}
