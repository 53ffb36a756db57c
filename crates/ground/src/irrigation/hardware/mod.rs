//! What tape, emitters and sprinklers put on, how wide they wet, and what a supply can feed.

mod bed;
pub mod drip_run_time;
mod run;
pub mod supply_sets;
pub mod wetted_bulb;
pub mod wetted_strip;

pub use bed::{BedSystem, Emission, Kind, efficiency_range};
pub use run::{Run, RunPlan, SoilIntake, plan_run, round_minutes};
pub use supply_sets::{BedFlow, SupplySet, pack};
pub use wetted_strip::{Layering, StripTexture, WettedStrip, strip};

crate::kit::method::methods![
    drip_run_time::DripRunTime,
    wetted_strip::WettedStripMethod,
    wetted_bulb::WettedBulb,
    supply_sets::SupplySets,
];

/// Litres in a US gallon: 231 cubic inches of 25.4 mm, exact by definition.
pub const LITRES_PER_GALLON: f64 = 3.785_411_784;
