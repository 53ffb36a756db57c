//! Does a reading rise or fall over the years? The rank test of Mann and Kendall, and the slope of Sen.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::rank::{RankTest, rank_test};
use super::slope::{SenSlope, sen_slope};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// A calendar year.
    pub struct TrendYear: "year", "", 1900.0 ..= 2200.0, example 2024.0;
    /// The reading of a year, in any one unit.
    pub struct TrendValue: "reading of the year", "", -1e9 ..= 1e9, example 2.6;
}

/// Fewer years than this show nothing.
pub const LEAST_YEARS: usize = 4;
/// With fewer years not even a steady rise comes below [`SHOWN_BELOW`]: four years have 4! orders, two of them steady.
pub const YEARS_TO_SHOW: usize = 5;

/// What the years say.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Trend {
    /// Years with a reading.
    pub years: usize,
    /// The rank test.
    #[serde(flatten)]
    pub ranks: RankTest,
    /// The slope.
    #[serde(flatten)]
    pub slope: SenSlope,
}

/// Which way it goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// It rises, and chance would seldom do so.
    Rises,
    /// It falls, and chance would seldom do so.
    Falls,
    /// Chance would do as much.
    NotShown,
}

/// Chance of a two-sided result below which a trend is called one: the usual one in twenty.
pub const SHOWN_BELOW: f64 = 0.05;

impl Trend {
    /// Which way it goes.
    #[must_use]
    pub fn direction(&self) -> Direction {
        match (self.ranks.p_two_sided < SHOWN_BELOW, self.ranks.s > 0) {
            (true, true) => Direction::Rises,
            (true, false) => Direction::Falls,
            (false, _) => Direction::NotShown,
        }
    }
}

/// The trend of readings, one a year with the years rising; `None` for fewer than [`LEAST_YEARS`], or years that do
/// not rise.
#[must_use]
pub fn trend(readings: &[(f64, f64)]) -> Option<Trend> {
    if readings.len() < LEAST_YEARS || readings.windows(2).any(|pair| pair[0].0 >= pair[1].0) {
        return None;
    }
    let values: Vec<f64> = readings.iter().map(|one| one.1).collect();
    let ranks = rank_test(&values);
    let slope = sen_slope(readings, ranks.variance)?;
    Some(Trend { years: readings.len(), ranks, slope })
}

/// The reading of one year.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct YearReading {
    /// The year.
    pub year: TrendYear,
    /// The reading: the mean of that year's, always in the same unit.
    pub value: TrendValue,
}

/// Input of `yearly-trend`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TrendInput {
    /// One reading a year, the years rising; gaps are allowed.
    pub readings: Vec<YearReading>,
}

/// Output of `yearly-trend`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TrendOutput {
    /// The test and the slope.
    #[serde(flatten)]
    pub trend: Trend,
    /// Which way it goes.
    pub direction: Direction,
}

/// Trend over years.
pub struct YearlyTrend;

impl Method for YearlyTrend {
    type Input = TrendInput;
    type Output = TrendOutput;

    const CARD: Card = Card {
        name: "yearly-trend",
        title: "Does it rise or fall over the years",
        topic: Topic::Trend,
        computes: "Whether a reading that is repeated each year goes steadily up or down, and by how much a year: the rank \
                   test of Mann and Kendall, and the median of the slopes of all pairs of years.",
        validity: &[
            "Four years at least; four can never show a trend at 5 % two-sided. The same way of reading, place and season each year.",
            "Exact up to ten years without equal readings; the normal approximation with ties counted otherwise.",
            "Readings that hang on each other from year to year make chance look smaller than it is.",
            "tau-a leaves equal readings as they are, tau-b corrects for them; both are given.",
        ],
        sources: &[
            Cite::new("Mann1945", "the test"),
            Cite::new("Kendall1975", "exact tail, and the variance with ties"),
            Cite::new("Sen1968", "the slope and its interval"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let year = |year: f64, value: f64| YearReading {
            year: TrendYear::literal(year),
            value: TrendValue::literal(value),
        };
        TrendInput {
            readings: vec![
                year(2021.0, 2.1),
                year(2022.0, 2.3),
                year(2023.0, 2.2),
                year(2024.0, 2.6),
                year(2025.0, 2.9),
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let count = input.readings.len();
        if !(LEAST_YEARS..=200).contains(&count) {
            return Err(Refusal::new("readings", format!("{count} years were given"))
                .given(count)
                .accepted(format!("{LEAST_YEARS} to 200 years"))
                .example("5"));
        }
        let readings: Vec<(f64, f64)> =
            input.readings.iter().map(|one| (one.year.get(), one.value.get())).collect();
        let Some(trend) = trend(&readings) else {
            let at = readings.windows(2).position(|pair| pair[0].0 >= pair[1].0).map_or(0, |at| at + 1);
            return Err(Refusal::new(
                format!("readings[{at}].year"),
                "each year must come after the one before",
            )
            .given(readings[at].0)
            .accepted("years that rise, one reading each")
            .example("2021, 2022, 2024"));
        };
        let mut notes = Vec::new();
        if trend.ranks.exact && count < 6 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                format!(
                    "With {count} years only a rise or fall in nearly every step can be told from chance."
                ),
            ));
        }
        Ok(Answer::with_notes(TrendOutput { direction: trend.direction(), trend }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let found = &answer.value.trend;
        Working::new()
            .step(
                "S",
                "pairs that rise − pairs that fall",
                format!("{} years", input.readings.len()),
                found.ranks.s.to_string(),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "chance where nothing changes",
                if found.ranks.exact {
                    "share of all orders with |S| as large"
                } else {
                    "two tails of the normal at (|S| − 1) / √variance"
                },
                format!("S {}, variance {:.2}", found.ranks.s, found.ranks.variance),
                format!("{:.3}", found.ranks.p_two_sided),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "slope",
                "median of the slopes of all pairs of years",
                format!("{} pairs", input.readings.len() * (input.readings.len() - 1) / 2),
                format!(
                    "{:.4} a year ({:.4} to {:.4})",
                    found.slope.slope_per_year.median,
                    found.slope.slope_per_year.low,
                    found.slope.slope_per_year.high
                ),
            )
            .cite(Self::CARD.sources[2])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Kendall's exact tail: two of the n! orders are steady, 2/24 = 0.083 in four years and 2/120 = 0.017 in five.
    #[test]
    fn four_steady_years_show_nothing_and_five_do() {
        let steady = |years: u32| -> Trend {
            let readings: Vec<(f64, f64)> =
                (0..years).map(|at| (2021.0 + f64::from(at), 2.10 + 0.01 * f64::from(at))).collect();
            trend(&readings).unwrap()
        };
        let (four, five) = (steady(4), steady(5));
        assert!((four.ranks.p_two_sided - 2.0 / 24.0).abs() < 1e-12);
        assert_eq!(four.direction(), Direction::NotShown);
        assert!((five.ranks.p_two_sided - 2.0 / 120.0).abs() < 1e-12);
        assert_eq!((five.years, five.direction()), (YEARS_TO_SHOW, Direction::Rises));
    }

    proptest! {
        #[test]
        fn turning_the_readings_over_turns_the_trend_over(values in proptest::collection::vec(-9.0..9.0_f64, 4..12)) {
            let readings: Vec<(f64, f64)> = values.iter().enumerate().map(|(at, value)| (at as f64, *value)).collect();
            let turned: Vec<(f64, f64)> = readings.iter().map(|(year, value)| (*year, -value)).collect();
            let (one, other) = (trend(&readings).unwrap(), trend(&turned).unwrap());
            prop_assert_eq!(one.ranks.s, -other.ranks.s);
            prop_assert!((one.ranks.p_two_sided - other.ranks.p_two_sided).abs() < 1e-12);
            let (one, other) = (one.slope, other.slope);
            prop_assert!((one.slope_per_year.median + other.slope_per_year.median).abs() < 1e-9);
            prop_assert!(one.slope_per_year.low <= one.slope_per_year.median && one.slope_per_year.median <= one.slope_per_year.high);
        }
    }
}
