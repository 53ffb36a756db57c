//! A record together with when, by whom and in which revision it was written.

use jiff::Timestamp;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::model::{Body, EntryId, Kind};

/// When something was written and by whom. Passed in by the caller, so that the book has no clock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stamp {
    /// The moment, UTC.
    pub at: Timestamp,
    /// Name of the person; empty where nobody said.
    pub by: String,
}

impl Stamp {
    /// A stamp of `by` at `at`.
    #[must_use]
    pub fn new(at: Timestamp, by: impl Into<String>) -> Self {
        Self { at, by: by.into() }
    }
}

/// The current revision of a record.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Held<T> {
    /// Identity of the record, the same through all its revisions.
    pub id: EntryId,
    /// Number of this revision; above 1, the record was corrected. Give it back to revise.
    pub number: u32,
    /// When this revision was written.
    #[schemars(with = "String")]
    pub recorded_at: Timestamp,
    /// Who wrote it.
    pub recorded_by: String,
    /// What was recorded.
    pub body: T,
}

impl<T> Held<T> {
    /// The same record with its body turned into something else.
    pub fn map<U>(self, turn: impl FnOnce(T) -> U) -> Held<U> {
        Held {
            id: self.id,
            number: self.number,
            recorded_at: self.recorded_at,
            recorded_by: self.recorded_by,
            body: turn(self.body),
        }
    }
}

/// One revision of a record, current or past.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Revision {
    /// Identity of the record.
    pub id: EntryId,
    /// Its kind.
    pub kind: Kind,
    /// 1 for the first.
    pub number: u32,
    /// When it was written.
    pub recorded_at: Timestamp,
    /// Who wrote it.
    pub recorded_by: String,
    /// What it said.
    pub body: Body,
    /// Did this revision withdraw the record?
    pub withdrawn: bool,
    /// Why the revision was made; empty for the first.
    pub reason: String,
}

impl Revision {
    /// What was done by this revision, in a word, where `before` is the one before it.
    #[must_use]
    pub fn done(&self, before: Option<&Self>) -> &'static str {
        match before {
            None => "recorded",
            Some(last) if last.withdrawn && !self.withdrawn => "restored",
            Some(last) if !last.withdrawn && self.withdrawn => "withdrawn",
            Some(_) => "changed",
        }
    }
}

/// A number that changes with every write to a book, for caches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct ChangeMark(pub i64);
