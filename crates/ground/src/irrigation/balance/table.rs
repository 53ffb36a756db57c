//! The table of the daily balance: what is given of each day, and what is told of it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::available::{Depletion, FieldCapacity, RootDepth, WiltingPoint};
use super::engine::{FractionRule, Wetting};
use super::evaporation_layer::{
    CoverShare, CropHeight, LeastHumidity, ReadilyEvaporable, ReferenceEt, SurfaceDepletion, WettedShare,
    WindAtTwoMetres,
};
use super::stress::RootDepletion;

crate::quantity! {
    /// Rain of the day.
    pub struct Rain: "rain", "mm", 0.0 ..= 500.0, example 6.0;
    /// Water given on the day over the whole ground.
    pub struct WaterGiven: "water given", "mm", 0.0 ..= 300.0, example 20.0;
    /// Share of the water given that reaches the root zone.
    pub struct ReachesRoots: "share that reaches the roots", "%", 10.0 ..= 100.0, example 90.0;
    /// Crop coefficient.
    pub struct CropCoefficient: "crop coefficient", "", 0.0 ..= 1.6, example 1.05;
    /// Water that evaporates in all.
    pub struct Evaporable: "evaporable water", "mm", 1.0 ..= 60.0, example 18.0;
}

/// Which coefficient the days are reckoned with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CoefficientGiven {
    /// The crop coefficient holds evaporation too.
    Single,
    /// A basal coefficient for the plants; evaporation is followed in the surface layer.
    Dual,
}

/// One day.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BalanceDay {
    /// Number of the day; each day must follow the one before.
    pub day: u32,
    /// Reference evapotranspiration.
    pub reference_et_mm_d: ReferenceEt,
    /// Rain; none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<Rain>,
    /// Water given; none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub irrigation_mm: Option<WaterGiven>,
    /// Crop coefficient: the single one, or the basal one with `dual`.
    pub crop_coefficient: CropCoefficient,
    /// Depth of the roots.
    pub root_depth_m: RootDepth,
    /// Share of the ground covered; used with `dual`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cover_percent: Option<CoverShare>,
    /// Crop height; used with `dual`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<CropHeight>,
    /// Wind; 2 m/s where nothing is said; used with `dual`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_m_s: Option<WindAtTwoMetres>,
    /// Least humidity; 45 % where nothing is said; used with `dual`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rh_min_percent: Option<LeastHumidity>,
}

/// Input of `root-zone-balance`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BalanceInput {
    /// Water at field capacity, of the whole soil.
    pub field_capacity_m3_m3: FieldCapacity,
    /// Water at the wilting point, of the whole soil.
    pub wilting_point_m3_m3: WiltingPoint,
    /// Allowed depletion at a demand of 5 mm a day.
    pub depletion_percent: Depletion,
    /// Whether it moves with the demand.
    pub fraction: FractionRule,
    /// When in the day water arrives.
    pub wetting: Wetting,
    /// Which coefficient the days carry.
    pub coefficient: CoefficientGiven,
    /// Water missing from the root zone before the first day.
    pub start_depletion_mm: RootDepletion,
    /// Water missing from the surface layer before the first day; needed with `dual`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start_surface_depletion_mm: Option<SurfaceDepletion>,
    /// Water the surface layer can lose in all; needed with `dual`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub evaporable_mm: Option<Evaporable>,
    /// Water it loses freely; needed with `dual`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub readily_evaporable_mm: Option<ReadilyEvaporable>,
    /// Share of the ground that watering wets; all of it where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wetted_percent: Option<WettedShare>,
    /// Share of the water given that reaches the roots; all of it where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub efficiency_percent: Option<ReachesRoots>,
    /// The days, in order, without gaps.
    pub days: Vec<BalanceDay>,
}

/// One day reckoned.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct BalanceRow {
    /// Number of the day.
    pub day: u32,
    /// Water the roots can draw in all.
    pub total_available_mm: f64,
    /// Water they can draw before the crop suffers.
    pub readily_available_mm: f64,
    /// Stress coefficient.
    pub stress_coefficient: f64,
    /// What crop and ground lost.
    pub et_mm: f64,
    /// Part of it that evaporated from the surface, with `dual`.
    pub evaporation_mm: f64,
    /// What drained below the root zone.
    pub drained_mm: f64,
    /// What drained below the surface layer's wetted part, over that part.
    pub surface_drained_mm: f64,
    /// Water missing from the root zone at the end of the day.
    pub depletion_mm: f64,
    /// Water missing from the surface layer's wetted part at the end of the day.
    pub surface_depletion_mm: f64,
}

/// Output of `root-zone-balance`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct BalanceOutput {
    /// The days.
    pub days: Vec<BalanceRow>,
    /// What crop and ground lost in all.
    pub et_mm: f64,
    /// What drained below the root zone in all.
    pub drained_mm: f64,
    /// First day that ends with more used than the crop may lose; absent when there is none.
    pub due_day: Option<u32>,
}
