//! The columns of a table of laboratory results.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::model::HeadingMeans;

/// What a column can hold, apart from the figures of a printout.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LabColumn {
    /// Name of a plot of the book.
    Plot,
    /// Day the sample was taken.
    Date,
    /// Top of the sampled layer in cm.
    FromCm,
    /// Bottom of the sampled layer in cm.
    ToCm,
    /// The sampled layer in one cell.
    Depth,
    /// Number of cores mixed.
    Cores,
    /// What stands on the bag.
    Bag,
    /// Sand.
    Sand,
    /// Silt.
    Silt,
    /// Clay.
    Clay,
    /// Size that parts silt from sand.
    SiltLimit,
    /// How particle size was measured.
    Procedure,
    /// Organic matter.
    OrganicMatter,
    /// Gravel by mass.
    GravelMass,
    /// Bulk density.
    BulkDensity,
    /// Electrical conductivity.
    Ec,
    /// What conductivity was measured in.
    EcExtract,
    /// Name of the laboratory or person.
    By,
    /// Anything else.
    Note,
}

/// One row a column: its usual heading, whether it must be there, what it accepts, an example.
const TABLE: &[(LabColumn, &str, bool, &str, &str)] = &[
    (LabColumn::Plot, "plot", true, "the name of a plot of this book", "Lower field"),
    (LabColumn::Date, "date", true, "year-month-day", "2026-04-12"),
    (LabColumn::FromCm, "from_cm", false, "0 to 500 cm", "0"),
    (LabColumn::ToCm, "to_cm", false, "0 to 500 cm, below from_cm", "20"),
    (LabColumn::Depth, "depth", false, "a depth or a range of depths, 0 to 500 cm", "0-20 cm"),
    (LabColumn::Cores, "cores", false, "1 to 500", "15"),
    (LabColumn::Bag, "bag", false, "at most 120 characters", "LF-1"),
    (LabColumn::Sand, "sand_percent", false, "0 to 100 %", "40"),
    (LabColumn::Silt, "silt_percent", false, "0 to 100 %", "40"),
    (LabColumn::Clay, "clay_percent", false, "0 to 100 %", "20"),
    (LabColumn::SiltLimit, "silt_limit", false, "50 um, 63 um or 20 um", "50 um"),
    (
        LabColumn::Procedure,
        "procedure",
        false,
        "pipette, hydrometer, laser_diffraction or not_stated",
        "pipette",
    ),
    (LabColumn::OrganicMatter, "organic_matter_percent", false, "0 to 100 %", "3.1"),
    (LabColumn::GravelMass, "gravel_mass_percent", false, "0 to 95 %", "5"),
    (LabColumn::BulkDensity, "bulk_density_g_cm3", false, "0.1 to 2.4 g/cm³", "1.35"),
    (LabColumn::Ec, "ec_ds_m", false, "0 to 200 dS/m", "0.8"),
    (
        LabColumn::EcExtract,
        "ec_extract",
        false,
        "saturated_paste, one_to_one, one_to_two, one_to_five or not_stated",
        "saturated_paste",
    ),
    (LabColumn::By, "by", false, "at most 120 characters", "County lab"),
    (LabColumn::Note, "note", false, "any text", "resampled"),
];

impl LabColumn {
    /// Every column.
    pub fn all() -> impl Iterator<Item = Self> {
        TABLE.iter().map(|row| row.0)
    }

    fn row(self) -> &'static (Self, &'static str, bool, &'static str, &'static str) {
        // Every column stands in the table: a test counts them.
        TABLE.iter().find(|row| row.0 == self).unwrap_or(&TABLE[0])
    }

    /// What it means in a table whose columns are told one by one.
    #[must_use]
    pub fn means(self) -> HeadingMeans {
        match self {
            Self::Plot => HeadingMeans::Plot,
            Self::Date => HeadingMeans::TakenOn,
            Self::FromCm => HeadingMeans::FromCm,
            Self::ToCm => HeadingMeans::ToCm,
            Self::Bag => HeadingMeans::BagLabel,
            column => HeadingMeans::Other { column },
        }
    }

    /// The column that has this usual heading.
    #[must_use]
    pub fn of_heading(heading: &str) -> Option<Self> {
        Self::all().find(|column| column.heading().eq_ignore_ascii_case(heading.trim()))
    }

    /// Its usual heading.
    #[must_use]
    pub fn heading(self) -> &'static str {
        self.row().1
    }

    /// Must the table have it?
    #[must_use]
    pub fn required(self) -> bool {
        self.row().2
    }

    /// What its cells accept, in words.
    #[must_use]
    pub fn accepted(self) -> &'static str {
        self.row().3
    }

    /// A cell that would be accepted.
    #[must_use]
    pub fn example(self) -> &'static str {
        self.row().4
    }
}

/// Which heading stands for which column; the usual headings unless told otherwise.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct LabColumns {
    renamed: BTreeMap<LabColumn, String>,
}

impl LabColumns {
    /// Reads `column` under another heading.
    #[must_use]
    pub fn read(mut self, column: LabColumn, heading: impl Into<String>) -> Self {
        self.renamed.insert(column, heading.into());
        self
    }

    /// The heading looked for.
    #[must_use]
    pub fn heading(&self, column: LabColumn) -> &str {
        self.renamed.get(&column).map_or(column.heading(), String::as_str)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_column_has_its_own_row() {
        for column in LabColumn::all() {
            assert_eq!(column.row().0, column);
            assert_eq!(TABLE.iter().filter(|row| row.1 == column.heading()).count(), 1);
        }
        assert_eq!(LabColumn::all().count(), LabColumn::Note as usize + 1);
    }
}
