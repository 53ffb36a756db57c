//! The mean of a block: a bed or a cell rather than a point.

use nalgebra::DVector;

use super::field::{Estimate, Field, Solved};
use crate::spatial::sites::{Place, distance_m};

/// Points to a side that stand for a block.
pub const POINTS_A_SIDE: u32 = 4;

/// The points that stand for a block about a centre: the middles of 4 × 4 equal parts.
#[must_use]
pub fn block_points(centre: Place, east_m: f64, north_m: f64) -> Vec<Place> {
    let step = |index: u32| (f64::from(index) + 0.5) / f64::from(POINTS_A_SIDE) - 0.5;
    (0..POINTS_A_SIDE)
        .flat_map(|row| {
            (0..POINTS_A_SIDE)
                .map(move |column| [centre[0] + step(column) * east_m, centre[1] + step(row) * north_m])
        })
        .collect()
}

impl Field {
    /// The estimate for the mean over points that stand for a block. The nugget does not count within the block: over
    /// any area it averages out.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "points by the dozen")]
    pub fn estimate_block(&self, solved: &Solved, points: &[Place]) -> Estimate {
        let count = points.len() as f64;
        let structured = |apart: f64| self.model.partial_sill * self.model.correlation(apart);
        let with = DVector::from_iterator(
            self.at.len(),
            self.at.iter().map(|site| {
                points.iter().map(|point| structured(distance_m(*site, *point))).sum::<f64>() / count
            }),
        );
        let within: f64 = points
            .iter()
            .flat_map(|one| points.iter().map(move |other| structured(distance_m(*one, *other))))
            .sum();
        self.with_covariances(solved, &with, within / (count * count))
    }
}
