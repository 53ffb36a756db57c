//! The farm book: one SQLite file holding an append-only log of revisions.

mod attachment;
mod backup;
mod bulk;
mod check;
mod csv_out;
mod ids;
mod migrate;
mod moved;
mod open;
mod read;
mod rules;
#[cfg(test)]
mod tests;
mod undo;
pub(crate) mod whole;
mod write;

use std::path::{Path, PathBuf};

use rusqlite::Connection;

use crate::error::{BookError, Result};
use ids::Ids;

pub use attachment::{Attachment, LARGEST_ATTACHMENT_BYTES};
pub(crate) use attachment::{check as check_attachment, hash};
pub use check::{CheckReport, Problem};
pub use csv_out::CSV_TABLES;
pub(crate) use rules::fold;
pub use write::Writing;

/// An open farm book.
///
/// Every write is one transaction, on disk before the call returns. Several processes may read
/// and write one book; a write that finds another one under way waits, then says so.
#[derive(Debug)]
pub struct Book {
    connection: Connection,
    path: PathBuf,
    ids: Ids,
}

impl Book {
    /// The file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// From here on, identities follow from `seed` and the stamps instead of chance, so that a
    /// script writes the same records every time. For demonstrations and tests; one seed a book.
    pub fn seed_ids(&mut self, seed: u64) {
        self.ids = Ids::Seeded { seed, made: 0 };
    }

    /// Runs SQL that reads.
    fn read<T>(&self, run: impl FnOnce(&Connection) -> rusqlite::Result<T>) -> Result<T> {
        run(&self.connection).map_err(|error| BookError::of(&self.path, error))
    }

    /// Runs SQL that needs the connection to itself.
    fn sql<T>(&mut self, run: impl FnOnce(&mut Connection) -> rusqlite::Result<T>) -> Result<T> {
        run(&mut self.connection).map_err(|error| BookError::of(&self.path, error))
    }
}
