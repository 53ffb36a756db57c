//! `backup`: a whole, checked copy of a farm book.

use std::path::PathBuf;

use clap::Args;
use serde_json::json;

use crate::report::Report;
use crate::shelf;
use crate::trouble::Trouble;

/// Options of `backup`.
#[derive(Debug, Args)]
pub(crate) struct Backup {
    /// The farm book
    book: PathBuf,
    /// The copy to make; nothing is ever written over
    to: PathBuf,
}

impl Backup {
    /// Copies and checks the copy.
    pub(crate) fn run(self) -> Result<Report, Trouble> {
        shelf::read(&self.book)?.backup(&self.to)?;
        let text = format!("Copied {} to {}, and checked the copy.", self.book.display(), self.to.display());
        Report::new(&json!({ "book": self.book, "backup": self.to }), text)
    }
}
