//! The root zone of a bed over an ensemble of soils: its state, and the rules it is stepped by.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::evaporation::Air;
use super::soils::BedSoils;
use crate::kit::Spread;

/// When in the day water reaches the ground. The source has both orders; they differ by up to one
/// day's use at each watering.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Wetting {
    /// Early: what the root zone cannot hold drains first, then the crop draws.
    EarlyInDay,
    /// Late: the crop draws first, then the root zone fills and drains (eq. 88).
    LateInDay,
}

/// Which coefficient a day's use is reckoned with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Coefficient {
    /// The single coefficient on every day.
    Single,
    /// Plants and bare ground apart on every day.
    Dual,
    /// Apart while less than this share of the ground is covered, single from then on.
    DualWhileBare {
        /// Cover from which the single coefficient serves.
        below_cover: f64,
    },
}

/// Whether the allowed depletion moves with the day's demand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FractionRule {
    /// As the crop's table has it.
    AsGiven,
    /// p + 0.04 (5 − ETc), within 0.1 and 0.8.
    MovedByDemand,
}

/// How a bed is reckoned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rules {
    /// Order of a day.
    pub wetting: Wetting,
    /// Which coefficient.
    pub coefficient: Coefficient,
    /// Whether the allowed depletion moves.
    pub fraction: FractionRule,
    /// Share of the bed's ground that ever gets wet and holds roots: 1 under rain or sprinklers, the
    /// wetted share under drip where no rain falls. Keep it through a run.
    pub watered_share: f64,
    /// Least depth reckoned, m, however young the crop.
    pub least_depth_m: f64,
    /// Whether drip wets the ground under the plants, so that they shade what it wets.
    pub under_canopy: bool,
}

impl Default for Rules {
    /// Water in the morning; bare and half-covered ground by its own coefficient until half the ground
    /// is covered (judgement); allowed depletion moved by demand; 0.15 m at least.
    fn default() -> Self {
        Self {
            wetting: Wetting::EarlyInDay,
            coefficient: Coefficient::DualWhileBare { below_cover: 0.5 },
            fraction: FractionRule::MovedByDemand,
            watered_share: 1.0,
            least_depth_m: 0.15,
            under_canopy: false,
        }
    }
}

/// One number for all draws, or one for each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount<'a> {
    /// The same for all.
    Same(f64),
    /// One for each draw; as long as the ensemble.
    Each(&'a [f64]),
}

impl Amount<'_> {
    /// The number of one draw.
    #[inline]
    #[must_use]
    pub fn at(&self, draw: usize) -> f64 {
        match self {
            Self::Same(value) => *value,
            Self::Each(values) => values[draw],
        }
    }

    /// Whether it serves an ensemble of `draws`.
    #[must_use]
    pub fn serves(&self, draws: usize) -> bool {
        match self {
            Self::Same(_) => true,
            Self::Each(values) => values.len() == draws,
        }
    }
}

/// Weather of one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weather<'a> {
    /// Reference evapotranspiration, mm.
    pub et0_mm: Amount<'a>,
    /// Rain that reaches the ground and does not run off, mm. Under a cover: 0.
    pub rain_mm: Amount<'a>,
    /// Wind and humidity.
    pub air: Air,
}

/// Water given on one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Watering<'a> {
    /// Depth put on over the whole bed, mm.
    pub gross_mm: f64,
    /// Share of it that reaches the root zone, 0 to 1.
    pub efficiency: Amount<'a>,
    /// Share of the ground it wets, 0 to 1.
    pub wetted_fraction: f64,
}

/// What became of the water on one day, by draw. Made once and written over each day.
#[derive(Debug, Clone, PartialEq)]
pub struct Fluxes {
    /// Rain that counted, mm.
    pub rain_mm: Vec<f64>,
    /// Watering that reached the root zone, mm.
    pub irrigation_mm: Vec<f64>,
    /// What crop and ground lost, mm.
    pub et_mm: Vec<f64>,
    /// What they would have lost with water enough, mm.
    pub demand_mm: Vec<f64>,
    /// Part of `et_mm` that evaporated from the surface, where reckoned apart, mm.
    pub evaporation_mm: Vec<f64>,
    /// What drained below the root zone, mm.
    pub drained_mm: Vec<f64>,
    /// What drained below the whole profile, mm.
    pub lost_below_mm: Vec<f64>,
    /// What drained below the surface layer's wetted part, mm over that part.
    pub surface_drained_mm: Vec<f64>,
    /// Stress coefficient, 0 to 1.
    pub stress: Vec<f64>,
    /// Readily available water, mm.
    pub readily_available_mm: Vec<f64>,
}

impl Fluxes {
    /// Room for an ensemble of `draws`.
    #[must_use]
    pub fn of(draws: usize) -> Self {
        let room = || vec![0.0; draws];
        Self {
            rain_mm: room(),
            irrigation_mm: room(),
            et_mm: room(),
            demand_mm: room(),
            evaporation_mm: room(),
            drained_mm: room(),
            lost_below_mm: room(),
            surface_drained_mm: room(),
            stress: room(),
            readily_available_mm: room(),
        }
    }
}

/// The state of a bed's ground, by draw.
///
/// Below the roots lies the rest of the profile as one store: roots that grow into it take over their
/// share of its depletion (the moisture of the subsoil), and what drains from the root zone fills it
/// before any water is lost. Nothing is made or lost: the change of `depletion_mm + below_mm` is
/// what was lost less what was given.
#[derive(Debug, Clone, PartialEq)]
pub struct RootZone {
    /// Water missing from the root zone, mm, 0 to `total_available_mm`.
    pub depletion_mm: Vec<f64>,
    /// Water missing from the profile below the roots, mm.
    pub below_mm: Vec<f64>,
    /// Water missing from the surface layer's wetted part, mm.
    pub surface_mm: Vec<f64>,
    /// Available water of the root zone when full, mm.
    pub total_available_mm: Vec<f64>,
    /// Share of the ground last wetted.
    pub wetted: Vec<f64>,
    /// Depth reckoned, m.
    pub depth_m: f64,
    pub(super) below_available_mm: Vec<f64>,
    pub(super) scratch: Vec<f64>,
}

impl RootZone {
    /// A profile at field capacity with roots to `depth_m`.
    #[must_use]
    pub fn full(soils: &BedSoils, rules: &Rules, depth_m: f64) -> Self {
        Self::depleted(soils, rules, depth_m, |_| 0.0)
    }

    /// A profile of which each draw has used a share, 0 to 1, alike through its depth.
    #[must_use]
    pub fn depleted(soils: &BedSoils, rules: &Rules, depth_m: f64, share: impl Fn(usize) -> f64) -> Self {
        let draws = soils.draws();
        let zeros = || vec![0.0; draws];
        let mut zone = Self {
            depletion_mm: zeros(),
            below_mm: zeros(),
            surface_mm: zeros(),
            total_available_mm: zeros(),
            wetted: vec![1.0; draws],
            depth_m: rules.depth_of(soils, depth_m),
            below_available_mm: zeros(),
            scratch: zeros(),
        };
        soils.available_mm_to(zone.depth_m, &mut zone.total_available_mm);
        soils.available_mm_to(soils.bottom_m(), &mut zone.scratch);
        for draw in 0..draws {
            let used = share(draw).clamp(0.0, 1.0);
            zone.total_available_mm[draw] *= rules.watered_share;
            let below = zone.scratch[draw] * rules.watered_share - zone.total_available_mm[draw];
            zone.below_available_mm[draw] = below.max(0.0);
            zone.depletion_mm[draw] = used * zone.total_available_mm[draw];
            zone.below_mm[draw] = used * zone.below_available_mm[draw];
            zone.surface_mm[draw] = used * soils.evaporable_mm[draw];
        }
        zone
    }

    /// How many draws there are.
    #[must_use]
    pub fn draws(&self) -> usize {
        self.depletion_mm.len()
    }

    /// Depletion with its 90 % range, mm; absent without draws.
    #[must_use]
    pub fn depletion(&self) -> Option<Spread> {
        Spread::of_equal(&mut self.depletion_mm.clone())
    }

    /// Share of the available water used, with its 90 % range; absent without draws.
    #[must_use]
    pub fn used_share(&self) -> Option<Spread> {
        Spread::of_equal(&mut self.used_shares())
    }

    /// Share of the available water used, of each draw.
    #[must_use]
    pub fn used_shares(&self) -> Vec<f64> {
        let share = |(used, all): (&f64, &f64)| if *all > 0.0 { used / all } else { 0.0 };
        self.depletion_mm.iter().zip(&self.total_available_mm).map(share).collect()
    }
}

impl Rules {
    /// The depth reckoned for roots of `depth_m`: not above the least depth, not below the profile.
    #[must_use]
    pub fn depth_of(&self, soils: &BedSoils, depth_m: f64) -> f64 {
        depth_m.max(self.least_depth_m).min(soils.bottom_m())
    }
}
