//! A crop, or bare ground, on one day: what the daily reckoning of the root zone needs of it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Growth stages with their own crop coefficient.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CropStage {
    /// Nothing grows.
    Bare,
    /// From planting until about a tenth of the ground is covered.
    Initial,
    /// Until the ground is covered.
    Development,
    /// Until it begins to ripen.
    Mid,
    /// Until harvest.
    Late,
}

/// A crop on one day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CropDay {
    /// Its stage.
    pub stage: CropStage,
    /// Single crop coefficient, evaporation from the ground included.
    pub kc: f64,
    /// Basal crop coefficient: what the plants alone draw.
    pub kcb: f64,
    /// Share of the ground that the plants cover, 0 to 1.
    pub cover_fraction: f64,
    /// Height of the crop, m.
    pub height_m: f64,
    /// Depth of the roots, m.
    pub root_depth_m: f64,
    /// Share of the available water that may be used before the crop suffers, 0 to 1.
    pub depletion_fraction: f64,
}
