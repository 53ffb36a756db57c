//! What else was measured: organic matter, gravel, packing, salts.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

ground::quantity! {
    /// Organic matter, share of the dry soil by mass.
    pub struct OrganicMatterPercent: "organic matter", "%", 0.0 ..= 100.0, example 3.0;
    /// Gravel and stones above 2 mm, share of the whole dry soil by mass.
    pub struct GravelMass: "gravel by mass", "%", 0.0 ..= 95.0, example 12.0;
    /// Gravel and stones above 2 mm, share of the whole soil by volume.
    pub struct GravelVolume: "gravel by volume", "%", 0.0 ..= 95.0, example 8.0;
    /// Bulk density over the density usual for the texture.
    pub struct DensityFactor: "density factor", "", 0.7 ..= 1.5, example 1.1;
    /// Dry mass of soil in its natural volume.
    pub struct BulkDensity: "bulk density", "g/cm³", 0.1 ..= 2.4, example 1.4;
    /// Dry mass of a core, from which a density is worked out.
    pub struct CoreMass: "dry mass of the core", "g", 1.0 ..= 50000.0, example 420.0;
    /// Volume of a core.
    pub struct CoreVolume: "volume of the core", "mL", 1.0 ..= 50000.0, example 300.0;
    /// Electrical conductivity of an extract at 25 °C.
    pub struct ElectricalConductivity: "electrical conductivity", "dS/m", 0.0 ..= 200.0, example 1.2;
}

/// Organic matter.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OrganicMatter {
    /// Organic matter by mass of the dry soil.
    pub percent: OrganicMatterPercent,
    /// How it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<OrganicMatterMethod>,
}

/// How organic matter was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum OrganicMatterMethod {
    /// Loss of mass on ignition.
    LossOnIgnition,
    /// Wet oxidation (Walkley-Black).
    WetOxidation,
    /// Dry combustion, carbon converted.
    DryCombustion,
    /// A guess from colour and history.
    Guess,
}

impl OrganicMatterMethod {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::LossOnIgnition => "loss on ignition",
            Self::WetOxidation => "wet oxidation (Walkley-Black)",
            Self::DryCombustion => "dry combustion",
            Self::Guess => "a guess from colour and history",
        }
    }
}

/// Gravel and stones above 2 mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Gravel {
    /// Weighed.
    MassPercent(GravelMass),
    /// Judged by eye.
    VolumePercent(GravelVolume),
}

/// How tightly the ground is packed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub enum Packing {
    /// Times the density usual for the texture.
    #[serde(rename = "density_factor")]
    DensityFactor(DensityFactor),
    /// Weighed and measured.
    #[serde(rename = "bulk_density_g_cm3")]
    BulkDensity(BulkDensity),
    /// In words.
    #[serde(rename = "words")]
    Words(PackingWords),
}

/// Packing in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PackingWords {
    /// A hand goes in.
    Loose,
    /// A trowel goes in.
    Normal,
    /// A fork takes weight.
    Firm,
    /// A fork bounces.
    Hard,
}

impl PackingWords {
    /// Every word, loose to hard.
    pub const ALL: [Self; 4] = [Self::Loose, Self::Normal, Self::Firm, Self::Hard];

    /// The word.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Loose => "loose",
            Self::Normal => "normal",
            Self::Firm => "firm",
            Self::Hard => "hard",
        }
    }
}

/// Salts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Salinity {
    /// Electrical conductivity.
    pub ec_ds_m: ElectricalConductivity,
    /// What it was measured in.
    pub extract: SalinityExtract,
}

/// What conductivity was measured in: soil to water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SalinityExtract {
    /// Extract of the saturated paste.
    SaturatedPaste,
    /// One part soil, one part water.
    OneToOne,
    /// One part soil, two parts water.
    OneToTwo,
    /// One part soil, five parts water.
    OneToFive,
    /// The report does not say.
    NotStated,
}

impl SalinityExtract {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::SaturatedPaste => "extract of the saturated paste",
            Self::OneToOne => "one part soil, one part water",
            Self::OneToTwo => "one part soil, two parts water",
            Self::OneToFive => "one part soil, five parts water",
            Self::NotStated => "not stated",
        }
    }
}
