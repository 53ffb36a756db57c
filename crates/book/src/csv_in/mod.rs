//! Laboratory results and daily weather from tables that a spreadsheet saved as CSV.
//!
//! Weather: see [`read_weather_csv`]. Laboratory results:
//! One row a sample. `plot` and `date` must be there; the columns and what they accept stand in
//! [`LabColumn`]. Cells may be parted by comma, semicolon or tab; a decimal comma and a unit in a cell
//! are understood. Either every row is stored or none.

mod columns;
mod rows;
mod table;
mod weather;

use ground::kit::Refusal;

use crate::error::{BookError, Result};
use crate::held::{Held, Stamp};
use crate::model::{EntryId, Observation, Sample, SampleDepth};
use crate::snapshot::Snapshot;
use crate::store::{Book, Writing};
use rows::Row;

pub use columns::{LabColumn, LabColumns};
pub use table::RowRefusal;
pub use weather::{
    Gap, ImportedWeather, WeatherImport, WeatherProposal, WeatherRead, propose_weather_columns,
    read_normals_csv, read_weather_csv,
};

/// What came in.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Imported {
    /// Samples that were new.
    pub samples: Vec<EntryId>,
    /// Observations that were new.
    pub observations: Vec<EntryId>,
    /// Results that stood in the book already, and were not stored twice.
    pub known_already: usize,
}

/// The layer meant where a table gives none: the plough layer.
const USUAL_LAYER_CM: (f64, f64) = (0.0, 20.0);

impl Book {
    /// Records a table of laboratory results, see [`LabColumn`] for its columns.
    ///
    /// A sample of the same plot with the same bag label, or with the same day and depth, is the
    /// same sample: results join the jar that was made of it. A result that stands in the book
    /// already is not stored twice, so a table may be read again.
    ///
    /// # Errors
    /// [`BookError::Rows`] names every wrong cell; then nothing is stored.
    pub fn import_lab_csv(&mut self, text: &str, columns: &LabColumns, stamp: &Stamp) -> Result<Imported> {
        let snapshot = self.snapshot()?;
        let rows = rows::read(text, columns, snapshot.farm.body.units).map_err(BookError::Rows)?;
        let (mut plots, mut strangers) = (Vec::with_capacity(rows.len()), Vec::new());
        for row in &rows {
            match snapshot.plot_named(&row.plot) {
                Some(plot) => plots.push(plot.id),
                None => strangers.push(stranger(row, columns, &snapshot)),
            }
        }
        if !strangers.is_empty() {
            return Err(BookError::Rows(strangers));
        }
        self.write(|writing| {
            let mut shelf =
                Shelf { samples: snapshot.samples.clone(), observations: snapshot.observations.clone() };
            let mut imported = Imported::default();
            for (row, plot) in rows.iter().zip(plots) {
                store(writing, row, plot, &mut shelf, &mut imported, stamp).map_err(|error| match error {
                    BookError::Refused(refusal) => {
                        BookError::Rows(vec![RowRefusal { line: row.line, refusal }])
                    }
                    other => other,
                })?;
            }
            Ok(imported)
        })
    }
}

/// What the book holds so far, the rows of this table included.
struct Shelf {
    samples: Vec<Held<Sample>>,
    observations: Vec<Held<Observation>>,
}

fn store(
    writing: &mut Writing<'_>,
    row: &Row,
    plot: EntryId,
    shelf: &mut Shelf,
    imported: &mut Imported,
    stamp: &Stamp,
) -> Result<()> {
    let sample = match shelf.samples.iter().find(|held| is_of(row, plot, &held.body)) {
        Some(held) => held.id,
        None => {
            let held = writing.record(sample_of(row, plot), stamp)?;
            imported.samples.push(held.id);
            let id = held.id;
            shelf.samples.push(held);
            id
        }
    };
    for seen in &row.seen {
        if shelf.observations.iter().any(|held| held.body.sample == Some(sample) && held.body.seen == *seen) {
            imported.known_already += 1;
            continue;
        }
        let held = writing.record(
            Observation {
                plot,
                sample: Some(sample),
                seen_on: row.date,
                seen_by: row.by.clone(),
                note: row.note.clone(),
                import: None,
                seen: seen.clone(),
            },
            stamp,
        )?;
        imported.observations.push(held.id);
        shelf.observations.push(held);
    }
    Ok(())
}

/// Is the row's sample this one?
fn is_of(row: &Row, plot: EntryId, sample: &Sample) -> bool {
    if sample.plot != plot {
        return false;
    }
    if !row.bag.is_empty() || !sample.bag_label.is_empty() {
        return row.bag.trim() == sample.bag_label.trim() && row.date == sample.taken_on;
    }
    let layer = row.layer.unwrap_or_else(usual_layer);
    row.date == sample.taken_on && layer == (sample.from_cm, sample.to_cm)
}

fn sample_of(row: &Row, plot: EntryId) -> Sample {
    let (from_cm, to_cm) = row.layer.unwrap_or_else(usual_layer);
    let note = if row.layer.is_none() { "The depth was not given; the top 20 cm is taken." } else { "" };
    Sample {
        plot,
        taken_on: row.date,
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
fn stranger(row: &Row, columns: &LabColumns, snapshot: &Snapshot) -> RowRefusal {
    let name: String = row.plot.chars().take(60).collect();
    let refusal =
        Refusal::new(columns.heading(LabColumn::Plot), format!("this book has no plot called {name:?}"))
            .given(name)
            .accepted(plot_names(snapshot))
            .example(snapshot.plots.first().map_or(LabColumn::Plot.example(), |plot| &plot.body.name));
    RowRefusal { line: row.line, refusal }
}

fn plot_names(snapshot: &Snapshot) -> String {
    if snapshot.plots.is_empty() {
        return "a plot of this book, and it has none yet".to_owned();
    }
    snapshot.plots.iter().take(30).map(|plot| plot.body.name.as_str()).collect::<Vec<_>>().join(", ")
}
