//! Particle-size analysis by a laboratory.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::composition::{ClayPercent, SandPercent, SiltPercent};
pub use super::size_limit::SiltLimit;

/// A laboratory's sand, silt and clay, as kept in the farm book.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LabTexture {
    /// Sand as printed.
    pub sand_percent: SandPercent,
    /// Silt as printed.
    pub silt_percent: SiltPercent,
    /// Clay as printed.
    pub clay_percent: ClayPercent,
    /// Where the laboratory parts silt from sand.
    #[serde(default)]
    pub silt_limit: SiltLimit,
    /// How the laboratory measured it.
    #[serde(default)]
    pub procedure: LabProcedure,
}

/// How a laboratory measures particle size.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LabProcedure {
    /// Pipette and sieve.
    Pipette,
    /// Hydrometer.
    Hydrometer,
    /// Laser diffraction.
    LaserDiffraction,
    /// The report does not say.
    #[default]
    NotStated,
}
