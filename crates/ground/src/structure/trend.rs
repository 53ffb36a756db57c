//! Does a reading rise or fall over the years? The rank test of Mann and Kendall, and the slope of Sen.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Spread, Topic, Working};

crate::quantity! {
    /// A calendar year.
    pub struct TrendYear: "year", "", 1900.0 ..= 2200.0, example 2024.0;
    /// The reading of a year, in any one unit.
    pub struct TrendValue: "reading of the year", "", -1e9 ..= 1e9, example 2.6;
}

/// Fewer years than this show nothing.
pub const LEAST_YEARS: usize = 4;
/// Up to this many years without ties the test is exact.
const EXACT_TO: usize = 10;
/// z of a two-sided 90 % interval.
const Z_90: f64 = 1.644_854;

/// What the years say.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Trend {
    /// Years with a reading.
    pub years: usize,
    /// Pairs that rise less pairs that fall.
    pub s: i64,
    /// Its variance where nothing changes, ties counted.
    pub variance: f64,
    /// Chance of a rise or fall as steady as this where nothing changes, two-sided.
    pub p_two_sided: f64,
    /// Is that chance exact, or by the normal approximation?
    pub exact: bool,
    /// Median slope of all pairs, in a year, with its 90 % interval.
    pub slope_per_year: Spread,
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

/// Chance of a two-sided result below which a trend is called one.
pub const SHOWN_BELOW: f64 = 0.10;

impl Trend {
    /// Which way it goes.
    #[must_use]
    pub fn direction(&self) -> Direction {
        match (self.p_two_sided < SHOWN_BELOW, self.s > 0) {
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
    let n = readings.len();
    if n < LEAST_YEARS || readings.windows(2).any(|pair| pair[0].0 >= pair[1].0) {
        return None;
    }
    let mut slopes = Vec::with_capacity(n * (n - 1) / 2);
    let mut s = 0_i64;
    for (at, (year, value)) in readings.iter().enumerate() {
        for (later, then) in &readings[at + 1..] {
            s += i64::from(then > value) - i64::from(then < value);
            slopes.push((then - value) / (later - year));
        }
    }
    slopes.sort_by(f64::total_cmp);
    let ties = tied_groups(readings);
    let variance = variance(n, &ties);
    let exact = ties.is_empty() && n <= EXACT_TO;
    let p_two_sided = if exact { exact_p(n, s) } else { normal_p(s, variance) };
    Some(Trend { years: n, s, variance, p_two_sided, exact, slope_per_year: slope(&slopes, variance) })
}

/// Sizes of the groups of equal readings.
fn tied_groups(readings: &[(f64, f64)]) -> Vec<usize> {
    let mut values: Vec<f64> = readings.iter().map(|one| one.1).collect();
    values.sort_by(f64::total_cmp);
    values.chunk_by(|one, next| one == next).map(<[f64]>::len).filter(|size| *size > 1).collect()
}

#[expect(clippy::cast_precision_loss, reason = "years by the dozen")]
fn variance(n: usize, ties: &[usize]) -> f64 {
    let term = |n: usize| (n * (n - 1) * (2 * n + 5)) as f64;
    (term(n) - ties.iter().map(|t| term(*t)).sum::<f64>()) / 18.0
}

/// By counting the orders of `n` readings with each number of falling pairs.
#[expect(clippy::cast_precision_loss, reason = "10! fits")]
fn exact_p(n: usize, s: i64) -> f64 {
    let mut orders = vec![1_u64];
    for k in 2..=n {
        let mut next = vec![0_u64; orders.len() + k - 1];
        for (falls, count) in orders.iter().enumerate() {
            for more in 0..k {
                next[falls + more] += count;
            }
        }
        orders = next;
    }
    let pairs = orders.len() - 1;
    let wanted = s.unsigned_abs();
    // With f falling pairs of N, S = N − 2f.
    let tail: u64 = orders
        .iter()
        .enumerate()
        .filter(|(falls, _)| pairs >= 2 * falls && (pairs - 2 * falls) as u64 >= wanted)
        .map(|(_, count)| count)
        .sum();
    let all: u64 = orders.iter().sum();
    (2.0 * tail as f64 / all as f64).min(1.0)
}

#[expect(clippy::cast_precision_loss, reason = "pairs by the hundred")]
fn normal_p(s: i64, variance: f64) -> f64 {
    if s == 0 || variance <= 0.0 {
        return 1.0;
    }
    let z = (s.unsigned_abs() as f64 - 1.0) / variance.sqrt();
    libm::erfc(z / std::f64::consts::SQRT_2).min(1.0)
}

#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "ranks of a short list, held inside it"
)]
fn slope(sorted: &[f64], variance: f64) -> Spread {
    let count = sorted.len();
    let half = Z_90 * variance.sqrt();
    let rank = |place: f64| place.clamp(0.0, (count - 1) as f64) as usize;
    let low = rank(((count as f64 - half) / 2.0).round_ties_even() - 1.0);
    let high = rank(((count as f64 + half) / 2.0).round_ties_even());
    let median = f64::midpoint(sorted[(count - 1) / 2], sorted[count / 2]);
    Spread { low: sorted[low], median, high: sorted[high] }
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
        topic: Topic::Structure,
        computes: "Whether a reading that is repeated each year goes steadily up or down, and by how much a year: the rank \
                   test of Mann and Kendall, and the median of the slopes of all pairs of years.",
        validity: &[
            "Four years at least; four can never show a trend at 5 % two-sided. The same way of reading, place and season each year.",
            "Exact up to ten years without equal readings; the normal approximation with ties counted otherwise.",
            "Readings that hang on each other from year to year make chance look smaller than it is.",
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
        if trend.exact && count < 6 {
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
                found.s.to_string(),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "chance where nothing changes",
                if found.exact {
                    "share of all orders with |S| as large"
                } else {
                    "two tails of the normal at (|S| − 1) / √variance"
                },
                format!("S {}, variance {:.2}", found.s, found.variance),
                format!("{:.3}", found.p_two_sided),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "slope",
                "median of the slopes of all pairs of years",
                format!("{} pairs", input.readings.len() * (input.readings.len() - 1) / 2),
                format!(
                    "{:.4} a year ({:.4} to {:.4})",
                    found.slope_per_year.median, found.slope_per_year.low, found.slope_per_year.high
                ),
            )
            .cite(Self::CARD.sources[2])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn turning_the_readings_over_turns_the_trend_over(values in proptest::collection::vec(-9.0..9.0_f64, 4..12)) {
            let readings: Vec<(f64, f64)> = values.iter().enumerate().map(|(at, value)| (at as f64, *value)).collect();
            let turned: Vec<(f64, f64)> = readings.iter().map(|(year, value)| (*year, -value)).collect();
            let (one, other) = (trend(&readings).unwrap(), trend(&turned).unwrap());
            prop_assert_eq!(one.s, -other.s);
            prop_assert!((one.p_two_sided - other.p_two_sided).abs() < 1e-12);
            prop_assert!((one.slope_per_year.median + other.slope_per_year.median).abs() < 1e-9);
            prop_assert!(one.slope_per_year.low <= one.slope_per_year.median && one.slope_per_year.median <= one.slope_per_year.high);
        }
    }
}
