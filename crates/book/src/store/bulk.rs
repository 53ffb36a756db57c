//! The whole log at once, out and in, for archives.

use rusqlite::params;

use super::{Attachment, Book};
use crate::error::{BookError, Result};
use crate::held::Revision;

impl Book {
    /// Every revision in the order of writing, and every attached file.
    pub(crate) fn whole_log(&self) -> Result<(Vec<Revision>, Vec<Attachment>)> {
        // One transaction, so that no photo is recorded between the two.
        let transaction =
            self.connection.unchecked_transaction().map_err(|error| BookError::of(&self.path, error))?;
        let revisions = self.all_revisions()?;
        let files = self.read(|connection| {
            connection
                .prepare("SELECT sha256, media_type, bytes FROM attachment ORDER BY sha256")?
                .query_map([], |row| {
                    Ok(Attachment { sha256: row.get(0)?, media_type: row.get(1)?, bytes: row.get(2)? })
                })?
                .collect()
        })?;
        drop(transaction);
        Ok((revisions, files))
    }

    /// Fills a book that holds nothing yet.
    pub(crate) fn fill(&mut self, revisions: &[Revision], files: &[Attachment]) -> Result<()> {
        self.write(|writing| {
            for Attachment { sha256, media_type, bytes } in files {
                writing.sql(
                    "INSERT INTO attachment (sha256, media_type, bytes) VALUES (?1, ?2, ?3)",
                    params![sha256, media_type, bytes],
                )?;
            }
            for revision in revisions {
                writing.replay(revision)?;
            }
            Ok(())
        })
    }
}
