//! The places of readings under a variogram, factored once; every estimate comes from that one factor.

use nalgebra::{DMatrix, DVector};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::spatial::sites::{Place, SAME_PLACE_M, distance_m};
use crate::spatial::variogram::model::Variogram;

/// What the nugget is taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Nugget {
    /// Real variation over short distances: at a reading's own place the estimate is that reading.
    Variation,
    /// Error of the reading: the estimate is what lies beneath the error, and shrinks towards the neighbours.
    ReadingError,
}

/// An estimate for one place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Estimate {
    /// The estimate.
    pub value: f64,
    /// Variance of its error.
    pub variance: f64,
}

/// The factored covariance of readings at their places.
pub struct Field {
    pub(super) at: Vec<Place>,
    pub(super) model: Variogram,
    pub(super) nugget: Nugget,
    /// W with WᵀW the inverse of the covariance: lower triangular, full of zeros above.
    pub(super) whitener: DMatrix<f64>,
    /// W·1.
    pub(super) ones: DVector<f64>,
    /// 1ᵀK⁻¹1.
    pub(super) total: f64,
}

/// One property's readings in a [`Field`], ready to be mapped.
#[derive(Debug, Clone)]
pub struct Solved {
    /// Mean by generalised least squares.
    pub mean: f64,
    /// K⁻¹(z − mean).
    pub(super) pull: DVector<f64>,
    /// (z − mean)ᵀK⁻¹(z − mean).
    pub square: f64,
}

impl Field {
    /// Factors the covariance once. `None` where it is singular: two readings at one place, or a very smooth form
    /// without a nugget.
    #[must_use]
    pub fn new(at: &[Place], model: Variogram, nugget: Nugget) -> Option<Self> {
        let n = at.len();
        let mut covariance = DMatrix::zeros(n, n);
        for column in 0..n {
            covariance[(column, column)] = model.sill();
            for row in column + 1..n {
                covariance[(row, column)] =
                    model.partial_sill * model.correlation(distance_m(at[row], at[column]));
            }
        }
        let factor = nalgebra::linalg::Cholesky::new(covariance)?;
        let whitener = inverse_of_lower(factor.l_dirty());
        let ones: DVector<f64> = DVector::from_fn(n, |row, _| whitener.row(row).sum());
        let total = ones.dot(&ones);
        total.is_finite().then(|| Self { at: at.to_vec(), model, nugget, whitener, ones, total })
    }

    /// How many readings.
    #[must_use]
    pub fn readings(&self) -> usize {
        self.at.len()
    }

    /// Variance of the mean by generalised least squares.
    #[must_use]
    pub fn mean_variance(&self) -> f64 {
        1.0 / self.total
    }

    /// Takes in one property's readings, one for each place.
    #[must_use]
    pub fn solve(&self, values: &[f64]) -> Solved {
        let whitened = &self.whitener * DVector::from_column_slice(values);
        let mean = self.ones.dot(&whitened) / self.total;
        let residual = whitened - &self.ones * mean;
        Solved { mean, square: residual.dot(&residual), pull: self.whitener.tr_mul(&residual) }
    }

    /// Variance of a place before any reading, the nugget counted where it is real.
    #[must_use]
    pub fn prior_variance(&self) -> f64 {
        match self.nugget {
            Nugget::Variation => self.model.sill(),
            Nugget::ReadingError => self.model.partial_sill,
        }
    }

    /// Covariance of a place with each reading.
    fn covariances(&self, place: Place) -> DVector<f64> {
        DVector::from_iterator(
            self.at.len(),
            self.at.iter().map(|site| self.covariance(distance_m(*site, place))),
        )
    }

    /// Covariance over a distance.
    fn covariance(&self, apart: f64) -> f64 {
        let structured = self.model.partial_sill * self.model.correlation(apart);
        let same = apart < SAME_PLACE_M && self.nugget == Nugget::Variation;
        if same { structured + self.model.nugget } else { structured }
    }

    /// The estimate for a place.
    #[must_use]
    pub fn estimate(&self, solved: &Solved, place: Place) -> Estimate {
        self.with_covariances(solved, &self.covariances(place), self.prior_variance())
    }

    pub(super) fn with_covariances(&self, solved: &Solved, with: &DVector<f64>, prior: f64) -> Estimate {
        let whitened = &self.whitener * with;
        let short = 1.0 - self.ones.dot(&whitened);
        Estimate {
            value: solved.mean + with.dot(&solved.pull),
            variance: (prior - whitened.norm_squared() + short * short / self.total).max(0.0),
        }
    }
}

/// The inverse of a lower triangular matrix (what stands above its diagonal is not read). Column by column, each
/// starting at its own diagonal: a sixth of n³.
fn inverse_of_lower(lower: &DMatrix<f64>) -> DMatrix<f64> {
    let n = lower.nrows();
    let mut inverse = DMatrix::zeros(n, n);
    for column in 0..n {
        let mut solved = inverse.column_mut(column);
        let solved = solved.as_mut_slice();
        solved[column] = 1.0;
        for k in column..n {
            let (head, tail) = solved.split_at_mut(k + 1);
            let value = head[k] / lower[(k, k)];
            head[k] = value;
            let below = &lower.as_slice()[k * n + k + 1..(k + 1) * n];
            for (rest, factor) in tail.iter_mut().zip(below) {
                *rest -= value * factor;
            }
        }
    }
    inverse
}
