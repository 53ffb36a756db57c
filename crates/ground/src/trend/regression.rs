//! Regression to the mean: what was picked for a low result rises by itself.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::credible::ResultError;
use super::yearly::TrendValue;
use crate::kit::quantiles::{normal_density, normal_share};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

/// Share of the differences between results that is really between the places.
#[must_use]
pub fn reliability(between_sd: f64, within_sd: f64) -> f64 {
    let (between, within) = (between_sd * between_sd, within_sd * within_sd);
    if between + within > 0.0 { between / (between + within) } else { 0.0 }
}

/// Mean rise, with nothing done, of the places whose first result lay below a cut.
#[must_use]
pub fn expected_rise_below(mean: f64, between_sd: f64, within_sd: f64, cut: f64) -> f64 {
    let total = libm::hypot(between_sd, within_sd);
    let z = (cut - mean) / total;
    let below = normal_share(z);
    // Far out in the tail the ratio φ/Φ goes as −z.
    let ratio = if below > 1e-300 { normal_density(z) / below } else { -z };
    within_sd * within_sd / total * ratio
}

/// Rise to expect, with nothing done, of one place whose first result is known; below nought above the mean.
#[must_use]
pub fn expected_rise_of(mean: f64, between_sd: f64, within_sd: f64, first: f64) -> f64 {
    (1.0 - reliability(between_sd, within_sd)) * (mean - first)
}

/// Input of `regression-to-the-mean`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RegressionInput {
    /// Mean over all places that could have been picked.
    pub mean: TrendValue,
    /// Standard deviation between places, freed of scatter.
    pub between_sd: ResultError,
    /// Standard uncertainty of one result: sampling and laboratory together.
    pub within_sd: ResultError,
    /// Places were picked for a first result below this.
    pub cut: TrendValue,
    /// The first result of one place, where one is asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_result: Option<TrendValue>,
}

/// Output of `regression-to-the-mean`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RegressionOutput {
    /// Mean rise, with nothing done, of the places that were picked.
    pub expected_rise: f64,
    /// Share of the differences between results that is really between the places.
    pub reliability: f64,
    /// Rise to expect of the one place.
    pub expected_rise_of_first: Option<f64>,
}

/// Regression to the mean.
pub struct RegressionToTheMean;

impl Method for RegressionToTheMean {
    type Input = RegressionInput;
    type Output = RegressionOutput;

    const CARD: Card = Card {
        name: "regression-to-the-mean",
        title: "What rises by itself after a low result",
        topic: Topic::Trend,
        computes: "A plot that was picked because its test came out low was partly low and partly unlucky: its next test \
                   would lie higher with nothing done. This tells by how much, so that lime or compost is not credited with it. \
                   Test twice before, and compare with plots left alone.",
        validity: &[
            "Results about normal, scatter alike on all places and independent from test to test.",
            "The spread between places must be known: from three results or four it is hardly so.",
        ],
        sources: &[Cite::new("Barnett2005", "regression to the mean effect")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        RegressionInput {
            mean: TrendValue::literal(6.3),
            between_sd: ResultError::literal(0.35),
            within_sd: ResultError::literal(0.20),
            cut: TrendValue::literal(6.0),
            first_result: Some(TrendValue::literal(5.8)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (mean, between, within) = (input.mean.get(), input.between_sd.get(), input.within_sd.get());
        Ok(Answer::plain(RegressionOutput {
            expected_rise: expected_rise_below(mean, between, within, input.cut.get()),
            reliability: reliability(between, within),
            expected_rise_of_first: input
                .first_result
                .map(|first| expected_rise_of(mean, between, within, first.get())),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (mean, between, within) = (input.mean.get(), input.between_sd.get(), input.within_sd.get());
        let z = (input.cut.get() - mean) / libm::hypot(between, within);
        let working = Working::new()
            .step(
                "z",
                "(cut − mean) / √(σ_w² + σ_b²)",
                format!("({} − {mean}) / √({within}² + {between}²)", input.cut.get()),
                format!("{z:.4}"),
            )
            .step(
                "rise to expect of those picked",
                "σ_w² / √(σ_w² + σ_b²) × φ(z) / Φ(z)",
                format!(
                    "{within}² / {:.4} × {:.4} / {:.4}",
                    libm::hypot(between, within),
                    normal_density(z),
                    normal_share(z)
                ),
                format!("{:.6}", answer.value.expected_rise),
            )
            .cite(Self::CARD.sources[0]);
        match (input.first_result, answer.value.expected_rise_of_first) {
            (Some(first), Some(rise)) => working.step(
                "rise to expect of the one",
                "(1 − σ_b² / (σ_b² + σ_w²)) × (mean − first result)",
                format!("(1 − {:.4}) × ({mean} − {})", answer.value.reliability, first.get()),
                format!("{rise:.4}"),
            ),
            _ => working,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The two formulas are one: the rise of each, over all that lie below the cut, has the mean of the first.
    #[test]
    fn the_rise_of_each_averages_to_the_rise_of_those_picked() {
        let (mean, between, within, cut) = (6.3, 0.35, 0.20, 6.0);
        let total = libm::hypot(between, within);
        let (mut sum, mut weight) = (0.0, 0.0);
        for step in 0..40_000 {
            let first = cut - 3.0 * f64::from(step) / 40_000.0;
            let density = normal_density((first - mean) / total);
            sum += density * expected_rise_of(mean, between, within, first);
            weight += density;
        }
        assert!((sum / weight - expected_rise_below(mean, between, within, cut)).abs() < 1e-4);
    }
}
