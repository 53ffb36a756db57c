//! Reading the log: one record, its history, the whole current state.

use std::path::Path;

use jiff::Timestamp;
use rusqlite::{Connection, OptionalExtension, Row};

use super::Book;
use crate::error::{BookError, Result};
use crate::held::{ChangeMark, Held, Revision};
use crate::model::{Body, EntryId, Kind, Record};
use crate::snapshot::Snapshot;

/// The current revision of a record, and whether it counts.
#[derive(Debug)]
pub(super) struct Latest {
    pub(super) held: Held<Body>,
    pub(super) withdrawn: bool,
}

/// The columns [`revision`] reads, in its order.
const COLUMNS: &str = "id, kind, number, recorded_at, recorded_by, withdrawn, reason, body";

impl Book {
    /// The record as it now stands.
    ///
    /// # Errors
    /// There is no such record of that kind, or it was withdrawn.
    pub fn get<T: Record>(&self, id: EntryId) -> Result<Held<T>> {
        let missing = || BookError::NotFound { what: T::KIND.name(), id };
        let latest = latest(&self.connection, &self.path, id)?
            .filter(|latest| !latest.withdrawn)
            .ok_or_else(missing)?;
        let Held { id, number, recorded_at, recorded_by, body } = latest.held;
        let body = T::try_from(body).map_err(|_| missing())?;
        Ok(Held { id, number, recorded_at, recorded_by, body })
    }

    /// Every revision of a record, oldest first.
    ///
    /// # Errors
    /// There is no such record.
    pub fn history(&self, id: EntryId) -> Result<Vec<Revision>> {
        let revisions = self.revisions(
            &format!("SELECT {COLUMNS} FROM history WHERE id = ?1 ORDER BY number"),
            [id.to_string()],
        )?;
        if revisions.is_empty() { Err(BookError::NotFound { what: "record", id }) } else { Ok(revisions) }
    }

    /// The whole current state.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn snapshot(&self) -> Result<Snapshot> {
        // One transaction, so that mark and records belong together while another process writes.
        let transaction =
            self.connection.unchecked_transaction().map_err(|error| BookError::of(&self.path, error))?;
        let mark = self.change_mark()?;
        let latest = self.entries()?;
        drop(transaction);
        Snapshot::of(mark, latest).ok_or_else(|| BookError::Damaged {
            path: self.path.clone(),
            detail: "it holds no farm".to_owned(),
        })
    }

    /// The current revision of every record, those withdrawn too, in the order in which the records
    /// were first written.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn entries(&self) -> Result<Vec<Revision>> {
        self.revisions(
            &format!(
                "SELECT {COLUMNS} FROM latest \
                 ORDER BY (SELECT sequence FROM revision WHERE entry_id = latest.id AND number = 1)"
            ),
            [],
        )
    }

    /// A number that changes with every write, by whichever process.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn change_mark(&self) -> Result<ChangeMark> {
        self.read(|connection| {
            connection
                .prepare_cached("SELECT coalesce(max(sequence), 0) FROM revision")?
                .query_row([], |row| row.get(0))
                .map(ChangeMark)
        })
    }

    pub(super) fn all_revisions(&self) -> Result<Vec<Revision>> {
        self.revisions(&format!("SELECT {COLUMNS} FROM history ORDER BY sequence"), [])
    }

    fn revisions(&self, sql: &str, values: impl rusqlite::Params) -> Result<Vec<Revision>> {
        let mut statement =
            self.connection.prepare_cached(sql).map_err(|error| BookError::of(&self.path, error))?;
        let rows = statement
            .query_map(values, raw)
            .and_then(Iterator::collect::<rusqlite::Result<Vec<_>>>)
            .map_err(|error| BookError::of(&self.path, error))?;
        rows.into_iter().map(|raw| raw.typed(&self.path)).collect()
    }
}

/// The current revision of record `id`.
pub(super) fn latest(connection: &Connection, path: &Path, id: EntryId) -> Result<Option<Latest>> {
    let found = connection
        .prepare_cached(&format!("SELECT {COLUMNS} FROM latest WHERE id = ?1"))
        .and_then(|mut statement| statement.query_row([id.to_string()], raw).optional())
        .map_err(|error| BookError::of(path, error))?;
    let Some(raw) = found else { return Ok(None) };
    let Revision { id, number, recorded_at, recorded_by, body, withdrawn, .. } = raw.typed(path)?;
    Ok(Some(Latest { held: Held { id, number, recorded_at, recorded_by, body }, withdrawn }))
}

/// A revision as the file holds it.
struct Raw {
    id: String,
    kind: String,
    number: u32,
    recorded_at: String,
    recorded_by: String,
    withdrawn: bool,
    reason: String,
    body: String,
}

fn raw(row: &Row<'_>) -> rusqlite::Result<Raw> {
    Ok(Raw {
        id: row.get(0)?,
        kind: row.get(1)?,
        number: row.get(2)?,
        recorded_at: row.get(3)?,
        recorded_by: row.get(4)?,
        withdrawn: row.get(5)?,
        reason: row.get(6)?,
        body: row.get(7)?,
    })
}

impl Raw {
    /// Whoever else has written to the file, nothing untyped leaves this crate.
    fn typed(self, path: &Path) -> Result<Revision> {
        let damaged = |what: &str, why: String| BookError::Damaged {
            path: path.to_owned(),
            detail: format!("{what} of record {} revision {}: {why}", self.id, self.number),
        };
        let id: EntryId = self.id.parse().map_err(|error| damaged("the identity", format!("{error}")))?;
        let kind = Kind::of_name(&self.kind).ok_or_else(|| damaged("the kind", self.kind.clone()))?;
        let recorded_at: Timestamp =
            self.recorded_at.parse().map_err(|error| damaged("the time", format!("{error}")))?;
        let body = Body::parse(kind, &self.body).map_err(|error| damaged("the text", format!("{error}")))?;
        Ok(Revision {
            id,
            kind,
            number: self.number,
            recorded_at,
            recorded_by: self.recorded_by,
            body,
            withdrawn: self.withdrawn,
            reason: self.reason,
        })
    }
}
