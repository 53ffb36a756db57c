//! Undoing a table that was taken in: all that came from it, together.

use super::{Book, Writing};
use crate::error::{BookError, Result};
use crate::held::Stamp;
use crate::model::{EntryId, Kind};

impl Book {
    /// Withdraws an import and every record that came from it and still counts, together or not at all;
    /// gives how many records that were, the import itself not counted.
    ///
    /// # Errors
    /// There is no such import, it was undone already, or the book cannot be written.
    pub fn undo_import(&mut self, id: EntryId, reason: &str, stamp: &Stamp) -> Result<usize> {
        self.write(|writing| writing.undo_import(id, reason, stamp))
    }
}

impl Writing<'_> {
    /// See [`Book::undo_import`].
    ///
    /// # Errors
    /// See [`Book::undo_import`].
    pub fn undo_import(&mut self, id: EntryId, reason: &str, stamp: &Stamp) -> Result<usize> {
        let import = self.latest(id, Some(Kind::Import))?;
        // An import that was undone already is refused here, before anything else is touched.
        self.set_withdrawn(id, import.held.number, true, reason, stamp)?;
        let made = self.came_in_with(id)?;
        for (record, number) in &made {
            self.set_withdrawn(*record, *number, true, reason, stamp)?;
        }
        Ok(made.len())
    }

    /// The records of an import that still count, with their present revisions.
    fn came_in_with(&self, import: EntryId) -> Result<Vec<(EntryId, u32)>> {
        let failed = |error| BookError::of(self.path, error);
        let rows = self
            .transaction
            .prepare_cached(
                "SELECT id, number FROM latest WHERE NOT withdrawn AND kind <> 'import' \
                 AND body ->> '$.import' = ?1 ORDER BY sequence",
            )
            .and_then(|mut statement| {
                statement
                    .query_map([import.to_string()], |row| Ok((row.get::<_, String>(0)?, row.get(1)?)))?
                    .collect::<rusqlite::Result<Vec<(String, u32)>>>()
            })
            .map_err(failed)?;
        rows.into_iter()
            .map(|(id, number)| {
                let id = id.parse().map_err(|error| BookError::Damaged {
                    path: self.path.to_owned(),
                    detail: format!("the identity of a record: {error}"),
                })?;
                Ok((id, number))
            })
            .collect()
    }
}
