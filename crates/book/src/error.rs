//! What can go wrong with a book, in words for the person.

use std::path::{Path, PathBuf};

use ground::kit::Refusal;
use rusqlite::ErrorCode;

use crate::csv_in::RowRefusal;
use crate::held::Held;
use crate::model::{Body, EntryId};

/// The result of everything a book does.
pub type Result<T> = std::result::Result<T, BookError>;

/// What went wrong: which file, what happened, what to do.
#[derive(Debug, thiserror::Error)]
pub enum BookError {
    /// There is no such file.
    #[error(
        "there is no farm book at {}. Check the name and the folder, or make a new book there.",
        path.display()
    )]
    Missing {
        /// Where it was looked for.
        path: PathBuf,
    },
    /// The path is a folder.
    #[error("{} is a folder, not a farm book. Name a file in it that ends in .farmbook.", path.display())]
    IsFolder {
        /// The folder.
        path: PathBuf,
    },
    /// Something is there already.
    #[error(
        "there is already a file at {}; nothing was written over it. Choose another name, or move the file away first.",
        path.display()
    )]
    Exists {
        /// Where.
        path: PathBuf,
    },
    /// The file is something else.
    #[error("{} is not a farm book: {what}. It was left as it is. Choose a file that Spadework made.", path.display())]
    NotABook {
        /// The file.
        path: PathBuf,
        /// What it is instead.
        what: &'static str,
    },
    /// The book was written by a later version of the program.
    #[error(
        "{} was written by a newer version of Spadework (book version {found}; this one reads up to {known}). It was left as it is. Update Spadework and open it again.",
        path.display()
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its version.
        found: i64,
        /// The latest version known here.
        known: i64,
    },
    /// The book must be brought up to date first, which takes writing.
    #[error(
        "{} was written by an older version of Spadework and must be brought up to date once before it can be read. Open it from a disk that can be written to.",
        path.display()
    )]
    Older {
        /// The file.
        path: PathBuf,
    },
    /// The file is damaged.
    #[error(
        "{} is damaged ({detail}). Nothing was changed in it. Keep the file, and go back to your latest backup.",
        path.display()
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What was found.
        detail: String,
    },
    /// The file or its folder cannot be written.
    #[error(
        "{} cannot be written: the file, its folder or the disk is read-only. Nothing was changed. Copy the book to a place where you may write, and open it there.",
        path.display()
    )]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// The last entries stand in a file beside the book that cannot be taken in here.
    #[error(
        "the last entries of {path} are still in the file {path}-wal beside it, and on a read-only disk they cannot be taken in. Copy both files together to a place where you may write, and open the book there.",
        path = path.display()
    )]
    Unfinished {
        /// The file.
        path: PathBuf,
    },
    /// The disk is full.
    #[error(
        "the disk is full, so {} could not be written. This entry was not stored; all earlier ones are safe. Free some space and save again.",
        path.display()
    )]
    Full {
        /// The file.
        path: PathBuf,
    },
    /// Another program is writing.
    #[error(
        "another program is writing to {} just now. This entry was not stored. Wait a moment and save again, or close the other program.",
        path.display()
    )]
    Busy {
        /// The file.
        path: PathBuf,
    },
    /// The record was changed by someone else in the meantime.
    #[error(
        "this {kind} was changed since you opened it: you started from version {from_number}, and it is now at version {}, written {} by {}. Nothing was stored. Look at both and save again.",
        now.number, now.recorded_at.strftime("%Y-%m-%d %H:%M UTC"), if now.recorded_by.is_empty() { "someone" } else { &now.recorded_by },
        kind = now.body.kind().label().to_lowercase()
    )]
    Clash {
        /// The revision number the change started from.
        from_number: u32,
        /// What stands in the book now.
        now: Box<Held<Body>>,
        /// What was to be stored; `None` for a withdrawal or its undoing.
        yours: Option<Box<Body>>,
    },
    /// No such record.
    #[error("there is no {what} {id} in this book. It may belong to another book.")]
    NotFound {
        /// What was looked for.
        what: &'static str,
        /// The identity given.
        id: EntryId,
    },
    /// No such photo or other attached file.
    #[error("there is no attached file {sha256} in this book.")]
    NoAttachment {
        /// What was looked for.
        sha256: String,
    },
    /// The input was refused.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// Cells of a table were refused; nothing of the table was stored.
    #[error("{}", rows_words(.0))]
    Rows(Vec<RowRefusal>),
    /// The operating system would not.
    #[error("{} could not be {doing}: {source}.", path.display())]
    Io {
        /// The file or folder.
        path: PathBuf,
        /// "read", "written".
        doing: &'static str,
        /// The system's own words.
        source: std::io::Error,
    },
    /// Something unexpected in the database.
    #[error("{} could not be used: {source}. Nothing was half stored.", path.display())]
    Database {
        /// The file.
        path: PathBuf,
        /// SQLite's own words.
        source: rusqlite::Error,
    },
}

impl BookError {
    /// Sorts SQLite's complaint about the book at `path` into ours.
    pub(crate) fn of(path: &Path, source: rusqlite::Error) -> Self {
        let path = path.to_owned();
        match source.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Busy { path },
            Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied) => Self::ReadOnly { path },
            Some(ErrorCode::DiskFull) => Self::Full { path },
            Some(ErrorCode::DatabaseCorrupt) => Self::Damaged { path, detail: source.to_string() },
            Some(ErrorCode::NotADatabase) => Self::NotABook { path, what: "it is some other kind of file" },
            _ => Self::Database { path, source },
        }
    }

    pub(crate) fn io(path: &Path, doing: &'static str, source: std::io::Error) -> Self {
        let path = path.to_owned();
        match source.kind() {
            std::io::ErrorKind::NotFound => Self::Missing { path },
            std::io::ErrorKind::AlreadyExists => Self::Exists { path },
            std::io::ErrorKind::PermissionDenied if doing != "read" => Self::ReadOnly { path },
            std::io::ErrorKind::ReadOnlyFilesystem => Self::ReadOnly { path },
            std::io::ErrorKind::StorageFull => Self::Full { path },
            _ => Self::Io { path, doing, source },
        }
    }
}

/// Refused cells named one by one.
const MOST_ROWS_NAMED: usize = 5;

fn rows_words(rows: &[RowRefusal]) -> String {
    let mut words = format!("nothing was stored, because the table has {} wrong", rows.len());
    words.push_str(if rows.len() == 1 { " place: " } else { " places: " });
    let named: Vec<String> = rows.iter().take(MOST_ROWS_NAMED).map(ToString::to_string).collect();
    words.push_str(&named.join("; "));
    if rows.len() > MOST_ROWS_NAMED {
        words.push_str("; and more");
    }
    words
}
