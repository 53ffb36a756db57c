//! Two readings in a litre of suspension, as they are kept in the farm book.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

crate::quantity! {
    /// Oven-dry mass of soil in the cylinder.
    pub struct DryMass: "dry mass of soil", "g", 5.0 ..= 200.0, example 50.0;
    /// A reading on the 152H scale.
    pub struct ScaleReading: "hydrometer reading", "g/L", -5.0 ..= 60.0, example 25.0;
    /// Temperature of the suspension.
    pub struct SuspensionTemperature: "suspension temperature", "°C", 5.0 ..= 40.0, example 21.0;
    /// Time of a reading after stirring stopped.
    pub struct ReadingTime: "time of the reading", "s", 10.0 ..= 200000.0, example 40.0;
}

/// Two readings of a 152H hydrometer, as kept in the farm book.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HydrometerReading {
    /// Oven-dry mass of soil in one litre.
    pub dry_mass_g: DryMass,
    /// The early reading, usually at 40 s: silt and clay are still up.
    pub early: ScaleAt,
    /// The late reading, usually at 2 to 24 h: clay is still up.
    pub late: ScaleAt,
    /// Reading in the dispersant solution without soil; absent when none was taken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blank_g_l: Option<ScaleReading>,
}

/// One reading with its time and temperature.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ScaleAt {
    /// Time after stirring stopped.
    pub after_s: ReadingTime,
    /// Reading at the top of the meniscus.
    pub reading_g_l: ScaleReading,
    /// Temperature; the blank is trusted where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<SuspensionTemperature>,
}
