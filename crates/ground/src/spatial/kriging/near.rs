//! Kriging from the nearest readings alone.

use super::field::{Estimate, Field, Nugget};
use crate::spatial::sites::{Place, distance_m};
use crate::spatial::variogram::model::Variogram;

/// Which readings are nearest to a place, nearest first; of equally near ones the one given first.
#[must_use]
pub fn nearest(at: &[Place], place: Place, count: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..at.len()).collect();
    order.sort_by(|a, b| distance_m(at[*a], place).total_cmp(&distance_m(at[*b], place)));
    order.truncate(count);
    order
}

/// The field and values of the readings nearest to a place. `None` where their covariance is singular.
#[must_use]
pub fn near_field(
    at: &[Place],
    values: &[f64],
    model: Variogram,
    nugget: Nugget,
    place: Place,
    count: usize,
) -> Option<(Field, Vec<f64>)> {
    let near = nearest(at, place, count);
    let places: Vec<Place> = near.iter().map(|site| at[*site]).collect();
    let field = Field::new(&places, model, nugget)?;
    Some((field, near.iter().map(|site| values[*site]).collect()))
}

/// The estimate from the nearest readings.
#[must_use]
pub fn estimate_near(
    at: &[Place],
    values: &[f64],
    model: Variogram,
    nugget: Nugget,
    place: Place,
    count: usize,
) -> Option<Estimate> {
    let (field, values) = near_field(at, values, model, nugget, place, count)?;
    let solved = field.solve(&values);
    Some(field.estimate(&solved, place))
}
