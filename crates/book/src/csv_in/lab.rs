//! A table of laboratory results: how its columns are read, and what becomes of its rows.

use std::collections::BTreeMap;

use ground::fertility::analysis::report::BasisDepth;
use ground::kit::Refusal;
use jiff::civil::Date;
use serde::Serialize;
use sha2::{Digest, Sha256};

use super::USUAL_LAYER_CM;
use super::columns::{LabColumn, LabColumns};
use super::guess::{Guess, guess};
use super::rows::{self, Row};
use super::table::{RowRefusal, Table, short};
use super::weather::dates;
use crate::error::{BookError, Result};
use crate::held::{Held, Stamp};
use crate::model::weather::DateOrder;
use crate::model::{
    EntryId, HeadingMeans, Import, LabHeading, Laboratory, MOST_LAB_HEADINGS, Observation, Sample,
    SampleDepth, Seen,
};
use crate::snapshot::Snapshot;
use crate::store::{Book, Writing};

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
        !held.body.columns.is_empty() && headings.iter().all(|heading| known(&heading))
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
fn same(one: &str, other: &str) -> bool {
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
fn by_headings(text: &str, told: &LabColumns) -> std::result::Result<LabImport, Vec<RowRefusal>> {
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
pub(super) fn read_for_test(text: &str, told: &LabColumns) -> std::result::Result<Vec<Row>, Vec<RowRefusal>> {
    rows::read(text, &by_headings(text, told)?, ground::kit::units::UnitSystem::Metric)
}

impl Book {
    /// Records a table of laboratory results whose headings say what its columns hold; see
    /// [`LabColumn`] for the plain ones, which may go by another heading.
    ///
    /// # Errors
    /// As [`Book::import_lab_table`].
    pub fn import_lab_csv(&mut self, text: &str, columns: &LabColumns, stamp: &Stamp) -> Result<Imported> {
        let import = by_headings(text, columns).map_err(BookError::Rows)?;
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

/// Where a row's results go.
struct Placed<'a> {
    row: &'a Row,
    /// A sample of the book, or one of those that are to be made.
    sample: SampleAt,
    plot: EntryId,
    on: Date,
    /// Results that are new.
    seen: Vec<&'a Seen>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum SampleAt {
    Known(EntryId),
    New(usize),
}

struct Plan<'a> {
    placed: Vec<Placed<'a>>,
    samples: Vec<(u64, Sample)>,
    known_already: usize,
    remarks: Vec<String>,
}

impl<'a> Plan<'a> {
    fn of(
        snapshot: &Snapshot,
        import: &LabImport,
        rows: &'a [Row],
    ) -> std::result::Result<Self, Vec<RowRefusal>> {
        let mut plan =
            Self { placed: Vec::new(), samples: Vec::new(), known_already: 0, remarks: Vec::new() };
        let mut refusals = Vec::new();
        for row in rows {
            if let Err(refusal) = plan.place(snapshot, import, row) {
                refusals.push(RowRefusal { line: row.line, refusal });
            }
        }
        if refusals.is_empty() { Ok(plan) } else { Err(refusals) }
    }

    fn place(
        &mut self,
        snapshot: &Snapshot,
        import: &LabImport,
        row: &'a Row,
    ) -> std::result::Result<(), Refusal> {
        let heading = |means: HeadingMeans, usual: LabColumn| -> &str {
            let found = import.columns.iter().find(|column| column.means == means);
            found.map_or(usual.heading(), |column| column.heading.as_str())
        };
        let plot = if row.plot.is_empty() {
            None
        } else {
            Some(
                snapshot
                    .plot_named(&row.plot)
                    .ok_or_else(|| {
                        stranger(heading(HeadingMeans::Plot, LabColumn::Plot), &row.plot, snapshot)
                    })?
                    .id,
            )
        };
        let bag = bag_of(snapshot, row, plot);
        let plot = match (plot, bag, snapshot.plot_named(&row.bag)) {
            (Some(plot), ..) => plot,
            (None, Some(bag), _) => {
                self.remarks.push(format!(
                    "Line {}: bag {} is known, taken {}.",
                    row.line, row.bag, bag.body.taken_on
                ));
                bag.body.plot
            }
            (None, None, Some(plot)) => plot.id,
            (None, None, None) => {
                return Err(unknown_bag(heading(HeadingMeans::BagLabel, LabColumn::Bag), &row.bag, snapshot));
            }
        };
        let on = row.date.or_else(|| bag.map(|bag| bag.body.taken_on)).ok_or_else(|| {
            Refusal::new(
                heading(HeadingMeans::TakenOn, LabColumn::Date),
                "this row has no day, and its bag is not known in this book",
            )
            .given("nothing")
            .accepted("a day in the table, or one told for the whole of it")
            .example(LabColumn::Date.example())
        })?;
        let sample = match bag {
            Some(bag) => SampleAt::Known(bag.id),
            None => self.sample(snapshot, row, plot, on),
        };
        let mut seen = Vec::new();
        for one in &row.seen {
            if self.stands(snapshot, sample, one) {
                self.known_already += 1;
                self.remarks.push(format!(
                    "Line {}: the {} stands in the book already and was left out.",
                    row.line,
                    one.label()
                ));
                continue;
            }
            self.refuse_double(snapshot, sample, row, one, heading(HeadingMeans::BagLabel, LabColumn::Bag))?;
            seen.push(one);
        }
        self.placed.push(Placed { row, sample, plot, on, seen });
        Ok(())
    }

    /// The sample of a row: one of the book, one that an earlier row made, or a new one.
    fn sample(&mut self, snapshot: &Snapshot, row: &Row, plot: EntryId, on: Date) -> SampleAt {
        if let Some(held) = snapshot.samples.iter().find(|held| is_of(row, plot, on, &held.body)) {
            return SampleAt::Known(held.id);
        }
        if let Some(made) = self.samples.iter().position(|(_, sample)| is_of(row, plot, on, sample)) {
            return SampleAt::New(made);
        }
        self.samples.push((row.line, sample_of(row, plot, on)));
        SampleAt::New(self.samples.len() - 1)
    }

    fn stands(&self, snapshot: &Snapshot, sample: SampleAt, seen: &Seen) -> bool {
        let in_book = |id: EntryId| {
            snapshot
                .observations
                .iter()
                .any(|held| held.body.sample == Some(id) && alike(&held.body.seen, seen))
        };
        matches!(sample, SampleAt::Known(id) if in_book(id))
            || self
                .placed
                .iter()
                .any(|earlier| earlier.sample == sample && earlier.seen.iter().any(|one| alike(one, seen)))
    }

    /// Two different printouts of one number, or two rows of one bag in one table, are a slip that a person
    /// must look at.
    fn refuse_double(
        &self,
        snapshot: &Snapshot,
        sample: SampleAt,
        row: &Row,
        seen: &Seen,
        bag_heading: &str,
    ) -> std::result::Result<(), Refusal> {
        let Seen::LabReport(report) = seen else { return Ok(()) };
        let earlier = self.placed.iter().find(|earlier| {
            earlier.sample == sample && earlier.seen.iter().any(|one| matches!(one, Seen::LabReport(_)))
        });
        if let Some(earlier) = earlier {
            return Err(Refusal::new(
                bag_heading,
                format!("line {} holds other figures of the same bag", earlier.row.line),
            )
            .given(short(if row.bag.is_empty() { &row.plot } else { &row.bag }))
            .accepted("each bag once in a table")
            .example("another label for a second bag"));
        }
        let numbered = snapshot.observations.iter().find(|held| {
            matches!(&held.body.seen, Seen::LabReport(other) if !report.number.is_empty()
                && other.number == report.number
                && same(&other.laboratory, &report.laboratory))
        });
        match numbered {
            Some(held) => Err(Refusal::new(
                "number",
                format!(
                    "report {} of this laboratory stands in the book with other figures, of {}",
                    short(&report.number),
                    held.body.seen_on
                ),
            )
            .given(short(&report.number))
            .accepted("a report once; correct the one in the book where the laboratory issued it anew")
            .example("the number on the printout")),
            None => Ok(()),
        }
    }

    fn store(
        self,
        writing: &mut Writing<'_>,
        snapshot: &Snapshot,
        text: &str,
        import: &LabImport,
        stamp: &Stamp,
    ) -> Result<Imported> {
        let mut imported =
            Imported { known_already: self.known_already, remarks: self.remarks, ..Imported::default() };
        if self.placed.iter().all(|placed| placed.seen.is_empty()) {
            return Ok(imported);
        }
        let columns: Vec<LabHeading> =
            import.columns.iter().filter(|column| !column.heading.is_empty()).cloned().collect();
        let laboratory = remember(writing, snapshot, import, &columns, stamp)?;
        let file_name =
            if import.file_name.trim().is_empty() { "pasted table" } else { import.file_name.trim() };
        let digest = Sha256::digest(text.as_bytes());
        let held = writing.record(
            Import {
                file_name: file_name.chars().take(120).collect(),
                laboratory,
                file_sha256: digest.iter().map(|byte| format!("{byte:02x}")).collect(),
                rows: u32::try_from(self.placed.len()).unwrap_or(u32::MAX),
                columns,
                note: String::new(),
            },
            stamp,
        )?;
        imported.import = Some(held.id);
        let mut made = Vec::new();
        for (line, mut sample) in self.samples {
            sample.import = Some(held.id);
            let sample = writing.record(sample, stamp).map_err(|error| at_line(error, line))?;
            imported.samples.push(sample.id);
            made.push(sample.id);
        }
        for Placed { row, sample, plot, on, seen } in self.placed {
            let sample = match sample {
                SampleAt::Known(id) => id,
                SampleAt::New(place) => made[place],
            };
            for seen in seen {
                let observation = Observation {
                    plot,
                    sample: Some(sample),
                    seen_on: on,
                    seen_by: row.by.clone(),
                    note: row.note.clone(),
                    import: Some(held.id),
                    seen: seen.clone(),
                };
                let kept = writing.record(observation, stamp).map_err(|error| at_line(error, row.line))?;
                imported.observations.push(kept.id);
            }
        }
        Ok(imported)
    }
}

fn at_line(error: BookError, line: u64) -> BookError {
    match error {
        BookError::Refused(refusal) => BookError::Rows(vec![RowRefusal { line, refusal }]),
        other => other,
    }
}

/// Keeps what the columns of a laboratory mean, for the next table.
fn remember(
    writing: &mut Writing<'_>,
    snapshot: &Snapshot,
    import: &LabImport,
    columns: &[LabHeading],
    stamp: &Stamp,
) -> Result<Option<EntryId>> {
    let name = import.laboratory.trim();
    if name.is_empty() {
        return Ok(None);
    }
    let known = snapshot.laboratories.iter().rev().find(|held| same(&held.body.name, name));
    let Some(held) = known else {
        let body = Laboratory {
            name: name.to_owned(),
            columns: columns.to_vec(),
            basis_depth_cm: import.basis_depth_cm,
            note: String::new(),
        };
        return Ok(Some(writing.record(body, stamp)?.id));
    };
    let mut body = held.body.clone();
    for column in columns {
        match body.columns.iter_mut().find(|before| before.heading == column.heading) {
            Some(before) => before.means = column.means,
            None => body.columns.push(column.clone()),
        }
    }
    body.basis_depth_cm = import.basis_depth_cm.or(body.basis_depth_cm);
    if body != held.body {
        writing.revise(held.id, held.number, body, "Columns of a table that came in", stamp)?;
    }
    Ok(Some(held.id))
}

/// The same result: a report is the same whatever its recommendation's words, if its figures are.
fn alike(one: &Seen, other: &Seen) -> bool {
    match (one, other) {
        (Seen::LabReport(one), Seen::LabReport(other)) => one.figures == other.figures,
        (one, other) => one == other,
    }
}

/// The bag of a row that gives no day, or whose day and label fit: the latest with that label.
fn bag_of<'a>(snapshot: &'a Snapshot, row: &Row, plot: Option<EntryId>) -> Option<&'a Held<Sample>> {
    if row.bag.is_empty() {
        return None;
    }
    snapshot
        .samples
        .iter()
        .filter(|held| same(&held.body.bag_label, &row.bag))
        .filter(|held| plot.is_none_or(|plot| held.body.plot == plot))
        // A bag of last year may bear the same label: with a plot named, the day tells them apart.
        .filter(|held| match (plot, row.date) {
            (Some(_), Some(date)) => held.body.taken_on == date,
            (None, Some(date)) => held.body.taken_on <= date,
            (_, None) => true,
        })
        .max_by_key(|held| held.body.taken_on)
}

/// Is the row's sample this one?
fn is_of(row: &Row, plot: EntryId, on: Date, sample: &Sample) -> bool {
    if sample.plot != plot {
        return false;
    }
    if !row.bag.is_empty() || !sample.bag_label.is_empty() {
        return row.bag.trim() == sample.bag_label.trim() && on == sample.taken_on;
    }
    let layer = row.layer.unwrap_or_else(usual_layer);
    on == sample.taken_on && layer == (sample.from_cm, sample.to_cm)
}

fn sample_of(row: &Row, plot: EntryId, on: Date) -> Sample {
    let (from_cm, to_cm) = row.layer.unwrap_or_else(usual_layer);
    let note = if row.layer.is_none() { "The depth was not given; the top 20 cm is taken." } else { "" };
    Sample {
        plot,
        taken_on: on,
        from_cm,
        to_cm,
        cores: row.cores,
        taken_by: String::new(),
        bag_label: row.bag.clone(),
        import: None,
        note: note.to_owned(),
    }
}

fn usual_layer() -> (SampleDepth, SampleDepth) {
    use ground::kit::Bounded;
    (SampleDepth::literal(USUAL_LAYER_CM.0), SampleDepth::literal(USUAL_LAYER_CM.1))
}

/// A row whose plot the book does not know.
fn stranger(heading: &str, plot: &str, snapshot: &Snapshot) -> Refusal {
    let name = short(plot);
    Refusal::new(heading, format!("this book has no plot called {name:?}"))
        .given(name)
        .accepted(plot_names(snapshot))
        .example(snapshot.plots.first().map_or(LabColumn::Plot.example(), |plot| &plot.body.name))
}

/// A row whose bag the book does not know, and which names no plot.
fn unknown_bag(heading: &str, bag: &str, snapshot: &Snapshot) -> Refusal {
    let name = short(bag);
    let mut labels: Vec<&str> = snapshot
        .samples
        .iter()
        .map(|held| held.body.bag_label.trim())
        .filter(|label| !label.is_empty())
        .collect();
    labels.sort_unstable();
    labels.dedup();
    let bags = if labels.is_empty() {
        "a label of a bag that is written down in this book".to_owned()
    } else {
        labels.iter().take(30).copied().collect::<Vec<_>>().join(", ")
    };
    Refusal::new(heading, format!("no bag of this book is labelled {name:?}, and no plot is called that"))
        .given(name)
        .accepted(format!("{bags}; or the name of a plot: {}", plot_names(snapshot)))
        .example(labels.first().copied().unwrap_or("LF-1"))
}

fn plot_names(snapshot: &Snapshot) -> String {
    if snapshot.plots.is_empty() {
        return "a plot of this book, and it has none yet".to_owned();
    }
    snapshot.plots.iter().take(30).map(|plot| plot.body.name.as_str()).collect::<Vec<_>>().join(", ")
}
