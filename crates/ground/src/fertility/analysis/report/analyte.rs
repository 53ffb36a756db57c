//! What a laboratory measures in soil.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::ReportUnit;

macro_rules! analytes {
    ($($(#[$meta:meta])* $name:ident, $words:literal, [$($unit:ident),+];)+) => {
        /// What was measured.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
        #[serde(rename_all = "snake_case")]
        pub enum Analyte {$($(#[$meta])* $name,)+}

        impl Analyte {
            /// Every analyte, in the order in which reports print them.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// In words.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self {$(Self::$name => $words,)+}
            }

            /// The units that reports give it in, the most usual first.
            #[must_use]
            pub fn units(self) -> &'static [ReportUnit] {
                match self {$(Self::$name => &[$(ReportUnit::$unit),+],)+}
            }
        }
    };
}

analytes! {
    /// pH in water.
    PhWater, "pH in water", [None];
    /// pH in a salt solution.
    PhSalt, "pH in salt", [None];
    /// pH of a buffer after the soil was stirred in; as an index, ten times that.
    BufferPh, "buffer pH", [None, Index];
    /// Phosphorus as the element.
    Phosphorus, "phosphorus", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2, Index];
    /// Potassium as the element.
    Potassium, "potassium", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2, MeqPer100G, MeqPer100Cm3, Index];
    /// Calcium as the element.
    Calcium, "calcium", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2, MeqPer100G, MeqPer100Cm3];
    /// Magnesium as the element.
    Magnesium, "magnesium", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2, MeqPer100G, MeqPer100Cm3, Index];
    /// Sodium as the element.
    Sodium, "sodium", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2, MeqPer100G, MeqPer100Cm3];
    /// Sulfur as the element.
    Sulfur, "sulfur", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2, Index];
    /// Boron.
    Boron, "boron", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2];
    /// Zinc.
    Zinc, "zinc", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2, Index];
    /// Manganese.
    Manganese, "manganese", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2, Index];
    /// Copper.
    Copper, "copper", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2, Index];
    /// Iron.
    Iron, "iron", [Ppm, LbPerAcre, MgPerL, KgPerHa, LbPer1000Ft2];
    /// Molybdenum.
    Molybdenum, "molybdenum", [Ppm, LbPerAcre, MgPerL, KgPerHa];
    /// Aluminium.
    Aluminium, "aluminum", [Ppm, LbPerAcre, MgPerL, KgPerHa, MeqPer100G];
    /// Chloride.
    Chloride, "chloride", [Ppm, LbPerAcre, MgPerL, KgPerHa];
    /// Nitrogen in nitrate.
    NitrateN, "nitrate nitrogen", [Ppm, LbPerAcre, MgPerL, KgPerHa];
    /// Nitrogen in ammonium.
    AmmoniumN, "ammonium nitrogen", [Ppm, LbPerAcre, MgPerL, KgPerHa];
    /// All nitrogen.
    TotalN, "total nitrogen", [Percent, Ppm];
    /// Organic matter.
    OrganicMatter, "organic matter", [Percent];
    /// Organic carbon.
    OrganicCarbon, "organic carbon", [Percent];
    /// Cation exchange capacity.
    Cec, "cation exchange capacity", [MeqPer100G, MeqPer100Cm3];
    /// Exchangeable acidity.
    ExchangeableAcidity, "exchangeable acidity", [MeqPer100G, MeqPer100Cm3];
    /// Share of the exchange sites held by potassium.
    PotassiumSaturation, "potassium saturation", [Percent];
    /// Share held by calcium.
    CalciumSaturation, "calcium saturation", [Percent];
    /// Share held by magnesium.
    MagnesiumSaturation, "magnesium saturation", [Percent];
    /// Share held by sodium.
    SodiumSaturation, "sodium saturation", [Percent];
    /// Share held by acidity.
    AciditySaturation, "acidity saturation", [Percent];
    /// Share held by calcium, magnesium, potassium and sodium together.
    BaseSaturation, "base saturation", [Percent];
    /// Electrical conductivity of an extract.
    Ec, "electrical conductivity", [DsPerM];
    /// Sodium adsorption ratio of the saturation extract.
    SodiumAdsorptionRatio, "sodium adsorption ratio", [None];
    /// Calcium carbonate.
    Carbonate, "calcium carbonate", [Percent];
    /// Lead.
    Lead, "lead", [Ppm];
    /// Arsenic.
    Arsenic, "arsenic", [Ppm];
    /// Cadmium.
    Cadmium, "cadmium", [Ppm];
    /// Chromium.
    Chromium, "chromium", [Ppm];
    /// Mercury.
    Mercury, "mercury", [Ppm];
    /// Nickel.
    Nickel, "nickel", [Ppm];
    /// Selenium.
    Selenium, "selenium", [Ppm];
}

impl Analyte {
    /// Its name in the file, and in tables.
    #[must_use]
    pub fn key(self) -> String {
        super::procedure::key_of(self)
    }

    /// Is it a pH?
    #[must_use]
    pub fn is_ph(self) -> bool {
        matches!(self, Self::PhWater | Self::PhSalt | Self::BufferPh)
    }
}
