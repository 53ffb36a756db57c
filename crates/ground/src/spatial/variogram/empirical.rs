//! The empirical variogram: half the mean squared difference of pairs of readings, by distance.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::spatial::sites::{Place, ReadingAt, distance_m, extent_m, sites};

crate::quantity! {
    /// The longest distance that is looked at.
    pub struct CutOff: "longest distance", "m", 0.01 ..= 1e6, example 80.0;
    /// Number of distance classes.
    pub struct LagCount: "number of distance classes", "", 1.0 ..= 100.0, example 15.0;
}

/// Distance classes where no number is given.
pub const USUAL_LAGS: usize = 15;

/// Pairs of about the same distance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Lag {
    /// Pairs in this class.
    pub pairs: usize,
    /// Their mean distance.
    pub mean_distance_m: f64,
    /// Half their mean squared difference.
    pub matheron: f64,
    /// The same by the mean square root of their difference, which single odd readings disturb less.
    pub cressie_hawkins: f64,
}

/// The empirical variogram in classes of equal width up to `cut_off_m`, each open below and closed above; empty
/// classes are left out.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "pairs by the hundred thousand")]
pub fn empirical(at: &[Place], values: &[f64], cut_off_m: f64, lags: usize) -> Vec<Lag> {
    let width = cut_off_m / lags as f64;
    let mut sums = vec![(0_usize, 0.0, 0.0, 0.0); lags];
    for (one, (here, value)) in at.iter().zip(values).enumerate() {
        for (there, other) in at[one + 1..].iter().zip(&values[one + 1..]) {
            let apart = distance_m(*here, *there);
            if apart > cut_off_m {
                continue;
            }
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "held inside the list"
            )]
            let class = ((apart / width).ceil() as usize).clamp(1, lags) - 1;
            let difference = (value - other).abs();
            let sum = &mut sums[class];
            sum.0 += 1;
            sum.1 += apart;
            sum.2 += difference * difference;
            sum.3 += difference.sqrt();
        }
    }
    sums.into_iter()
        .filter(|sum| sum.0 > 0)
        .map(|(pairs, apart, squares, roots)| {
            let n = pairs as f64;
            let root = roots / n;
            Lag {
                pairs,
                mean_distance_m: apart / n,
                matheron: squares / (2.0 * n),
                cressie_hawkins: 0.5 * root * root * root * root / (0.457 + 0.494 / n),
            }
        })
        .collect()
}

/// A third of the diagonal of the box around the places: where pairs become few and lean on the edges.
#[must_use]
pub fn usual_cut_off_m(at: &[Place]) -> f64 {
    extent_m(at) / 3.0
}

/// Input of `empirical-variogram`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EmpiricalInput {
    /// Readings, each with its place.
    pub readings: Vec<ReadingAt>,
    /// Longest distance; a third of the diagonal around the places where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut_off_m: Option<CutOff>,
    /// Number of classes; 15 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lags: Option<LagCount>,
}

/// Output of `empirical-variogram`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct EmpiricalOutput {
    /// The distance classes that hold a pair, from near to far.
    pub lags: Vec<Lag>,
    /// Longest distance looked at.
    pub cut_off_m: f64,
}

/// The empirical variogram.
pub struct EmpiricalVariogram;

impl Method for EmpiricalVariogram {
    type Input = EmpiricalInput;
    type Output = EmpiricalOutput;

    const CARD: Card = Card {
        name: "empirical-variogram",
        title: "How unlike readings are, by distance",
        topic: Topic::Maps,
        computes: "Half the mean squared difference of all pairs of readings, in classes of distance: the plain mean of Matheron, \
                   and the form of Cressie and Hawkins that single odd readings disturb less.",
        validity: &[
            "Published advice asks for 100 to 225 readings before it is trusted; with ten it is noise.",
            "Classes are open below and closed above. The small further term of Cressie and Hawkins in 1/pairs² is left out.",
        ],
        sources: &[
            Cite::new("Matheron1963", "the mean of squared differences"),
            Cite::new("CressieHawkins1980", "the mean of root differences"),
            Cite::new("WebsterOliver1992", "how many readings"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        EmpiricalInput {
            readings: [
                (0.0, 0.0, 6.1),
                (20.0, 0.0, 6.2),
                (40.0, 0.0, 6.6),
                (0.0, 20.0, 6.0),
                (20.0, 20.0, 6.3),
                (40.0, 20.0, 6.7),
                (0.0, 40.0, 6.2),
                (20.0, 40.0, 6.5),
                (40.0, 40.0, 6.9),
            ]
            .map(|(east, north, value)| ReadingAt::literal(east, north, value))
            .to_vec(),
            cut_off_m: Some(CutOff::literal(60.0)),
            lags: Some(LagCount::literal(3.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (at, values) = sites(&input.readings, 3)?;
        let cut_off_m = input.cut_off_m.map_or_else(|| usual_cut_off_m(&at), Bounded::get);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 100")]
        let count = input.lags.map_or(USUAL_LAGS, |count| count.get().round() as usize);
        let lags = empirical(&at, &values, cut_off_m, count);
        let mut notes = Vec::new();
        if lags.is_empty() {
            return Err(Refusal::new("cut_off_m", "no two readings stand as near as that")
                .given(cut_off_m)
                .accepted("a distance that some pairs stand within")
                .example(extent_m(&at).round()));
        }
        if values.len() < 100 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                format!(
                    "{} readings: published advice asks for 100 or more before this is trusted.",
                    values.len()
                ),
            ));
        }
        Ok(Answer::with_notes(EmpiricalOutput { lags, cut_off_m }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let first = answer.value.lags[0];
        Working::new()
            .step(
                "nearest class, plain",
                "Σ difference² / (2 × pairs)",
                format!(
                    "{} pairs of {} readings, {:.2} m apart",
                    first.pairs,
                    input.readings.len(),
                    first.mean_distance_m
                ),
                format!("{:.5}", first.matheron),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "nearest class, by roots",
                "½ (mean √|difference|)⁴ / (0.457 + 0.494 / pairs)",
                format!("{} pairs", first.pairs),
                format!("{:.5}", first.cressie_hawkins),
            )
            .cite(Self::CARD.sources[1])
    }
}
