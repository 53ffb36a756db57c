//! Do two single results differ by more than each may be off?

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::yearly::TrendValue;
use crate::kit::quantiles::normal_share;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// One standard deviation that a result may be off, in the unit of the result.
    pub struct ResultError: "standard uncertainty of a result", "", 1e-9 ..= 1e9, example 0.15;
}

/// z of a two-sided 95 % interval, as printed.
pub const Z_95: f64 = 1.96;

/// Two results with how far each may be off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Difference {
    /// The later less the earlier.
    pub change: f64,
    /// A change of this size or more would seldom (one time in twenty) come from scatter alone.
    pub least_credible_change: f64,
    /// Chance that scatter alone makes so large a change, either way.
    pub p_two_sided: f64,
    /// Is it more than scatter?
    pub credible: bool,
}

/// The difference of two results, each with its standard uncertainty.
#[must_use]
pub fn difference(earlier: (f64, f64), later: (f64, f64)) -> Difference {
    let change = later.0 - earlier.0;
    let error = (earlier.1 * earlier.1 + later.1 * later.1).sqrt();
    let least_credible_change = Z_95 * error;
    let p_two_sided = if error > 0.0 { 2.0 * normal_share(-change.abs() / error) } else { 1.0 };
    Difference { change, least_credible_change, p_two_sided, credible: change.abs() > least_credible_change }
}

/// A result.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SingleResult {
    /// The result, in any one unit.
    pub value: TrendValue,
    /// One standard deviation that it may be off: sampling and laboratory together.
    pub standard_uncertainty: ResultError,
}

/// Input of `credible-difference`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CredibleInput {
    /// The earlier result.
    pub earlier: SingleResult,
    /// The later result, in the same unit.
    pub later: SingleResult,
}

/// Are two results really different?
pub struct CredibleDifference;

impl Method for CredibleDifference {
    type Input = CredibleInput;
    type Output = Difference;

    const CARD: Card = Card {
        name: "credible-difference",
        title: "Do two results differ",
        topic: Topic::Trend,
        computes: "How far two single results must lie apart before the step between them is more than sampling and \
                   laboratory would make by themselves. With fewer than four years this is all that can be said of a change.",
        validity: &[
            "Same laboratory, procedure, depth and season; errors about normal and independent.",
            "What both share (a laboratory that reads low every year) drops out and is not to be counted in.",
        ],
        sources: &[Cite::new("Gum2008", "5.1.2, uncertainty of a difference")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let result = |value: f64| SingleResult {
            value: TrendValue::literal(value),
            standard_uncertainty: ResultError::literal(0.15),
        };
        CredibleInput { earlier: result(5.9), later: result(6.2) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let of = |one: SingleResult| (one.value.get(), one.standard_uncertainty.get());
        Ok(Answer::plain(difference(of(input.earlier), of(input.later))))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let found = &answer.value;
        Working::new()
            .step(
                "least credible change",
                "1.96 × √(u₁² + u₂²)",
                format!(
                    "1.96 × √({}² + {}²)",
                    input.earlier.standard_uncertainty.get(),
                    input.later.standard_uncertainty.get()
                ),
                format!("{:.4}", found.least_credible_change),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "change",
                "later − earlier",
                format!("{} − {}", input.later.value.get(), input.earlier.value.get()),
                format!(
                    "{:.4}: {}",
                    found.change,
                    if found.credible { "more than scatter" } else { "not more than scatter" }
                ),
            )
    }
}
