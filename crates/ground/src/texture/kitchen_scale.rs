//! Texture with a sieve and a kitchen scale: masses instead of layer thicknesses.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

crate::quantity! {
    /// A mass weighed on a kitchen scale.
    pub struct WeighedMass: "dry mass", "g", 0.0 ..= 5000.0, example 40.0;
    /// Finest mass the scale shows.
    pub struct ScaleStep: "scale step", "g", 0.001 ..= 50.0, example 1.0;
    /// Opening of the sieve.
    pub struct SieveOpening: "sieve opening", "µm", 20.0 ..= 150.0, example 53.0;
}

/// Sieve, settle, weigh: as kept in the farm book.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KitchenScaleReading {
    /// Dry soil finer than 2 mm before washing.
    pub total_g: WeighedMass,
    /// Dry sand left on the sieve.
    pub sand_g: WeighedMass,
    /// Dry silt left after the clay was poured off.
    pub silt_g: WeighedMass,
    /// Finest mass the scale shows; 1 g where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale_step_g: Option<ScaleStep>,
    /// Opening of the sieve; 53 µm (No. 270) where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sieve_um: Option<SieveOpening>,
    /// Was a dispersant used?
    pub dispersed: bool,
}
