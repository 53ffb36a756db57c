//! What was carried off a bed.

use ground::kit::Refusal;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// Fresh mass of what was carried off.
    pub struct HarvestMass: "mass harvested", "kg", 0.001 ..= 10000000.0, example 60.0;
}

/// A harvest.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Harvest {
    /// The planting it comes from.
    pub planting: EntryId,
    /// The day, or the last day of several picked together.
    #[schemars(with = "String", example = &"2026-07-20")]
    pub on: Date,
    /// Fresh mass in all.
    pub kg: HarvestMass,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

impl Record for Harvest {
    const KIND: Kind = Kind::Harvest;

    fn check(&self) -> Result<(), Refusal> {
        text::note("note", &self.note)
    }

    fn links(&self) -> Links {
        Links { planting: Some(self.planting), ..Links::default() }
    }
}
