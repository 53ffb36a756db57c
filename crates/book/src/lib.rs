//! What the farm saw and decided, kept in one file that the grower owns.
//!
//! * [`model`]: the record types, one file a kind, all listed once in [`model::Kind`].
//! * [`Book`]: the farm book, an append-only log of revisions in one SQLite file.
//! * [`Snapshot`]: the whole current state, typed, for advice and pages.
//!
//! Nothing in a book is ever overwritten: a correction is a further revision with its reason, and
//! so is a withdrawal, which another revision can undo.

mod archive;
mod csv_in;
mod error;
mod held;
pub mod model;
mod plan_files;
mod sampling_out;
mod snapshot;
mod store;
mod tag;

pub use csv_in::{
    Gap, Imported, ImportedWeather, LabCell, LabColumn, LabColumnSeen, LabColumns, LabImport, LabProposal,
    RowRefusal, TableCells, WeatherImport, WeatherProposal, WeatherRead, check_lab_heading, means_words,
    propose_lab_columns, propose_weather_columns, read_cells, read_lab_cell, read_lab_headings,
    read_normals_csv, read_weather_csv, table_text,
};
pub use error::{BookError, Result};
pub use held::{ChangeMark, Held, Revision, Stamp};
pub use model::{Body, EntryId, Kind, Record};
pub use plan_files::{
    LARGEST_PLAN_BYTES, PlanImport, PlanImported, ReadPart, ReadPlan, WalkIs, plan_csv, plan_geojson,
    plan_gpx, read_plan,
};
pub use sampling_out::{WalkPoint, points_geojson, points_gpx};
pub use snapshot::{Counted, InHand, JarLabPair, Snapshot, Spread, WeatherOn, Withdrawn};
pub use store::{Attachment, Book, CSV_TABLES, CheckReport, LARGEST_ATTACHMENT_BYTES, Problem, Writing};
pub use tag::{NotACode, Scanned, ShortCode, Tag};
