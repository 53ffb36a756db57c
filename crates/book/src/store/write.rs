//! Adding to the log: recording, correcting, withdrawing, restoring.

use std::path::Path;

use ground::kit::Refusal;
use rusqlite::{Transaction, TransactionBehavior, params};

use super::ids::Ids;
use super::{Book, read, rules};
use crate::error::{BookError, Result};
use crate::held::{Held, Revision, Stamp};
use crate::model::{Body, EntryId, Farm, Kind, Record, text};

/// A write under way: everything in it is stored together or not at all.
#[derive(Debug)]
pub struct Writing<'a> {
    pub(super) transaction: Transaction<'a>,
    pub(super) path: &'a Path,
    ids: &'a mut Ids,
}

impl Book {
    /// Records something new.
    ///
    /// # Errors
    /// The record is refused (the field is named), or the book cannot be written.
    pub fn record<T: Record>(&mut self, body: T, stamp: &Stamp) -> Result<Held<T>> {
        self.write(|writing| writing.record(body, stamp))
    }

    /// Corrects a record: `body` takes the place of revision `from_number`, which stays in the history.
    ///
    /// # Errors
    /// [`BookError::Clash`] when the record has moved on since `from_number`; a refused record; an
    /// unwritable book.
    pub fn revise<T: Record>(
        &mut self,
        id: EntryId,
        from_number: u32,
        body: T,
        reason: &str,
        stamp: &Stamp,
    ) -> Result<Held<T>> {
        self.write(|writing| writing.revise(id, from_number, body, reason, stamp))
    }

    /// [`Book::revise`] for a record whose kind is known only by its body.
    ///
    /// # Errors
    /// As [`Book::revise`].
    pub fn revise_body(
        &mut self,
        id: EntryId,
        from_number: u32,
        body: Body,
        reason: &str,
        stamp: &Stamp,
    ) -> Result<Held<Body>> {
        self.write(|writing| writing.revise_body(id, from_number, body, reason, stamp))
    }

    /// [`Book::record`] for a record whose kind is known only by its body.
    ///
    /// # Errors
    /// As [`Book::record`].
    pub fn record_body(&mut self, body: Body, stamp: &Stamp) -> Result<Held<Body>> {
        self.write(|writing| writing.record_body(body, stamp))
    }

    /// Withdraws a record: it no longer counts, and stays in the history.
    ///
    /// # Errors
    /// As [`Book::revise`]; the farm itself cannot be withdrawn.
    pub fn withdraw(
        &mut self,
        id: EntryId,
        from_number: u32,
        reason: &str,
        stamp: &Stamp,
    ) -> Result<Held<Body>> {
        self.write(|writing| writing.set_withdrawn(id, from_number, true, reason, stamp))
    }

    /// Undoes a withdrawal.
    ///
    /// # Errors
    /// As [`Book::revise`].
    pub fn restore(
        &mut self,
        id: EntryId,
        from_number: u32,
        reason: &str,
        stamp: &Stamp,
    ) -> Result<Held<Body>> {
        self.write(|writing| writing.set_withdrawn(id, from_number, false, reason, stamp))
    }

    /// Stores several things together or not at all.
    ///
    /// # Errors
    /// Whatever `write` fails with; then nothing of it is stored.
    pub fn write<T>(&mut self, write: impl FnOnce(&mut Writing<'_>) -> Result<T>) -> Result<T> {
        let Self { connection, path, ids } = self;
        let transaction = connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(|error| BookError::of(path, error))?;
        let mut writing = Writing { transaction, path, ids };
        let value = write(&mut writing)?;
        writing.transaction.commit().map_err(|error| BookError::of(path, error))?;
        Ok(value)
    }

    pub(super) fn record_first(&mut self, farm: Farm, stamp: &Stamp) -> Result<()> {
        self.write(|writing| writing.insert(farm.into(), stamp).map(drop))
    }
}

impl Writing<'_> {
    /// See [`Book::record`].
    ///
    /// # Errors
    /// See [`Book::record`].
    pub fn record<T: Record>(&mut self, body: T, stamp: &Stamp) -> Result<Held<T>> {
        let held = self.record_body(body.clone().into(), stamp)?;
        Ok(held.map(|_| body))
    }

    /// See [`Book::record_body`].
    ///
    /// # Errors
    /// See [`Book::record`].
    pub fn record_body(&mut self, body: Body, stamp: &Stamp) -> Result<Held<Body>> {
        if body.kind() == Kind::Farm {
            return Err(Refusal::new("", "a book has one farm, and this book has its farm already")
                .accepted("a change of that farm")
                .into());
        }
        self.insert(body, stamp)
    }

    fn insert(&mut self, body: Body, stamp: &Stamp) -> Result<Held<Body>> {
        let id = self.ids.next(stamp);
        self.accept(id, &body, stamp)?;
        self.open_entry(id, body.kind())?;
        self.append(id, 1, &body, false, "", stamp)?;
        Ok(Held { id, number: 1, recorded_at: stamp.at, recorded_by: stamp.by.clone(), body })
    }

    /// See [`Book::revise`].
    ///
    /// # Errors
    /// See [`Book::revise`].
    pub fn revise<T: Record>(
        &mut self,
        id: EntryId,
        from_number: u32,
        body: T,
        reason: &str,
        stamp: &Stamp,
    ) -> Result<Held<T>> {
        let held = self.revise_body(id, from_number, body.clone().into(), reason, stamp)?;
        Ok(held.map(|_| body))
    }

    /// See [`Book::revise_body`].
    ///
    /// # Errors
    /// See [`Book::revise`].
    pub fn revise_body(
        &mut self,
        id: EntryId,
        from_number: u32,
        body: Body,
        reason: &str,
        stamp: &Stamp,
    ) -> Result<Held<Body>> {
        let kind = body.kind();
        let latest = self.latest(id, Some(kind))?;
        if latest.held.number != from_number {
            return Err(BookError::Clash {
                from_number,
                now: Box::new(latest.held),
                yours: Some(Box::new(body)),
            });
        }
        if latest.withdrawn {
            return Err(Refusal::new("", format!("this {} was withdrawn", kind.label().to_lowercase()))
                .accepted("a record that still counts; restore it first")
                .into());
        }
        text::note("reason", reason)?;
        self.accept(id, &body, stamp)?;
        let number = from_number + 1;
        self.append(id, number, &body, false, reason, stamp)?;
        Ok(Held { id, number, recorded_at: stamp.at, recorded_by: stamp.by.clone(), body })
    }

    /// See [`Book::withdraw`] and [`Book::restore`].
    ///
    /// # Errors
    /// See [`Book::withdraw`].
    pub fn set_withdrawn(
        &mut self,
        id: EntryId,
        from_number: u32,
        withdrawn: bool,
        reason: &str,
        stamp: &Stamp,
    ) -> Result<Held<Body>> {
        let latest = self.latest(id, None)?;
        let kind = latest.held.body.kind();
        if latest.held.number != from_number {
            return Err(BookError::Clash { from_number, now: Box::new(latest.held), yours: None });
        }
        if kind == Kind::Farm {
            return Err(Refusal::new("", "the farm itself cannot be withdrawn from its book").into());
        }
        if latest.withdrawn == withdrawn {
            let state = if withdrawn { "withdrawn already" } else { "not withdrawn" };
            return Err(Refusal::new("", format!("this {} is {state}", kind.label().to_lowercase())).into());
        }
        text::note("reason", reason)?;
        let body = latest.held.body;
        if !withdrawn {
            self.accept(id, &body, stamp)?;
        }
        let number = from_number + 1;
        self.append(id, number, &body, withdrawn, reason, stamp)?;
        Ok(Held { id, number, recorded_at: stamp.at, recorded_by: stamp.by.clone(), body })
    }

    /// Everything that must hold before a body is stored.
    fn accept(&self, id: EntryId, body: &Body, stamp: &Stamp) -> Result<()> {
        text::label("recorded_by", &stamp.by, "Ada")?;
        body.check()?;
        rules::accept(&self.transaction, self.path, id, body)
    }

    pub(super) fn media_type_of(&self, sha256: &str) -> Result<Option<String>> {
        rules::media_type_of(&self.transaction, self.path, sha256)
    }

    pub(super) fn latest(&self, id: EntryId, kind: Option<Kind>) -> Result<read::Latest> {
        let found = read::latest(&self.transaction, self.path, id)?;
        match (found, kind) {
            (Some(latest), Some(kind)) if latest.held.body.kind() != kind => {
                Err(BookError::NotFound { what: kind.name(), id })
            }
            (Some(latest), _) => Ok(latest),
            (None, kind) => Err(BookError::NotFound { what: kind.map_or("record", Kind::name), id }),
        }
    }

    /// Writes a revision of an archive as it was, its first one with its entry.
    pub(super) fn replay(&self, revision: &Revision) -> Result<()> {
        let Revision { id, kind, number, recorded_at, recorded_by, body, withdrawn, reason } = revision;
        if *number == 1 {
            self.open_entry(*id, *kind)?;
        }
        self.append(*id, *number, body, *withdrawn, reason, &Stamp::new(*recorded_at, recorded_by))
    }

    fn open_entry(&self, id: EntryId, kind: Kind) -> Result<()> {
        self.sql("INSERT INTO entry (id, kind) VALUES (?1, ?2)", params![id.to_string(), kind.name()])
    }

    fn append(
        &self,
        id: EntryId,
        number: u32,
        body: &Body,
        withdrawn: bool,
        reason: &str,
        stamp: &Stamp,
    ) -> Result<()> {
        let text = serde_json::to_string(body)
            .map_err(|error| Refusal::new("", format!("the record cannot be written down: {error}")))?;
        self.sql(
            "INSERT INTO revision (entry_id, number, recorded_at, recorded_by, withdrawn, reason, body) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            params![id.to_string(), number, stamp.at.to_string(), stamp.by, withdrawn, reason, text],
        )
    }

    pub(super) fn sql(&self, sql: &str, values: impl rusqlite::Params) -> Result<()> {
        self.transaction
            .prepare_cached(sql)
            .and_then(|mut statement| statement.execute(values))
            .map(drop)
            .map_err(|error| BookError::of(self.path, error))
    }
}
