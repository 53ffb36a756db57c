//! What else was measured: organic matter, gravel, packing, salts.

use ground::kit::{Bounded, Refusal};
use ground::texture::hydrometer::HydrometerReading;
use ground::texture::kitchen_scale::KitchenScaleReading;
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

pub(super) fn check_kitchen_scale(weighed: &KitchenScaleReading) -> Result<(), Refusal> {
    let (total, sand, silt) = (weighed.total_g.get(), weighed.sand_g.get(), weighed.silt_g.get());
    // Three weighings may each be off by a step of the scale.
    let slack = 3.0 * weighed.scale_step_g.map_or(1.0, Bounded::get);
    if total <= 0.0 {
        return Err(Refusal::new("total_g", "the dry soil must weigh something")
            .given("0 g")
            .accepted("above 0 g")
            .example("100 g"));
    }
    if sand + silt > total + slack {
        return Err(Refusal::new(
            "sand_g",
            format!(
                "sand and silt weigh more than the soil they came from: {sand} + {silt} g out of {total} g"
            ),
        )
        .given(format!("{sand} + {silt} g"))
        .accepted(format!("at most {total} g together"))
        .example("40 + 40 out of 100 g"));
    }
    Ok(())
}

pub(super) fn check_hydrometer(readings: &HydrometerReading) -> Result<(), Refusal> {
    let (early, late) = (readings.early, readings.late);
    if late.after_s.get() <= early.after_s.get() {
        return Err(Refusal::new(
            "late.after_s",
            format!("the late reading must come after the early one, at {} s", early.after_s.get()),
        )
        .given(late.after_s.get())
        .accepted(format!("more than {} s", early.after_s.get()))
        .example("7200"));
    }
    Ok(())
}
