//! What a person saw on the jar, as it is kept in the farm book.
//!
//! Partial and doubtful readings are normal: a boundary may be a range or not seen at all, and
//! everything about the water and the jar may be unknown.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::units::TypedReading;

crate::quantity! {
    /// A height or thickness read on the jar.
    pub struct JarHeight: "height on the jar", "mm", 0.0 ..= 1000.0, example 55.0;
    /// Inside width of the jar.
    pub struct JarWidth: "inside width of the jar", "mm", 10.0 ..= 500.0, example 75.0;
    /// Volume of water poured to reach a height.
    pub struct PouredVolume: "volume of water", "mL", 1.0 ..= 20000.0, example 250.0;
    /// Distance between two marks of the ruler.
    pub struct RulerStep: "ruler step", "mm", 0.1 ..= 20.0, example 1.0;
    /// Water temperature in the jar.
    pub struct JarTemperature: "water temperature", "°C", 1.0 ..= 40.0, example 20.0;
    /// Time since the shaken jar was set down.
    pub struct SettledFor: "time since the jar was set down", "s", 1.0 ..= 31536000.0, example 7200.0;
}

/// A jar of settled soil as it was read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JarReading {
    /// The layers, however they were read.
    pub marks: Marks,
    /// Distance between two marks of the ruler; 1 mm where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ruler_step_mm: Option<RulerStep>,
    /// Shape of the jar inside.
    #[serde(default)]
    pub shape: JarShape,
    /// Height of the water surface above the jar floor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_height_mm: Option<JarHeight>,
    /// Water temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_temperature_c: Option<JarTemperature>,
    /// What was added to part the clay.
    #[serde(default)]
    pub dispersant: Dispersant,
    /// How the water looked after a day or more.
    #[serde(default)]
    pub water_after_a_day: Clarity,
    /// Thickness of organic matter that floats or caps the clay; it is left out of the layers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub floating_organic_mm: Option<JarHeight>,
}

/// The layers as thicknesses, as heights above the jar floor, or as marks made at known times.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "read_as", rename_all = "snake_case", deny_unknown_fields)]
pub enum Marks {
    /// Thickness of each layer.
    Thicknesses {
        /// Sand layer, at the bottom.
        sand: Boundary,
        /// Silt layer.
        silt: Boundary,
        /// Clay layer.
        clay: Boundary,
    },
    /// Height of each layer's top above the jar floor, read when all had settled.
    Heights {
        /// Top of the sand.
        sand_top: Boundary,
        /// Top of the silt.
        silt_top: Boundary,
        /// Top of the clay.
        clay_top: Boundary,
    },
    /// Top of the settled soil at known times after the jar was set down.
    Timed {
        /// In the order of time. Usually about a minute, two hours or overnight, a day or more.
        marks: Vec<TimedMark>,
    },
}

/// The top of the settled soil at one time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TimedMark {
    /// Time since the jar was set down.
    pub after_s: SettledFor,
    /// Height of the top of the settled soil above the jar floor.
    pub top: Boundary,
}

/// A boundary, or a thickness, as it was seen.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "seen", rename_all = "snake_case", deny_unknown_fields)]
pub enum Boundary {
    /// Sharp.
    At {
        /// Where.
        mm: JarHeight,
    },
    /// Somewhere between two heights.
    Between {
        /// Not below.
        low_mm: JarHeight,
        /// Not above.
        high_mm: JarHeight,
    },
    /// It could not be seen.
    No,
}

impl From<TypedReading<JarHeight>> for Boundary {
    fn from(typed: TypedReading<JarHeight>) -> Self {
        match typed {
            TypedReading::At(mm) => Self::At { mm },
            TypedReading::Between(low_mm, high_mm) => Self::Between { low_mm, high_mm },
            TypedReading::NotSeen => Self::No,
        }
    }
}

/// The inside of the jar.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum JarShape {
    /// Equal width from the floor to above the soil.
    #[default]
    Straight,
    /// Tapered or shouldered: inside widths at two or three heights.
    Widths {
        /// Bottom up.
        at: Vec<Width>,
    },
    /// Any shape: heights reached by known volumes of water.
    Poured {
        /// Bottom up; height and the volume that fills the jar to it.
        fills: Vec<Fill>,
    },
}

/// Inside width of the jar at a height.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Width {
    /// Height above the jar floor.
    pub height_mm: JarHeight,
    /// Inside diameter there.
    pub diameter_mm: JarWidth,
}

/// Volume of water that fills the jar up to a height.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fill {
    /// Height above the jar floor.
    pub height_mm: JarHeight,
    /// Volume up to there.
    pub volume_ml: PouredVolume,
}

/// What was added to part the clay.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Dispersant {
    /// Nothing.
    None,
    /// A drop of liquid dish soap: wets the soil, hardly parts the clay.
    LiquidSoap,
    /// Powdered automatic-dishwasher detergent or water softener.
    DishwasherPowder,
    /// Sodium hexametaphosphate.
    Hexametaphosphate,
    /// Not known.
    #[default]
    Unknown,
}

/// How the water looked a day or more after shaking.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Clarity {
    /// Clear: the clay clumped and fell, so the layers are not size classes.
    Clear,
    /// Still cloudy: the finest clay is still up.
    Cloudy,
    /// Nobody looked.
    #[default]
    NotLooked,
}
