//! What the laboratory itself recommends, kept beside what is worked out here.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One line of the laboratory's recommendation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LabRecommended {
    /// Of what.
    pub what: RecommendedWhat,
    /// How much.
    pub rate: f64,
    /// In what.
    pub unit: RateUnit,
    /// For which crop, as the report says it; empty for all.
    #[serde(default)]
    pub for_crop: String,
}

/// What is recommended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RecommendedWhat {
    /// Lime.
    Lime,
    /// Nitrogen.
    N,
    /// Phosphate.
    P2o5,
    /// Potash.
    K2o,
    /// Calcium.
    Ca,
    /// Magnesium.
    Mg,
    /// Sulfur.
    S,
    /// Boron.
    B,
    /// Zinc.
    Zn,
    /// Manganese.
    Mn,
    /// Copper.
    Cu,
    /// Iron.
    Fe,
    /// Gypsum.
    Gypsum,
}

impl RecommendedWhat {
    /// Everything that is recommended.
    pub const ALL: [Self; 13] = [
        Self::Lime,
        Self::N,
        Self::P2o5,
        Self::K2o,
        Self::Ca,
        Self::Mg,
        Self::S,
        Self::B,
        Self::Zn,
        Self::Mn,
        Self::Cu,
        Self::Fe,
        Self::Gypsum,
    ];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Lime => "lime",
            Self::N => "nitrogen (N)",
            Self::P2o5 => "phosphate (P2O5)",
            Self::K2o => "potash (K2O)",
            Self::Ca => "calcium (Ca)",
            Self::Mg => "magnesium (Mg)",
            Self::S => "sulfur (S)",
            Self::B => "boron (B)",
            Self::Zn => "zinc (Zn)",
            Self::Mn => "manganese (Mn)",
            Self::Cu => "copper (Cu)",
            Self::Fe => "iron (Fe)",
            Self::Gypsum => "gypsum",
        }
    }
}

/// In what a rate stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RateUnit {
    /// Pounds an acre.
    LbPerAcre,
    /// Short tons an acre.
    TonPerAcre,
    /// Pounds for 1000 square feet.
    #[serde(rename = "lb_per_1000ft2")]
    LbPer1000Ft2,
    /// Pounds for 100 square feet.
    #[serde(rename = "lb_per_100ft2")]
    LbPer100Ft2,
    /// Kilograms a hectare.
    KgPerHa,
    /// Tonnes a hectare.
    TonnePerHa,
    /// Grams a square metre.
    GPerM2,
}

impl RateUnit {
    /// Every unit.
    pub const ALL: [Self; 7] = [
        Self::LbPerAcre,
        Self::TonPerAcre,
        Self::LbPer1000Ft2,
        Self::LbPer100Ft2,
        Self::KgPerHa,
        Self::TonnePerHa,
        Self::GPerM2,
    ];

    /// As written after a number.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::LbPerAcre => "lb/acre",
            Self::TonPerAcre => "ton/acre",
            Self::LbPer1000Ft2 => "lb/1000 ft²",
            Self::LbPer100Ft2 => "lb/100 ft²",
            Self::KgPerHa => "kg/ha",
            Self::TonnePerHa => "t/ha",
            Self::GPerM2 => "g/m²",
        }
    }

    /// Grams a square metre in one of it: the international pound (0.45359237 kg), foot (0.3048 m) and
    /// acre (43 560 ft²) are exact.
    #[must_use]
    pub fn g_m2(self) -> f64 {
        const LB_G: f64 = 453.592_37;
        const FT2_M2: f64 = 0.092_903_04;
        match self {
            Self::LbPerAcre => LB_G / (43_560.0 * FT2_M2),
            Self::TonPerAcre => 2000.0 * LB_G / (43_560.0 * FT2_M2),
            Self::LbPer1000Ft2 => LB_G / (1000.0 * FT2_M2),
            Self::LbPer100Ft2 => LB_G / (100.0 * FT2_M2),
            Self::KgPerHa => 0.1,
            Self::TonnePerHa => 100.0,
            Self::GPerM2 => 1.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST SP 811 (2008), appendix B.9: pound per acre is 1.120 851 kg/ha; per square foot 4.882 428 kg/m².
    #[test]
    fn rates_agree_with_the_tables_of_the_units_office() {
        let near = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-6, "{a} {b}");
        near(RateUnit::LbPerAcre.g_m2() / RateUnit::KgPerHa.g_m2(), 1.120_851);
        near(RateUnit::LbPer1000Ft2.g_m2(), 4.882_428);
        near(RateUnit::TonPerAcre.g_m2() / RateUnit::TonnePerHa.g_m2(), 2.241_702);
    }
}
