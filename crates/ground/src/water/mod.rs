//! How the ground holds and passes water.

pub mod ensemble;
pub mod equations;

pub use ensemble::{WaterEnsemble, WaterSummary};
pub use equations::{Flags, SoilWater, SoilWaterInput, soil_water};
