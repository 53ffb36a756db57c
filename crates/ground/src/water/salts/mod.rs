//! Salts in the soil water: what a laboratory's reading means, what they cost, and how to wash them out.

pub mod extract;
pub mod extract_method;
pub mod irrigation_water;
pub mod irrigation_water_method;
pub mod leaching;
pub mod load;
pub mod reclamation;
pub mod tolerance;
pub mod tunnel;
pub mod tunnel_method;
pub mod yield_loss;

pub use extract::{ExtractRange, ExtractRatio, TextureGroup, saturation_extract_ds_m};
pub use tolerance::{CropTolerance, SaltTolerance, crop_tolerance};
pub use tunnel::{TunnelYear, why_salts_gather};

crate::kit::method::methods![
    extract_method::EcToSaturationExtract,
    yield_loss::SaltYieldLoss,
    leaching::LeachingRequirement,
    reclamation::ReclamationLeaching,
    irrigation_water_method::IrrigationWaterHazard,
    load::SaltLoad,
    tunnel_method::TunnelSaltBalance,
];

/// Caution of every washing of salts.
pub(crate) const LEACHING: &str = "Water that carries salts down carries nitrate too: leach when little nitrate is \
     left, away from wells, and by local nutrient rules.";
/// What must be there first.
pub(crate) const DRAINAGE_FIRST: &str = "Drainage must exist first: water that cannot leave brings the salts back. Look for a water table and a pan.";
/// Sodic ground.
pub(crate) const SODIC_FIRST: &str =
    "Sodic ground (much sodium) needs calcium, such as gypsum, before pure water, which would seal it.";
/// Backflow.
pub(crate) const BACKFLOW: &str = "Keep a backflow preventer between any drinking water supply and irrigation, as codes ask; licensed work in most places.";
