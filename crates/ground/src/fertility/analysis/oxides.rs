//! Elements and the oxides that bags and recommendations speak in.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A nutrient that trade states as an oxide or a carbonate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum OxideOf {
    /// Phosphorus, as P2O5.
    Phosphorus,
    /// Potassium, as K2O.
    Potassium,
    /// Calcium, as CaCO3.
    Calcium,
    /// Magnesium, as MgO.
    Magnesium,
    /// Sulfur, as SO3.
    Sulfur,
    /// Nitrogen, as nitrate.
    NitrateNitrogen,
}

/// Conventional atomic masses, to the digits that trade factors need [CiaawAtomicWeights].
mod mass {
    pub(super) const H_N: f64 = 14.007;
    pub(super) const O: f64 = 15.9994;
    pub(super) const C: f64 = 12.011;
    pub(super) const MG: f64 = 24.305;
    pub(super) const P: f64 = 30.973_762;
    pub(super) const S: f64 = 32.06;
    pub(super) const K: f64 = 39.0983;
    pub(super) const CA: f64 = 40.078;
}

impl OxideOf {
    /// Each of them.
    pub const ALL: [Self; 6] = [
        Self::Phosphorus,
        Self::Potassium,
        Self::Calcium,
        Self::Magnesium,
        Self::Sulfur,
        Self::NitrateNitrogen,
    ];

    /// Mass of the compound that holds one of the element.
    #[must_use]
    pub fn per_element(self) -> f64 {
        use mass::{C, CA, H_N, K, MG, O, P, S};
        match self {
            Self::Phosphorus => (2.0 * P + 5.0 * O) / (2.0 * P),
            Self::Potassium => (2.0 * K + O) / (2.0 * K),
            Self::Calcium => (CA + C + 3.0 * O) / CA,
            Self::Magnesium => (MG + O) / MG,
            Self::Sulfur => (S + 3.0 * O) / S,
            Self::NitrateNitrogen => (H_N + 3.0 * O) / H_N,
        }
    }

    /// The compound as it is written.
    #[must_use]
    pub fn compound(self) -> &'static str {
        match self {
            Self::Phosphorus => "P2O5",
            Self::Potassium => "K2O",
            Self::Calcium => "CaCO3",
            Self::Magnesium => "MgO",
            Self::Sulfur => "SO3",
            Self::NitrateNitrogen => "NO3",
        }
    }

    /// The element as it is written.
    #[must_use]
    pub fn element(self) -> &'static str {
        match self {
            Self::Phosphorus => "P",
            Self::Potassium => "K",
            Self::Calcium => "Ca",
            Self::Magnesium => "Mg",
            Self::Sulfur => "S",
            Self::NitrateNitrogen => "N",
        }
    }
}

/// A cation that exchange sites hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Cation {
    /// Potassium.
    Potassium,
    /// Calcium.
    Calcium,
    /// Magnesium.
    Magnesium,
    /// Sodium.
    Sodium,
}

impl Cation {
    /// Each base cation.
    pub const ALL: [Self; 4] = [Self::Potassium, Self::Calcium, Self::Magnesium, Self::Sodium];

    /// ppm in one meq/100 g, as laboratories round it [ClemsonCec].
    #[must_use]
    pub fn ppm_per_meq(self) -> f64 {
        match self {
            Self::Potassium => 391.0,
            Self::Calcium => 200.4,
            Self::Magnesium => 121.5,
            Self::Sodium => 230.0,
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Potassium => "potassium",
            Self::Calcium => "calcium",
            Self::Magnesium => "magnesium",
            Self::Sodium => "sodium",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equivalents_agree_with_the_atomic_masses() {
        let exact = |cation| match cation {
            Cation::Potassium => 10.0 * mass::K,
            Cation::Calcium => 5.0 * mass::CA,
            Cation::Magnesium => 5.0 * mass::MG,
            // Sodium, 22.989 769 28.
            Cation::Sodium => 229.897_692_8,
        };
        for cation in Cation::ALL {
            assert!((cation.ppm_per_meq() / exact(cation) - 1.0).abs() < 0.001, "{cation:?}");
        }
    }
}
