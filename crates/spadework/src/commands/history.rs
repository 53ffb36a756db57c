//! `history`: who wrote what, when and why, and what each change changed.

use std::path::PathBuf;

use book::{Book, Revision, Snapshot};
use clap::Args;
use ground::kit::units::UnitSystem;
use serde_json::{Value, json};
use web::words::{Change, Line};

use crate::args::Global;
use crate::records::Records;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `history`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework history home.farmbook \"Lower field\"
  spadework history home.farmbook 4a91c2")]
pub(crate) struct History {
    /// The farm book
    book: PathBuf,
    /// A record by its id, or a plot by its name with all that belongs to it; the whole book without it
    #[arg(value_name = "RECORD|PLOT")]
    what: Option<String>,
}

impl History {
    /// Tells it, latest first.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let book = shelf::read(&self.book)?;
        let (snapshot, records) = (book.snapshot()?, Records::of(&book)?);
        let system = global.system_or(snapshot.farm.body.units);
        let wanted: Vec<&Revision> = match self.what.as_deref() {
            None => records.iter().collect(),
            Some(text) => match records.plot_named(text) {
                Some(plot) => {
                    records.iter().filter(|record| records.plot_of(record) == Some(plot.id)).collect()
                }
                None => vec![records.find(text)?],
            },
        };
        let mut entries = Vec::new();
        for record in wanted {
            entries.extend(entries_of(&book, record, &records, &snapshot, system)?);
        }
        // Stable, and each record's own entries come latest first.
        entries.sort_by_key(|entry| std::cmp::Reverse(entry.revision.recorded_at));
        let text = entries.iter().map(|entry| entry.words(terminal)).collect::<Vec<_>>().join("\n\n");
        let json: Vec<Value> = entries.iter().map(Entry::json).collect();
        Report::new(&json!({ "revisions": json }), text)
    }
}

struct Entry {
    revision: Revision,
    called: String,
    done: &'static str,
    says: Vec<Line>,
    changes: Vec<Change>,
}

fn entries_of(
    book: &Book,
    record: &Revision,
    records: &Records,
    snapshot: &Snapshot,
    system: UnitSystem,
) -> Result<Vec<Entry>, Trouble> {
    let mut before: Option<Revision> = None;
    let mut entries = Vec::new();
    for revision in book.history(record.id)? {
        let done = revision.done(before.as_ref());
        let (says, changes) = match &before {
            None => (web::words::lines(&revision.body, snapshot, system), Vec::new()),
            Some(last) => (Vec::new(), web::words::changes(&last.body, &revision.body, snapshot, system)),
        };
        let called = records.called(&revision, snapshot);
        before = Some(revision.clone());
        entries.push(Entry { revision, called, done, says, changes });
    }
    entries.reverse();
    Ok(entries)
}

impl Entry {
    fn words(&self, terminal: &Terminal) -> String {
        let Revision { number, recorded_at, recorded_by, reason, .. } = &self.revision;
        let by = if recorded_by.is_empty() { String::new() } else { format!(", by {recorded_by}") };
        let why = if reason.is_empty() { String::new() } else { format!(": {reason}") };
        let head = format!(
            "{}, version {number}\n  {} {}{by}{why}",
            wrapped(&self.called, terminal.width, "  "),
            self.done,
            web::when::moment(*recorded_at)
        );
        let mut text = head
            .lines()
            .map(|line| {
                let indent = &line[..line.len() - line.trim_start().len()];
                format!("{indent}{}", wrapped(line, terminal.width - indent.len(), "    "))
            })
            .collect::<Vec<_>>()
            .join("\n");
        for line in &self.says {
            text.push_str(&below(&format!("{}: {}", line.label, line.text), terminal));
        }
        for change in &self.changes {
            text.push_str(&below(&change_words(change), terminal));
        }
        text
    }

    fn json(&self) -> Value {
        let mut json = json!(self.revision);
        json["title"] = json!(web::words::titled(&self.revision.body));
        json["done"] = json!(self.done);
        json["changes"] = json!(self.changes);
        json
    }
}

fn below(line: &str, terminal: &Terminal) -> String {
    format!("\n    {}", wrapped(line, terminal.width - 4, "      "))
}

/// "Cores: 12, was 10".
pub(super) fn change_words(change: &Change) -> String {
    let Change { label, before, after } = change;
    match (before.as_str(), after.as_str()) {
        ("", after) => format!("{label}: {after}, was not given"),
        (before, "") => format!("{label}: no longer given, was {before}"),
        (before, after) => format!("{label}: {after}, was {before}"),
    }
}
