//! The falling-head single ring: plain functions from inch and minutes to conductivity.
//!
//! # Method
//! Water also leaves a ring sideways, so its rate is more than the ground conducts downward:
//! q / K = H / G + 1 / (α* G) + 1 with G = 0.316 π d + 0.184 π a [ReynoldsElrick1990], a inside radius,
//! d depth driven, H mean depth of water, all cm. α* is not measured but judged from the ground.

use std::f64::consts::PI;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the ground is like, to choose α* by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum GroundKind {
    /// Tight clay without cracks or channels: 0.01 per cm.
    TightClay,
    /// Fine ground without structure: 0.04 per cm.
    FineUnstructured,
    /// Most ground with crumbs, roots and worms: 0.12 per cm.
    Structured,
    /// Coarse sand, or fine ground full of cracks and channels: 0.36 per cm.
    CoarseOrCracked,
}

impl GroundKind {
    /// Each kind, tightest first.
    pub const ALL: [Self; 4] =
        [Self::TightClay, Self::FineUnstructured, Self::Structured, Self::CoarseOrCracked];

    /// α*, per cm.
    #[must_use]
    pub fn alpha_per_cm(self) -> f64 {
        match self {
            Self::TightClay => 0.01,
            Self::FineUnstructured => 0.04,
            Self::Structured => 0.12,
            Self::CoarseOrCracked => 0.36,
        }
    }
}

/// Depth of water, mm, that a volume makes in a ring.
#[must_use]
pub fn depth_in_ring_mm(volume_ml: f64, inside_diameter_cm: f64) -> f64 {
    10.0 * volume_ml / (PI * inside_diameter_cm * inside_diameter_cm / 4.0)
}

/// Rate of a depth gone in a time, mm/h.
#[must_use]
pub fn rate_mm_h(depth_mm: f64, minutes: f64) -> f64 {
    depth_mm * 60.0 / minutes
}

/// How many times faster water leaves the ring than the ground conducts it. Lengths in cm; `head_cm`
/// is the mean depth of water during the test, half of what was poured.
#[must_use]
pub fn side_flow_factor(inside_diameter_cm: f64, driven_cm: f64, head_cm: f64, alpha_per_cm: f64) -> f64 {
    let shape = 0.316 * PI * driven_cm + 0.184 * PI * inside_diameter_cm / 2.0;
    head_cm / shape + 1.0 / (alpha_per_cm * shape) + 1.0
}

/// Several rings together: geometric mean and how sure it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Combined {
    /// How many rings.
    pub rings: u32,
    /// Geometric mean.
    pub mean_mm_h: f64,
    /// Factor by which single rings stray from it (geometric standard deviation); nothing from one ring.
    pub spread_factor: Option<f64>,
    /// Lower end of the 90 % range of the mean; nothing from one ring.
    pub low_mm_h: Option<f64>,
    /// Upper end of it.
    pub high_mm_h: Option<f64>,
}

impl Combined {
    /// Standard error of the mean's natural logarithm, for use as evidence; `None` from one ring.
    #[must_use]
    pub fn log_standard_error(&self) -> Option<f64> {
        self.spread_factor.map(|factor| libm::log(factor) / f64::from(self.rings).sqrt())
    }
}

/// Combines rates or conductivities, which spread in proportion and not by addition. `None` without
/// any, or with one that is not above 0.
#[must_use]
pub fn combine(rates_mm_h: &[f64]) -> Option<Combined> {
    if rates_mm_h.is_empty() || rates_mm_h.iter().any(|rate| rate.is_nan() || *rate <= 0.0) {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "a count of rings")]
    let n = rates_mm_h.len() as f64;
    let mean = rates_mm_h.iter().map(|rate| libm::log(*rate)).sum::<f64>() / n;
    let squares: f64 = rates_mm_h
        .iter()
        .map(|rate| {
            let off = libm::log(*rate) - mean;
            off * off
        })
        .sum();
    let deviation = (rates_mm_h.len() > 1).then(|| (squares / (n - 1.0)).sqrt());
    let reach = deviation.map(|s| crate::kit::quantiles::student(0.95, n - 1.0) * s / n.sqrt());
    #[expect(clippy::cast_possible_truncation, reason = "a count of rings")]
    let rings = rates_mm_h.len() as u32;
    Some(Combined {
        rings,
        mean_mm_h: libm::exp(mean),
        spread_factor: deviation.map(libm::exp),
        low_mm_h: reach.map(|reach| libm::exp(mean - reach)),
        high_mm_h: reach.map(|reach| libm::exp(mean + reach)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn side_flow_as_the_equation_gives_by_hand() {
        // a 7.5, d 7.6, H 1.27 cm: G = 7.5450 + 4.3354 = 11.880; hand arithmetic.
        for (kind, factor) in GroundKind::ALL.into_iter().zip([9.52, 3.21, 1.81, 1.34]) {
            let ours = side_flow_factor(15.0, 7.6, 1.27, kind.alpha_per_cm());
            assert!((ours - factor).abs() < 0.006, "{kind:?}: {ours}");
        }
    }

    #[test]
    fn side_flow_vanishes_in_a_wide_deep_ring() {
        assert!(side_flow_factor(1e4, 1e4, 1.27, 0.12) < 1.001);
        assert!(side_flow_factor(10.0, 5.0, 1.27, 0.12) > side_flow_factor(30.0, 5.0, 1.27, 0.12));
    }

    #[test]
    fn rings_combine_in_proportion() {
        let both = combine(&[10.0, 40.0]).unwrap();
        assert!((both.mean_mm_h - 20.0).abs() < 1e-9);
        // Log deviation of two values a factor 4 apart: ln 4 / √2.
        assert!((libm::log(both.spread_factor.unwrap()) - libm::log(4.0) / 2.0_f64.sqrt()).abs() < 1e-12);
        assert!((both.log_standard_error().unwrap() - libm::log(4.0) / 2.0).abs() < 1e-12);
        let scaled = combine(&[100.0, 400.0]).unwrap();
        assert!((scaled.low_mm_h.unwrap() / both.low_mm_h.unwrap() - 10.0).abs() < 1e-9);
        assert_eq!(combine(&[12.0]).unwrap().low_mm_h, None);
        assert!(combine(&[]).is_none() && combine(&[3.0, 0.0]).is_none());
    }
}
