//! What is said about a sheet beside its contents: the farm, the day, the paper.

use book::Snapshot;
use ground::kit::units::UnitSystem;
use jiff::civil::Date;

/// The paper of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// US letter, 8.5 × 11 in.
    Letter,
    /// A4 (ISO 216), 210 × 297 mm.
    A4,
}

impl Paper {
    /// The paper that is sold where those units are used.
    #[must_use]
    pub fn of(units: UnitSystem) -> Self {
        match units {
            UnitSystem::UsCustomary => Self::Letter,
            UnitSystem::Metric => Self::A4,
        }
    }

    /// Its width and height in mm.
    #[must_use]
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::Letter => (215.9, 279.4),
            Self::A4 => (210.0, 297.0),
        }
    }

    /// The name templates know it by.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Letter => "us-letter",
            Self::A4 => "a4",
        }
    }
}

/// What is said about a sheet beside its contents.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetOptions {
    /// Name of the farm, printed on every page.
    pub farm: String,
    /// The day it is made for, printed on every page and kept in the file as the day it was made.
    pub day: Date,
    /// The paper.
    pub paper: Paper,
}

impl SheetOptions {
    /// The options of a farm's sheets on a day, in its units or those asked for instead.
    #[must_use]
    pub fn of(snapshot: &Snapshot, units: UnitSystem, day: Date) -> Self {
        Self { farm: snapshot.farm.body.name.clone(), day, paper: Paper::of(units) }
    }
}
