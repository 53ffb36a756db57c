//! A surface from few readings: the range is supposed, the mean and the variance are not, and what hangs on the
//! supposed range is shown by halving and doubling it.

use crate::kit::quantiles;

use super::kriging::{Field, Nugget, Solved};
use super::sites::Place;
use super::variogram::model::{Shape, Variogram};

/// Share of the prior's deviation beyond which a place carries no information of its own.
pub const NO_INFORMATION_SHARE: f64 = 0.9;

/// A surface under a supposed range and nugget share.
pub struct PriorSurface {
    field: Field,
    solved: Solved,
    /// Variance found from the readings about the mean, nugget and all.
    pub variance: f64,
    /// Degrees of freedom: one fewer than the readings.
    pub freedom: u32,
    nugget_share: f64,
}

/// What is believed of a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Believed {
    /// The estimate.
    pub value: f64,
    /// Its standard error, as what lies beneath the readings' error.
    pub standard_error: f64,
    /// Standard error of a new reading there.
    pub new_reading_error: f64,
}

impl PriorSurface {
    /// Takes in readings under an exponential correlation of this range. `None` for fewer than three readings.
    #[must_use]
    pub fn new(at: &[Place], values: &[f64], range_m: f64, nugget_share: f64) -> Option<Self> {
        let model = Variogram {
            shape: Shape::Exponential,
            nugget: nugget_share,
            partial_sill: 1.0 - nugget_share,
            range_m,
            smoothness: 0.5,
        };
        let freedom = u32::try_from(at.len().checked_sub(1)?).ok().filter(|freedom| *freedom >= 2)?;
        let field = Field::new(at, model, Nugget::ReadingError)?;
        let solved = field.solve(values);
        let variance = solved.square / f64::from(freedom);
        Some(Self { field, solved, variance, freedom, nugget_share })
    }

    /// The mean by generalised least squares, and its standard error.
    #[must_use]
    pub fn mean(&self) -> (f64, f64) {
        (self.solved.mean, (self.variance * self.field.mean_variance()).sqrt())
    }

    /// What is believed of places.
    #[must_use]
    pub fn at(&self, places: &[Place]) -> Vec<Believed> {
        self.field
            .estimate_all(&self.solved, places)
            .into_iter()
            .map(|estimate| Believed {
                value: estimate.value,
                standard_error: (self.variance * estimate.variance).sqrt(),
                new_reading_error: (self.variance * (estimate.variance + self.nugget_share)).sqrt(),
            })
            .collect()
    }

    /// Deviation of what lies beneath the readings' error before any reading.
    #[must_use]
    pub fn prior_deviation(&self) -> f64 {
        (self.variance * (1.0 - self.nugget_share)).sqrt()
    }

    /// Do the readings tell anything of a place beyond the mean?
    #[must_use]
    pub fn tells(&self, believed: &Believed) -> bool {
        believed.standard_error <= NO_INFORMATION_SHARE * self.prior_deviation()
    }

    /// Half the width of a central interval, in standard errors.
    #[must_use]
    pub fn reach(&self, share: f64) -> f64 {
        quantiles::student_within(share, f64::from(self.freedom.max(1)))
    }
}
