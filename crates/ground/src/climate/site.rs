//! Where the weather is: what the equations need to know of a place.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::quantities::{AngstromA, AngstromB, Elevation, Latitude};
use crate::kit::Bounded;

/// How near the sea lies: it decides how much light a warm day stands for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Setting {
    /// Land masses dominate and the air is not the sea's.
    #[default]
    Interior,
    /// On or near the coast of a large land mass, the air comes off the water.
    Coastal,
    /// An island at most about 20 km wide, up to 100 m above the sea.
    Island,
}

/// What grows around the place where temperature is read.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Surroundings {
    /// Green and well watered: the air is near dew at daybreak.
    #[default]
    Watered,
    /// Dry ground: the air stays above its dew point all night.
    Arid,
}

/// A place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Site {
    /// Latitude, north positive.
    pub latitude_degrees: Latitude,
    /// Height above the sea; sea level where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elevation_m: Option<Elevation>,
    /// How near the sea lies.
    #[serde(default)]
    pub setting: Setting,
    /// What grows around the thermometer.
    #[serde(default)]
    pub surroundings: Surroundings,
    /// Ångström coefficients fitted nearby; 0.25 and 0.50 where nothing is said. Give both or none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub angstrom_a: Option<AngstromA>,
    /// The second of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub angstrom_b: Option<AngstromB>,
}

impl Site {
    /// A place inland and green at a latitude and height.
    #[must_use]
    pub fn new(latitude_degrees: Latitude, elevation_m: Elevation) -> Self {
        Self {
            latitude_degrees,
            elevation_m: Some(elevation_m),
            setting: Setting::default(),
            surroundings: Surroundings::default(),
            angstrom_a: None,
            angstrom_b: None,
        }
    }

    /// Latitude, rad.
    #[must_use]
    pub fn latitude_rad(&self) -> f64 {
        self.latitude_degrees.get().to_radians()
    }

    /// Height above the sea, 0 where unknown.
    #[must_use]
    pub fn height_m(&self) -> f64 {
        self.elevation_m.map_or(0.0, Bounded::get)
    }

    /// The Ångström coefficients, and whether they were fitted nearby.
    #[must_use]
    pub fn angstrom(&self) -> (f64, f64, bool) {
        match (self.angstrom_a, self.angstrom_b) {
            (Some(a), Some(b)) => (a.get(), b.get(), true),
            _ => (0.25, 0.50, false),
        }
    }
}
