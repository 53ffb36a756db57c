//! The coefficient of the first stage, which hangs on how often and how heavily the ground is wetted
//! (FAO-56 Annex 7, which draws Figures 29 and 30).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Wetting up to this depth is light, and the same on any soil, mm.
const LIGHT_MM: f64 = 10.0;
/// Wetting from this depth on is heavy, mm.
const HEAVY_MM: f64 = 40.0;
/// Coefficient of wet bare ground.
const WET: f64 = 1.15;

/// How the ground is wetted in the first stage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wetting {
    /// Reference evapotranspiration, mm/d.
    pub et0_mm_d: f64,
    /// Mean days between wettings.
    pub interval_d: f64,
    /// Depth of a wetting over the whole ground, mm.
    pub depth_mm: f64,
    /// Sand or loamy sand.
    pub coarse: bool,
    /// Share of the ground that is wetted; 1 for rain and sprinklers.
    pub wetted_fraction: f64,
}

/// The coefficient and what it comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct InitialKc {
    /// Coefficient over the whole ground.
    pub kc_ini: f64,
    /// For light wettings (Fig. 29).
    pub kc_light: f64,
    /// For heavy wettings (Fig. 30).
    pub kc_heavy: f64,
    /// Depth of a wetting on the part that is wetted, mm.
    pub depth_on_wetted_mm: f64,
}

/// Coefficient of the first stage (Annex 7 eq. 7-3; eq. 59 to 61).
#[must_use]
pub fn initial_kc(wetting: &Wetting) -> InitialKc {
    let et0 = wetting.et0_mm_d;
    let root = et0.sqrt();
    let light_rew = (6.0 / root).clamp(2.5, 7.0);
    let kc_light = drying(et0, wetting.interval_d, 10.0, light_rew);
    let (tew, rew) =
        if wetting.coarse { (f64::min(15.0, 7.0 * root), 6.0) } else { (f64::min(28.0, 13.0 * root), 9.0) };
    let kc_heavy = drying(et0, wetting.interval_d, tew, f64::min(rew, tew - 0.01));
    let depth = wetting.depth_mm / wetting.wetted_fraction;
    let share = ((depth - LIGHT_MM) / (HEAVY_MM - LIGHT_MM)).clamp(0.0, 1.0);
    InitialKc {
        kc_ini: wetting.wetted_fraction * (kc_light + share * (kc_heavy - kc_light)),
        kc_light,
        kc_heavy,
        depth_on_wetted_mm: depth,
    }
}

/// Mean coefficient of ground that dries in two stages between wettings (eq. 7-1 to 7-3). `tew` and `rew` total and
/// readily evaporable water, mm.
fn drying(et0: f64, interval_d: f64, tew: f64, rew: f64) -> f64 {
    let rate = WET * et0;
    let first = rew / rate;
    if interval_d <= first {
        return WET;
    }
    let falling = (tew - rew) * libm::exp(-(interval_d - first) * rate * (1.0 + rew / (tew - rew)) / tew);
    ((tew - falling) / (interval_d * et0)).min(WET)
}

/// Mean days between wettings of a first stage with a number of wettings (eq. 7-7).
#[must_use]
pub fn wetting_interval_d(initial_d: f64, wettings: f64) -> f64 {
    initial_d / (wettings + 0.5)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Rarer wettings never raise it, heavier ones never lower it, and no more evaporates than was there.
        #[test]
        fn it_falls_with_the_interval_and_never_exceeds_its_water(
            et0_mm_d in 0.2..12.0_f64,
            interval_d in 0.5..40.0_f64,
            depth_mm in 2.0..60.0_f64,
            coarse in any::<bool>(),
        ) {
            let wetting = Wetting { et0_mm_d, interval_d, depth_mm, coarse, wetted_fraction: 1.0 };
            let here = initial_kc(&wetting);
            prop_assert!(here.kc_ini > 0.0 && here.kc_ini <= WET);
            let rarer = initial_kc(&Wetting { interval_d: interval_d + 1.0, ..wetting });
            prop_assert!(rarer.kc_light <= here.kc_light + 1e-9 && rarer.kc_heavy <= here.kc_heavy + 1e-9);
            prop_assert!(here.kc_light * et0_mm_d * interval_d <= 10.0 + 1e-9 || here.kc_light == WET);
        }
    }
}
