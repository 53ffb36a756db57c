//! The daily balance of the root zone [Fao56, chapters 7 and 8].
//!
//! The plain functions of one line each stand in [`available`], [`stress`] and [`evaporation`]; the
//! [`engine`] steps a whole ensemble through a day without allocating; [`root_zone_balance`] is the
//! same engine with one soil, as a table in and a table out.

pub mod available;
pub mod engine;
pub mod evaporation;
pub mod evaporation_layer;
mod evaporation_table;
pub mod root_zone_balance;
pub mod season;
pub mod soils;
mod step;
pub mod stress;
mod table;
pub mod yield_stress;

pub use engine::{Amount, Coefficient, Fluxes, FractionRule, RootZone, Rules, Watering, Weather, Wetting};
pub use evaporation_table::{EvaporationRange, evaporation_range};
pub use season::{Day, Totals, run_season};
pub use soils::{BedSoils, LayerOfDraws};

crate::kit::method::methods![
    available::TotalAvailableWater,
    stress::StressCoefficient,
    yield_stress::StressBehindYield,
    evaporation_layer::EvaporationLayer,
    root_zone_balance::RootZoneBalance,
];
