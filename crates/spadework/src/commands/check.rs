//! `check`: looks a whole farm book over.

use std::path::PathBuf;

use clap::Args;

use crate::report::Report;
use crate::shelf;
use crate::trouble::{Exit, Trouble};

/// Options of `check`.
#[derive(Debug, Args)]
pub(crate) struct Check {
    /// The farm book
    book: PathBuf,
}

impl Check {
    /// Looks it over.
    pub(crate) fn run(self) -> Result<Report, Trouble> {
        let report = shelf::read(&self.book)?.check()?;
        let mut text = format!(
            "{}: {} records in {} revisions, {} attached files.",
            self.book.display(),
            report.records,
            report.revisions,
            report.attachments
        );
        if report.is_clean() {
            text.push_str("\nNothing is wrong.");
            return Report::new(&report, text);
        }
        for problem in &report.problems {
            text.push_str(&format!("\nWrong: {}: {}", problem.place, problem.detail));
        }
        text.push_str("\nKeep this file as it is, and go back to your latest backup.");
        Ok(Report::new(&report, text)?.ending(Exit::ChecksFailed))
    }
}
