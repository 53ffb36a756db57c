//! A table of laboratory results: how its columns are read, and what becomes of its rows.

use std::collections::BTreeMap;

use ground::fertility::analysis::report::BasisDepth;
use ground::kit::Refusal;
use jiff::civil::Date;
use serde::Serialize;

use super::columns::{LabColumn, LabColumns};
use super::guess::{Guess, guess};
use super::place::Plan;
use super::rows;
use super::table::{RowRefusal, Table, short};
use super::weather::dates;
use crate::error::{BookError, Result};
use crate::held::{Held, Stamp};
use crate::model::weather::DateOrder;
use crate::model::{EntryId, HeadingMeans, LabHeading, Laboratory, MOST_LAB_HEADINGS};
use crate::store::Book;

/// How a table of laboratory results is read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LabImport {
    /// Name of the laboratory; its columns are remembered under it. Empty: not remembered.
    pub laboratory: String,
    /// Name of the file.
    pub file_name: String,
    /// Depth that figures per area speak of.
    pub basis_depth_cm: Option<BasisDepth>,
    /// Day of rows that have none and whose bag is not known.
    pub date: Option<Date>,
    /// How dates are written.
    pub date_order: DateOrder,
    /// What each column holds, in the order of the table.
    pub columns: Vec<LabHeading>,
}

impl LabImport {
    /// Does any column hold a figure of a printout?
    pub(super) fn has_figures(&self) -> bool {
        self.columns.iter().any(|column| matches!(column.means, HeadingMeans::Figure { .. }))
    }
}

/// What the columns of a table seem to hold.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LabProposal {
    /// Each column.
    pub columns: Vec<LabColumnSeen>,
    /// The laboratory whose table had these very columns before.
    pub laboratory: Option<String>,
    /// Depth that this laboratory's figures per area speak of.
    pub basis_depth_cm: Option<BasisDepth>,
    /// How dates are written, where the dates themselves prove it.
    pub date_order: Option<DateOrder>,
    /// Rows below the headings.
    pub rows: usize,
}

/// One column of a proposal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LabColumnSeen {
    /// What stands over it.
    pub heading: String,
    /// What it seems to hold; nothing where that is not known.
    pub means: Option<HeadingMeans>,
    /// The unit is a guess, since the heading does not say it.
    pub unit_open: bool,
    /// The first cells, for a person to judge by.
    pub cells: Vec<String>,
}

/// First cells that are shown.
const CELLS_SHOWN: usize = 3;

/// Looks at a table: columns as that laboratory had them before, else as their headings say.
///
/// # Errors
/// The text is no table.
pub fn propose_lab_columns(
    text: &str,
    laboratories: &[Held<Laboratory>],
    laboratory: &str,
) -> std::result::Result<LabProposal, Vec<RowRefusal>> {
    let table = Table::read(text, None)?;
    if !table.trouble.is_empty() {
        return Err(table.trouble);
    }
    if table.headings.len() > MOST_LAB_HEADINGS {
        return Err(vec![RowRefusal {
            line: 1,
            refusal: Refusal::new("", format!("the table has {} columns", table.headings.len()))
                .given(table.headings.len())
                .accepted(format!("at most {MOST_LAB_HEADINGS} columns")),
        }]);
    }
    let headings: Vec<&str> = table.headings.iter().map(str::trim).collect();
    let named = |name: &str| laboratories.iter().rev().find(|held| same(&held.body.name, name));
    let all_known = |held: &&Held<Laboratory>| {
        let known = |heading: &&str| {
            heading.is_empty() || held.body.columns.iter().any(|column| column.heading == **heading)
        };
        !held.body.columns.is_empty() && headings.iter().all(known)
    };
    let lab = if laboratory.trim().is_empty() {
        laboratories.iter().rev().find(all_known)
    } else {
        named(laboratory)
    };
    let remembered =
        |heading: &str| lab.and_then(|lab| lab.body.columns.iter().find(|column| column.heading == heading));
    let columns: Vec<LabColumnSeen> = headings
        .iter()
        .enumerate()
        .map(|(place, heading)| {
            let (means, unit_open) = match (remembered(heading), meaning(heading)) {
                (Some(column), _) => (Some(column.means), false),
                (None, found) => found,
            };
            let cells = table.lines.iter().filter_map(|line| line.cell(place)).take(CELLS_SHOWN).map(short);
            LabColumnSeen { heading: (*heading).to_owned(), means, unit_open, cells: cells.collect() }
        })
        .collect();
    let day_columns: Vec<usize> = columns
        .iter()
        .enumerate()
        .filter(|(_, column)| matches!(column.means, Some(HeadingMeans::TakenOn | HeadingMeans::ReportedOn)))
        .map(|(place, _)| place)
        .collect();
    let days = table.lines.iter().flat_map(|line| day_columns.iter().filter_map(|place| line.cell(*place)));
    Ok(LabProposal {
        date_order: dates::proven(days),
        laboratory: lab.map(|held| held.body.name.clone()),
        basis_depth_cm: lab.and_then(|held| held.body.basis_depth_cm),
        rows: table.lines.len(),
        columns,
    })
}

/// What a heading means by itself, and whether its unit is a guess. A blank heading is passed over.
fn meaning(heading: &str) -> (Option<HeadingMeans>, bool) {
    if heading.is_empty() || says_nothing_new(heading) {
        return (Some(HeadingMeans::PassedOver), false);
    }
    if let Some(column) = LabColumn::of_heading(heading) {
        return (Some(column.means()), false);
    }
    match guess(heading) {
        Guess::Sure(means) => (Some(means), false),
        Guess::UnitOpen(means) => (Some(means), true),
        Guess::Unknown => (None, false),
    }
}

/// Columns of the CSV export that may come back and say nothing new.
fn says_nothing_new(heading: &str) -> bool {
    ["id", "number", "recorded_at", "recorded_by"].contains(&heading.trim())
}

/// Two names or labels that a person takes for the same.
pub(super) fn same(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

/// What came in.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Imported {
    /// The record of the table itself, by which all of it can be undone; nothing where nothing was new.
    pub import: Option<EntryId>,
    /// Samples that were new.
    pub samples: Vec<EntryId>,
    /// Observations that were new.
    pub observations: Vec<EntryId>,
    /// Results that stood in the book already, and were not stored twice.
    pub known_already: usize,
    /// What should be known of single rows: bags matched, doubles left out.
    pub remarks: Vec<String>,
}

/// Reads the columns of a table by the headings that are told, each other one by what it says itself.
///
/// # Errors
/// The text is no table, or a heading is not understood.
pub fn read_lab_headings(text: &str, told: &LabColumns) -> std::result::Result<LabImport, Vec<RowRefusal>> {
    let table = Table::read(text, None)?;
    let mut refusals = Vec::new();
    let mut columns = Vec::new();
    let mut found: BTreeMap<LabColumn, usize> = BTreeMap::new();
    for heading in table.headings.iter().map(str::trim) {
        let own = LabColumn::all().find(|column| told.heading(*column).trim().eq_ignore_ascii_case(heading));
        let means = match own {
            Some(column) => {
                *found.entry(column).or_default() += 1;
                Some(column.means())
            }
            None => match meaning(heading) {
                // A heading that was given to another column means nothing by itself.
                (Some(means), false) => Some(means),
                _ => None,
            },
        };
        let Some(means) = means else {
            let known = LabColumn::all().map(|column| told.heading(column)).collect::<Vec<_>>().join(", ");
            refusals.push(RowRefusal {
                line: 1,
                refusal: match meaning(heading).0 {
                    None => Refusal::new(short(heading), "this column is not understood")
                        .given(short(heading))
                        .accepted(format!("{known}, or a figure with its unit, as P (Mehlich-3) ppm"))
                        .example("take the column out, or rename it"),
                    Some(_) => Refusal::new(
                        short(heading),
                        "this heading does not say in which unit its figures are",
                    )
                    .given(short(heading))
                    .accepted("the unit behind the name")
                    .example(format!("{heading} ppm")),
                },
            });
            continue;
        };
        columns.push(LabHeading { heading: heading.to_owned(), means });
    }
    for (column, count) in &found {
        if *count > 1 {
            let wanted = told.heading(*column);
            refusals.push(RowRefusal {
                line: 1,
                refusal: Refusal::new(wanted, format!("the table has more than one column {wanted:?}"))
                    .given(wanted)
                    .accepted("one column for each thing"),
            });
        }
    }
    let has = |means: HeadingMeans| columns.iter().any(|column: &LabHeading| column.means == means);
    let bags = has(HeadingMeans::BagLabel);
    for (column, is_there) in [
        (LabColumn::Plot, bags || has(HeadingMeans::Plot)),
        (LabColumn::Date, bags || has(HeadingMeans::TakenOn) || has(HeadingMeans::ReportedOn)),
    ] {
        if !is_there {
            let wanted = told.heading(column);
            refusals.push(RowRefusal {
                line: 1,
                refusal: Refusal::new(wanted, format!("the table has no column {wanted:?}"))
                    .given(table.headings.iter().take(20).collect::<Vec<_>>().join(", "))
                    .accepted(column.accepted())
                    .example(column.example()),
            });
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let days = columns
        .iter()
        .enumerate()
        .filter(|(_, column)| matches!(column.means, HeadingMeans::TakenOn | HeadingMeans::ReportedOn))
        .flat_map(|(place, _)| table.lines.iter().filter_map(move |line| line.cell(place)));
    let date_order = dates::proven(days).unwrap_or(DateOrder::YearMonthDay);
    Ok(LabImport {
        laboratory: String::new(),
        file_name: String::new(),
        basis_depth_cm: None,
        date: None,
        date_order,
        columns,
    })
}

#[cfg(test)]
pub(super) fn read_for_test(
    text: &str,
    told: &LabColumns,
) -> std::result::Result<Vec<rows::Row>, Vec<RowRefusal>> {
    rows::read(text, &read_lab_headings(text, told)?, ground::kit::units::UnitSystem::Metric)
}

impl Book {
    /// Records a table of laboratory results whose headings say what its columns hold; see
    /// [`LabColumn`] for the plain ones, which may go by another heading.
    ///
    /// # Errors
    /// As [`Book::import_lab_table`].
    pub fn import_lab_csv(&mut self, text: &str, columns: &LabColumns, stamp: &Stamp) -> Result<Imported> {
        let import = read_lab_headings(text, columns).map_err(BookError::Rows)?;
        self.import_lab_table(text, &import, stamp)
    }

    /// Records a table of laboratory results.
    ///
    /// A row is matched to a sample by its bag label, or to a plot by its name. A sample of the same plot
    /// with the same bag label, or with the same day and depth, is the same sample: results join the jar
    /// that was made of it. A result that stands in the book already is not stored twice, so a table may
    /// be read again. What is new carries the identity of the import, by which it can be undone as a whole.
    ///
    /// # Errors
    /// [`BookError::Rows`] names every wrong cell; then nothing is stored.
    pub fn import_lab_table(&mut self, text: &str, import: &LabImport, stamp: &Stamp) -> Result<Imported> {
        let snapshot = self.snapshot()?;
        let rows = rows::read(text, import, snapshot.farm.body.units).map_err(BookError::Rows)?;
        let plan = Plan::of(&snapshot, import, &rows).map_err(BookError::Rows)?;
        self.write(|writing| plan.store(writing, &snapshot, text, import, stamp))
    }
}
