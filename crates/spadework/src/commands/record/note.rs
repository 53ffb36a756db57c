//! `record note`.

use std::path::PathBuf;

use book::model::Note;
use clap::Args;
use serde_json::json;

use crate::records;
use crate::report::Report;
use crate::shelf;
use crate::trouble::Trouble;

/// Options of `record note`.
#[derive(Debug, Args)]
pub(crate) struct RecordNote {
    /// The farm book
    book: PathBuf,
    /// The note
    text: String,
    /// Name of the plot it is about
    #[arg(long, value_name = "NAME")]
    plot: Option<String>,
    /// Who writes it
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordNote {
    pub(crate) fn run(self) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let plot = match &self.plot {
            Some(name) => Some(shelf::plot(&snapshot, name)?.id),
            None => None,
        };
        let held = book.record(Note { plot, text: self.text }, &shelf::stamp(&self.by))?;
        let text = format!("Recorded: note (record {}).", records::short(&book, held.id));
        Report::new(&json!({ "recorded": held }), text)
    }
}
