//! Water beyond the crop's need, to carry salts below the roots: only where the water brings salts and no rain
//! carries them down.

use book::model::{WaterSupply, WateringSystem};
use ground::irrigation::hardware::Kind;
use ground::kit::Bounded;
use ground::water::salts::leaching::{leaching_frequent, leaching_surface};
use ground::water::salts::tolerance::crop_tolerance;
use serde::Serialize;

/// Share below which what is lost on the way carries the salts down anyway.
const WORTH_SAYING: f64 = 0.05;
/// Greatest share put into a run: beyond it another crop or another water is the answer (common practice).
const MOST: f64 = 0.30;
/// Yield to keep, percent.
const KEPT_YIELD: f64 = 90.0;

/// What the water's salts ask for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SaltAdvice {
    /// Conductivity of the water, dS/m.
    pub water_ds_m: f64,
    /// Share of the water that must pass below the roots, 0 to 1; absent where no leaching is enough.
    pub requirement: Option<f64>,
    /// Share put into today's run.
    pub used: f64,
    /// In a sentence.
    pub sentence: String,
}

/// The advice; `None` where the water's salts are not known or ask for nothing.
pub(super) fn leaching(
    system: &WateringSystem,
    supply: Option<&WaterSupply>,
    kind: Kind,
    salt_key: Option<&str>,
    rain_leaches: bool,
) -> Option<SaltAdvice> {
    let supply = supply.filter(|supply| system.supply.is_some() && supply.ec_ds_m.is_some())?;
    let water_ds_m = supply.ec_ds_m?.get();
    let tolerance = crop_tolerance(salt_key?)?.range()?.usual;
    let requirement = match kind {
        Kind::Drip => leaching_frequent(water_ds_m, tolerance.ec_at_yield(0.0)),
        Kind::Sprinkler | Kind::Hand => leaching_surface(water_ds_m, tolerance.ec_at_yield(KEPT_YIELD)),
    };
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    let (used, sentence) = match requirement {
        None => (
            MOST,
            format!(
                "The water of {} ({water_ds_m} dS/m) is too salty for this crop: no extra water keeps its salts down.",
                supply.name
            ),
        ),
        Some(share) if share < WORTH_SAYING => return None,
        Some(share) if rain_leaches => (
            0.0,
            format!(
                "The water of {} ({water_ds_m} dS/m) would ask for {} to pass below the roots; in the open the rains of the cool season do that.",
                supply.name,
                percent(share)
            ),
        ),
        Some(share) => (
            share.min(MOST),
            format!(
                "The water of {} ({water_ds_m} dS/m) brings salts and no rain carries them down here: {} of each watering is meant to pass below the roots.",
                supply.name,
                percent(share.min(MOST))
            ),
        ),
    };
    Some(SaltAdvice { water_ds_m, requirement, used, sentence })
}
