//! What is given to the ground, and the share of it that stays as humus.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::Provenance;

/// A kind of organic matter that is added.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Addition {
    /// Finished compost.
    Compost,
    /// Solid manure with bedding.
    SolidManure,
    /// Straw and other dry stalks.
    Straw,
    /// Crop residues left green or half dry.
    Residues,
    /// Cover crop tops, killed green.
    GreenManure,
    /// Roots.
    Roots,
}

impl Addition {
    /// Every kind.
    pub const ALL: [Self; 6] =
        [Self::Compost, Self::SolidManure, Self::Straw, Self::Residues, Self::GreenManure, Self::Roots];

    /// Least and most of its organic matter that becomes humus, 0 to 1, and how the figures are known.
    #[must_use]
    pub fn humified(self) -> (f64, f64, Provenance) {
        match self {
            Self::Compost => (0.40, 0.50, Provenance::Recalled),
            Self::SolidManure => (0.40, 0.50, Provenance::Recalled),
            Self::Straw => (0.15, 0.20, Provenance::Recalled),
            Self::Residues => (0.13, 0.13, Provenance::Read),
            Self::GreenManure => (0.10, 0.20, Provenance::Recalled),
            Self::Roots => (0.15, 0.15, Provenance::Recalled),
        }
    }

    /// The middle of that range.
    #[must_use]
    pub fn usual(self) -> f64 {
        let (low, high, _) = self.humified();
        f64::midpoint(low, high)
    }
}
