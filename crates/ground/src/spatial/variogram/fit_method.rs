//! The fit as a registered method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::fit::{FitWeights, Fitted, Seen, fit};
use super::model::{RangeM, Semivariance, Shape, Smoothness};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Pairs in a distance class.
    pub struct PairCount: "pairs", "", 1.0 ..= 1e7, example 57.0;
    /// Mean distance of a class.
    pub struct LagDistance: "mean distance of the pairs", "m", 1e-3 ..= 1e6, example 20.0;
}

/// A distance class as it is given.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LagGiven {
    /// Pairs in it.
    pub pairs: PairCount,
    /// Their mean distance.
    pub mean_distance_m: LagDistance,
    /// Semivariance seen.
    pub semivariance: Semivariance,
}

/// Input of `fit-variogram`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FitInput {
    /// Distance classes, as `empirical-variogram` gives them.
    pub lags: Vec<LagGiven>,
    /// Form to fit.
    pub shape: Shape,
    /// For the Matérn form alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub smoothness: Option<Smoothness>,
    /// What a class counts.
    #[serde(default)]
    pub weights: FitWeights,
    /// The range may not be longer; twice the longest distance where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub longest_range_m: Option<RangeM>,
}

/// Fit of a variogram.
pub struct FitVariogram;

impl Method for FitVariogram {
    type Input = FitInput;
    type Output = Fitted;

    const CARD: Card = Card {
        name: "fit-variogram",
        title: "Fit a variogram",
        topic: Topic::Maps,
        computes: "The nugget, partial sill and range of a model that come nearest to an empirical variogram, by weighted least \
                   squares, from several starts and with the range held below a bound.",
        validity: &[
            "Fit no variogram to fewer than ten readings, and trust none from fewer than a hundred: see map-limits.",
            "Weighting anew in rounds gives other figures than the direct minimum that is found here.",
        ],
        sources: &[
            Cite::new("Cressie1985", "weighted least squares"),
            Cite::new("Pebesma2004", "pairs over squared distance as weights"),
            Cite::new("NelderMead1965", "the search"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        FitInput {
            lags: [(12.0, 20.0, 0.030), (16.0, 34.0, 0.052), (8.0, 51.0, 0.081), (6.0, 70.0, 0.085)]
                .map(|(pairs, distance, semivariance)| LagGiven {
                    pairs: PairCount::literal(pairs),
                    mean_distance_m: LagDistance::literal(distance),
                    semivariance: Semivariance::literal(semivariance),
                })
                .to_vec(),
            shape: Shape::Spherical,
            smoothness: None,
            weights: FitWeights::PairsOverDistanceSquared,
            longest_range_m: Some(RangeM::literal(120.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if !(3..=200).contains(&input.lags.len()) {
            return Err(Refusal::new("lags", format!("{} distance classes were given", input.lags.len()))
                .given(input.lags.len())
                .accepted("3 to 200 distance classes")
                .example("15"));
        }
        let smoothness = match (input.shape, input.smoothness) {
            (Shape::Matern, None) => {
                return Err(Refusal::new("smoothness", "the matern form needs its smoothness")
                    .given("nothing")
                    .accepted("0.05 to 10")
                    .example("0.5"));
            }
            (_, given) => given.map_or(0.5, Bounded::get),
        };
        let seen: Vec<Seen> = input
            .lags
            .iter()
            .map(|lag| Seen {
                pairs: lag.pairs.get(),
                distance_m: lag.mean_distance_m.get(),
                semivariance: lag.semivariance.get(),
            })
            .collect();
        if seen.iter().all(|class| class.semivariance <= 0.0) {
            return Err(Refusal::new("lags", "every semivariance is nothing: all readings are alike")
                .given("0")
                .accepted("readings that differ")
                .example("0.03"));
        }
        let nearest = seen.iter().map(|class| class.distance_m).fold(f64::INFINITY, f64::min);
        let furthest = seen.iter().map(|class| class.distance_m).fold(0.0, f64::max);
        let longest = input.longest_range_m.map_or(2.0 * furthest, Bounded::get);
        let fitted =
            fit(&seen, input.shape, smoothness, input.weights, ((nearest / 4.0).min(longest), longest));
        let mut notes = Vec::new();
        if fitted.at_bound {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "The range ran into its bound: these readings do not show where unlikeness ends.",
            ));
        }
        Ok(Answer::with_notes(fitted, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let model = answer.value.variogram;
        let rule = match input.weights {
            FitWeights::PairsOverDistanceSquared => "least Σ pairs / distance² × (seen − model)²",
            FitWeights::Cressie => "least Σ pairs × (seen / model − 1)²",
        };
        Working::new()
            .step(
                "the model",
                rule,
                format!("{} classes, {} form", input.lags.len(), input.shape.name()),
                format!(
                    "nugget {:.5}, partial sill {:.5}, range {:.2} m",
                    model.nugget, model.partial_sill, model.range_m
                ),
            )
            .cite(Self::CARD.sources[usize::from(input.weights == FitWeights::PairsOverDistanceSquared)])
    }
}
