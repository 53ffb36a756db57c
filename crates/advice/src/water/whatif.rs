//! What may be changed about a piece of ground or its watering, to see what the change would do.

use book::model::UnitSystem;
use ground::belief::ensemble::Draw;
use ground::irrigation::balance::soils::curve_through;
use ground::water::ensemble::input_of;
use ground::water::{SoilWater, SoilWaterInput, soil_water};
use serde::{Deserialize, Serialize};

/// Organic matter added, percent by mass.
const ORGANIC_MATTER_MORE: f64 = 1.0;
/// How far loosening brings the packing down, as a share of normal density (judgement).
const LOOSENED_BY: f64 = 0.08;
/// No ground that bears a crop lies looser than this, times normal density.
const LOOSEST: f64 = 0.9;
/// Depth that is worked, cm: deeper ground stays as it is.
pub(super) const WORKED_CM: f64 = 30.0;
/// Runs that a watering in pulses is cut into (judgement).
pub(super) const PULSES: u32 = 4;
/// Rest after each run, times its length.
pub(super) const REST: f64 = 2.0;

/// A change to see.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WhatIf {
    /// One percent more organic matter in the ground that is worked.
    #[default]
    OrganicMatter,
    /// The ground that is worked is loosened.
    Loosened,
    /// Its stones are picked.
    NoStones,
    /// The same water in pulses.
    Pulsed,
}

impl WhatIf {
    /// Every change.
    pub const ALL: [Self; 4] = [Self::OrganicMatter, Self::Loosened, Self::NoStones, Self::Pulsed];

    /// As it is typed.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::OrganicMatter => "organic-matter",
            Self::Loosened => "loosened",
            Self::NoStones => "no-stones",
            Self::Pulsed => "pulsed",
        }
    }

    /// The change of that key.
    #[must_use]
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.key() == key)
    }

    /// What the ground or the watering is then called.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::OrganicMatter => "more organic matter",
            Self::Loosened => "loosened",
            Self::NoStones => "without its stones",
            Self::Pulsed => "watered in pulses",
        }
    }

    /// What is changed, in a sentence.
    #[must_use]
    pub fn told(self, units: UnitSystem) -> String {
        let top = match units {
            UnitSystem::UsCustomary => "foot",
            UnitSystem::Metric => "30 cm",
        };
        match self {
            Self::OrganicMatter => format!(
                "More organic matter: one percent more of it in the top {top}, as years of compost and cover crops may bring."
            ),
            Self::Loosened => {
                format!("Loosened: the top {top} is packed 8 % less; rain and wheels pack it again.")
            }
            Self::NoStones => format!("Without its stones: those of the top {top} are taken out."),
            Self::Pulsed => {
                "In pulses: the same water comes in four runs, with a rest of twice their length after each."
                    .to_owned()
            }
        }
    }

    fn input(self, draw: &Draw) -> SoilWaterInput {
        let mut input = input_of(draw);
        match self {
            Self::OrganicMatter => input.organic_matter_percent += ORGANIC_MATTER_MORE,
            Self::Loosened => {
                input.density_factor =
                    (input.density_factor - LOOSENED_BY).max(LOOSEST.min(input.density_factor));
            }
            Self::NoStones => input.gravel_mass_percent = 0.0,
            Self::Pulsed => {}
        }
        input
    }

    /// A draw's water after the change: it keeps how far it strays from the equations. `None` where the
    /// equations give nothing.
    #[must_use]
    pub fn changed(self, draw: &Draw, water: &SoilWater) -> Option<SoilWater> {
        let (before, after) = (soil_water(&input_of(draw)), soil_water(&self.input(draw)));
        let moved =
            |own: Option<f64>, of: fn(&SoilWater) -> Option<f64>| Some(own? + of(&after)? - of(&before)?);
        let times =
            |own: Option<f64>, of: fn(&SoilWater) -> Option<f64>| Some(own? * of(&after)? / of(&before)?);
        let held = moved(water.field_capacity, |one| one.field_capacity)?;
        let dry = moved(water.wilting_point, |one| one.wilting_point)?;
        let full = moved(water.saturation, |one| one.saturation)?;
        let entry = moved(water.air_entry, |one| one.air_entry).map(|kpa| kpa.clamp(0.0, 32.0));
        if !(dry > 0.0 && held > dry && full > held) {
            return None;
        }
        let mut changed = curve_through(held, dry, Some(full), entry);
        let stones = after.gravel_volume?;
        changed.available = Some((held - dry) * (1.0 - stones));
        changed.gravel_volume = Some(stones);
        changed.saturated_conductivity =
            times(water.saturated_conductivity, |one| one.saturated_conductivity);
        changed.saturated_conductivity_fine_earth =
            times(water.saturated_conductivity_fine_earth, |one| one.saturated_conductivity_fine_earth);
        Some(changed)
    }
}
