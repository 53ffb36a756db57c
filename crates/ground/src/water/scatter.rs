//! How far real soils stray from the soil-water equations.
//!
//! # Method
//! The equations of Saxton and Rawls 2006 [SaxtonRawls2006] are regressions over some two thousand
//! samples, and one plot is one sample: it may lie a standard error off, whatever is known of its
//! texture. Each draw of an ensemble therefore strays once, so that findings which rest on the
//! equations are not firmer than the equations are.
//!
//! The standard errors of water at 1500 and at 33 kPa are those of the paper's Table 1, recalled and
//! not read again (0.02 and 0.05, with R² 0.86 and 0.63). That the two stray together, and how far
//! conductivity strays, are our judgement: the paper gives none, and "a factor of a few" is what users
//! of such equations find.

use super::equations::SoilWater;
use crate::kit::Provenance;
use crate::kit::chance::{Chance, Fingerprint};

/// Standard error of water at 1500 kPa, m³/m³.
pub const WILTING_POINT_ERROR: f64 = 0.02;
/// Standard error of water at 33 kPa, m³/m³.
pub const FIELD_CAPACITY_ERROR: f64 = 0.05;
/// Correlation of the two: a soil that holds more than expected does so at both tensions.
pub const ERRORS_TOGETHER: f64 = 0.7;
/// Standard deviation of ln(conductivity): two soils in three within a factor of two.
pub const LN_CONDUCTIVITY_ERROR: f64 = 0.7;
/// The weakest of what these numbers rest on.
pub const PROVENANCE: Provenance = Provenance::Judgement;

/// Whether an ensemble strays from the equations.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scatter {
    /// As real plots do: for advice.
    OfRealSoils,
    /// Not at all: the equations themselves, for comparing with other implementations.
    None,
}

/// The stream of strays for an ensemble.
pub(super) struct Strays(Option<Chance>);

impl Strays {
    pub(super) fn new(scatter: Scatter, seed: u64) -> Self {
        Self((scatter == Scatter::OfRealSoils).then(|| {
            let mut print = Fingerprint::new();
            print.bytes(b"soil water strays");
            print.whole(seed);
            Chance::new(print.finish())
        }))
    }

    /// One soil strayed. Its waters stay in order: none below zero, the wilting point not above field
    /// capacity, field capacity not above saturation.
    pub(super) fn strayed(&mut self, water: SoilWater) -> SoilWater {
        let Some(chance) = &mut self.0 else { return water };
        // Drawn for every soil, with values or without, so that one draw's gap does not move the others.
        let (first, second, third) = (chance.normal(), chance.normal(), chance.normal());
        let alone = (1.0 - ERRORS_TOGETHER * ERRORS_TOGETHER).sqrt();
        let mut strayed = water;
        if let (Some(wilting), Some(capacity), Some(available)) =
            (water.wilting_point, water.field_capacity, water.available)
            && capacity > wilting
        {
            let ceiling = water.saturation.unwrap_or(1.0);
            let new_capacity = (capacity + FIELD_CAPACITY_ERROR * first).clamp(0.0, ceiling);
            let off = WILTING_POINT_ERROR * (ERRORS_TOGETHER * first + alone * second);
            let new_wilting = (wilting + off).clamp(0.0, new_capacity);
            strayed.field_capacity = Some(new_capacity);
            strayed.wilting_point = Some(new_wilting);
            // Stones take the same share of the volume as before.
            strayed.available = Some(available * (new_capacity - new_wilting) / (capacity - wilting));
        }
        strayed.saturated_conductivity =
            water.saturated_conductivity.map(|rate| rate * libm::exp(LN_CONDUCTIVITY_ERROR * third));
        strayed
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::water::equations::{SoilWaterInput, soil_water};

    fn loam() -> SoilWater {
        soil_water(&SoilWaterInput {
            sand_percent: 40.0,
            clay_percent: 20.0,
            organic_matter_percent: 2.5,
            gravel_mass_percent: 30.0,
            density_factor: 1.0,
            ec_ds_m: 0.0,
        })
    }

    #[test]
    fn a_loam_strays_by_the_standard_errors() {
        let mut strays = Strays::new(Scatter::OfRealSoils, 7);
        let many: Vec<SoilWater> = (0..40_000).map(|_| strays.strayed(loam())).collect();
        let moments = |value: &dyn Fn(&SoilWater) -> f64| {
            let n = 40_000.0;
            let mean = many.iter().map(value).sum::<f64>() / n;
            let variance =
                many.iter().map(|water| (value(water) - mean) * (value(water) - mean)).sum::<f64>() / n;
            (mean, variance.sqrt())
        };
        let (mean, sd) = moments(&|water| water.field_capacity.unwrap());
        assert!((mean - 0.2796).abs() < 0.001 && (sd - 0.05).abs() < 0.001, "{mean} {sd}");
        let (mean, sd) = moments(&|water| water.wilting_point.unwrap());
        assert!((mean - 0.1370).abs() < 0.0005 && (sd - 0.02).abs() < 0.0005, "{mean} {sd}");
        let (mean, sd) = moments(&|water| libm::log(water.saturated_conductivity.unwrap()));
        let centre = libm::log(loam().saturated_conductivity.unwrap());
        assert!((mean - centre).abs() < 0.015 && (sd - 0.7).abs() < 0.015, "{mean} {sd}");
    }

    #[test]
    fn stones_keep_their_share() {
        let mut strays = Strays::new(Scatter::OfRealSoils, 7);
        let plain = loam();
        let share = |water: &SoilWater| {
            water.available.unwrap() / (water.field_capacity.unwrap() - water.wilting_point.unwrap())
        };
        for _ in 0..1000 {
            let water = strays.strayed(plain);
            assert!(water.wilting_point <= water.field_capacity && water.field_capacity <= water.saturation);
            if water.field_capacity > water.wilting_point {
                assert!((share(&water) - share(&plain)).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn none_is_none() {
        assert_eq!(Strays::new(Scatter::None, 7).strayed(loam()), loam());
    }
}
