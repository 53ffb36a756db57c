//! Where the rows of a laboratory's table go: to bags that are known, to plots, and what is left out.

use ground::kit::Refusal;
use jiff::civil::Date;
use sha2::{Digest, Sha256};

use super::USUAL_LAYER_CM;
use super::columns::LabColumn;
use super::lab::{Imported, LabImport, same};
use super::rows::Row;
use super::table::{RowRefusal, short};
use crate::error::{BookError, Result};
use crate::held::{Held, Stamp};
use crate::model::{
    EntryId, HeadingMeans, Import, LabHeading, Laboratory, Observation, Sample, SampleDepth, Seen,
    kept_remarks,
};
use crate::snapshot::Snapshot;
use crate::store::Writing;

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

/// What becomes of a table, before anything is stored.
pub(super) struct Plan<'a> {
    placed: Vec<Placed<'a>>,
    samples: Vec<(u64, Sample)>,
    known_already: usize,
    remarks: Vec<String>,
}

impl<'a> Plan<'a> {
    /// Finds the place of every row.
    pub(super) fn of(
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

    /// Stores what is new.
    pub(super) fn store(
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
                remarks: kept_remarks(&imported.remarks),
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
                    // The bag says where it was taken.
                    spot: None,
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
        spot: None,
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
