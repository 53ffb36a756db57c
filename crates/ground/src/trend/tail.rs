//! How small can the chance of a steady rise be, with so few years?

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::rank::{EXACT_TO, exact_tail};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Years with a reading.
    pub struct RankedYears: "years with a reading", "", 2.0 ..= 10.0, example 5.0;
    /// Pairs that rise less pairs that fall.
    pub struct RankSum: "S", "", -45.0 ..= 45.0, example 8.0;
}

/// Input of `rank-test-tail`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TailInput {
    /// Years with a reading, none of the readings equal.
    pub years: RankedYears,
    /// Pairs that rise less pairs that fall.
    pub s: RankSum,
}

/// Output of `rank-test-tail`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TailOutput {
    /// Chance of as much or more to that side where nothing changes.
    pub p_one_sided: f64,
    /// Chance of as much to either side.
    pub p_two_sided: f64,
    /// The least two-sided chance that so many years can give.
    pub least_p_two_sided: f64,
}

/// Exact tail of the rank test.
pub struct RankTestTail;

impl Method for RankTestTail {
    type Input = TailInput;
    type Output = TailOutput;

    const CARD: Card = Card {
        name: "rank-test-tail",
        title: "How few years can show a trend",
        topic: Topic::Trend,
        computes: "The exact chance that readings which do not change come out in an order with at least so many more rises \
                   than falls. Four years can at best give one in twelve, five one in sixty: this is why a few tests show no \
                   trend however it looks.",
        validity: &[
            "Two to ten years, no two readings equal; with equal readings or more years the normal approximation serves.",
            "Years that do not lean on each other.",
        ],
        sources: &[Cite::new("Kendall1975", "exact distribution of S"), Cite::new("Mann1945", "the test")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        TailInput { years: RankedYears::literal(5.0), s: RankSum::literal(8.0) }
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        clippy::cast_possible_wrap,
        reason = "two to ten, and its pairs"
    )]
    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (years, s) = (input.years.get(), input.s.get());
        if years.fract() != 0.0 {
            return Err(Refusal::new("years", "years are counted whole")
                .given(years)
                .accepted(format!("2 to {EXACT_TO}"))
                .example(5));
        }
        let n = years as usize;
        let pairs = (n * (n - 1) / 2) as i64;
        // S is the number of pairs less twice those that fall.
        if s.fract() != 0.0 || s.abs() > pairs as f64 || (pairs - s as i64) % 2 != 0 {
            return Err(Refusal::new("s", format!("{n} years cannot give that S"))
                .given(s)
                .accepted(format!("every second number from -{pairs} to {pairs}"))
                .example(pairs));
        }
        let p_one_sided = exact_tail(n, s as i64);
        Ok(Answer::plain(TailOutput {
            p_one_sided,
            p_two_sided: (2.0 * p_one_sided).min(1.0),
            least_p_two_sided: (2.0 * exact_tail(n, pairs)).min(1.0),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "chance to one side",
                "orders of the years with S as large or larger, over all orders",
                format!("{} years, |S| {}", input.years.get(), input.s.get().abs()),
                format!("{:.5}", answer.value.p_one_sided),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "least chance to either side",
                "2 / the number of orders",
                format!("{} years", input.years.get()),
                format!("{:.5}", answer.value.least_p_two_sided),
            )
    }
}
