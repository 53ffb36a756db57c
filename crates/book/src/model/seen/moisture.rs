//! How moist the ground was at a depth.

use ground::kit::{Bounded, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::SignDepth;
use crate::model::EntryId;

ground::quantity! {
    /// Tension of the soil water.
    pub struct SoilTension: "soil water tension", "kPa", 0.0 ..= 10000.0, example 25.0;
    /// Water in the soil by volume.
    pub struct VolumetricWater: "water by volume", "%", 0.0 ..= 95.0, example 22.0;
}

/// A moisture reading.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Moisture {
    /// The bed it was made in, where it was made in one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bed: Option<EntryId>,
    /// Its depth, or the top of the layer it was made in.
    pub from_cm: SignDepth,
    /// The bottom of that layer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to_cm: Option<SignDepth>,
    /// The reading.
    pub reading: MoistureReading,
}

/// How moisture was read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MoistureReading {
    /// By feel and look of a handful.
    Feel(MoistureFeel),
    /// A tensiometer or a sensor that reads tension.
    TensionKpa(SoilTension),
    /// A sensor or a dried core.
    VolumetricPercent(VolumetricWater),
}

/// The steps of the table for estimating soil moisture by feel and look: a quarter of the available
/// water from one to the next (USDA-NRCS, Program Aid 1619, 1998).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MoistureFeel {
    /// 0 to 25 % of the available water.
    Dry,
    /// 25 to 50 %.
    SlightlyMoist,
    /// 50 to 75 %.
    Moist,
    /// 75 to 100 %.
    Wet,
    /// Field capacity or more.
    FieldCapacity,
}

impl MoistureFeel {
    /// Every step, dry to wet.
    pub const ALL: [Self; 5] = [Self::Dry, Self::SlightlyMoist, Self::Moist, Self::Wet, Self::FieldCapacity];

    /// 0 for dry to 4 for field capacity.
    #[must_use]
    pub fn step(self) -> u8 {
        self as u8
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Dry => "dry",
            Self::SlightlyMoist => "slightly moist",
            Self::Moist => "moist",
            Self::Wet => "wet",
            Self::FieldCapacity => "at field capacity or over",
        }
    }
}

impl Moisture {
    /// Middle of the layer, or the depth itself, in cm.
    #[must_use]
    pub fn middle_cm(&self) -> f64 {
        self.to_cm.map_or(self.from_cm.get(), |to| (self.from_cm.get() + to.get()) / 2.0)
    }

    pub(super) fn check(&self) -> Result<(), Refusal> {
        match self.to_cm {
            Some(to_cm) if to_cm.get() <= self.from_cm.get() => Err(deeper("to_cm", self.from_cm, to_cm)),
            _ => Ok(()),
        }
    }
}

/// The bottom of a layer is no deeper than its top.
pub(super) fn deeper(field: &str, from_cm: SignDepth, to_cm: SignDepth) -> Refusal {
    let (from, to) = (from_cm.get(), to_cm.get());
    Refusal::new(
        field,
        format!("the bottom of the layer must be deeper than its top, but {from} to {to} cm was given"),
    )
    .given(to)
    .accepted(format!("more than {from} cm"))
    .example(from + 20.0)
}
