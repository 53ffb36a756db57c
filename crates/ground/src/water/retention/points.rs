//! Points of a curve as a method gives them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::parameters::Suction;
use super::{CM_PER_KPA, Retention};
use crate::kit::{Bounded, Refusal};

/// Most suctions accepted at once.
pub const MOST_POINTS: usize = 500;

/// The ground at one suction.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SuctionPoint {
    /// Suction.
    pub suction_cm: f64,
    /// The same in kPa (centibars).
    pub suction_kpa: f64,
    /// Water content.
    pub water_content_m3_m3: f64,
    /// Share of the span from residual to full.
    pub effective_saturation: f64,
    /// Conductivity.
    pub conductivity_mm_h: f64,
    /// Slope of water content over head.
    pub capacity_per_cm: f64,
}

/// Water at the tensions that growers name.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NamedWater {
    /// At 10 kPa, field capacity of sands.
    pub water_10_kpa_m3_m3: f64,
    /// At 33 kPa, field capacity of other ground.
    pub water_33_kpa_m3_m3: f64,
    /// At 1500 kPa, the wilting point.
    pub water_1500_kpa_m3_m3: f64,
}

/// The curve at each suction.
pub(super) fn points(curve: &impl Retention, suctions: &[Suction]) -> Result<Vec<SuctionPoint>, Refusal> {
    if suctions.is_empty() || suctions.len() > MOST_POINTS {
        return Err(Refusal::new(
            "suctions_cm",
            format!("suctions_cm must list 1 to {MOST_POINTS} suctions, but {} were given", suctions.len()),
        )
        .given(suctions.len())
        .accepted(format!("1 to {MOST_POINTS} suctions of 0 to 1000000 cm"))
        .example("[10, 100, 336.5]"));
    }
    Ok(suctions
        .iter()
        .map(|suction| {
            let at = curve.point(-suction.get());
            SuctionPoint {
                suction_cm: suction.get(),
                suction_kpa: suction.get() / CM_PER_KPA,
                water_content_m3_m3: at.theta,
                effective_saturation: (at.theta - curve.residual()) / (curve.saturation() - curve.residual()),
                conductivity_mm_h: at.conductivity_cm_h * 10.0,
                capacity_per_cm: at.capacity_per_cm,
            }
        })
        .collect())
}

/// Water at 10, 33 and 1500 kPa.
pub(super) fn named(curve: &impl Retention) -> NamedWater {
    let at = |kpa: f64| curve.theta(-kpa * CM_PER_KPA);
    NamedWater {
        water_10_kpa_m3_m3: at(10.0),
        water_33_kpa_m3_m3: at(33.0),
        water_1500_kpa_m3_m3: at(1500.0),
    }
}
