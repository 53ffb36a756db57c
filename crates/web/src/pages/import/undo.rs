//! The tables that came in, and undoing one as a whole.

use book::Snapshot;
use book::model::EntryId;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::Field;
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::when;

pub(super) const FIELDS: &[Field] =
    &[Field::text("reason", "Why it is undone", "A few words, for whoever reads the history").optional()];

/// What is written down where no reason was given.
const NO_REASON: &str = "the table was taken back";

/// A table that came in.
#[derive(Debug, Serialize)]
pub(super) struct ImportLine {
    pub(super) id: EntryId,
    pub(super) file_name: String,
    pub(super) laboratory: String,
    pub(super) when: String,
    pub(super) by: String,
    pub(super) rows: u32,
    /// Records made from it that still count.
    pub(super) made: usize,
}

/// The tables that came in and count, latest first.
pub(super) fn lines(snapshot: &Snapshot) -> Vec<ImportLine> {
    snapshot
        .imports
        .iter()
        .rev()
        .map(|held| {
            let body = &held.body;
            let laboratory = body
                .laboratory
                .and_then(|id| snapshot.laboratories.iter().find(|laboratory| laboratory.id == id));
            let from = |import: Option<EntryId>| import == Some(held.id);
            ImportLine {
                id: held.id,
                file_name: body.file_name.clone(),
                laboratory: laboratory.map(|held| held.body.name.clone()).unwrap_or_default(),
                when: when::moment(held.recorded_at),
                by: held.recorded_by.clone(),
                rows: body.rows,
                made: snapshot.observations.iter().filter(|one| from(one.body.import)).count()
                    + snapshot.samples.iter().filter(|one| from(one.body.import)).count()
                    + snapshot.plan_parts.iter().filter(|one| from(one.body.import)).count(),
            }
        })
        .collect()
}

/// Undoes a table.
pub(super) fn save(ask: &Ask) -> Outcome {
    let id = ask.entry("id")?;
    let mut read = ask.reader(FIELDS);
    let reason = read.text("reason").unwrap_or(NO_REASON).to_owned();
    let snapshot = ask.snapshot()?;
    if !snapshot.imports.iter().any(|held| held.id == id) {
        return Err(Problem::not_found("This book has no such table, or it was undone already."));
    }
    let undone = ask.write(|book, stamp| book.undo_import(id, &reason, stamp))?;
    let undone = undone.map_err(Problem::from)?;
    if snapshot.plan_parts.iter().any(|part| part.body.import == Some(id)) {
        let said = ask.desk()?.say(vec![format!(
            "{undone} things that had come in with it no longer count. They stay in the history."
        )]);
        return Shown::kept(
            format!("/plan?done=undone{said}"),
            serde_json::json!({ "undone": id, "records": undone }),
        );
    }
    Shown::kept(format!("/import?undone={undone}"), serde_json::json!({ "undone": id, "records": undone }))
}
