//! Frost dates: from years of records to the odds of a date.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::climate::quantities::DayOfYear;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Standard normal deviate of 90 %.
const Z_90: f64 = 1.281_552;

/// Years from which odds are worth printing (the usual demand of climate summaries is 20 to 30).
const ENOUGH_YEARS: usize = 20;

/// A date with its odds, as days of the year by the normal approximation.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DateOdds {
    /// One year in ten the frost comes earlier.
    pub earlier_in_one_of_ten: f64,
    /// As often earlier as later.
    pub even_odds: f64,
    /// One year in ten it comes later.
    pub later_in_one_of_ten: f64,
    /// Standard deviation, d.
    pub spread_d: f64,
}

/// Odds from dates of several years. `None` with fewer than three.
#[must_use]
pub fn date_odds(days: &[f64]) -> Option<DateOdds> {
    if days.len() < 3 {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "years")]
    let n = days.len() as f64;
    let mean = days.iter().sum::<f64>() / n;
    let sd = (days.iter().map(|day| (day - mean) * (day - mean)).sum::<f64>() / (n - 1.0)).sqrt();
    Some(DateOdds {
        earlier_in_one_of_ten: mean - Z_90 * sd,
        even_odds: mean,
        later_in_one_of_ten: mean + Z_90 * sd,
        spread_d: sd,
    })
}

/// Last spring and first autumn day with a lowest temperature at or below `threshold_c`, in a year that
/// begins in the dead of winter (January, or July in the south). `lowest_c[0]` is its first day; the summer
/// is parted in the middle. A half without frost has none.
#[must_use]
pub fn frost_days(lowest_c: &[Option<f64>], threshold_c: f64) -> (Option<usize>, Option<usize>) {
    let middle = lowest_c.len() / 2;
    let cold = |at: &usize| lowest_c[*at].is_some_and(|t| t <= threshold_c);
    let spring = (0..middle).rev().find(cold).map(|at| at + 1);
    let autumn = (middle..lowest_c.len()).find(cold).map(|at| at + 1);
    (spring, autumn)
}

/// Input of `frost-date-odds`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FrostInput {
    /// Last day with frost in spring, one a year, as day of the year. In the south count from 1 July.
    pub last_spring_days: Vec<DayOfYear>,
    /// First day with frost in autumn, one a year.
    pub first_autumn_days: Vec<DayOfYear>,
}

/// Output of `frost-date-odds`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct FrostOutput {
    /// Last frost of spring.
    pub last_spring: DateOdds,
    /// First frost of autumn.
    pub first_autumn: DateOdds,
    /// Days between the two at even odds.
    pub frost_free_d: f64,
    /// Days free of frost in nine springs of ten and nine autumns of ten.
    pub cautious_frost_free_d: f64,
}

/// Frost date odds.
pub struct FrostDateOdds;

impl Method for FrostDateOdds {
    type Input = FrostInput;
    type Output = FrostOutput;

    const CARD: Card = Card {
        name: "frost-date-odds",
        title: "Odds of frost dates",
        topic: Topic::Climate,
        computes: "From the last spring and first autumn frosts of many years, the dates by which frost is past or has \
                   come in one, five and nine years of ten. The mean alone loses the crop every second year.",
        validity: &[
            "Normal approximation; twenty years or more, and at least three.",
            "Customary thresholds (common practice): 0 °C light frost, −2.2 °C hard, −4.4 °C killing.",
            "Low ground is several degrees colder than a station on clear still nights.",
        ],
        sources: &[Cite::new("NistHandbook", "section 1.3.6.6.1, normal distribution")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let days = |list: &[f64]| list.iter().map(|day| DayOfYear::literal(*day)).collect();
        FrostInput {
            last_spring_days: days(&[128.0, 135.0, 121.0, 140.0, 131.0, 126.0]),
            first_autumn_days: days(&[270.0, 281.0, 262.0, 275.0, 290.0, 268.0]),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let odds = |field: &str, list: &[DayOfYear]| {
            let days: Vec<f64> = list.iter().map(|day| day.get()).collect();
            date_odds(&days).ok_or_else(|| {
                Refusal::new(
                    field,
                    format!("odds need the dates of three years at least, {} were given", days.len()),
                )
                .given(days.len())
                .accepted("three dates or more, better twenty")
                .example("128, 135, 121")
            })
        };
        let last_spring = odds("last_spring_days", &input.last_spring_days)?;
        let first_autumn = odds("first_autumn_days", &input.first_autumn_days)?;
        let years = input.last_spring_days.len().min(input.first_autumn_days.len());
        let mut notes = vec![Note::new(
            NoteKind::Method,
            "The normal approximation is used. Low spots freeze later in spring and earlier in autumn than the station.",
        )];
        if years < ENOUGH_YEARS {
            notes.insert(
                0,
                Note::new(
                    NoteKind::OutsideRange,
                    format!("{years} years are few: odds are usually given from {ENOUGH_YEARS} or more."),
                ),
            );
        }
        Ok(Answer::with_notes(
            FrostOutput {
                frost_free_d: first_autumn.even_odds - last_spring.even_odds,
                cautious_frost_free_d: first_autumn.earlier_in_one_of_ten - last_spring.later_in_one_of_ten,
                last_spring,
                first_autumn,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let step = |working: Working, finds: &str, n: usize, odds: &DateOdds| {
            working
                .step(
                    finds.to_owned(),
                    "mean ± 1.2816 standard deviations",
                    format!("{n} years: mean {:.1}, deviation {:.1} d", odds.even_odds, odds.spread_d),
                    format!(
                        "day {:.0}, {:.0}, {:.0} of the year",
                        odds.earlier_in_one_of_ten, odds.even_odds, odds.later_in_one_of_ten
                    ),
                )
                .cite(Self::CARD.sources[0])
        };
        let v = &answer.value;
        let working =
            step(Working::new(), "last frost of spring", input.last_spring_days.len(), &v.last_spring);
        step(working, "first frost of autumn", input.first_autumn_days.len(), &v.first_autumn)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn frosts_are_found_on_both_sides_of_summer() {
        let mut year = vec![Some(8.0); 365];
        for (day, t) in [(0, -9.0), (119, -0.5), (130, 0.0), (131, 0.1), (270, -0.1), (300, -5.0)] {
            year[day] = Some(t);
        }
        year[140] = None;
        assert_eq!(frost_days(&year, 0.0), (Some(131), Some(271)));
        assert_eq!(frost_days(&year, -4.0), (Some(1), Some(301)));
        assert_eq!(frost_days(&year, -20.0), (None, None));
        assert_eq!(frost_days(&[], 0.0), (None, None));
    }

    #[test]
    fn too_few_years_are_refused() {
        let mut input = FrostDateOdds::example();
        input.first_autumn_days.truncate(2);
        assert_eq!(FrostDateOdds::compute(&input).unwrap_err().field, "first_autumn_days");
    }
}
