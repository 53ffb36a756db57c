//! A case as a person writes it, in JSON or TOML.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::roots::RootShape;
use crate::water::retention::parameters::SoilChoice;
use crate::water::tension::WaterContent;

crate::quantity! {
    /// Thickness of a layer.
    pub struct Thickness: "thickness of the layer", "cm", 0.5 ..= 1000.0, example 30.0;
    /// Pressure head; negative in unsaturated ground.
    pub struct Head: "pressure head", "cm", -1000000.0 ..= 1000.0, example -336.5;
    /// Depth below the surface.
    pub struct ProfileDepth: "depth", "cm", 0.0 ..= 10000.0, example 60.0;
    /// Hours from the start.
    pub struct Hours: "time", "h", 0.0 ..= 100000.0, example 24.0;
    /// A rate of rain, irrigation, evaporation or transpiration.
    pub struct Rate: "rate", "mm/h", 0.0 ..= 1000.0, example 6.0;
    /// Water that can stand on the surface before it runs off.
    pub struct PondLimit: "water that can stand", "mm", 0.0 ..= 1000.0, example 5.0;
    /// Size of a cell.
    pub struct CellSize: "cell", "cm", 0.05 ..= 50.0, example 1.0;
    /// Factor from one cell to the next.
    pub struct CellFactor: "factor", "", 1.0 ..= 2.0, example 1.1;
}

/// Input of `richards-profile`, and of a case file.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProfileQuestion {
    /// Layers from the surface down.
    pub layers: Vec<LayerQuestion>,
    /// How wet it starts.
    pub start: StartQuestion,
    /// Rates from above over time; all are 0 after the last.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub periods: Vec<PeriodQuestion>,
    /// Holds the surface at this head, in place of rates from above.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub surface_head_cm: Option<Head>,
    /// Water that can stand on the surface before the rest runs off; 5 mm where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pond_limit_mm: Option<PondLimit>,
    /// Head of the driest surface, which limits evaporation; that of the wilting point where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub driest_head_cm: Option<Head>,
    /// The lower end.
    pub bottom: BottomQuestion,
    /// Roots, where a crop stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub roots: Option<RootsQuestion>,
    /// Cells; 1 cm where nothing is said and the profile is not deeper than 2 m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cells: Option<CellsQuestion>,
    /// Hours from the start at which the profile is told, rising.
    pub times_h: Vec<Hours>,
    /// Tells how deep the ground is at least this wet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub front_water_m3_m3: Option<WaterContent>,
    /// Tells the water held above this depth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_above_cm: Option<ProfileDepth>,
}

/// A layer.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LayerQuestion {
    /// Its thickness.
    pub thickness_cm: Thickness,
    /// Its soil.
    pub soil: SoilChoice,
}

/// How wet the profile starts.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StartQuestion {
    /// The same head everywhere: −336.5 cm is field capacity at 33 kPa.
    HeadCm(Head),
    /// A head for each layer.
    LayerHeadsCm(Vec<Head>),
    /// A water content for each layer.
    #[serde(rename = "layer_water_m3_m3")]
    LayerWater(Vec<WaterContent>),
    /// At rest above a water table at this depth.
    WaterTableCm(ProfileDepth),
}

/// Rates that hold until a time.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PeriodQuestion {
    /// Hours from the start at which it ends.
    pub until_h: Hours,
    /// Rain and irrigation.
    pub water_mm_h: Rate,
    /// What the air could take from the surface; 0 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub evaporation_mm_h: Option<Rate>,
    /// What the crop could take; 0 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transpiration_mm_h: Option<Rate>,
}

/// The lower end.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BottomQuestion {
    /// Water drains under its own weight alone.
    FreeDrainage,
    /// Held at a head; 0 is a water table.
    HeadCm(Head),
    /// Nothing passes.
    Closed,
}

/// Roots.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RootsQuestion {
    /// Rooting depth.
    pub depth_cm: Thickness,
    /// How they thin out.
    pub shape: RootShape,
    /// Heads between which they take water; customary ones of a vegetable where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uptake: Option<UptakeQuestion>,
}

/// Heads between which roots take water, each below the one before.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct UptakeQuestion {
    /// Wetter than this roots lack air.
    pub airless_head_cm: Head,
    /// Drier than this they take all they want.
    pub full_from_head_cm: Head,
    /// Drier than this they take less.
    pub full_to_head_cm: Head,
    /// Drier than this they take nothing.
    pub wilting_head_cm: Head,
}

/// How the profile is cut.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CellsQuestion {
    /// All of at most this size.
    EvenCm(CellSize),
    /// Small at the surface and growing with depth.
    Growing(GrowingCells),
}

/// Cells that grow with depth.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GrowingCells {
    /// The first.
    pub first_cm: CellSize,
    /// From one to the next.
    pub factor: CellFactor,
    /// The greatest.
    pub greatest_cm: CellSize,
}
