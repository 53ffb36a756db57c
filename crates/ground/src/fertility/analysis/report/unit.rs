//! The units of laboratory reports.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// In what a figure stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ReportUnit {
    /// A pure number.
    None,
    /// Parts per million by mass: mg/kg.
    Ppm,
    /// Milligrams in a litre of scooped soil, or mg/dm³.
    MgPerL,
    /// Pounds in an acre to the depth of the report.
    LbPerAcre,
    /// Kilograms in a hectare to the depth of the report.
    KgPerHa,
    /// Pounds in 1000 square feet to the depth of the report.
    #[serde(rename = "lb_per_1000ft2")]
    LbPer1000Ft2,
    /// Percent.
    Percent,
    /// Milliequivalents in 100 g, the same number as cmol(+)/kg.
    #[serde(rename = "meq_per_100g")]
    MeqPer100G,
    /// Milliequivalents in 100 cm³ of scooped soil.
    #[serde(rename = "meq_per_100cm3")]
    MeqPer100Cm3,
    /// Decisiemens a metre, the same number as mmho/cm and mS/cm.
    DsPerM,
    /// The laboratory's own index.
    Index,
}

impl ReportUnit {
    /// Every unit.
    pub const ALL: [Self; 11] = [
        Self::None,
        Self::Ppm,
        Self::MgPerL,
        Self::LbPerAcre,
        Self::KgPerHa,
        Self::LbPer1000Ft2,
        Self::Percent,
        Self::MeqPer100G,
        Self::MeqPer100Cm3,
        Self::DsPerM,
        Self::Index,
    ];

    /// As written after a number; empty for a pure number.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::None => "",
            Self::Ppm => "ppm",
            Self::MgPerL => "mg/L",
            Self::LbPerAcre => "lb/acre",
            Self::KgPerHa => "kg/ha",
            Self::LbPer1000Ft2 => "lb/1000 ft²",
            Self::Percent => "%",
            Self::MeqPer100G => "meq/100 g",
            Self::MeqPer100Cm3 => "meq/100 cm³",
            Self::DsPerM => "dS/m",
            Self::Index => "index",
        }
    }

    /// For a list to choose from.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::None => "no unit",
            Self::Ppm => "ppm (mg/kg)",
            Self::MgPerL => "mg/L of soil (mg/dm³)",
            Self::MeqPer100G => "meq/100 g (cmol/kg)",
            Self::DsPerM => "dS/m (mmho/cm, mS/cm)",
            Self::Index => "the laboratory's index",
            other => other.symbol(),
        }
    }

    /// Does it speak of the ground to a depth, so that the report must give one?
    #[must_use]
    pub fn per_area(self) -> bool {
        matches!(self, Self::LbPerAcre | Self::KgPerHa | Self::LbPer1000Ft2)
    }

    /// Its name in the file, and in tables.
    #[must_use]
    pub fn key(self) -> String {
        super::procedure::key_of(self)
    }
}
