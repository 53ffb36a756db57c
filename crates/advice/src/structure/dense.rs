//! Density against the limits of roots, and air at field capacity, over everything that the ground may be.

use ground::kit::Spread;
use ground::kit::chance::Chance;
use ground::structure::density::aeration::{Aeration, air_at_field_capacity};
use ground::structure::density::core::USUAL_GRAIN_DENSITY_G_CM3;
use ground::structure::density::critical::critical;
use ground::structure::root_limits::{RootLimits, RootRating};
use serde::Serialize;

use super::readings::CoresRead;
use crate::plot_report::PlotReport;

/// Seed of the deviates of cores: the same for every plot, as only their spread counts.
const SEED: u64 = 5;

/// How a density is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum DensityFrom {
    /// Cores of a layer.
    Cores,
    /// The packing that was told of the plot.
    Packing,
    /// Nothing: what is usual for the texture.
    Supposed,
}

/// Odds of each rating, 0 to 1.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct RatingOdds {
    /// Roots do well.
    pub good: f64,
    /// Little to spare.
    pub watch: f64,
    /// Roots may be hindered.
    pub hinders: f64,
    /// Roots are restricted.
    pub restricts: f64,
}

/// Odds of the air at field capacity, 0 to 1.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct AirOdds {
    /// Less than 10 %.
    pub short: f64,
    /// 10 to 15 %.
    pub marginal: f64,
    /// More.
    pub ample: f64,
}

/// How dense the ground is for roots.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DensityTold {
    /// How it is known.
    pub from: DensityFrom,
    /// Density of the fine earth.
    pub density_g_cm3: Spread,
    /// Density at which roots of this texture begin to be hindered.
    pub hinders_at_g_cm3: Spread,
    /// Density above which they are restricted.
    pub restricts_above_g_cm3: Spread,
    /// The lower of that and the density that leaves a tenth to air.
    pub governing_g_cm3: Spread,
    /// Least and most that other authors give for the likeliest class.
    pub others_g_cm3: (f64, f64),
    /// Odds of each rating.
    pub rating: RatingOdds,
    /// Pores, share of the volume.
    pub porosity_percent: Spread,
    /// Air at field capacity, share of the volume.
    pub air_percent: Spread,
    /// Odds of how roots breathe then.
    pub air: AirOdds,
}

/// Over the draws of a report; cores speak before anything else.
#[must_use]
pub fn density(report: &PlotReport, cores: Option<&CoresRead>, packing_told: bool) -> Option<DensityTold> {
    let (draws, water) = (&report.ensemble.draws, &report.water_draws);
    let weights = &report.ensemble.weights;
    let mut chance = Chance::new(SEED);
    let count = draws.len();
    let mut columns: [Vec<f64>; 6] = std::array::from_fn(|_| Vec::with_capacity(count));
    let (mut rating, mut air_odds) = (RatingOdds::default(), AirOdds::default());
    for (at, draw) in draws.iter().enumerate() {
        let density = match cores {
            Some(cores) => cores.mean_g_cm3 + cores.error_g_cm3 * chance.normal(),
            None => water.matric_density_g_cm3[at],
        };
        let held = water.field_capacity[at];
        let limits = RootLimits::of(draw.soil, draw.class);
        let air = air_at_field_capacity(density, USUAL_GRAIN_DENSITY_G_CM3, held);
        let values = [
            density,
            limits.hinders_at_g_cm3,
            limits.restricts_above_g_cm3,
            limits.governing_g_cm3(held),
            100.0 * (1.0 - density / USUAL_GRAIN_DENSITY_G_CM3),
            100.0 * air.max(0.0),
        ];
        for (column, value) in columns.iter_mut().zip(values) {
            column.push(value);
        }
        let weight = weights[at];
        *match limits.rating(density) {
            RootRating::Good => &mut rating.good,
            RootRating::Watch => &mut rating.watch,
            RootRating::Hinders => &mut rating.hinders,
            RootRating::Restricts => &mut rating.restricts,
        } += weight;
        if air.is_finite() {
            *match Aeration::of(air) {
                Aeration::Short => &mut air_odds.short,
                Aeration::Marginal => &mut air_odds.marginal,
                Aeration::Ample => &mut air_odds.ample,
            } += weight;
        }
    }
    let spread = |at: usize| Spread::of(&columns[at], weights);
    let others = critical(report.belief.class_odds.first()?.0);
    Some(DensityTold {
        from: match (cores.is_some(), packing_told) {
            (true, _) => DensityFrom::Cores,
            (false, true) => DensityFrom::Packing,
            (false, false) => DensityFrom::Supposed,
        },
        density_g_cm3: spread(0)?,
        hinders_at_g_cm3: spread(1)?,
        restricts_above_g_cm3: spread(2)?,
        governing_g_cm3: spread(3)?,
        others_g_cm3: (others.others_low_g_cm3, others.others_high_g_cm3),
        rating,
        porosity_percent: spread(4)?,
        air_percent: spread(5)?,
        air: air_odds,
    })
}
