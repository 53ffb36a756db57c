//! How fast the ground takes water: rings at the surface, a test hole below it.

use ground::kit::{Bounded, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

ground::quantity! {
    /// Inside diameter of an infiltration ring.
    pub struct RingDiameter: "inside diameter of the ring", "mm", 20.0 ..= 3000.0, example 150.0;
    /// Depth of water poured into a ring.
    pub struct RingDepth: "depth of water in the ring", "mm", 1.0 ..= 500.0, example 25.4;
    /// Water poured into a ring.
    pub struct RingVolume: "water poured into the ring", "mL", 1.0 ..= 1000000.0, example 444.0;
    /// Time until the water was gone.
    pub struct IntakeMinutes: "time until the water was gone", "min", 0.01 ..= 10000.0, example 12.0;
    /// Fall of the water in a test hole.
    pub struct WaterFall: "fall of the water", "mm", 1.0 ..= 2000.0, example 25.0;
    /// Diameter of a test hole.
    pub struct HoleDiameter: "diameter of the hole", "mm", 20.0 ..= 3000.0, example 250.0;
    /// Depth of a test hole.
    pub struct HoleDepth: "depth of the hole", "cm", 5.0 ..= 500.0, example 60.0;
}

/// Ring infiltration: the same water poured twice into each ring, and timed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RingInfiltration {
    /// Inside diameter of the rings.
    pub inside_diameter_mm: RingDiameter,
    /// The rings, at least one.
    pub rings: Vec<Ring>,
}

/// One ring.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Ring {
    /// Water poured each time.
    pub water: RingWater,
    /// Time until the first pouring was gone.
    pub first_min: IntakeMinutes,
    /// Time until the second pouring was gone, which tells of the wet ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub second_min: Option<IntakeMinutes>,
    /// Did water still stand when the watch was stopped? Then the last time given is that of stopping.
    #[serde(default)]
    pub still_stood: bool,
}

/// Water poured into a ring.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RingWater {
    /// Its depth in the ring.
    DepthMm(RingDepth),
    /// Its volume.
    VolumeMl(RingVolume),
}

impl RingInfiltration {
    /// Depth of one pouring in `ring`, in mm.
    #[must_use]
    pub fn depth_mm(&self, ring: &Ring) -> f64 {
        match ring.water {
            RingWater::DepthMm(depth) => depth.get(),
            RingWater::VolumeMl(volume) => {
                let radius_mm = self.inside_diameter_mm.get() / 2.0;
                volume.get() * 1000.0 / (std::f64::consts::PI * radius_mm * radius_mm)
            }
        }
    }

    pub(super) fn check(&self) -> Result<(), Refusal> {
        const MOST: usize = 50;
        if (1..=MOST).contains(&self.rings.len()) {
            return Ok(());
        }
        Err(Refusal::new("rings", format!("{} rings were given", self.rings.len()))
            .given(self.rings.len())
            .accepted(format!("1 to {MOST} rings"))
            .example("three rings in places that look alike"))
    }
}

/// A percolation test: how fast the water fell in a soaked hole.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Percolation {
    /// How far the water fell.
    pub fall_mm: WaterFall,
    /// In how long.
    pub minutes: IntakeMinutes,
    /// Was the hole soaked beforehand?
    pub soaked: bool,
    /// Depth of the hole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hole_depth_cm: Option<HoleDepth>,
    /// Diameter of the hole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hole_diameter_mm: Option<HoleDiameter>,
}

impl Percolation {
    /// Minutes for each centimetre of fall.
    #[must_use]
    pub fn minutes_per_cm(&self) -> f64 {
        self.minutes.get() / (self.fall_mm.get() / 10.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Geometry: a litre over a tenth of a square metre is 10 mm; an inch over a circle of 6 in is
    /// 9π cubic inches.
    #[test]
    fn poured_water_has_its_depth() {
        let rings = |inside_diameter_mm: f64, ml: f64| {
            let water = RingWater::VolumeMl(Bounded::literal(ml));
            let ring = Ring { water, first_min: Bounded::literal(1.0), second_min: None, still_stood: false };
            let seen = RingInfiltration {
                inside_diameter_mm: Bounded::literal(inside_diameter_mm),
                rings: vec![ring],
            };
            seen.depth_mm(&ring)
        };
        assert!((rings(152.4, 9.0 * std::f64::consts::PI * 16.387_064) - 25.4).abs() < 1e-9);
        let diameter = 2.0 * (0.1 / std::f64::consts::PI).sqrt() * 1000.0;
        assert!((rings(diameter, 1000.0) - 10.0).abs() < 1e-9);
    }

    /// An inch in 30 minutes is 11.8 min/cm, by the inch of 25.4 mm.
    #[test]
    fn percolation_is_minutes_for_a_centimetre() {
        let seen = Percolation {
            fall_mm: Bounded::literal(25.4),
            minutes: Bounded::literal(30.0),
            soaked: true,
            hole_depth_cm: None,
            hole_diameter_mm: None,
        };
        assert!((seen.minutes_per_cm() - 30.0 / 2.54).abs() < 1e-12);
    }
}
