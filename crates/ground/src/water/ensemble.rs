//! Soil water over an ensemble: what each possible plot holds and passes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::equations::{SoilWater, SoilWaterInput, soil_water};
use super::scatter::{Scatter, Strays};
use crate::belief::ensemble::{Draw, Ensemble};
use crate::kit::Spread;

/// Soil water of every draw. An array holds NaN where the equations give no value; spreads and odds
/// leave those draws out, and [`WaterEnsemble::share_without_conductivity`] tells how many there are.
#[derive(Debug, Clone, PartialEq)]
pub struct WaterEnsemble {
    /// Weights of the draws.
    pub weights: Vec<f64>,
    /// Water at 1500 kPa, volume fraction of the soil without stones.
    pub wilting_point: Vec<f64>,
    /// Water at 33 kPa, volume fraction of the soil without stones.
    pub field_capacity: Vec<f64>,
    /// All pores, volume fraction of the soil without stones.
    pub saturation: Vec<f64>,
    /// Available water, volume fraction of the whole soil.
    pub available: Vec<f64>,
    /// Saturated conductivity of the whole soil, mm/h.
    pub saturated_conductivity_mm_h: Vec<f64>,
    /// Dry density of the whole soil, g/cm³.
    pub bulk_density_g_cm3: Vec<f64>,
    /// Dry density of the soil without stones, g/cm³.
    pub matric_density_g_cm3: Vec<f64>,
    /// Tension at air entry, kPa.
    pub air_entry_kpa: Vec<f64>,
    /// Share of the weight outside the range of the data behind the equations.
    pub share_outside_range: f64,
    /// Share of the weight without available water.
    pub share_without_available: f64,
    /// Share of the weight without a conductivity.
    pub share_without_conductivity: f64,
}

/// The equations' input of one draw.
#[must_use]
pub fn input_of(draw: &Draw) -> SoilWaterInput {
    SoilWaterInput {
        sand_percent: draw.soil.sand,
        clay_percent: draw.soil.clay,
        organic_matter_percent: draw.organic_matter_percent,
        gravel_mass_percent: draw.gravel_mass_percent,
        density_factor: draw.density_factor,
        ec_ds_m: draw.ec_ds_m,
    }
}

impl WaterEnsemble {
    /// Works the equations for each draw, and lets each stray from them as real soils do.
    #[must_use]
    pub fn of(ensemble: &Ensemble, scatter: Scatter) -> Self {
        let mut strays = Strays::new(scatter, ensemble.seed);
        let waters: Vec<SoilWater> =
            ensemble.draws.iter().map(|draw| strays.strayed(soil_water(&input_of(draw)))).collect();
        let all = |value: fn(&SoilWater) -> Option<f64>| -> Vec<f64> {
            waters.iter().map(|water| value(water).unwrap_or(f64::NAN)).collect()
        };
        let share = |test: fn(&SoilWater) -> bool| -> f64 {
            let each = waters.iter().zip(&ensemble.weights);
            each.filter(|(water, _)| test(water)).map(|(_, weight)| weight).sum::<f64>().clamp(0.0, 1.0)
        };
        Self {
            weights: ensemble.weights.clone(),
            wilting_point: all(|water| water.wilting_point),
            field_capacity: all(|water| water.field_capacity),
            saturation: all(|water| water.saturation),
            available: all(|water| water.available),
            saturated_conductivity_mm_h: all(|water| water.saturated_conductivity),
            bulk_density_g_cm3: all(|water| water.bulk_density),
            matric_density_g_cm3: all(|water| water.matric_density),
            air_entry_kpa: all(|water| water.air_entry),
            share_outside_range: share(|water| water.flags.outside_range() || water.flags.impossible),
            share_without_available: share(|water| water.available.is_none()),
            share_without_conductivity: share(|water| water.saturated_conductivity.is_none()),
        }
    }

    /// Available water over a root depth, mm, of each draw.
    #[must_use]
    pub fn available_mm(&self, root_depth_mm: f64) -> Vec<f64> {
        self.available.iter().map(|share| share * root_depth_mm).collect()
    }

    /// Spreads for a page, with available water also for the given root depth.
    #[must_use]
    pub fn summary(&self, root_depth_mm: f64) -> WaterSummary {
        let spread = |values: &[f64]| Spread::of(values, &self.weights);
        let available = spread(&self.available);
        WaterSummary {
            wilting_point_m3_m3: spread(&self.wilting_point),
            field_capacity_m3_m3: spread(&self.field_capacity),
            saturation_m3_m3: spread(&self.saturation),
            available_water_m3_m3: available,
            available_water_in_per_ft: available.map(|spread| scaled(spread, INCHES_PER_FOOT)),
            root_depth_mm,
            available_water_mm: available.map(|spread| scaled(spread, root_depth_mm)),
            saturated_conductivity_mm_h: spread(&self.saturated_conductivity_mm_h),
            bulk_density_g_cm3: spread(&self.bulk_density_g_cm3),
            share_outside_range: self.share_outside_range,
            share_without_available: self.share_without_available,
            share_without_conductivity: self.share_without_conductivity,
        }
    }
}

/// Inches in a foot: a volume fraction times this is inches of water per foot of soil.
pub const INCHES_PER_FOOT: f64 = 12.0;

fn scaled(spread: Spread, by: f64) -> Spread {
    Spread { low: spread.low * by, median: spread.median * by, high: spread.high * by }
}

/// Soil water of a plot with its 90 % ranges; a spread is absent where no draw has a value.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WaterSummary {
    /// Water at 1500 kPa, of the soil without stones.
    pub wilting_point_m3_m3: Option<Spread>,
    /// Water at 33 kPa, of the soil without stones.
    pub field_capacity_m3_m3: Option<Spread>,
    /// All pores, of the soil without stones.
    pub saturation_m3_m3: Option<Spread>,
    /// Available water of the whole soil.
    pub available_water_m3_m3: Option<Spread>,
    /// The same in inches of water per foot of soil.
    pub available_water_in_per_ft: Option<Spread>,
    /// The root depth asked about.
    pub root_depth_mm: f64,
    /// Available water over that depth, mm.
    pub available_water_mm: Option<Spread>,
    /// Saturated conductivity of the whole soil.
    pub saturated_conductivity_mm_h: Option<Spread>,
    /// Dry density of the whole soil.
    pub bulk_density_g_cm3: Option<Spread>,
    /// Share of the belief outside the range of the data behind the equations, 0 to 1.
    pub share_outside_range: f64,
    /// Share of the belief for which no available water can be given.
    pub share_without_available: f64,
    /// Share of the belief for which no conductivity can be given.
    pub share_without_conductivity: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::belief::{Account, Beside, Known, Options, Packing, Stones, Witness, believe, ilr};
    use crate::texture::Composition;

    /// A belief squeezed to a point gives the point's own soil water: the loam of Table 3,
    /// [SaxtonRawls2006], unrounded values computed outside this program.
    #[test]
    fn a_point_belief_gives_the_point_value() {
        let at = ilr::to_ilr(Composition { sand: 40.0, silt: 40.0, clay: 20.0 });
        let exact = Witness {
            id: "a".into(),
            label: "a".into(),
            account: Account::Measured {
                centre: [at.x, at.y],
                covariance: [[1e-8, 0.0], [0.0, 1e-8]],
                shared: None,
            },
        };
        let options = Options { tail_degrees_of_freedom: None, ..Options::default() };
        let beside = Beside {
            organic_matter_percent: Some(Known::exactly(2.5)),
            stones: Some(Stones::MassPercent(Known::exactly(30.0))),
            packing: Some(Packing::Factor(Known::exactly(1.0))),
            ec_ds_m: Some(Known::exactly(0.0)),
        };
        let ensemble = Ensemble::of(&believe(&[exact], &options), &beside);
        let summary = WaterEnsemble::of(&ensemble, Scatter::None).summary(300.0);
        let close = |spread: Option<Spread>, value: f64, within: f64| {
            assert!((spread.unwrap().median - value).abs() < within, "{spread:?} {value}");
        };
        close(summary.field_capacity_m3_m3, 0.2796, 1e-4);
        close(summary.available_water_m3_m3, 0.1158, 1e-4);
        close(summary.available_water_in_per_ft, 1.389, 2e-3);
        close(summary.available_water_mm, 34.73, 0.04);
        close(summary.bulk_density_g_cm3, 1.6614, 1e-4);
        close(summary.saturated_conductivity_mm_h, 15.476 * 0.7421, 0.02);
        assert_eq!(summary.share_outside_range, 0.0);
    }

    #[test]
    fn shares_without_a_value_are_told() {
        let belief = believe(&[], &Options::default());
        let beside = Beside { packing: Some(Packing::Factor(Known::exactly(1.3))), ..Beside::default() };
        let water = WaterEnsemble::of(&Ensemble::of(&belief, &beside), Scatter::OfRealSoils);
        assert!(water.share_without_conductivity > 0.1);
        assert!(water.saturated_conductivity_mm_h.iter().any(|value| value.is_nan()));
        assert!(water.summary(300.0).saturated_conductivity_mm_h.is_some());
    }
}
