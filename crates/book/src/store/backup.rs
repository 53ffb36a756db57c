//! Backups: a whole copy, looked over before it gets its name.

use std::path::Path;

use rusqlite::{Connection, OpenFlags};

use super::{Book, whole};
use crate::error::{BookError, Result};

impl Book {
    /// Writes a whole copy of the book to a new file and checks the copy.
    ///
    /// # Errors
    /// A file is there already, it cannot be written, or the copy is not sound.
    pub fn backup(&self, to: impl AsRef<Path>) -> Result<()> {
        let to = to.as_ref();
        if to.is_dir() {
            return Err(BookError::IsFolder { path: to.to_owned() });
        }
        if to.exists() {
            return Err(BookError::Exists { path: to.to_owned() });
        }
        let failed = |error| BookError::of(to, error);
        whole::appear(to, |draft| {
            self.connection.execute("VACUUM INTO ?1", [draft.to_string_lossy()]).map_err(failed)?;
            let copy =
                Connection::open_with_flags(draft, OpenFlags::SQLITE_OPEN_READ_ONLY).map_err(failed)?;
            let verdict: String =
                copy.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0)).map_err(failed)?;
            if verdict == "ok" {
                Ok(())
            } else {
                Err(BookError::Damaged {
                    path: to.to_owned(),
                    detail: format!("the backup is not sound: {verdict}"),
                })
            }
        })
    }
}
