//! Natural drainage class from the depth at which the ground shows wetness.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Natural drainage classes of soil surveys that signs in a pit can tell apart. The surveys give no
/// depths for the whole country: these are the ones commonly used (common practice; states differ).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum NaturalDrainage {
    /// Water at or above the surface most of the year.
    VeryPoor,
    /// Signs of wetness within 25 cm.
    Poor,
    /// From 25 to 50 cm.
    SomewhatPoor,
    /// From 50 to 100 cm.
    ModeratelyWell,
    /// Below 100 cm or none: well drained, or better.
    WellOrBetter,
}

impl NaturalDrainage {
    /// Class of the depth where signs of wetness begin.
    #[must_use]
    pub fn of_wet_depth(wet_from_cm: f64) -> Self {
        match wet_from_cm {
            d if d < 25.0 => Self::Poor,
            d if d < 50.0 => Self::SomewhatPoor,
            d if d <= 100.0 => Self::ModeratelyWell,
            _ => Self::WellOrBetter,
        }
    }

    /// In lower-case words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::VeryPoor => "very poorly drained",
            Self::Poor => "poorly drained",
            Self::SomewhatPoor => "somewhat poorly drained",
            Self::ModeratelyWell => "moderately well drained",
            Self::WellOrBetter => "well drained or better",
        }
    }
}
