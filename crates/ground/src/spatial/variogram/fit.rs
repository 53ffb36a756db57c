//! Fitting a model to an empirical variogram by weighted least squares.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::model::{Shape, Variogram};
use super::search::least;

/// What a distance class counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FitWeights {
    /// Pairs over squared distance: near classes count most.
    #[default]
    PairsOverDistanceSquared,
    /// Pairs × (seen / model − 1)², the weights of Cressie, minimised directly and not by weighting anew in rounds.
    Cressie,
}

/// A distance class as a fit needs it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Pairs in it.
    pub pairs: f64,
    /// Their mean distance, m.
    pub distance_m: f64,
    /// Semivariance seen.
    pub semivariance: f64,
}

/// A fitted model.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Fitted {
    /// The model.
    pub variogram: Variogram,
    /// What was made least: the weighted sum of squares, or minus the log-likelihood.
    pub least: f64,
    /// Did the range run into its bound? Then the readings do not show where unlikeness ends.
    pub at_bound: bool,
}

/// Fits by weighted least squares. The sill follows in closed form from nugget share and range, which are searched
/// from several starts; the range stays between its bounds.
#[must_use]
pub fn fit(seen: &[Seen], shape: Shape, smoothness: f64, weights: FitWeights, range_m: (f64, f64)) -> Fitted {
    let model = |share: f64, range_m: f64| Variogram {
        shape,
        nugget: share,
        partial_sill: 1.0 - share,
        range_m,
        smoothness,
    };
    let judged = |share: f64, range_m: f64| {
        let unit = model(share, range_m);
        sill_and_loss(seen, weights, |distance| unit.semivariance(distance))
    };
    let found = least(range_m.0, range_m.1, |share, range| judged(share, range).1);
    let (sill, _) = judged(found.nugget_share, found.range_m);
    let unit = model(found.nugget_share, found.range_m);
    Fitted {
        variogram: Variogram { nugget: sill * unit.nugget, partial_sill: sill * unit.partial_sill, ..unit },
        least: found.value,
        at_bound: found.range_m >= range_m.1 * 0.999,
    }
}

/// The best sill for a model of sill one, and the loss it leaves.
fn sill_and_loss(seen: &[Seen], weights: FitWeights, unit: impl Fn(f64) -> f64) -> (f64, f64) {
    let (mut cross, mut square, mut own) = (0.0, 0.0, 0.0);
    for class in seen {
        let model = unit(class.distance_m).max(1e-12);
        match weights {
            FitWeights::PairsOverDistanceSquared => {
                let weight = class.pairs / (class.distance_m * class.distance_m);
                cross += weight * class.semivariance * model;
                square += weight * model * model;
                own += weight * class.semivariance * class.semivariance;
            }
            FitWeights::Cressie => {
                let ratio = class.semivariance / model;
                cross += class.pairs * ratio;
                square += class.pairs * ratio * ratio;
                own += class.pairs;
            }
        }
    }
    if square <= 0.0 {
        return (0.0, 0.0);
    }
    let factor = cross / square;
    let sill = match weights {
        FitWeights::PairsOverDistanceSquared => factor,
        FitWeights::Cressie => 1.0 / factor,
    };
    (sill, own - cross * factor)
}
