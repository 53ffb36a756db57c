//! The mean of a plot sampled in parts, and its error.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working, quantiles};

crate::quantity! {
    /// Share of the ground that a part makes up; only the ratio of the parts counts.
    pub struct StratumWeight: "share or area of the part", "", 0.000001 ..= 1000000000.0, example 0.5;
    /// A reading.
    pub struct StratumValue: "reading", "", -1000000000.0 ..= 1000000000.0, example 12.0;
}

/// The mean of a plot from its parts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlotMean {
    /// The mean, each part by its share.
    pub mean: f64,
    /// Variance of that mean.
    pub variance: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Degrees of freedom of the error (Satterthwaite).
    pub freedom: f64,
}

/// Mean and error from the share (any positive unit) and the readings of each part. `None` without parts, or with a
/// part of fewer than two readings, which shows no spread.
#[must_use]
pub fn stratified_mean(parts: &[(f64, &[f64])]) -> Option<PlotMean> {
    if parts.is_empty() || parts.iter().any(|(weight, values)| *weight <= 0.0 || values.len() < 2) {
        return None;
    }
    let total: f64 = parts.iter().map(|part| part.0).sum();
    let (mut mean, mut variance, mut squares) = (0.0, 0.0, 0.0);
    for (weight, values) in parts {
        #[expect(clippy::cast_precision_loss, reason = "readings by the dozen")]
        let n = values.len() as f64;
        let share = weight / total;
        let own = values.iter().sum::<f64>() / n;
        let spread = values.iter().map(|value| (value - own) * (value - own)).sum::<f64>() / (n - 1.0);
        let term = share * share * spread / n;
        mean += share * own;
        variance += term;
        squares += term * term / (n - 1.0);
    }
    let freedom = if squares > 0.0 { variance * variance / squares } else { f64::INFINITY };
    Some(PlotMean { mean, variance, standard_error: variance.sqrt(), freedom })
}

/// One part of the plot.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stratum {
    /// Its share of the plot, or its area: only the ratio counts.
    pub weight: StratumWeight,
    /// Its readings, two at least.
    pub values: Vec<StratumValue>,
}

/// Input of `stratified-mean`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StratifiedMeanInput {
    /// The parts of the plot.
    pub strata: Vec<Stratum>,
}

/// Output of `stratified-mean`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct StratifiedMeanOutput {
    /// Mean and error.
    #[serde(flatten)]
    pub of_plot: PlotMean,
    /// Lower end of the 90 % range of the mean.
    pub low: f64,
    /// Upper end of it.
    pub high: f64,
}

/// Mean of a plot sampled in parts.
pub struct StratifiedMean;

impl Method for StratifiedMean {
    type Input = StratifiedMeanInput;
    type Output = StratifiedMeanOutput;

    const CARD: Card = Card {
        name: "stratified-mean",
        title: "Mean of a plot sampled in parts",
        topic: Topic::Spatial,
        computes: "The mean of a plot from readings taken by chance in each of its parts, with its error: each part counts by \
                   its share of the ground, so that a part looked at often does not count for more.",
        validity: &["Two readings or more in each part, at places chosen by chance within it."],
        sources: &[
            Cite::new("Cochran1977", "stratified random sampling: estimate of the mean and its variance"),
            Cite::new("Satterthwaite1946", "degrees of freedom of a sum of variances"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let part = |weight: f64, values: &[f64]| Stratum {
            weight: StratumWeight::literal(weight),
            values: values.iter().map(|value| StratumValue::literal(*value)).collect(),
        };
        StratifiedMeanInput {
            strata: vec![
                part(0.5, &[12.0, 15.0, 14.0]),
                part(0.3, &[22.0, 25.0, 19.0, 20.0]),
                part(0.2, &[31.0, 28.0]),
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.strata.is_empty() {
            return Err(Refusal::new("strata", "there are no parts to take a mean of")
                .given("none")
                .accepted("one part or more, each with two readings or more")
                .example("{\"weight\": 0.5, \"values\": [12, 15]}"));
        }
        if let Some(at) = input.strata.iter().position(|part| part.values.len() < 2) {
            return Err(Refusal::new(
                format!("strata[{at}].values"),
                "a part with fewer than two readings shows no spread",
            )
            .given(input.strata[at].values.len())
            .accepted("two readings or more")
            .example("[12, 15]"));
        }
        let values: Vec<Vec<f64>> =
            input.strata.iter().map(|part| part.values.iter().map(|value| value.get()).collect()).collect();
        let parts: Vec<(f64, &[f64])> = input
            .strata
            .iter()
            .zip(&values)
            .map(|(part, values)| (part.weight.get(), values.as_slice()))
            .collect();
        let Some(of_plot) = stratified_mean(&parts) else { unreachable!("parts were checked above") };
        let reach = if of_plot.freedom.is_finite() {
            quantiles::student(0.95, of_plot.freedom) * of_plot.standard_error
        } else {
            0.0
        };
        Ok(Answer::plain(StratifiedMeanOutput {
            low: of_plot.mean - reach,
            high: of_plot.mean + reach,
            of_plot,
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let found = &answer.value.of_plot;
        Working::new()
            .step(
                "mean",
                "Σ share · mean of the part",
                format!("{} parts", input.strata.len()),
                format!("{:.4}", found.mean),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "its standard error",
                "√(Σ share² · s² / n)",
                format!("√{:.6}", found.variance),
                format!("{:.4}", found.standard_error),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_part_is_the_plain_mean_with_its_plain_error() {
        let values = [4.0, 6.0, 8.0, 10.0];
        let found = stratified_mean(&[(3.0, &values)]).unwrap();
        // Variance of 4, 6, 8, 10 is 20/3; over four readings 5/3.
        assert!((found.mean - 7.0).abs() < 1e-12 && (found.variance - 5.0 / 3.0).abs() < 1e-12);
        assert!((found.freedom - 3.0).abs() < 1e-9);
        assert!(stratified_mean(&[(1.0, &[2.0])]).is_none() && stratified_mean(&[]).is_none());
    }
}
