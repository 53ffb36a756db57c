//! Slope steepness factor of the revised universal soil loss equation.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Fall of the ground: rise over run.
    pub struct SlopePercent: "slope", "%", 0.0 ..= 100.0, example 5.0;
}

/// Steepness factor of a slope in percent; 1 at about 9 %.
#[must_use]
pub fn slope_steepness(slope_percent: f64) -> f64 {
    let tangent = slope_percent / 100.0;
    let sine = tangent / libm::sqrt(1.0 + tangent * tangent);
    if slope_percent < 9.0 { 10.8 * sine + 0.03 } else { 16.8 * sine - 0.50 }
}

/// Input of `slope-steepness`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SlopeSteepnessInput {
    /// Slope.
    pub slope_percent: SlopePercent,
}

/// Output of `slope-steepness`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SlopeSteepnessOutput {
    /// Soil loss relative to a slope of about 9 %, a pure number.
    pub steepness_factor: f64,
}

/// Slope steepness factor.
pub struct SlopeSteepness;

impl Method for SlopeSteepness {
    type Input = SlopeSteepnessInput;
    type Output = SlopeSteepnessOutput;

    const CARD: Card = Card {
        name: "slope-steepness",
        title: "Slope steepness factor",
        topic: Topic::Structure,
        computes: "How much more soil a steeper slope loses to running water, against a slope of about 9 % \
                   where the factor is 1.",
        validity: &[
            "Even slopes longer than about 4.5 m (15 ft), up to 50 % in the measurements it rests on.",
            "It compares slopes; alone it gives no amount of soil lost.",
        ],
        sources: &[Cite::new("McCool1987", "steepness factor")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SlopeSteepnessInput { slope_percent: SlopePercent::literal(5.0) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        Ok(Answer::plain(SlopeSteepnessOutput {
            steepness_factor: slope_steepness(input.slope_percent.get()),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let slope = input.slope_percent.get();
        let rule = if slope < 9.0 { "10.8 × sin θ + 0.03" } else { "16.8 × sin θ − 0.50" };
        Working::new()
            .step(
                "the steepness factor",
                rule,
                format!("θ with tan θ = {}", slope / 100.0),
                format!("{:.4}", answer.value.steepness_factor),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The two branches are published to meet near 9 %.
    #[test]
    fn the_branches_meet_near_nine_percent() {
        assert!((slope_steepness(9.0) - slope_steepness(8.999_999)).abs() < 0.02);
        assert!((slope_steepness(9.0) - 1.0).abs() < 0.02);
    }
}
