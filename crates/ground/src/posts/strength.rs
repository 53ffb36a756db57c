//! Strength of the ground that posts are pulled from: sand by friction, clay by cohesion.

use super::building_class::BuildingClass;
use super::quantities::{FrictionAngle, UndrainedStrength, UnitWeight};
use crate::kit::{Bounded, Refusal};

/// Unit weight of water, kN/m³.
pub const WATER_KN_M3: f64 = 9.807;
/// Unit weight of concrete, kN/m³: 145 lb/ft³, common practice.
pub const CONCRETE_KN_M3: f64 = 22.78;

/// Ground of one kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Strength {
    /// Resists by its weight and friction.
    Sand {
        /// Unit weight; buoyant below water.
        unit_weight_kn_m3: f64,
        /// Angle of internal friction.
        friction_degrees: f64,
    },
    /// Resists by cohesion.
    Clay {
        /// Unit weight; buoyant below water.
        unit_weight_kn_m3: f64,
        /// Undrained shear strength.
        undrained_kpa: f64,
    },
}

impl Strength {
    /// Unit weight, kN/m³.
    #[must_use]
    pub fn unit_weight(self) -> f64 {
        match self {
            Self::Sand { unit_weight_kn_m3, .. } | Self::Clay { unit_weight_kn_m3, .. } => unit_weight_kn_m3,
        }
    }

    /// Planning values where nothing was measured, by the judgement of this project: 17.3 kN/m³
    /// (110 lb/ft³), 30° for sand and gravel, 24 kPa (500 psf) for silt and clay; below water the buoyant
    /// weight, and half the strength of silt and clay.
    #[must_use]
    pub fn planning(class: BuildingClass, below_water: bool) -> Self {
        let unit_weight_kn_m3 = if below_water { 18.9 - WATER_KN_M3 } else { 17.3 };
        match class {
            BuildingClass::SiltAndClay => {
                Self::Clay { unit_weight_kn_m3, undrained_kpa: if below_water { 12.0 } else { 24.0 } }
            }
            _ => Self::Sand { unit_weight_kn_m3, friction_degrees: 30.0 },
        }
    }
}

/// Sand or clay, by which of the two strengths was given.
pub(super) fn strength_of(
    unit_weight: UnitWeight,
    friction: Option<FrictionAngle>,
    undrained: Option<UndrainedStrength>,
) -> Result<Strength, Refusal> {
    let unit_weight_kn_m3 = unit_weight.get();
    match (friction, undrained) {
        (Some(friction), None) => Ok(Strength::Sand { unit_weight_kn_m3, friction_degrees: friction.get() }),
        (None, Some(undrained)) => Ok(Strength::Clay { unit_weight_kn_m3, undrained_kpa: undrained.get() }),
        (given, _) => Err(Refusal::new(
            "friction_angle_degrees",
            "give either a friction angle (sand) or an undrained strength (silt and clay), and not both",
        )
        .given(if given.is_some() { "both" } else { "neither" })
        .accepted("one of friction_angle_degrees and undrained_strength_kpa")
        .example("30")),
    }
}
