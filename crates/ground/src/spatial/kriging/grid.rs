//! Estimates for many places at once.
//!
//! The costly part is the variance, a quadratic form in the covariances of a place with all readings. Places are
//! taken in tiles, so that it becomes a product of matrices; and where the variogram ends (the spherical form), only
//! the readings within its range of the tile have a covariance, so a small part of the inverse serves.

use nalgebra::{DMatrix, DVector};

use super::field::{Estimate, Field, Nugget, Solved};
use crate::spatial::sites::{Place, SAME_PLACE_M};
use crate::spatial::variogram::model::{Shape, spherical};

/// Places of one product.
const TILE: usize = 256;
/// Rows of the triangular factor of one product.
const ROWS: usize = 64;
/// Tiles to a range.
const TILES_A_RANGE: f64 = 5.0;

impl Field {
    /// The estimates for places: for each property its value at every place, and the variance, which is the same for
    /// all properties where the variogram is.
    #[must_use]
    pub fn estimates(&self, solved: &[&Solved], places: &[Place]) -> Many {
        let mut many =
            Many { values: vec![vec![0.0; places.len()]; solved.len()], variance: vec![0.0; places.len()] };
        let ends = self.model.shape == Shape::Spherical;
        let inverse = if ends && places.len() > TILE { Some(self.inverse()) } else { None };
        let side = self.model.range_m / TILES_A_RANGE;
        for tile in tiles(places, if inverse.is_some() { side } else { f64::INFINITY }) {
            for part in tile.chunks(TILE) {
                match &inverse {
                    Some(inverse) => self.near_only(inverse, solved, places, part, &mut many),
                    None => self.all(solved, places, part, &mut many),
                }
            }
        }
        many
    }

    /// One property alone.
    #[must_use]
    pub fn estimate_all(&self, solved: &Solved, places: &[Place]) -> Vec<Estimate> {
        let many = self.estimates(&[solved], places);
        many.values[0]
            .iter()
            .zip(&many.variance)
            .map(|(value, variance)| Estimate { value: *value, variance: *variance })
            .collect()
    }

    /// The inverse of the covariance.
    pub(super) fn inverse(&self) -> DMatrix<f64> {
        self.whitener.tr_mul(&self.whitener)
    }

    fn all(&self, solved: &[&Solved], places: &[Place], part: &[usize], many: &mut Many) {
        let n = self.at.len();
        let every: Vec<usize> = (0..n).collect();
        let with = self.block(&every, places, part);
        let mut square = vec![0.0; part.len()];
        let mut reach = vec![0.0; part.len()];
        let mut from = 0;
        while from < n {
            let count = ROWS.min(n - from);
            let rows = self.whitener.view((from, 0), (count, from + count));
            let product = rows * with.rows(0, from + count);
            let ones = self.ones.rows(from, count);
            for (column, (square, reach)) in square.iter_mut().zip(&mut reach).enumerate() {
                let column = product.column(column);
                *square += column.norm_squared();
                *reach += column.dot(&ones);
            }
            from += count;
        }
        for (at, place) in part.iter().enumerate() {
            many.variance[*place] = self.left(square[at], reach[at]);
            for (values, solved) in many.values.iter_mut().zip(solved) {
                values[*place] = solved.mean + with.column(at).dot(&solved.pull);
            }
        }
    }

    fn near_only(
        &self,
        inverse: &DMatrix<f64>,
        solved: &[&Solved],
        places: &[Place],
        part: &[usize],
        many: &mut Many,
    ) {
        let near = self.within_range(places, part);
        let with = self.block(&near, places, part);
        let own = DMatrix::from_fn(near.len(), near.len(), |row, column| inverse[(near[row], near[column])]);
        let product = own * &with;
        // 1ᵀK⁻¹ for the near readings.
        let reach = DVector::from_iterator(
            near.len(),
            near.iter().map(|site| self.whitener.column(*site).dot(&self.ones)),
        );
        let pulls: Vec<DVector<f64>> = solved
            .iter()
            .map(|solved| DVector::from_iterator(near.len(), near.iter().map(|site| solved.pull[*site])))
            .collect();
        for (at, place) in part.iter().enumerate() {
            let column = with.column(at);
            many.variance[*place] = self.left(column.dot(&product.column(at)), column.dot(&reach));
            for ((values, solved), pull) in many.values.iter_mut().zip(solved).zip(&pulls) {
                values[*place] = solved.mean + column.dot(pull);
            }
        }
    }

    fn left(&self, square: f64, reach: f64) -> f64 {
        let short = 1.0 - reach;
        (self.prior_variance() - square + short * short / self.total).max(0.0)
    }

    /// Readings within the range of any of these places' box.
    fn within_range(&self, places: &[Place], part: &[usize]) -> Vec<usize> {
        let mut low = [f64::INFINITY; 2];
        let mut high = [f64::NEG_INFINITY; 2];
        for place in part {
            for axis in 0..2 {
                low[axis] = low[axis].min(places[*place][axis]);
                high[axis] = high[axis].max(places[*place][axis]);
            }
        }
        let beyond =
            |site: &Place, axis: usize| (low[axis] - site[axis]).max(site[axis] - high[axis]).max(0.0);
        let range = self.model.range_m;
        (0..self.at.len())
            .filter(|site| {
                let (east, north) = (beyond(&self.at[*site], 0), beyond(&self.at[*site], 1));
                east * east + north * north < range * range
            })
            .collect()
    }

    /// Covariances of some readings (rows) with some places (columns).
    fn block(&self, sites: &[usize], places: &[Place], part: &[usize]) -> DMatrix<f64> {
        let (east, north): (Vec<f64>, Vec<f64>) =
            sites.iter().map(|site| (self.at[*site][0], self.at[*site][1])).unzip();
        let mut with = DMatrix::zeros(sites.len(), part.len());
        let one_range = 1.0 / self.model.range_m;
        let sill = self.model.partial_sill;
        for (at, place) in part.iter().enumerate() {
            let [x, y] = places[*place];
            let mut column = with.column_mut(at);
            let column = column.as_mut_slice();
            let mut nearest = f64::INFINITY;
            for ((entry, east), north) in column.iter_mut().zip(&east).zip(&north) {
                let (dx, dy) = (east - x, north - y);
                *entry = dx * dx + dy * dy;
                nearest = nearest.min(*entry);
            }
            if self.model.shape == Shape::Spherical {
                for entry in column.iter_mut() {
                    *entry = sill * spherical(entry.sqrt() * one_range);
                }
            } else {
                for entry in column.iter_mut() {
                    *entry = sill * self.model.correlation(entry.sqrt());
                }
            }
            if nearest < SAME_PLACE_M * SAME_PLACE_M && self.nugget == Nugget::Variation {
                for ((entry, east), north) in column.iter_mut().zip(&east).zip(&north) {
                    let (dx, dy) = (east - x, north - y);
                    if dx * dx + dy * dy < SAME_PLACE_M * SAME_PLACE_M {
                        *entry += self.model.nugget;
                    }
                }
            }
        }
        with
    }
}

/// Estimates for many places.
#[derive(Debug, Clone, PartialEq)]
pub struct Many {
    /// For each property its values, in the order of the places.
    pub values: Vec<Vec<f64>>,
    /// Variance at each place.
    pub variance: Vec<f64>,
}

/// Places by squares of a side: those of one square lie together. All of them as one where the side has no end.
fn tiles(places: &[Place], side: f64) -> Vec<Vec<usize>> {
    if !side.is_finite() || side <= 0.0 {
        return vec![(0..places.len()).collect()];
    }
    let mut squares = std::collections::BTreeMap::<(i64, i64), Vec<usize>>::new();
    for (at, place) in places.iter().enumerate() {
        #[expect(clippy::cast_possible_truncation, reason = "a place on the ground in tiles of a range")]
        let square = ((place[1] / side).floor() as i64, (place[0] / side).floor() as i64);
        squares.entry(square).or_default().push(at);
    }
    squares.into_values().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::chance::Chance;
    use crate::spatial::variogram::model::Variogram;

    #[test]
    fn many_at_once_are_as_one_by_one() {
        let mut chance = Chance::new(5);
        let at: Vec<Place> = (0..130).map(|_| [900.0 * chance.uniform(), 700.0 * chance.uniform()]).collect();
        let values: Vec<f64> = at.iter().map(|place| 0.01 * place[0] + chance.normal()).collect();
        let mut places: Vec<Place> =
            (0..900).map(|cell| [f64::from(cell % 30) * 31.0, f64::from(cell / 30) * 25.0]).collect();
        places.push(at[17]);
        for shape in [Shape::Spherical, Shape::Exponential, Shape::Gaussian] {
            for nugget in [Nugget::Variation, Nugget::ReadingError] {
                let model =
                    Variogram { shape, nugget: 0.2, partial_sill: 0.8, range_m: 210.0, smoothness: 0.5 };
                let field = Field::new(&at, model, nugget).unwrap();
                let solved = field.solve(&values);
                for (place, many) in places.iter().zip(field.estimate_all(&solved, &places)) {
                    let one = field.estimate(&solved, *place);
                    assert!((one.value - many.value).abs() < 1e-9, "{shape:?} {one:?} {many:?}");
                    assert!((one.variance - many.variance).abs() < 1e-9, "{shape:?} {one:?} {many:?}");
                }
            }
        }
    }
}
