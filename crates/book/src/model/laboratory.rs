//! A laboratory whose tables come in: what its columns mean, remembered from the last time.

use ground::fertility::analysis::report::{
    Analyte, BasisDepth, Procedure, RateUnit, RecommendedWhat, ReportUnit,
};
use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Kind, Record, text};
use crate::csv_in::LabColumn;

/// Most columns of one laboratory.
pub const MOST_LAB_HEADINGS: usize = 200;

/// A laboratory.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Laboratory {
    /// What it is called.
    pub name: String,
    /// What its columns mean.
    #[serde(default)]
    pub columns: Vec<LabHeading>,
    /// Depth that its figures per area speak of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub basis_depth_cm: Option<BasisDepth>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// One column.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LabHeading {
    /// What stands over it.
    pub heading: String,
    /// What it means.
    pub means: HeadingMeans,
}

/// What a column of a laboratory's table means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case", deny_unknown_fields)]
pub enum HeadingMeans {
    /// Nothing that is wanted.
    PassedOver,
    /// Label on the bag.
    BagLabel,
    /// Name of the plot.
    Plot,
    /// The laboratory's number of the sample.
    Number,
    /// Day the sample was taken.
    TakenOn,
    /// Day of the report.
    ReportedOn,
    /// Crop that is recommended for.
    Crop,
    /// Top of the layer sampled, in centimetres.
    FromCm,
    /// Bottom of the layer sampled, in centimetres.
    ToCm,
    /// Top of the layer sampled, in inches.
    FromIn,
    /// Bottom of the layer sampled, in inches.
    ToIn,
    /// Did it fizz?
    FreeLime,
    /// Density, g/cm³.
    Density,
    /// A figure.
    Figure {
        /// What was measured.
        analyte: Analyte,
        /// How.
        procedure: Procedure,
        /// In what.
        unit: ReportUnit,
    },
    /// Something else that a table of laboratory results may hold.
    Other {
        /// What.
        column: LabColumn,
    },
    /// A rate the laboratory recommends.
    Recommended {
        /// Of what.
        what: RecommendedWhat,
        /// In what.
        unit: RateUnit,
    },
}

impl Record for Laboratory {
    const KIND: Kind = Kind::Laboratory;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "County laboratory")?;
        text::note("note", &self.note)?;
        check_headings("columns", &self.columns)
    }
}

/// Checks columns as a laboratory or an import keeps them.
pub(super) fn check_headings(field: &str, columns: &[LabHeading]) -> Result<(), Refusal> {
    if columns.len() > MOST_LAB_HEADINGS {
        return Err(Refusal::new(field, format!("{} columns were given", columns.len()))
            .given(columns.len())
            .accepted(format!("at most {MOST_LAB_HEADINGS} columns"))
            .example("pH, P, K, Ca, Mg"));
    }
    for (place, column) in columns.iter().enumerate() {
        let at = format!("{field}[{place}]");
        text::label("heading", &column.heading, "P (M3)").map_err(|refusal| refusal.inside(&at))?;
        if let HeadingMeans::Figure { analyte, procedure, unit } = column.means {
            let amount = ground::fertility::analysis::report::Amount::Exactly(match analyte {
                Analyte::BufferPh if unit == ReportUnit::Index => 60.0,
                analyte if analyte.is_ph() => 6.0,
                _ => 1.0,
            });
            // A figure that fits tells whether unit and procedure fit what was measured.
            ground::fertility::analysis::report::LabFigure { analyte, procedure, unit, amount }
                .check()
                .map_err(|refusal| refusal.inside(&format!("{at}.means")))?;
        }
    }
    Ok(())
}
