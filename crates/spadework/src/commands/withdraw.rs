//! `withdraw` and `restore`: a record that no longer counts, and its way back. Nothing is ever deleted.

use clap::Args;
use serde_json::json;

use super::correct::{Change, seeing};
use crate::records::Records;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `withdraw`.
#[derive(Debug, Args)]
#[command(
    after_help = "A withdrawn record stays in the history; spadework restore brings it back. A plot takes what belongs to
it along.

Example:
  spadework withdraw home.farmbook 4a91c2 --reason \"the jar was knocked over\""
)]
pub(crate) struct Withdraw {
    #[command(flatten)]
    change: Change,
}

/// Options of `restore`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework restore home.farmbook 4a91c2 --reason \"it was the other jar\"")]
pub(crate) struct Restore {
    #[command(flatten)]
    change: Change,
}

impl Withdraw {
    /// Withdraws.
    pub(crate) fn run(self, terminal: &Terminal) -> Result<Report, Trouble> {
        set(&self.change, true, terminal)
    }
}

impl Restore {
    /// Restores.
    pub(crate) fn run(self, terminal: &Terminal) -> Result<Report, Trouble> {
        set(&self.change, false, terminal)
    }
}

fn set(change: &Change, withdrawn: bool, terminal: &Terminal) -> Result<Report, Trouble> {
    let mut book = shelf::open(&change.book)?;
    let records = Records::of(&book)?;
    let record = records.find(&change.record)?;
    let word = if withdrawn { "withdrawn" } else { "restored" };
    let reason = change.reason(word)?;
    let from = change.from.unwrap_or(record.number);
    let stamp = shelf::stamp(&change.by);
    let done = if withdrawn {
        book.withdraw(record.id, from, reason, &stamp)
    } else {
        book.restore(record.id, from, reason, &stamp)
    };
    let short = records.short(record.id);
    let held = done.map_err(|error| seeing(error.into(), &change.book, &short))?;
    let called = records.called(record, &book.snapshot()?);
    let text = if withdrawn {
        format!("Withdrawn: {called}. It no longer counts; spadework restore brings it back.")
    } else {
        format!("Restored: {called}. It counts again.")
    };
    Report::new(&json!({ word: held }), wrapped(&text, terminal.width, "  "))
}
