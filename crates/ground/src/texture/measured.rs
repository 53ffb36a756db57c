//! A measured sand, silt and clay with its error in percentage points, carried into ilr coordinates.

use nalgebra::Matrix2;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Class, Composition};
use crate::belief::Account;
use crate::belief::ilr::{self, Covariance, Point, ZERO_STANDS_FOR_PERCENT};

/// Error of a composition as a covariance in percentage points. Whatever is wrongly added to one
/// part is missing from another, so the three parts' errors always add to nothing.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct PercentError {
    sand_sand: f64,
    sand_clay: f64,
    clay_clay: f64,
}

/// One standard deviation of each part's error, in percentage points.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StandardError {
    /// Of sand.
    pub sand: f64,
    /// Of silt.
    pub silt: f64,
    /// Of clay.
    pub clay: f64,
}

/// Odds of one class.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(rename = "ClassOddsPercent")]
pub struct ClassOdds {
    /// The class.
    pub class: Class,
    /// Its odds in percent.
    pub odds_percent: f64,
}

impl PercentError {
    /// No error yet.
    #[must_use]
    pub fn none() -> Self {
        Self::default()
    }

    /// Adds an independent cause of error that moves sand and clay by these many points at one
    /// standard deviation; silt takes up the rest.
    #[must_use]
    pub fn and(mut self, sand: f64, clay: f64) -> Self {
        self.sand_sand += sand * sand;
        self.sand_clay += sand * clay;
        self.clay_clay += clay * clay;
        self
    }

    /// Adds mass mistaken between sand and silt.
    #[must_use]
    pub fn and_sand_for_silt(self, points: f64) -> Self {
        self.and(points, 0.0)
    }

    /// Adds mass mistaken between silt and clay.
    #[must_use]
    pub fn and_silt_for_clay(self, points: f64) -> Self {
        self.and(0.0, points)
    }

    /// Adds mass mistaken between sand and clay.
    #[must_use]
    pub fn and_sand_for_clay(self, points: f64) -> Self {
        self.and(points, -points)
    }

    /// Standard deviation of each part.
    #[must_use]
    pub fn standard(&self) -> StandardError {
        let silt = self.sand_sand + 2.0 * self.sand_clay + self.clay_clay;
        StandardError {
            sand: self.sand_sand.sqrt(),
            // A difference of two nearly equal variances may come out a hair below nothing.
            silt: silt.max(0.0).sqrt(),
            clay: self.clay_clay.sqrt(),
        }
    }

    /// Sand and clay of a scattered composition that stands `u` and `v` standard deviations out in two
    /// uncorrelated directions.
    fn offset(&self, u: f64, v: f64) -> (f64, f64) {
        let sand_sd = self.sand_sand.max(1e-12).sqrt();
        let slope = self.sand_clay / sand_sd;
        let own = (self.clay_clay - slope * slope).max(0.0).sqrt();
        (sand_sd * u, slope * u + own * v)
    }

    /// Odds of each class when compositions scatter about `soil` by this error, likeliest first, those
    /// below a tenth of a percent left out. A regular grid out to 3.5 standard deviations, parts that
    /// fall below nothing counted as nothing.
    #[must_use]
    pub fn class_odds(&self, soil: Composition) -> Vec<ClassOdds> {
        const HALF: i32 = 35;
        let steps = || (-HALF..=HALF).map(|step| f64::from(step) / 10.0);
        let mut odds = [0.0; 12];
        for u in steps() {
            for v in steps() {
                let (sand, clay) = self.offset(u, v);
                let scattered = Composition::from_parts(
                    (soil.sand + sand).max(0.0),
                    (soil.silt - sand - clay).max(0.0),
                    (soil.clay + clay).max(0.0),
                );
                odds[Class::of(scattered) as usize] += libm::exp(-0.5 * (u * u + v * v));
            }
        }
        let total: f64 = odds.iter().sum();
        let mut odds: Vec<ClassOdds> = Class::ALL
            .into_iter()
            .map(|class| ClassOdds { class, odds_percent: 100.0 * odds[class as usize] / total })
            .filter(|odds| odds.odds_percent >= 0.1)
            .collect();
        odds.sort_by(|a, b| b.odds_percent.total_cmp(&a.odds_percent));
        odds
    }

    /// Mean and covariance in ilr coordinates of compositions scattered about `soil` by this error.
    ///
    /// # Method
    /// Five-point Gauss-Hermite quadrature in each of two directions. Far from the edges of the
    /// triangle it equals the first-order (delta) result; near them it stays finite, because a part
    /// cannot fall below what stands for a zero: 0.65 of the detection limit [MartinFernandez2003],
    /// here two standard deviations of that part and at most the hydrometer's 2 points.
    #[must_use]
    pub fn in_ilr(&self, soil: Composition) -> (Point, Covariance) {
        let standard = self.standard();
        let floor = |sd: f64| (1.3 * sd).clamp(0.05, ZERO_STANDS_FOR_PERCENT);
        let floors = [floor(standard.sand), floor(standard.silt), floor(standard.clay)];

        let mut points = [(0.0, Point::zeros()); 25];
        for (i, (u, weight_u)) in NODES.into_iter().enumerate() {
            for (j, (v, weight_v)) in NODES.into_iter().enumerate() {
                let (sand, clay) = self.offset(u, v);
                let scattered = Composition::from_parts(
                    (soil.sand + sand).max(floors[0]),
                    (soil.silt - sand - clay).max(floors[1]),
                    (soil.clay + clay).max(floors[2]),
                );
                points[5 * i + j] = (weight_u * weight_v, ilr::to_ilr(scattered));
            }
        }
        let mean = points.iter().fold(Point::zeros(), |sum, (weight, point)| sum + *weight * point);
        let covariance = points.iter().fold(Matrix2::zeros(), |sum, (weight, point)| {
            let off = point - mean;
            sum + *weight * off * off.transpose()
        });
        (mean, covariance)
    }

    /// What a reading of `soil` with this error says, for belief.
    #[must_use]
    pub fn account(&self, soil: Composition) -> Account {
        let (centre, covariance) = self.in_ilr(soil);
        Account::Measured {
            centre: centre.into(),
            covariance: [[covariance[(0, 0)], covariance[(0, 1)]], [covariance[(0, 1)], covariance[(1, 1)]]],
            shared: None,
        }
    }
}

/// Nodes and weights of the five-point Gauss-Hermite rule for a standard normal: 0 and
/// ±√(5 ∓ √10), with weights 8/15 and (7 ± 2√10)/60.
const NODES: [(f64, f64); 5] = [
    (-2.856_970_013_872_805_8, 0.011_257_411_327_720_69),
    (-1.355_626_179_974_266, 0.222_075_922_005_612_64),
    (0.0, 8.0 / 15.0),
    (1.355_626_179_974_266, 0.222_075_922_005_612_64),
    (2.856_970_013_872_805_8, 0.011_257_411_327_720_69),
];

#[cfg(test)]
mod tests {
    use super::*;

    /// First-order covariance: J S Jᵀ with J = V diag(1/c), written out for the house's basis.
    fn delta(soil: Composition, error: &PercentError) -> Matrix2<f64> {
        let v = nalgebra::Matrix2x3::new(
            std::f64::consts::FRAC_1_SQRT_2,
            -std::f64::consts::FRAC_1_SQRT_2,
            0.0,
            1.0 / 6.0_f64.sqrt(),
            1.0 / 6.0_f64.sqrt(),
            -2.0 / 6.0_f64.sqrt(),
        );
        let (ss, sc, cc) = (error.sand_sand, error.sand_clay, error.clay_clay);
        let s = nalgebra::Matrix3::new(
            ss,
            -ss - sc,
            sc,
            -ss - sc,
            ss + 2.0 * sc + cc,
            -sc - cc,
            sc,
            -sc - cc,
            cc,
        );
        let c = nalgebra::Vector3::new(1.0 / soil.sand, 1.0 / soil.silt, 1.0 / soil.clay);
        let j = v * nalgebra::Matrix3::from_diagonal(&c);
        j * s * j.transpose()
    }

    /// [Vos2016], abstract: uncertainty 2.3, 3.2 and 1.7 points, so the covariance of sand
    /// and clay is (3.2² - 2.3² - 1.7²)/2; in ilr at 40/40/20 computed outside this program.
    #[test]
    fn the_delta_covariance_of_published_errors() {
        let error = PercentError { sand_sand: 2.3 * 2.3, sand_clay: 1.03, clay_clay: 1.7 * 1.7 };
        assert!((error.standard().silt - 3.2).abs() < 1e-12);
        let soil = Composition { sand: 40.0, silt: 40.0, clay: 20.0 };
        let first_order = delta(soil, &error);
        let (_, covariance) = error.in_ilr(soil);
        for (at, expected) in [((0, 0), 0.008_803_13), ((0, 1), -0.004_465_44), ((1, 1), 0.007_526_04)] {
            assert!((first_order[at] - expected).abs() < 5e-9, "{first_order}");
            assert!((covariance[at] - expected).abs() < 0.03 * expected.abs(), "{covariance}");
        }
    }

    #[test]
    fn small_errors_give_the_first_order_result() {
        let soil = Composition { sand: 55.0, silt: 30.0, clay: 15.0 };
        let error = PercentError::none().and_sand_for_silt(0.2).and_silt_for_clay(0.3).and_sand_for_clay(0.1);
        let (centre, covariance) = error.in_ilr(soil);
        let first_order = delta(soil, &error);
        assert!((centre - ilr::to_ilr(soil)).norm() < 1e-3);
        assert!((covariance - first_order).norm() < 2e-3 * first_order.norm());
    }

    /// Sand is 52 give or take 2 with silt taking up the rest, so loam (sand 52 or less) has half of the
    /// odds and sandy loam the other half; the line belongs to loam, which gives it the odd step.
    #[test]
    fn odds_are_halved_by_a_line_through_the_middle() {
        let soil = Composition { sand: 52.0, silt: 35.0, clay: 13.0 };
        let odds = PercentError::none().and_sand_for_silt(2.0).class_odds(soil);
        assert_eq!(odds.iter().map(|odds| odds.class).collect::<Vec<_>>(), [Class::Loam, Class::SandyLoam]);
        assert!((odds[0].odds_percent - 50.0).abs() < 2.1, "{odds:?}");
    }

    #[test]
    fn an_edge_stays_finite_and_does_not_reach_far_inside() {
        let soil = Composition { sand: 99.0, silt: 1.0, clay: 0.0 };
        let error = PercentError::none().and_sand_for_silt(2.0).and_silt_for_clay(2.0);
        let (centre, covariance) = error.in_ilr(soil);
        let found = ilr::from_ilr(centre);
        assert!(found.sand > 93.0 && found.clay > 0.5 && found.clay < 4.0, "{found:?}");
        assert!(covariance.determinant() > 0.0 && covariance.trace() < 1.5, "{covariance}");
    }
}
