//! How the ground holds and passes water.

pub mod drainage;
pub mod ensemble;
pub mod equations;
pub mod flow;
pub mod infiltration;
pub mod nitrate_leaching;
pub mod retention;
pub mod salts;
pub mod scatter;
pub mod soil_water;
pub mod tension;
pub mod unsaturated;
mod working;

pub use ensemble::{WaterEnsemble, WaterSummary};
pub use equations::{Flags, SoilWater, SoilWaterInput, soil_water};
pub use scatter::Scatter;

crate::kit::method::methods![
    nitrate_leaching::NitrateLeached,
    soil_water::SoilWaterMethod,
    tension::WaterTension,
    unsaturated::UnsaturatedConductivity,
];
