//! The same places in two years: the mean of their changes, and Student's t.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::yearly::TrendValue;
use crate::kit::quantiles::{student, student_share};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Most places.
const MOST: usize = 500;

/// What pairs of years say.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PairedChange {
    /// Places.
    pub places: usize,
    /// Mean change, later less earlier.
    pub mean_change: f64,
    /// Standard deviation of the changes.
    pub change_sd: f64,
    /// Student's t.
    pub t: f64,
    /// Its degrees of freedom.
    pub freedom: usize,
    /// Chance of so large a mean change where nothing changes, two-sided.
    pub p_two_sided: f64,
    /// Lower end of the 95 % interval of the mean change.
    pub low_95: f64,
    /// Upper end of it.
    pub high_95: f64,
}

/// The mean of changes at places; `None` for fewer than two, or where all changed exactly alike.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "places by the hundred")]
pub fn paired_change(changes: &[f64]) -> Option<PairedChange> {
    let places = changes.len();
    if places < 2 {
        return None;
    }
    let n = places as f64;
    let mean = changes.iter().sum::<f64>() / n;
    let squares: f64 = changes.iter().map(|one| (one - mean) * (one - mean)).sum();
    let sd = (squares / (n - 1.0)).sqrt();
    let error = sd / n.sqrt();
    if error.is_nan() || error <= 1e-12 * mean.abs().max(1e-300) {
        return None;
    }
    let t = mean / error;
    let reach = student(0.975, n - 1.0) * error;
    Some(PairedChange {
        places,
        mean_change: mean,
        change_sd: sd,
        t,
        freedom: places - 1,
        p_two_sided: 2.0 * student_share(-t.abs(), n - 1.0),
        low_95: mean - reach,
        high_95: mean + reach,
    })
}

/// One place in two years.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlacePair {
    /// The earlier reading.
    pub earlier: TrendValue,
    /// The later reading, in the same unit.
    pub later: TrendValue,
}

/// Input of `paired-years`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PairedInput {
    /// The places, each read in both years.
    pub pairs: Vec<PlacePair>,
}

/// The same places in two years.
pub struct PairedYears;

impl Method for PairedYears {
    type Input = PairedInput;
    type Output = PairedChange;

    const CARD: Card = Card {
        name: "paired-years",
        title: "The same places in two years",
        topic: Topic::Trend,
        computes: "Whether places that were read in two years changed on the whole, by the mean of their changes and \
                   Student's t. Going back to the same places takes the differences between places out of it.",
        validity: &[
            "Two places at least; ten or more make it worth while. The same places, depth, laboratory and season.",
            "Changes about normal; one place that runs wild rules the mean of a few.",
        ],
        sources: &[Cite::new("Student1908", "section IX, and the sleep of ten patients")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let pair = |earlier: f64, later: f64| PlacePair {
            earlier: TrendValue::literal(earlier),
            later: TrendValue::literal(later),
        };
        PairedInput {
            pairs: vec![pair(2.1, 2.4), pair(2.3, 2.4), pair(1.9, 2.3), pair(2.6, 2.7), pair(2.2, 2.4)],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let count = input.pairs.len();
        if !(2..=MOST).contains(&count) {
            return Err(Refusal::new("pairs", format!("{count} places were given"))
                .given(count)
                .accepted(format!("2 to {MOST} places"))
                .example("10 places"));
        }
        let changes: Vec<f64> =
            input.pairs.iter().map(|pair| pair.later.get() - pair.earlier.get()).collect();
        let Some(change) = paired_change(&changes) else {
            return Err(Refusal::new(
                "pairs",
                "every place changed by exactly the same, so that nothing tells how far changes scatter",
            )
            .accepted("readings as they were made, not rounded to the same step")
            .example("2.1 to 2.4 and 2.3 to 2.4"));
        };
        let few = (count < 6).then(|| {
            Note::new(
                NoteKind::OutsideRange,
                format!("{count} places are few: the scatter of their changes is itself hardly known."),
            )
        });
        Ok(Answer::with_notes(change, few.into_iter().collect()))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let found = &answer.value;
        Working::new()
            .step(
                "t",
                "mean change / (standard deviation of the changes / √places)",
                format!("{:.4} / ({:.4} / √{})", found.mean_change, found.change_sd, found.places),
                format!("{:.4}", found.t),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "chance where nothing changes",
                "both tails of Student's t",
                format!("t {:.4}, {} degrees of freedom", found.t, found.freedom),
                format!("{:.6}", found.p_two_sided),
            )
            .step(
                "mean change, 95 %",
                "mean ± t(97.5 %) × standard error",
                format!("{:.4} ± ...", found.mean_change),
                format!("{:.4} to {:.4}", found.low_95, found.high_95),
            )
    }
}
