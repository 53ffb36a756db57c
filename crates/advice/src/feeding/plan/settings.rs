//! What a person may set about a plan.

use ground::kit::Refusal;
use serde::{Deserialize, Serialize};

ground::quantity! {
    /// How far a need may fall short.
    pub struct ShortPercent: "how far a need may fall short", "%", 0.0 ..= 100.0, example 10.0;
    /// How far a need may be passed.
    pub struct OverPercent: "how far a need may be passed", "%", 0.0 ..= 100.0, example 20.0;
    /// What fills a bucket.
    pub struct BucketLitres: "volume of a bucket", "L", 1.0 ..= 100.0, example 20.0;
    /// What a heaped shovel holds.
    pub struct ShovelLitres: "volume of a shovelful", "L", 0.2 ..= 30.0, example 5.0;
}

/// How surely the needs are to be met.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Aim {
    /// As often too much as too little.
    Median,
    /// Enough in four of five cases.
    P80,
}

impl Aim {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Median => "the middle of what may be needed",
            Self::P80 => "enough with odds of 80 %",
        }
    }

    /// The other one.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Median => Self::P80,
            Self::P80 => Self::Median,
        }
    }
}

/// Settings of a plan.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PlanSettings {
    /// How surely.
    pub aim: Aim,
    /// Needs may fall short by this share of them.
    pub short_percent: f64,
    /// Needs may be passed by this share of them.
    pub over_percent: f64,
    /// Most materials on one bed.
    pub most_materials: u32,
    /// Volume of a bucket; none: no buckets are told.
    pub bucket_l: Option<f64>,
    /// Volume of a heaped shovel; none: no shovelfuls are told.
    pub shovel_l: Option<f64>,
}

impl Default for PlanSettings {
    fn default() -> Self {
        Self {
            aim: Aim::Median,
            short_percent: 10.0,
            over_percent: 20.0,
            most_materials: 5,
            bucket_l: Some(FIVE_GALLONS_L),
            shovel_l: Some(USUAL_SHOVEL_L),
        }
    }
}

/// A heaped round-point shovel of loose material (common practice, no source).
pub const USUAL_SHOVEL_L: f64 = 5.0;
/// Five US gallons.
const FIVE_GALLONS_L: f64 = 18.927_058_92;

/// Checks the number of materials that a bed may get.
pub fn most_materials(count: u32) -> Result<u32, Refusal> {
    if (1..=12).contains(&count) {
        Ok(count)
    } else {
        Err(Refusal::new("most_materials", format!("a bed cannot get at most {count} materials"))
            .given(count)
            .accepted("1 to 12")
            .example(5))
    }
}
