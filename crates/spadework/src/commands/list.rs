//! `list`: every record with the id by which it is corrected or withdrawn.

use ground::kit::sentence::capital;
use std::path::PathBuf;

use book::model::Kind;
use book::{Revision, Snapshot};
use clap::Args;
use clap::builder::{PossibleValue, PossibleValuesParser};
use serde_json::json;

use crate::records::{Records, name_of_plot};
use crate::report::{Report, table};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `list`.
#[derive(Debug, Args)]
#[command(
    after_help = "The characters before each record are the end of its id; they name it for history, correct,
withdraw and restore. --json gives the whole id.

Examples:
  spadework list home.farmbook
  spadework list home.farmbook observation --plot \"Lower field\""
)]
pub(crate) struct List {
    /// The farm book
    book: PathBuf,
    /// Records of this kind alone
    #[arg(value_parser = PossibleValuesParser::new(
        Kind::ALL.iter().map(|kind| PossibleValue::new(kind.name()).alias(kind.view()))))]
    kind: Option<String>,
    /// Records of this plot alone
    #[arg(long, value_name = "NAME")]
    plot: Option<String>,
    /// Those that were withdrawn too
    #[arg(long)]
    all: bool,
}

impl List {
    /// Lists.
    pub(crate) fn run(self, terminal: &Terminal) -> Result<Report, Trouble> {
        let book = shelf::read(&self.book)?;
        let (snapshot, records) = (book.snapshot()?, Records::of(&book)?);
        let plot = match self.plot.as_deref() {
            // A plot that was withdrawn still has records to look for.
            Some(name) => Some(match records.plot_named(name).filter(|_| self.all) {
                Some(plot) => plot.id,
                None => shelf::plot(&snapshot, name)?.id,
            }),
            None => None,
        };
        let kind = self.kind.as_deref();
        let wanted: Vec<&Revision> = records
            .iter()
            .filter(|record| self.all || records.counts(record))
            .filter(|record| kind.is_none_or(|kind| [record.kind.name(), record.kind.view()].contains(&kind)))
            .filter(|record| plot.is_none_or(|plot| records.plot_of(record) == Some(plot)))
            .collect();
        let mut groups = Vec::new();
        for kind in Kind::ALL {
            let rows: Vec<Vec<String>> = wanted
                .iter()
                .filter(|record| record.kind == *kind)
                .map(|record| row(record, plot.is_some(), &records, &snapshot))
                .collect();
            if !rows.is_empty() {
                groups.push(format!("{}\n{}", capital(kind.view()), table(&rows, "  ", terminal.width)));
            }
        }
        let text = if groups.is_empty() {
            "No such record is in this book.".to_owned()
        } else {
            groups.join("\n\n")
        };
        let listed: Vec<_> = wanted.iter().map(|record| records.json(record, &snapshot)).collect();
        Report::new(&json!({ "records": listed }), text)
    }
}

fn row(record: &Revision, one_plot: bool, records: &Records, snapshot: &Snapshot) -> Vec<String> {
    let plot = records.plot_of(record).filter(|plot| !one_plot && *plot != record.id);
    let title = web::words::titled(&record.body);
    // The heading says it already.
    let titled = title.strip_prefix(&format!("{} ", record.kind.name()));
    let titled =
        titled.filter(|_| matches!(record.kind, Kind::Farm | Kind::Plot | Kind::Bed)).unwrap_or(&title);
    let mut state = Vec::new();
    if record.withdrawn {
        state.push("withdrawn".to_owned());
    } else if !records.counts(record) {
        state.push("its plot was withdrawn".to_owned());
    }
    if record.number > 1 && !record.withdrawn {
        state.push(format!("version {}", record.number));
    }
    vec![
        records.short(record.id),
        titled.to_owned(),
        plot.map(|plot| name_of_plot(snapshot, plot)).unwrap_or_default(),
        state.join(", "),
    ]
}
