//! What was seen: one variant for each kind of evidence, each with the reading as it was made.

mod jar;
mod properties;
mod signs;

use ground::kit::Refusal;
use ground::texture::Composition;
use ground::texture::feel::FeelReading;
use ground::texture::hydrometer::HydrometerReading;
use ground::texture::kitchen_scale::KitchenScaleReading;
use ground::texture::lab::LabTexture;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use jar::JarSeen;
pub use properties::{
    BulkDensity, DensityFactor, ElectricalConductivity, Gravel, GravelMass, GravelVolume, OrganicMatter,
    OrganicMatterMethod, OrganicMatterPercent, Packing, PackingWords, Salinity, SalinityExtract,
};
pub use signs::{Amount, CrackWidth, CrustThickness, DaysOfWater, Sign, SignDepth, Signs, Smell};

/// What was seen.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "what", rename_all = "snake_case")]
pub enum Seen {
    /// A jar of settled soil, finished or still settling.
    Jar(JarSeen),
    /// Sieve, settle, weigh.
    KitchenScale(KitchenScaleReading),
    /// Texture by feel.
    Feel(FeelReading),
    /// Two hydrometer readings.
    Hydrometer(HydrometerReading),
    /// A laboratory's sand, silt and clay.
    LabTexture(LabTexture),
    /// Organic matter.
    OrganicMatter(OrganicMatter),
    /// Gravel and stones.
    Gravel(Gravel),
    /// How tightly the ground is packed.
    Packing(Packing),
    /// Salts.
    Salinity(Salinity),
    /// What the eye, the spade and the boot found.
    Signs(Signs),
}

impl Seen {
    /// Its name in the file.
    #[must_use]
    pub fn what(&self) -> &'static str {
        match self {
            Self::Jar(_) => "jar",
            Self::KitchenScale(_) => "kitchen_scale",
            Self::Feel(_) => "feel",
            Self::Hydrometer(_) => "hydrometer",
            Self::LabTexture(_) => "lab_texture",
            Self::OrganicMatter(_) => "organic_matter",
            Self::Gravel(_) => "gravel",
            Self::Packing(_) => "packing",
            Self::Salinity(_) => "salinity",
            Self::Signs(_) => "signs",
        }
    }

    /// Its name for people.
    #[must_use]
    pub fn label(&self) -> &'static str {
        match self {
            Self::Jar(_) => "jar test",
            Self::KitchenScale(_) => "sieve and kitchen scale",
            Self::Feel(_) => "feel test",
            Self::Hydrometer(_) => "hydrometer",
            Self::LabTexture(_) => "lab texture",
            Self::OrganicMatter(_) => "organic matter",
            Self::Gravel(_) => "gravel and stones",
            Self::Packing(_) => "packing",
            Self::Salinity(_) => "salts",
            Self::Signs(_) => "signs in the field",
        }
    }

    /// Does it speak of sand, silt and clay?
    #[must_use]
    pub fn tells_texture(&self) -> bool {
        matches!(
            self,
            Self::Jar(_) | Self::KitchenScale(_) | Self::Feel(_) | Self::Hydrometer(_) | Self::LabTexture(_)
        )
    }

    /// Checks what the reading types cannot.
    ///
    /// # Errors
    /// The field that contradicts another.
    pub fn check(&self) -> Result<(), Refusal> {
        match self {
            Self::Jar(jar) => jar.check(),
            Self::KitchenScale(weighed) => properties::check_kitchen_scale(weighed),
            Self::Hydrometer(readings) => properties::check_hydrometer(readings),
            Self::LabTexture(lab) => {
                Composition::from_percent(lab.sand_percent, lab.silt_percent, lab.clay_percent).map(drop)
            }
            Self::Signs(signs) => signs.check(),
            Self::Feel(_)
            | Self::OrganicMatter(_)
            | Self::Gravel(_)
            | Self::Packing(_)
            | Self::Salinity(_) => Ok(()),
        }
    }
}
