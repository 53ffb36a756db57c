//! Signs in the field: what the eye, the spade and the boot found.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

ground::quantity! {
    /// How long water stood.
    pub struct DaysOfWater: "days that water stood", "d", 0.0 ..= 365.0, example 2.0;
    /// A depth below the surface.
    pub struct SignDepth: "depth", "cm", 0.0 ..= 500.0, example 25.0;
    /// Thickness of a crust.
    pub struct CrustThickness: "thickness of the crust", "mm", 0.1 ..= 100.0, example 4.0;
    /// Width of a crack at the surface.
    pub struct CrackWidth: "width of the cracks", "mm", 0.1 ..= 500.0, example 10.0;
}

/// Signs found on one visit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Signs {
    /// At least one.
    pub signs: Vec<Sign>,
}

/// One sign.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "sign", rename_all = "snake_case", deny_unknown_fields)]
pub enum Sign {
    /// Water stood on the surface after rain or watering.
    StandingWater {
        /// For how long.
        days: DaysOfWater,
    },
    /// Rusty or grey spots in the soil.
    Mottles {
        /// From which depth down.
        from_cm: SignDepth,
    },
    /// A layer grey or bluish throughout.
    GreyLayer {
        /// From which depth down.
        from_cm: SignDepth,
    },
    /// Water in the hole.
    WaterTable {
        /// At which depth.
        at_cm: SignDepth,
    },
    /// A crust on the surface.
    Crust {
        /// Its thickness.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        thickness_mm: Option<CrustThickness>,
    },
    /// Cracks in dry ground.
    Cracks {
        /// Their width at the surface.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        width_mm: Option<CrackWidth>,
    },
    /// Wormcasts and worm holes.
    Wormcasts {
        /// How many.
        amount: Amount,
    },
    /// A hard layer that the spade or a rod felt.
    PanFelt {
        /// At which depth.
        at_cm: SignDepth,
    },
    /// Roots that turn sideways.
    RootsTurn {
        /// At which depth.
        at_cm: SignDepth,
    },
    /// Rock, or stones that stop the spade.
    Rock {
        /// At which depth.
        at_cm: SignDepth,
    },
    /// The smell of a fresh spadeful.
    Smell {
        /// Which.
        of: Smell,
    },
    /// Water ran off instead of going in.
    Runoff,
    /// Rills, or soil washed downhill.
    Washing,
    /// Soil blown by the wind.
    Blowing,
    /// Clods that do not break in the hand.
    Clods,
    /// Shiny, smeared faces where it was worked wet.
    Smeared,
}

/// How many.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// None were found.
    None,
    /// A few.
    Few,
    /// Many.
    Many,
}

/// The smell of a fresh spadeful.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Smell {
    /// Earthy.
    Earthy,
    /// Of nothing.
    Nothing,
    /// Sour.
    Sour,
    /// Of rotten eggs.
    RottenEggs,
}

impl Signs {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        if self.signs.is_empty() {
            return Err(Refusal::new("signs", "no sign was chosen")
                .given("nothing")
                .accepted("at least one sign")
                .example("a crust, or standing water for 2 days"));
        }
        if self.signs.len() > 100 {
            return Err(Refusal::new("signs", "too many signs for one visit")
                .given(self.signs.len())
                .accepted("1 to 100 signs")
                .example("a crust, or standing water for 2 days"));
        }
        Ok(())
    }
}
