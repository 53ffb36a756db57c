//! One push of a probe: readings by depth, from a gauge or from the feel of a plain rod.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::strength::{ConeResistance, HINDERED_MPA, STOPPED_MPA};
use crate::kit::{Bounded, Refusal};

crate::quantity! {
    /// Depth of the tip below the surface.
    pub struct ProbeDepth: "depth of the tip", "cm", 1.0 ..= 120.0, example 20.0;
}

/// How a plain rod goes in: for want of a gauge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RodFeel {
    /// One hand slides it in.
    Slides,
    /// It takes both arms or the weight of the body.
    Leans,
    /// It will not go, or goes in jerks.
    Stops,
}

impl RodFeel {
    /// The resistance it stands for, MPa: the middle of the span that each limit bounds (our judgement).
    #[must_use]
    pub fn stands_for_mpa(self) -> f64 {
        match self {
            Self::Slides => 0.75 * HINDERED_MPA,
            Self::Leans => f64::midpoint(HINDERED_MPA, STOPPED_MPA),
            Self::Stops => 1.25 * STOPPED_MPA,
        }
    }
}

/// A reading at one depth: a number from a gauge, or the feel of a rod.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProbeReading {
    /// Depth of the tip.
    pub depth_cm: ProbeDepth,
    /// What the gauge read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resistance_mpa: Option<ConeResistance>,
    /// How a plain rod went in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rod: Option<RodFeel>,
}

/// A reading as the reckoning uses it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    /// Depth of the tip, cm.
    pub depth_cm: f64,
    /// Resistance, MPa.
    pub resistance_mpa: f64,
}

/// Checks the readings of one push and gives them as levels, top first.
///
/// # Errors
/// No reading, a reading with neither or both kinds, depths that do not rise.
pub fn levels(readings: &[ProbeReading], field: &str) -> Result<Vec<Level>, Refusal> {
    if readings.is_empty() || readings.len() > 60 {
        return Err(Refusal::new(field, format!("{} readings were given for one push", readings.len()))
            .given(readings.len())
            .accepted("1 to 60 readings")
            .example("one every 7.5 cm (3 in)"));
    }
    let mut levels: Vec<Level> = Vec::with_capacity(readings.len());
    for (at, reading) in readings.iter().enumerate() {
        let resistance_mpa = match (reading.resistance_mpa, reading.rod) {
            (Some(gauge), None) => gauge.get(),
            (None, Some(rod)) => rod.stands_for_mpa(),
            (both, _) => {
                let what = if both.is_some() {
                    "both a gauge and a rod are"
                } else {
                    "neither a gauge nor a rod is"
                };
                return Err(Refusal::new(
                    format!("{field}[{at}].resistance_mpa"),
                    format!("{what} given at {} cm", reading.depth_cm.get()),
                )
                .given(if both.is_some() { "both" } else { "nothing" })
                .accepted("a number from the gauge, or how a plain rod went in")
                .example("1.8"));
            }
        };
        let depth_cm = reading.depth_cm.get();
        if levels.last().is_some_and(|above| above.depth_cm >= depth_cm) {
            return Err(Refusal::new(
                format!("{field}[{at}].depth_cm"),
                "each reading must lie deeper than the one before",
            )
            .given(format!("{depth_cm} cm"))
            .accepted("depths that rise")
            .example("7.5, 15, 22.5"));
        }
        levels.push(Level { depth_cm, resistance_mpa });
    }
    Ok(levels)
}
