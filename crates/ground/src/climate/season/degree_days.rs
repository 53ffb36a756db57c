//! Growing degree days, by both ways of counting cold nights.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::climate::quantities::AirTemperature;
use crate::kit::quantity::with_unit;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Temperature below which nothing grows.
    pub struct BaseTemperature: "base temperature", "°C", -10.0 ..= 30.0, example 10.0;
    /// Temperature above which warmth adds nothing.
    pub struct UpperTemperature: "upper temperature", "°C", 0.0 ..= 50.0, example 30.0;
}

/// Where the base temperature is applied. The two differ when the night is colder than the base.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BaseRule {
    /// Method 1: the mean of the day, set to the base where it is below.
    #[default]
    Mean,
    /// Method 2: each of the two temperatures set to the base first.
    EachTemperature,
}

/// Degree days of one day, °C d.
#[must_use]
pub fn degree_days(tmax_c: f64, tmin_c: f64, base_c: f64, upper_c: Option<f64>, rule: BaseRule) -> f64 {
    let capped = |t: f64| upper_c.map_or(t, |upper| t.min(upper));
    let (high, low) = (capped(tmax_c), capped(tmin_c));
    match rule {
        BaseRule::Mean => (f64::midpoint(high, low) - base_c).max(0.0),
        BaseRule::EachTemperature => f64::midpoint(high.max(base_c), low.max(base_c)) - base_c,
    }
}

/// The two temperatures of a day.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TemperaturePair {
    /// Highest.
    pub tmax_c: AirTemperature,
    /// Lowest.
    pub tmin_c: AirTemperature,
}

/// Input of `growing-degree-days`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DegreeDaysInput {
    /// The days in order, up to 1000.
    pub days: Vec<TemperaturePair>,
    /// Base temperature.
    pub base_c: BaseTemperature,
    /// Upper temperature; no upper limit where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub upper_c: Option<UpperTemperature>,
    /// Where the base is applied.
    pub rule: BaseRule,
}

/// Output of `growing-degree-days`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct DegreeDaysOutput {
    /// Each day's, °C d.
    pub daily_c_d: Vec<f64>,
    /// Their sum, °C d.
    pub total_c_d: f64,
    /// The sum by the other rule, °C d.
    pub total_by_other_rule_c_d: f64,
}

/// Growing degree days.
pub struct GrowingDegreeDays;

const MOST_DAYS: usize = 1000;

impl Method for GrowingDegreeDays {
    type Input = DegreeDaysInput;
    type Output = DegreeDaysOutput;

    const CARD: Card = Card {
        name: "growing-degree-days",
        title: "Growing degree days",
        topic: Topic::Climate,
        computes: "Warmth gathered above a base temperature, by which a crop's stages can be told better than by the \
                   calendar. The two published ways of treating cold nights are both given; a figure from elsewhere is \
                   comparable only by its own rule.",
        validity: &[
            "Days with highest and lowest temperature.",
            "Customary bases (common practice): 10 °C warm-season crops, 4.4 °C cool-season crops, 0 °C small grains.",
        ],
        sources: &[Cite::new("McMasterWilhelm1997", "methods 1 and 2")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let day = |tmax, tmin| TemperaturePair {
            tmax_c: AirTemperature::literal(tmax),
            tmin_c: AirTemperature::literal(tmin),
        };
        DegreeDaysInput {
            days: vec![day(18.0, 4.0), day(30.0, 15.0)],
            base_c: BaseTemperature::literal(10.0),
            upper_c: None,
            rule: BaseRule::Mean,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.days.is_empty() || input.days.len() > MOST_DAYS {
            return Err(Refusal::new("days", format!("{} days were given", input.days.len()))
                .given(input.days.len())
                .accepted(format!("1 to {MOST_DAYS} days"))
                .example("7"));
        }
        let base = input.base_c.get();
        let upper = input.upper_c.map(Bounded::get);
        if let Some(upper) = upper
            && upper <= base
        {
            return Err(Refusal::new("upper_c", "the upper temperature must lie above the base")
                .given(with_unit(upper, "°C"))
                .accepted(format!("above {}", with_unit(base, "°C")))
                .example(with_unit(base + 20.0, "°C")));
        }
        for (at, day) in input.days.iter().enumerate() {
            if day.tmin_c.get() > day.tmax_c.get() {
                return Err(Refusal::new(
                    format!("days[{at}].tmin_c"),
                    "the lowest temperature lies above the highest",
                )
                .given(with_unit(day.tmin_c.get(), "°C"))
                .accepted(format!("-60 to {}", with_unit(day.tmax_c.get(), "°C")))
                .example(with_unit(day.tmax_c.get(), "°C")));
            }
        }
        let by = |rule| -> Vec<f64> {
            input
                .days
                .iter()
                .map(|day| degree_days(day.tmax_c.get(), day.tmin_c.get(), base, upper, rule))
                .collect()
        };
        let other = match input.rule {
            BaseRule::Mean => BaseRule::EachTemperature,
            BaseRule::EachTemperature => BaseRule::Mean,
        };
        let daily = by(input.rule);
        let output = DegreeDaysOutput {
            total_c_d: daily.iter().sum(),
            total_by_other_rule_c_d: by(other).iter().sum(),
            daily_c_d: daily,
        };
        let apart = (output.total_c_d - output.total_by_other_rule_c_d).abs();
        let notes = (apart > 0.05)
            .then(|| {
                Note::new(
                    NoteKind::Method,
                    format!(
                        "The two rules differ by {apart:.1} °C d here: say which one a figure was made with."
                    ),
                )
            })
            .into_iter()
            .collect();
        Ok(Answer::with_notes(output, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let rule = match input.rule {
            BaseRule::Mean => "(Tmax + Tmin)/2 − base, not below 0",
            BaseRule::EachTemperature => {
                "(Tmax + Tmin)/2 − base, each temperature first set to at least the base"
            }
        };
        Working::new()
            .step(
                "degree days",
                rule,
                format!("{} days, base {} °C", input.days.len(), input.base_c.get()),
                format!("{:.1} °C d", answer.value.total_c_d),
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
        fn method_one_never_exceeds_method_two(low in -20.0..30.0_f64, spread in 0.0..25.0_f64, base in 0.0..12.0_f64) {
            let one = degree_days(low + spread, low, base, Some(30.0), BaseRule::Mean);
            let two = degree_days(low + spread, low, base, Some(30.0), BaseRule::EachTemperature);
            prop_assert!(one <= two + 1e-12 && one >= 0.0);
            if low >= base {
                prop_assert!((one - two).abs() < 1e-9);
            }
        }
    }
}
