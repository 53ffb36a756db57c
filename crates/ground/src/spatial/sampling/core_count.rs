//! How many cores bring a mean within an error one can bear.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working, quantiles};

crate::quantity! {
    /// Standard deviation between single cores, share of the mean.
    pub struct CvPercent: "spread between cores (coefficient of variation)", "%", 0.1 ..= 1000.0, example 40.0;
    /// Error of the mean one can bear, to either side, share of the mean.
    pub struct ErrorPercent: "error one can bear", "%", 0.1 ..= 500.0, example 20.0;
    /// How surely the mean is to lie within that error.
    pub struct ConfidencePercent: "how sure to be", "%", 50.0 ..= 99.9, example 90.0;
    /// Degrees of freedom of the spread, where it is from an earlier sampling.
    pub struct SpreadFreedom: "degrees of freedom of the spread", "", 1.0 ..= 100000.0, example 11.0;
}

/// Whether an error to one side counts, or to both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Sides {
    /// The mean is to be neither too low nor too high: the usual question.
    #[default]
    TwoSided,
    /// Only too low, or only too high, does harm.
    OneSided,
}

/// Where the factor before the spread is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Law {
    /// Student's t with one less than the cores found: the spread is reckoned anew from them.
    #[default]
    Student,
    /// The normal law: the spread is taken as known. Two or three cores fewer, which is too few.
    Normal,
}

/// Most cores the search goes to.
const MOST: u32 = 10_000_000;

/// The smallest number of cores, at least 2, whose mean lies within `error` with this `confidence` (0 to 1), by
/// Student's t. `cv` and `error` in the same unit. `None` beyond ten million.
#[must_use]
pub fn cores(cv: f64, error: f64, confidence: f64, sides: Sides) -> Option<u32> {
    let share = share_of(confidence, sides);
    let enough = |n: u32| half_width(cv, n, share) <= error;
    // The half width falls with every core, so the smallest number can be bracketed and halved; going from t to n
    // and back to t, as books show it, may stop one short or swing between two numbers.
    let mut high = 2;
    while !enough(high) {
        high = high.checked_mul(2).filter(|high| *high <= MOST)?;
    }
    let mut low = high / 2;
    while high - low > 1 {
        let middle = u32::midpoint(low, high);
        if enough(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high)
}

/// Half width of the interval of a mean of `n` ≥ 2 cores, by Student's t below `share`.
fn half_width(cv: f64, n: u32, share: f64) -> f64 {
    let n = f64::from(n);
    quantiles::student(share, n - 1.0) * cv / n.sqrt()
}

/// The error that `n` ≥ 2 cores leave to a mean, with this `confidence` (0 to 1), in the unit of `cv`.
#[must_use]
pub fn error_of(cv: f64, n: u32, confidence: f64, sides: Sides) -> f64 {
    half_width(cv, n.max(2), share_of(confidence, sides))
}

fn share_of(confidence: f64, sides: Sides) -> f64 {
    match sides {
        Sides::TwoSided => f64::midpoint(1.0, confidence),
        Sides::OneSided => confidence,
    }
}

/// Input of `core-count`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoreCountInput {
    /// Spread between single cores.
    pub cv_percent: CvPercent,
    /// Error one can bear.
    pub error_percent: ErrorPercent,
    /// How sure to be.
    pub confidence_percent: ConfidencePercent,
    /// To one side, or to both.
    #[serde(default)]
    pub sides: Sides,
    /// Student's t, or the normal law.
    #[serde(default)]
    pub law: Law,
    /// Degrees of freedom of an earlier sampling whose spread is taken as it stands: t is then fixed, not sought.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub freedom: Option<SpreadFreedom>,
}

/// Output of `core-count`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CoreCountOutput {
    /// Cores to pull.
    pub cores: u32,
    /// The same before rounding up, where the factor is fixed.
    pub cores_exact: Option<f64>,
    /// What the normal law alone would say, before rounding up.
    pub cores_by_normal_law: f64,
    /// The factor before the spread.
    pub factor: f64,
    /// The error that so many cores leave.
    pub error_left_percent: f64,
}

/// Number of cores.
pub struct CoreCount;

impl Method for CoreCount {
    type Input = CoreCountInput;
    type Output = CoreCountOutput;

    const CARD: Card = Card {
        name: "core-count",
        title: "How many cores",
        topic: Topic::Spatial,
        computes: "The smallest number of cores, taken at random places, whose mean lies within the error one can bear \
                   with the confidence asked for, from the spread between single cores.",
        validity: &[
            "Cores at places chosen by chance, and a spread near the normal law; for skewed figures such as phosphorus take \
             the spread on a log scale or read the number as a floor.",
            "The error of the laboratory comes on top and does not shrink with cores: see the error of a mixed bag.",
        ],
        sources: &[Cite::new(
            "Harvey2000",
            "example 7.8: n from t, s and the error, until it no longer changes",
        )],
        cautions: &[],
    };

    fn example() -> Self::Input {
        CoreCountInput {
            cv_percent: CvPercent::literal(40.0),
            error_percent: ErrorPercent::literal(20.0),
            confidence_percent: ConfidencePercent::literal(90.0),
            sides: Sides::TwoSided,
            law: Law::Student,
            freedom: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (cv, error) = (input.cv_percent.get(), input.error_percent.get());
        let confidence = input.confidence_percent.get() / 100.0;
        let share = share_of(confidence, input.sides);
        let by = |factor: f64| (factor * cv / error) * (factor * cv / error);
        let z = quantiles::normal(share);
        let fixed = match (input.freedom, input.law) {
            (Some(freedom), Law::Student) => Some(quantiles::student(share, freedom.get())),
            (None, Law::Student) => None,
            (_, Law::Normal) => Some(z),
        };
        let mut notes = Vec::new();
        let (cores, factor, error_left) = if let Some(factor) = fixed {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "held to the search's limit"
            )]
            let cores = by(factor).ceil().clamp(1.0, f64::from(MOST)) as u32;
            (cores, factor, factor * cv / f64::from(cores).sqrt())
        } else {
            let Some(cores) = cores(cv, error, confidence, input.sides) else {
                return Err(Refusal::new("error_percent", "no number of cores brings the mean that near")
                    .given(error)
                    .accepted(format!("a larger error; a tenth of the spread is {}", cv / 10.0))
                    .example((cv / 2.0).max(1.0)));
            };
            let factor = quantiles::student(share, f64::from(cores) - 1.0);
            (cores, factor, error_of(cv, cores, confidence, input.sides))
        };
        if input.law == Law::Normal {
            notes.push(Note::new(
                NoteKind::Method,
                "The normal law takes the spread as known and asks two or three cores too few.",
            ));
        }
        Ok(Answer::with_notes(
            CoreCountOutput {
                cores,
                cores_exact: fixed.map(by),
                cores_by_normal_law: by(z),
                factor,
                error_left_percent: error_left,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let found = &answer.value;
        Working::new()
            .step(
                "cores",
                "smallest n with t·CV / √n ≤ error",
                format!(
                    "{:.4} · {} / √{} ≤ {}",
                    found.factor,
                    input.cv_percent.get(),
                    found.cores,
                    input.error_percent.get()
                ),
                format!("{} cores, which leave {:.1} %", found.cores, found.error_left_percent),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_number_is_the_smallest_that_is_enough(cv in 2.0..200.0_f64, error in 2.0..100.0_f64, confidence in 0.6..0.99_f64) {
            let n = cores(cv, error, confidence, Sides::TwoSided).unwrap();
            prop_assert!(error_of(cv, n, confidence, Sides::TwoSided) <= error);
            if n > 2 {
                prop_assert!(error_of(cv, n - 1, confidence, Sides::TwoSided) > error);
            }
        }
    }
}
