//! One table that came in: which row went to which bag and plot, and what was noticed on the way.

use askama::Template;
use book::model::EntryId;
use serde::Serialize;

use super::undo::{self, ImportLine};
use crate::ask::Ask;
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::words::{self, name_of};

#[derive(Template, Serialize)]
#[template(path = "import_one.html")]
struct OnePage {
    #[serde(skip)]
    shell: Shell,
    table: ImportLine,
    results: Vec<ResultLine>,
    remarks: Vec<String>,
}

/// A result made from the table.
#[derive(Serialize)]
struct ResultLine {
    id: EntryId,
    /// Label of its bag.
    bag: String,
    /// The bag was written down before the table came.
    bag_was_known: bool,
    plot: EntryId,
    plot_name: String,
    on: String,
    what: &'static str,
    /// What was read, line by line.
    told: Vec<words::Line>,
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let id = ask.entry("id")?;
    let snapshot = ask.snapshot()?;
    let table = undo::lines(&snapshot).into_iter().find(|line| line.id == id);
    let (Some(table), Some(held)) = (table, snapshot.import(id)) else {
        return Err(Problem::not_found("This book has no such table, or it was undone."));
    };
    let results = snapshot
        .observations
        .iter()
        .filter(|one| one.body.import == Some(id))
        .map(|one| {
            let bag = one.body.sample.and_then(|id| snapshot.sample(id));
            ResultLine {
                id: one.id,
                bag: bag.map(|bag| bag.body.bag_label.clone()).unwrap_or_default(),
                bag_was_known: bag.is_some_and(|bag| bag.body.import != Some(id)),
                plot: one.body.plot,
                plot_name: name_of(&snapshot, one.body.plot),
                on: advice::words::day(one.body.seen_on),
                what: one.body.seen.label(),
                told: words::reading(&one.body.seen, ask.units()),
            }
        })
        .collect();
    let remarks = held.body.remarks.clone();
    let shell = ask.shell(Section::Settings, "A table that came in");
    Shown::page(OnePage { shell, table, results, remarks })
}
