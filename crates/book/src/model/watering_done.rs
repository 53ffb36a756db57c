//! A watering that was given.

use ground::kit::Refusal;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// How long the water ran.
    pub struct WateringMinutes: "time the water ran", "min", 0.1 ..= 20000.0, example 60.0;
    /// Depth of water over the whole bed.
    pub struct WateringDepth: "depth of water", "mm", 0.1 ..= 1000.0, example 12.0;
    /// Water given to all beds of the record together.
    pub struct WateringVolume: "volume of water", "L", 0.1 ..= 10000000.0, example 200.0;
}

/// A watering.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WateringDone {
    /// The bed, or the equal beds of one record.
    pub bed: EntryId,
    /// The day.
    #[schemars(with = "String", example = &"2026-06-14")]
    pub on: Date,
    /// How much.
    pub amount: WateringAmount,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// How much water was given.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WateringAmount {
    /// How long the bed's watering system ran.
    Minutes(WateringMinutes),
    /// Depth over the whole bed.
    DepthMm(WateringDepth),
    /// Water given to all beds of the record together.
    VolumeL(WateringVolume),
}

impl Record for WateringDone {
    const KIND: Kind = Kind::Watering;

    fn check(&self) -> Result<(), Refusal> {
        text::note("note", &self.note)
    }

    fn links(&self) -> Links {
        Links { bed: Some(self.bed), ..Links::default() }
    }
}
