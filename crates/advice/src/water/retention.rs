//! How hard the ground holds its water: the curve of its top with the spread of what it may be.

use ground::kit::Spread;
use serde::Serialize;

use super::soils::{LayerDraws, earth};

/// Suctions of the curve: 1 to 1500 kPa, four to each factor of ten.
const FROM_KPA: f64 = 1.0;
const TO_KPA: f64 = 1500.0;
const STEPS: u32 = 26;

/// A point of the curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct HeldAt {
    /// Suction, kPa or centibars.
    pub suction_kpa: f64,
    /// Water of the whole soil.
    pub water_m3_m3: Spread,
}

/// The curve of a layer.
pub(super) fn curve(layer: &LayerDraws) -> Vec<HeldAt> {
    (0..=STEPS)
        .filter_map(|step| {
            let suction_kpa = FROM_KPA * (TO_KPA / FROM_KPA).powf(f64::from(step) / f64::from(STEPS));
            let water_m3_m3 = layer.spread(|water| {
                // A draw whose air entry is not known is drawn from field capacity on only.
                Some(water.water_at(suction_kpa)?.0 * earth(water))
            })?;
            Some(HeldAt { suction_kpa, water_m3_m3 })
        })
        .collect()
}
