//! The least change that going back to the same places could show.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::credible::ResultError;
use crate::kit::quantiles::{shifted_student_below, student};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Places that are read in both years.
    pub struct PlacesAgain: "places read in both years", "", 2.0 ..= 1000.0, example 8.0;
    /// Chance of calling nothing a change.
    pub struct FalseAlarm: "chance of a false alarm", "", 0.001 ..= 0.5, example 0.05;
    /// Chance of seeing a change of that size.
    pub struct Power: "chance of seeing it", "", 0.5 ..= 0.999, example 0.8;
}

/// The least change of the mean over `places` that is seen with a chance of `power`, by the two quantiles of t.
#[must_use]
pub fn detectable_change(change_sd: f64, places: f64, false_alarm: f64, power: f64) -> f64 {
    let freedom = places - 1.0;
    let quantiles = student(1.0 - 0.5 * false_alarm, freedom) + student(power, freedom);
    quantiles * change_sd / places.sqrt()
}

/// The same by the non-central t, which a change of that size really follows.
#[must_use]
pub fn detectable_change_exact(change_sd: f64, places: f64, false_alarm: f64, power: f64) -> f64 {
    let freedom = places - 1.0;
    let beyond = student(1.0 - 0.5 * false_alarm, freedom);
    let seen = |shift: f64| {
        1.0 - shifted_student_below(beyond, freedom, shift) + shifted_student_below(-beyond, freedom, shift)
    };
    let (mut low, mut high) = (0.0, 2.0 * beyond + 10.0);
    while seen(high) < power && high < 1e5 {
        high *= 2.0;
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if seen(middle) < power {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high) * change_sd / places.sqrt()
}

/// Input of `detectable-change`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DetectableInput {
    /// Standard deviation of the change from place to place, in the unit of the reading.
    pub change_sd: ResultError,
    /// Places that are read in both years.
    pub places: PlacesAgain,
    /// Chance of calling nothing a change.
    pub false_alarm: FalseAlarm,
    /// Chance of seeing a change of that size.
    pub power: Power,
}

/// Output of `detectable-change`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DetectableOutput {
    /// Least change that can be seen, by the usual formula.
    pub change: f64,
    /// The same without its approximation.
    pub change_exact: f64,
}

/// The least change that can be seen.
pub struct DetectableChange;

impl Method for DetectableChange {
    type Input = DetectableInput;
    type Output = DetectableOutput;

    const CARD: Card = Card {
        name: "detectable-change",
        title: "How small a change could be seen",
        topic: Topic::Trend,
        computes: "The least change between two years that readings at the same places would show, for how much the change \
                   differs from place to place. Before walking out again it tells whether the walk can answer anything.",
        validity: &[
            "The same places, depth, laboratory and season in both years; changes about normal.",
            "The usual formula lies a little low; the exact value stands beside it.",
        ],
        sources: &[
            Cite::new("Student1908", "distribution of t"),
            Cite::new("JohnsonWelch1940", "the non-central t"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        DetectableInput {
            change_sd: ResultError::literal(0.30),
            places: PlacesAgain::literal(8.0),
            false_alarm: FalseAlarm::literal(0.05),
            power: Power::literal(0.8),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (sd, places) = (input.change_sd.get(), input.places.get());
        if places.fract() != 0.0 {
            return Err(Refusal::new("places", "places are counted whole")
                .given(places)
                .accepted("2 to 1000")
                .example(8));
        }
        let (alarm, power) = (input.false_alarm.get(), input.power.get());
        Ok(Answer::plain(DetectableOutput {
            change: detectable_change(sd, places, alarm, power),
            change_exact: detectable_change_exact(sd, places, alarm, power),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let freedom = input.places.get() - 1.0;
        Working::new()
            .step(
                "least change that can be seen",
                "(t(1 − α/2) + t(power)) × standard deviation / √places",
                format!(
                    "({:.4} + {:.4}) × {} / √{}",
                    student(1.0 - 0.5 * input.false_alarm.get(), freedom),
                    student(input.power.get(), freedom),
                    input.change_sd.get(),
                    input.places.get()
                ),
                format!("{:.5}", answer.value.change),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "without the approximation",
                "the change at which the non-central t passes the limit that often",
                format!("{} times in 100", 100.0 * input.power.get()),
                format!("{:.5}", answer.value.change_exact),
            )
            .cite(Self::CARD.sources[1])
    }
}
