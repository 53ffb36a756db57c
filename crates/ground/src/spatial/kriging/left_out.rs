//! Leave-one-out: each reading told from all others, without solving anew.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::field::Field;

/// A reading left out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LeftOut {
    /// The reading.
    pub reading: f64,
    /// What the others make of it.
    pub estimate: f64,
    /// Variance they give that estimate, as an estimate of a reading.
    pub variance: f64,
}

/// How well readings are told from each other.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CrossValidation {
    /// Mean of reading less estimate.
    pub mean_error: f64,
    /// Root of the mean squared error.
    pub rmse: f64,
    /// Mean of squared error over variance: near 1 where the variance is honest.
    pub mean_squared_ratio: f64,
    /// Median of the same: near 0.455 where errors are normal.
    pub median_squared_ratio: f64,
    /// Root of the mean squared error of the plain mean of the other readings.
    pub rmse_of_mean: f64,
    /// Share of the squared error of the mean that the map takes away; nothing or less where it is no better.
    pub explained: f64,
}

impl Field {
    /// Each reading estimated from all others, the model held as it is.
    #[must_use]
    pub fn left_out(&self, values: &[f64]) -> Vec<LeftOut> {
        let solved = self.solve(values);
        // Of B = K⁻¹ − K⁻¹1 1ᵀK⁻¹ / 1ᵀK⁻¹1: error = (Bz)ᵢ / Bᵢᵢ and variance = 1 / Bᵢᵢ (Dubrule 1983).
        let reach = self.whitener.tr_mul(&self.ones);
        values
            .iter()
            .enumerate()
            .map(|(at, reading)| {
                let own = self.whitener.column(at).norm_squared() - reach[at] * reach[at] / self.total;
                LeftOut { reading: *reading, estimate: reading - solved.pull[at] / own, variance: 1.0 / own }
            })
            .collect()
    }
}

/// Sums up readings that were left out one by one. At least two.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
pub fn cross_validation(left: &[LeftOut]) -> CrossValidation {
    let n = left.len() as f64;
    let mean = left.iter().map(|one| one.reading).sum::<f64>() / n;
    let mut ratios: Vec<f64> = left
        .iter()
        .map(|one| (one.estimate - one.reading) * (one.estimate - one.reading) / one.variance)
        .collect();
    ratios.sort_by(f64::total_cmp);
    let median = f64::midpoint(ratios[(ratios.len() - 1) / 2], ratios[ratios.len() / 2]);
    let squared = |error: f64| error * error;
    let mse = left.iter().map(|one| squared(one.estimate - one.reading)).sum::<f64>() / n;
    // The mean of the others misses a reading by n / (n − 1) of its distance from the mean of all.
    let mse_of_mean = left.iter().map(|one| squared((one.reading - mean) * n / (n - 1.0))).sum::<f64>() / n;
    CrossValidation {
        mean_error: left.iter().map(|one| one.reading - one.estimate).sum::<f64>() / n,
        rmse: mse.sqrt(),
        mean_squared_ratio: ratios.iter().sum::<f64>() / n,
        median_squared_ratio: median,
        rmse_of_mean: mse_of_mean.sqrt(),
        explained: if mse_of_mean > 0.0 { 1.0 - mse / mse_of_mean } else { 0.0 },
    }
}

#[cfg(test)]
mod tests {
    use super::super::field::Nugget;
    use super::*;
    use crate::kit::chance::Chance;
    use crate::spatial::sites::Place;
    use crate::spatial::variogram::model::{Shape, Variogram};

    #[test]
    fn it_is_as_if_each_were_left_out_and_solved_anew() {
        let mut chance = Chance::new(11);
        let at: Vec<Place> = (0..25).map(|_| [90.0 * chance.uniform(), 70.0 * chance.uniform()]).collect();
        let values: Vec<f64> = at.iter().map(|place| 0.02 * place[1] + chance.normal()).collect();
        let model = Variogram {
            shape: Shape::Exponential,
            nugget: 0.3,
            partial_sill: 0.9,
            range_m: 30.0,
            smoothness: 0.5,
        };
        let left = Field::new(&at, model, Nugget::Variation).unwrap().left_out(&values);
        for out in 0..at.len() {
            let others = |list: &[f64]| -> Vec<f64> {
                list.iter().enumerate().filter(|(index, _)| *index != out).map(|(_, value)| *value).collect()
            };
            let places: Vec<Place> =
                at.iter().enumerate().filter(|(index, _)| *index != out).map(|(_, place)| *place).collect();
            let field = Field::new(&places, model, Nugget::Variation).unwrap();
            let estimate = field.estimate(&field.solve(&others(&values)), at[out]);
            assert!((estimate.value - left[out].estimate).abs() < 1e-10);
            assert!((estimate.variance - left[out].variance).abs() < 1e-10);
        }
    }
}
