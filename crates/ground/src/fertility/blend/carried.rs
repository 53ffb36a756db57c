//! What a material carries to the ground, as a plan counts it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Something that materials bring and beds need, or may have only so much of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Carried {
    /// Nitrogen that the crop can have this season.
    N,
    /// Phosphorus as P2O5.
    P2o5,
    /// Potassium as K2O.
    K2o,
    /// Calcium, elemental.
    Ca,
    /// Magnesium, elemental.
    Mg,
    /// Sulfur, elemental.
    S,
    /// Boron, elemental.
    B,
    /// Zinc, elemental.
    Zn,
    /// Manganese, elemental.
    Mn,
    /// Copper, elemental.
    Cu,
    /// Iron, elemental.
    Fe,
    /// Chloride.
    Cl,
    /// Sodium.
    Na,
    /// Neutralizing value, as calcium carbonate.
    Lime,
    /// Salts that dissolve in the soil water.
    Salt,
}

impl Carried {
    /// Every one, in the order it is told.
    pub const ALL: [Self; 15] = [
        Self::N,
        Self::P2o5,
        Self::K2o,
        Self::Lime,
        Self::Ca,
        Self::Mg,
        Self::S,
        Self::B,
        Self::Zn,
        Self::Mn,
        Self::Cu,
        Self::Fe,
        Self::Cl,
        Self::Na,
        Self::Salt,
    ];

    /// What it is called in a sentence.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::N => "nitrogen",
            Self::P2o5 => "phosphorus (as P2O5)",
            Self::K2o => "potassium (as K2O)",
            Self::Ca => "calcium",
            Self::Mg => "magnesium",
            Self::S => "sulfur",
            Self::B => "boron",
            Self::Zn => "zinc",
            Self::Mn => "manganese",
            Self::Cu => "copper",
            Self::Fe => "iron",
            Self::Cl => "chloride",
            Self::Na => "sodium",
            Self::Lime => "lime (as calcium carbonate)",
            Self::Salt => "soluble salts",
        }
    }

    /// At the head of a column.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::N => "N",
            Self::P2o5 => "P2O5",
            Self::K2o => "K2O",
            Self::Ca => "Ca",
            Self::Mg => "Mg",
            Self::S => "S",
            Self::B => "B",
            Self::Zn => "Zn",
            Self::Mn => "Mn",
            Self::Cu => "Cu",
            Self::Fe => "Fe",
            Self::Cl => "Cl",
            Self::Na => "Na",
            Self::Lime => "CaCO3 eq.",
            Self::Salt => "salts",
        }
    }
}
