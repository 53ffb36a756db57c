//! Classes of intake rate, as a ring test is reported.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Millimetres in an inch.
pub const MM_PER_INCH: f64 = 25.4;

/// Intake classes of the soil quality test kit [NrcsTestKit1999].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum IntakeClass {
    /// Over 40 000 minutes per inch.
    Impermeable,
    /// 1000 to 40 000 minutes per inch.
    VerySlow,
    /// 300 to 1000 minutes per inch.
    Slow,
    /// 100 to 300 minutes per inch.
    ModeratelySlow,
    /// 30 to 100 minutes per inch.
    Moderate,
    /// 10 to 30 minutes per inch.
    ModeratelyRapid,
    /// 3 to 10 minutes per inch.
    Rapid,
    /// Under 3 minutes per inch.
    VeryRapid,
}

impl IntakeClass {
    /// Class of a rate, mm/h. A rate on a limit belongs to the slower class.
    #[must_use]
    pub fn of(rate_mm_h: f64) -> Self {
        match rate_mm_h / MM_PER_INCH {
            r if r > 20.0 => Self::VeryRapid,
            r if r > 6.0 => Self::Rapid,
            r if r > 2.0 => Self::ModeratelyRapid,
            r if r > 0.6 => Self::Moderate,
            r if r > 0.2 => Self::ModeratelySlow,
            r if r > 0.06 => Self::Slow,
            r if r > 0.0015 => Self::VerySlow,
            _ => Self::Impermeable,
        }
    }

    /// In lower-case words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Impermeable => "impermeable",
            Self::VerySlow => "very slow",
            Self::Slow => "slow",
            Self::ModeratelySlow => "moderately slow",
            Self::Moderate => "moderate",
            Self::ModeratelyRapid => "moderately rapid",
            Self::Rapid => "rapid",
            Self::VeryRapid => "very rapid",
        }
    }
}
