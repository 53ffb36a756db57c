//! Water taken by roots.
//!
//! # Method
//! Each cell gives the crop's demand, times the share of roots in it, times a reduction by its head
//! \[Feddes1978\]: nothing in waterlogged ground, all between two heads, falling to nothing at wilting.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::profile::Profile;

/// How roots thin out with depth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RootShape {
    /// Alike to the rooting depth.
    Even,
    /// Densest at the surface and thinning evenly to nothing at the rooting depth: the upper half
    /// then holds three quarters.
    Thinning,
}

/// Heads between which roots take water, cm, each below the one before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uptake {
    /// Wetter than this roots lack air and take nothing.
    pub airless_head_cm: f64,
    /// Drier than this they take all they want.
    pub full_from_head_cm: f64,
    /// Drier than this they take less.
    pub full_to_head_cm: f64,
    /// Drier than this they take nothing.
    pub wilting_head_cm: f64,
}

impl Default for Uptake {
    /// A common vegetable: recalled as customary, without a source.
    fn default() -> Self {
        Self {
            airless_head_cm: -10.0,
            full_from_head_cm: -25.0,
            full_to_head_cm: -500.0,
            wilting_head_cm: -15_296.0,
        }
    }
}

impl Uptake {
    /// Share of the demand taken at a head, and its slope over head, 1/cm.
    #[must_use]
    pub fn share(&self, head_cm: f64) -> (f64, f64) {
        let between = |low: f64, high: f64| ((head_cm - low) / (high - low), 1.0 / (high - low));
        if head_cm >= self.airless_head_cm || head_cm <= self.wilting_head_cm {
            (0.0, 0.0)
        } else if head_cm > self.full_from_head_cm {
            let (share, slope) = between(self.full_from_head_cm, self.airless_head_cm);
            (1.0 - share, -slope)
        } else if head_cm >= self.full_to_head_cm {
            (1.0, 0.0)
        } else {
            between(self.wilting_head_cm, self.full_to_head_cm)
        }
    }
}

/// Roots of a crop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roots {
    /// Rooting depth, cm.
    pub depth_cm: f64,
    /// How they thin out.
    pub shape: RootShape,
    /// When they take water.
    pub uptake: Uptake,
}

impl Roots {
    /// Share of all roots in each cell of a profile; together 1. Roots below the profile are thought
    /// into it.
    pub(super) fn fill(&self, profile: &Profile, shares: &mut Vec<f64>) {
        let above = |depth: f64| {
            let share = (depth / self.depth_cm).min(1.0);
            match self.shape {
                RootShape::Even => share,
                RootShape::Thinning => share * (2.0 - share),
            }
        };
        shares.clear();
        let (mut top, mut sum) = (0.0, 0.0);
        for width in &profile.width {
            let here = above(top + width) - above(top);
            shares.push(here);
            sum += here;
            top += width;
        }
        shares.iter_mut().for_each(|share| *share /= sum);
    }
}
