//! How densely each layer packs: from settled volume to mass.
//!
//! This is the weak point of the jar test. A millimetre of settled sand holds nearly four times the
//! mass of a millimetre of settled clay, and how much exactly differs from soil to soil. The central
//! values are those of fresh reservoir deposits [LaraPemberton1965]; no published comparison of jar
//! and laboratory was found. A farm with both for one soil sharpens its own values: see
//! [`calibration`](super::calibration).
//!
//! Multiplying volumes by densities is a shift in log-ratio coordinates [Aitchison1986], so what is
//! known of the packing is one point and one covariance there.

use nalgebra::{Matrix2, Vector2};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::belief::ilr::{self, Covariance, Point};
use crate::kit::{Cite, Refusal};
use crate::texture::Composition;

pub use super::calibration::CalibrationPair;

/// One value for each layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ByLayer<T> {
    /// Of the sand, at the bottom.
    pub sand: T,
    /// Of the silt.
    pub silt: T,
    /// Of the clay.
    pub clay: T,
}

impl<T: Copy> ByLayer<T> {
    /// From sand, silt, clay.
    #[must_use]
    pub const fn new([sand, silt, clay]: [T; 3]) -> Self {
        Self { sand, silt, clay }
    }

    /// Sand, silt, clay.
    #[must_use]
    pub const fn array(&self) -> [T; 3] {
        [self.sand, self.silt, self.clay]
    }
}

/// Source of the packing densities.
pub const DENSITIES: Cite = Cite::new("LaraPemberton1965", "initial unit weights, always submerged");
/// Source of the shift in log-ratio coordinates.
pub const SHIFT: Cite = Cite::new("Aitchison1986", "perturbation");

/// Dry mass in a volume of fresh, always submerged deposit, kg/m³: 97, 70 and 26 lb/ft³
/// [LaraPemberton1965], from memory.
pub const PUBLISHED_KG_M3: ByLayer<f64> = ByLayer::new([1550.0, 1120.0, 416.0]);

/// Where published packing lies for nine deposits in ten, kg/m³. The ranges are judgement, drawn
/// around the published centres.
pub const RANGES_KG_M3: ByLayer<(f64, f64)> =
    ByLayer::new([(1400.0, 1700.0), (900.0, 1300.0), (250.0, 700.0)]);

/// How much two jars of one farm differ in packing, as a standard deviation in each log-ratio
/// coordinate. Judgement: about 4 points of sand in a loam.
pub(super) const BETWEEN_JARS: f64 = 0.15;

/// What is known about the packing of jar layers on a farm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Packing {
    /// Most likely dry mass in a volume of each settled layer. Only the ratios matter.
    pub densities_kg_m3: ByLayer<f64>,
    /// Covariance of the farm's shift in log-ratio coordinates, shared by all its jars.
    pub covariance: [[f64; 2]; 2],
    /// Standard deviation, in each log-ratio coordinate, between one jar and the next.
    pub between_jars: f64,
    /// Pairs of jar and laboratory result behind it; 0 for the published values.
    pub pairs: u32,
}

impl Default for Packing {
    fn default() -> Self {
        Self::published()
    }
}

impl Packing {
    /// The published central values with the spread of their ranges.
    #[must_use]
    pub fn published() -> Self {
        // A range that holds nine in ten spans 2 × 1.645 standard deviations of the logarithm.
        let variances = RANGES_KG_M3.array().map(|(low, high)| {
            let sd = libm::log(high / low) / (2.0 * 1.644_854);
            sd * sd
        });
        let basis = ilr_basis();
        let mut covariance = Matrix2::zeros();
        for (direction, variance) in basis.iter().zip(variances) {
            covariance += direction * direction.transpose() * variance;
        }
        Self {
            densities_kg_m3: PUBLISHED_KG_M3,
            covariance: rows(covariance),
            between_jars: BETWEEN_JARS,
            pairs: 0,
        }
    }

    /// The shift that this packing makes in log-ratio coordinates.
    #[must_use]
    pub fn shift(&self) -> Point {
        let [sand, silt, clay] = self.densities_kg_m3.array();
        ilr::to_ilr(Composition::from_parts(sand, silt, clay))
    }

    /// Densities whose shift is `shift`, with the sand, the best known, at its published value.
    #[must_use]
    pub(super) fn densities_at(shift: Point) -> ByLayer<f64> {
        let ratios = ilr::from_ilr(shift);
        let scale = PUBLISHED_KG_M3.sand / ratios.sand;
        ByLayer { sand: PUBLISHED_KG_M3.sand, silt: scale * ratios.silt, clay: scale * ratios.clay }
    }

    /// The shared covariance as a matrix.
    #[must_use]
    pub fn covariance(&self) -> Covariance {
        matrix(self.covariance)
    }

    /// Is this a farm's own packing?
    #[must_use]
    pub fn is_calibrated(&self) -> bool {
        self.pairs > 0
    }

    /// Refuses a packing that no jar can have: it may come from outside as JSON.
    pub(super) fn check(&self) -> Result<(), Refusal> {
        for (name, density) in ["sand", "silt", "clay"].iter().zip(self.densities_kg_m3.array()) {
            if !(10.0..=10_000.0).contains(&density) {
                return Err(Refusal::new(
                    format!("packing.densities_kg_m3.{name}"),
                    format!(
                        "the packing of the {name} layer must be 10 to 10000 kg/m³, but {density} was given"
                    ),
                )
                .given(density)
                .accepted("10 to 10000 kg/m³")
                .example(1120));
            }
        }
        let [[a, b], [c, d]] = self.covariance;
        let sound = [a, b, c, d].iter().all(|x| x.is_finite())
            && (b - c).abs() <= 1e-9 * (a.abs() + d.abs() + 1.0)
            && a >= 0.0
            && d >= 0.0
            && a * d - b * c >= -1e-12
            && a <= 100.0
            && d <= 100.0;
        if !sound {
            return Err(Refusal::new(
                "packing.covariance",
                "this is not a covariance: it must be symmetric and not negative",
            )
            .given(format!("[[{a}, {b}], [{c}, {d}]]"))
            .accepted("the covariance that jar-calibration prints")
            .example("[[0.008, 0.003], [0.003, 0.068]]"));
        }
        if !(0.0..=3.0).contains(&self.between_jars) {
            return Err(Refusal::new("packing.between_jars", "the scatter between jars must be 0 to 3")
                .given(self.between_jars)
                .accepted("0 to 3")
                .example(BETWEEN_JARS));
        }
        Ok(())
    }
}

/// The log-ratio coordinates of one unit of ln(sand), ln(silt) and ln(clay).
pub(super) fn ilr_basis() -> [Vector2<f64>; 3] {
    let e = std::f64::consts::E;
    [(e, 1.0, 1.0), (1.0, e, 1.0), (1.0, 1.0, e)]
        .map(|(sand, silt, clay)| ilr::to_ilr(Composition::from_parts(sand, silt, clay)))
}

/// A matrix as rows, for records.
pub(super) fn rows(matrix: Covariance) -> [[f64; 2]; 2] {
    [[matrix[(0, 0)], matrix[(0, 1)]], [matrix[(1, 0)], matrix[(1, 1)]]]
}

/// Rows as a matrix.
pub(super) fn matrix(rows: [[f64; 2]; 2]) -> Covariance {
    Matrix2::new(rows[0][0], rows[0][1], rows[1][0], rows[1][1])
}

/// Square root L of a covariance, L Lᵀ = C, also where C is flat in some direction.
pub(super) fn root(covariance: Covariance) -> Matrix2<f64> {
    let a = covariance[(0, 0)].max(0.0).sqrt();
    let b = if a > 0.0 { covariance[(1, 0)] / a } else { 0.0 };
    let c = (covariance[(1, 1)] - b * b).max(0.0).sqrt();
    Matrix2::new(a, 0.0, b, c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packing_is_a_shift() {
        // Computed outside this program: relative densities 1.5 : 1.2 : 0.7 shift by (0.15778632, 0.53118677).
        let packing =
            Packing { densities_kg_m3: ByLayer::new([1500.0, 1200.0, 700.0]), ..Packing::published() };
        assert!((packing.shift() - Point::new(0.157_786_32, 0.531_186_77)).norm() < 1e-8);
        let back = Packing::densities_at(packing.shift()).array();
        assert!((back[1] / back[0] - 0.8).abs() < 1e-12 && (back[2] / back[0] - 0.7 / 1.5).abs() < 1e-12);
    }

    #[test]
    fn published_ranges_hold_nine_in_ten() {
        // The spread of ln(sand) - ln(clay) from the covariance must be that of the two ranges.
        let packing = Packing::published();
        let basis = ilr_basis();
        // ln(sand / clay) is the contrast (1, 0, -1), whose coordinates are basis[0] - basis[2].
        let contrast = basis[0] - basis[2];
        let variance = (contrast.transpose() * packing.covariance() * contrast)[(0, 0)];
        let [sand, _, clay] = RANGES_KG_M3.array().map(|(low, high)| libm::log(high / low) / 3.289_707);
        assert!((variance - sand * sand - clay * clay).abs() < 1e-6);
        assert!(packing.check().is_ok());
    }

    #[test]
    fn a_covariance_that_is_none_is_refused() {
        let packing = Packing { covariance: [[1.0, 2.0], [2.0, 1.0]], ..Packing::published() };
        assert_eq!(packing.check().unwrap_err().field, "packing.covariance");
    }
}
