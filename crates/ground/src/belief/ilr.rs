//! Isometric log-ratio coordinates of sand, silt and clay.
//!
//! # Method
//! Egozcue, Pawlowsky-Glahn, Mateu-Figueras and Barceló-Vidal 2003 [Egozcue2003], with the basis
//! z1 = ln(sand / silt) / √2 and z2 = √(2/3) · ln(√(sand · silt) / clay).

use nalgebra::{Matrix2, Vector2};

use crate::texture::Composition;

const SQRT_2: f64 = std::f64::consts::SQRT_2;
/// √(2/3).
const SQRT_2_3: f64 = 0.816_496_580_927_726;
const SQRT_6: f64 = 2.449_489_742_783_178;

/// A point in ilr coordinates.
pub type Point = Vector2<f64>;
/// A covariance in ilr coordinates.
pub type Covariance = Matrix2<f64>;

/// Share, in percent, that stands in for a part found to be zero: 0.65 of the 2 % detection limit
/// of the hydrometer [MartinFernandez2003].
pub const ZERO_STANDS_FOR_PERCENT: f64 = 1.3;

/// Coordinates of a composition. Zeros are replaced first, the other parts giving way in
/// proportion (multiplicative replacement), so the result is always finite.
#[must_use]
pub fn to_ilr(soil: Composition) -> Point {
    let soil = without_zeros(soil, ZERO_STANDS_FOR_PERCENT);
    let (sand, silt, clay) = (libm::log(soil.sand), libm::log(soil.silt), libm::log(soil.clay));
    Point::new((sand - silt) / SQRT_2, SQRT_2_3 * ((sand + silt) / 2.0 - clay))
}

/// The composition at a point.
#[must_use]
pub fn from_ilr(point: Point) -> Composition {
    let (z1, z2) = (point.x, point.y);
    let logs = [z1 / SQRT_2 + z2 / SQRT_6, -z1 / SQRT_2 + z2 / SQRT_6, -2.0 * z2 / SQRT_6];
    let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let [sand, silt, clay] = logs.map(|log| libm::exp(log - top));
    Composition::from_parts(sand, silt, clay)
}

/// Multiplicative replacement of zeros [MartinFernandez2003]: a part at zero becomes `stand_in`
/// percent, and the others shrink in proportion.
#[must_use]
pub fn without_zeros(soil: Composition, stand_in: f64) -> Composition {
    let parts = [soil.sand, soil.silt, soil.clay];
    let zeros = parts.iter().filter(|part| **part <= 0.0).count();
    if zeros == 0 {
        return soil;
    }
    #[expect(clippy::cast_precision_loss, reason = "at most three parts")]
    let shrink = 1.0 - zeros as f64 * stand_in / 100.0;
    let [sand, silt, clay] = parts.map(|part| if part <= 0.0 { stand_in } else { part * shrink });
    Composition { sand, silt, clay }
}
