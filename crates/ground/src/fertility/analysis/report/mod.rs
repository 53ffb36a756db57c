//! A laboratory's printout as it was received: figures with their procedure and unit, nothing reckoned.
//!
//! * [`Analyte`]: what was measured. [`Procedure`]: how. [`ReportUnit`]: in what. [`Amount`]: how much,
//!   "< 2" included.
//! * [`LabReport`]: one printout of one sample, with the laboratory's own recommendation beside it.

mod amount;
mod analyte;
mod check;
mod procedure;
mod recommended;
mod unit;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use amount::Amount;
pub use analyte::Analyte;
pub use procedure::{Procedure, ProcedureKind};
pub use recommended::{LabRecommended, RateUnit, RecommendedWhat};
pub use unit::ReportUnit;

crate::quantity! {
    /// Thickness of ground that a rate per area speaks of.
    pub struct BasisDepth: "depth the report speaks of", "cm", 1.0 ..= 150.0, example 17.0;
    /// Dry mass of the ground in its volume, where the laboratory gives it.
    pub struct ReportDensity: "density on the report", "g/cm³", 0.1 ..= 2.4, example 1.3;
}

/// Most figures on one report.
pub const MOST_FIGURES: usize = 80;

/// One printout of one sample.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LabReport {
    /// Who made the analysis.
    #[serde(default)]
    pub laboratory: String,
    /// The laboratory's number of the sample or report.
    #[serde(default)]
    pub number: String,
    /// Depth that figures per area speak of; they need it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub basis_depth_cm: Option<BasisDepth>,
    /// Density of the ground or of the scooped sample, where the report gives it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_g_cm3: Option<ReportDensity>,
    /// Did the soil fizz with acid?
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_lime: Option<FreeLime>,
    /// The figures, in the order of the report.
    pub figures: Vec<LabFigure>,
    /// What the laboratory itself recommends.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub recommended: Vec<LabRecommended>,
}

/// One figure.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LabFigure {
    /// What was measured.
    pub analyte: Analyte,
    /// How.
    pub procedure: Procedure,
    /// In what.
    pub unit: ReportUnit,
    /// How much.
    pub amount: Amount,
}

/// Carbonate in the soil, as it fizzes with dilute acid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FreeLime {
    /// No fizz.
    None,
    /// A little.
    Slight,
    /// A lot.
    Strong,
}

impl FreeLime {
    /// Every degree.
    pub const ALL: [Self; 3] = [Self::None, Self::Slight, Self::Strong];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::None => "no fizz",
            Self::Slight => "slight fizz",
            Self::Strong => "strong fizz",
        }
    }
}

impl LabReport {
    /// A report without figures.
    #[must_use]
    pub fn new(laboratory: impl Into<String>) -> Self {
        Self {
            laboratory: laboratory.into(),
            number: String::new(),
            basis_depth_cm: None,
            density_g_cm3: None,
            free_lime: None,
            figures: Vec::new(),
            recommended: Vec::new(),
        }
    }

    /// The figures of one analyte, by whichever procedure.
    pub fn of(&self, analyte: Analyte) -> impl Iterator<Item = &LabFigure> {
        self.figures.iter().filter(move |figure| figure.analyte == analyte)
    }

    /// The first figure of an analyte.
    #[must_use]
    pub fn first(&self, analyte: Analyte) -> Option<&LabFigure> {
        self.of(analyte).next()
    }

    /// The figure of an analyte by that procedure.
    #[must_use]
    pub fn by(&self, analyte: Analyte, procedure: Procedure) -> Option<&LabFigure> {
        self.of(analyte).find(|figure| figure.procedure == procedure)
    }

    /// The buffer pH with its buffer, where one stands on the report.
    #[must_use]
    pub fn buffer(&self) -> Option<&LabFigure> {
        self.first(Analyte::BufferPh)
    }
}
