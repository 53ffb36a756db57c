//! Recovering a known packing from simulated pairs.

use super::assess;
use super::calibration::{CalibrationPair, DRAWS};
use super::packing::{self, Packing};
use super::reading::{Boundary, Clarity, Dispersant, JarHeight, JarReading, JarShape, Marks};
use crate::belief::ilr::{self, Point};
use crate::kit::Bounded;
use crate::kit::chance::Chance;

fn jar(sand: f64, silt: f64, clay: f64) -> JarReading {
    let at = |mm| Boundary::At { mm: JarHeight::literal(mm) };
    JarReading {
        marks: Marks::Thicknesses { sand: at(sand), silt: at(silt), clay: at(clay) },
        ruler_step_mm: None,
        shape: JarShape::Straight,
        water_height_mm: None,
        water_temperature_c: None,
        dispersant: Dispersant::Hexametaphosphate,
        water_after_a_day: Clarity::Cloudy,
        floating_organic_mm: None,
    }
}

/// Pairs whose laboratory result is what the jar would say with the packing shifted by `truth`.
fn simulated(truth: Point, scatter: f64, n: usize) -> Vec<CalibrationPair> {
    let layers =
        [(34.0, 24.0, 14.0), (20.0, 25.0, 25.0), (45.0, 20.0, 12.0), (25.0, 35.0, 15.0), (30.0, 22.0, 20.0)];
    let mut chance = Chance::new(11);
    (0..n)
        .map(|i| {
            let (sand, silt, clay) = layers[i % layers.len()];
            let jar = jar(sand + i as f64 / 5.0, silt, clay);
            let packing = Packing {
                densities_kg_m3: Packing::densities_at(truth),
                covariance: [[0.0; 2]; 2],
                between_jars: 0.0,
                pairs: 0,
            };
            let (centre, _) = assess::mean_and_error(&jar, &packing, DRAWS).unwrap();
            let noise = Point::new(chance.normal(), chance.normal()) * scatter;
            CalibrationPair {
                jar,
                lab_centre: (centre + noise).into(),
                lab_covariance: [[0.002, 0.0], [0.0, 0.004]],
            }
        })
        .collect()
}

#[test]
fn a_known_shift_is_recovered() {
    let truth = Packing::published().shift() + Point::new(0.08, -0.3);
    let found = Packing::calibrate(&simulated(truth, 0.05, 40)).unwrap();
    assert!((found.shift() - truth).norm() < 0.1, "{} {truth}", found.shift());
    let sd = found.covariance().diagonal().map(f64::sqrt);
    assert!(sd.x < 0.08 && sd.y < 0.15, "{sd}");
}

#[test]
fn every_pair_tightens_the_packing_and_every_other_jar() {
    let truth = Packing::published().shift() + Point::new(0.02, -0.1);
    let other = jar(28.0, 30.0, 18.0);
    let width = |packing: &Packing| {
        let finding = assess::assess(&other, packing).unwrap();
        (packing::matrix(finding.ilr_covariance) + packing::matrix(finding.shared_ilr_covariance))
            .determinant()
    };
    let published = Packing::published();
    let (mut last, mut last_width) = (published.covariance().determinant(), width(&published));
    for n in [1, 3, 10] {
        let found = Packing::calibrate(&simulated(truth, 0.05, n)).unwrap();
        let now = found.covariance().determinant();
        assert!(now < last, "{n} pairs: {now} {last}");
        let now_width = width(&found);
        assert!(now_width < last_width, "{n} pairs: {now_width} {last_width}");
        (last, last_width) = (now, now_width);
        assert_eq!(found.pairs as usize, n);
    }
}

#[test]
fn pairs_that_disagree_show_as_scatter() {
    let truth = Packing::published().shift();
    let calm = Packing::calibrate(&simulated(truth, 0.02, 12)).unwrap();
    let wild = Packing::calibrate(&simulated(truth, 0.8, 12)).unwrap();
    assert!(wild.between_jars > 1.5 * calm.between_jars, "{} {}", wild.between_jars, calm.between_jars);
}

#[test]
fn no_pairs_leave_the_published_packing() {
    assert_eq!(Packing::calibrate(&[]).unwrap(), Packing::published());
    assert!(ilr::from_ilr(Packing::published().shift()).sand > 50.0);
}
