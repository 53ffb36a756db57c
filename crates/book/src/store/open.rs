//! Opening and making books, and telling what is wrong with a file that is none.

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};

use super::migrate::{APPLICATION_ID, LATEST, migrate};
use super::{Book, ids::Ids, whole};
use crate::error::{BookError, Result};
use crate::held::Stamp;
use crate::model::Farm;

/// How long to wait for another process that is writing.
const PATIENCE: Duration = Duration::from_secs(5);

impl Book {
    /// Makes a new book with its farm.
    ///
    /// The book appears under its name only when it is whole: a crash half-way leaves no book.
    ///
    /// # Errors
    /// A file is there already, the folder is missing or cannot be written, or the farm is refused.
    pub fn create(path: impl AsRef<Path>, farm: Farm, stamp: &Stamp) -> Result<Self> {
        Self::create_with(path.as_ref(), |book| book.record_first(farm, stamp))
    }

    /// Makes a new book, fills it, and only then gives it its name.
    pub(crate) fn create_with(path: &Path, fill: impl FnOnce(&mut Self) -> Result<()>) -> Result<Self> {
        if path.is_dir() {
            return Err(BookError::IsFolder { path: path.to_owned() });
        }
        if path.exists() {
            return Err(BookError::Exists { path: path.to_owned() });
        }
        whole::appear(path, |draft| {
            let connection =
                connect(draft, OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE)
                    .map_err(|error| unwritable(path, error))?;
            let mut book = Self { connection, path: path.to_owned(), ids: Ids::Random };
            book.sql(|connection| migrate(connection, 0, LATEST))?;
            fill(&mut book)
        })?;
        Self::open(path)
    }

    /// Opens a book for reading and writing. The file is checked first, and brought up to date
    /// after a backup of it was made beside it.
    ///
    /// # Errors
    /// See [`BookError`]: the file is missing, something else, damaged, newer, or read-only.
    pub fn open(path: impl AsRef<Path>) -> Result<Self> {
        let path = path.as_ref();
        exists(path)?;
        let connection =
            connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE).map_err(|error| unwritable(path, error))?;
        let mut book = Self { connection, path: path.to_owned(), ids: Ids::Random };
        let version = book.known_version()?;
        // SQLite opens an unwritable file without a word, for reading alone.
        if book.connection.is_readonly("main").map_err(|error| BookError::of(path, error))? {
            return Err(BookError::ReadOnly { path: path.to_owned() });
        }
        if version < LATEST {
            book.backup(backup_name(path, version))?;
            book.sql(|connection| migrate(connection, version, LATEST))?;
        }
        book.sql(|connection| {
            let mode: String =
                connection.pragma_update_and_check(None, "journal_mode", "wal", |row| row.get(0))?;
            debug_assert_eq!(mode, "wal");
            Ok(())
        })?;
        Ok(book)
    }

    /// Opens a book for reading only; works on a read-only disk too.
    ///
    /// # Errors
    /// See [`BookError`].
    pub fn open_read_only(path: impl AsRef<Path>) -> Result<Self> {
        let path = path.as_ref();
        exists(path)?;
        let book = match Self::read_only(path, OpenFlags::SQLITE_OPEN_READ_ONLY, path) {
            // Without the log beside it the file is whole, and nothing else can be writing to it.
            Err(BookError::ReadOnly { .. } | BookError::Database { .. }) if !has_log(path) => {
                let frozen = PathBuf::from(format!("file:{}?immutable=1", uri_path(path)));
                Self::read_only(&frozen, OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI, path)?
            }
            Err(BookError::ReadOnly { .. } | BookError::Database { .. }) => {
                return Err(BookError::Unfinished { path: path.to_owned() });
            }
            other => other?,
        };
        if book.known_version()? < LATEST {
            return Err(BookError::Older { path: path.to_owned() });
        }
        Ok(book)
    }

    fn read_only(file: &Path, flags: OpenFlags, path: &Path) -> Result<Self> {
        let connection = connect(file, flags).map_err(|error| BookError::of(path, error))?;
        let book = Self { connection, path: path.to_owned(), ids: Ids::Random };
        // The first read finds out whether the disk lets SQLite read at all.
        book.read(|connection| {
            connection.pragma_query_value(None, "schema_version", |row| row.get::<_, i64>(0))
        })?;
        Ok(book)
    }

    /// A second, read-only way into the same file, for reading while this one writes.
    ///
    /// # Errors
    /// See [`BookError`].
    pub fn reader(&self) -> Result<Self> {
        Self::read_only(&self.path, OpenFlags::SQLITE_OPEN_READ_ONLY, &self.path)
    }

    /// How long a write waits for another process that is writing; five seconds unless set.
    ///
    /// # Errors
    /// See [`BookError`].
    pub fn wait_for_other_writers(&self, patience: Duration) -> Result<()> {
        self.read(|connection| connection.busy_timeout(patience))
    }

    /// The version of a file that is ours, sound and not too new.
    fn known_version(&self) -> Result<i64> {
        let path = self.path.clone();
        let (application, version): (i64, i64) = self.read(|connection| {
            Ok((
                connection.pragma_query_value(None, "application_id", |row| row.get(0))?,
                connection.pragma_query_value(None, "user_version", |row| row.get(0))?,
            ))
        })?;
        if application != APPLICATION_ID {
            let empty = std::fs::metadata(&path).is_ok_and(|file| file.len() == 0);
            let what = if empty { "it is empty" } else { "it is the database of another program" };
            return Err(BookError::NotABook { path, what });
        }
        if version > LATEST {
            return Err(BookError::Newer { path, found: version, known: LATEST });
        }
        if let Some(detail) = self.cut_short()? {
            return Err(BookError::Damaged { path, detail });
        }
        let verdict: String =
            self.read(|connection| connection.query_row("PRAGMA quick_check(1)", [], |row| row.get(0)))?;
        if verdict == "ok" { Ok(version) } else { Err(BookError::Damaged { path, detail: verdict }) }
    }
}

impl Book {
    /// SQLite reads the missing end of a last page as zeros and says nothing.
    fn cut_short(&self) -> Result<Option<String>> {
        let (pages, page_bytes): (u32, u32) = self.read(|connection| {
            Ok((
                connection.pragma_query_value(None, "page_count", |row| row.get(0))?,
                connection.pragma_query_value(None, "page_size", |row| row.get(0))?,
            ))
        })?;
        // Pages may stand in the log alone. Asked after counting and before measuring, so that
        // another process that writes meanwhile is not mistaken for damage.
        if has_log(&self.path) {
            return Ok(None);
        }
        let wanted = u64::from(pages) * u64::from(page_bytes);
        let found =
            std::fs::metadata(&self.path).map_err(|source| BookError::io(&self.path, "read", source))?.len();
        Ok((found < wanted || found % u64::from(page_bytes) != 0)
            .then(|| format!("it is cut short: {found} bytes are there of {wanted}")))
    }
}

fn connect(path: &Path, flags: OpenFlags) -> rusqlite::Result<Connection> {
    let connection = Connection::open_with_flags(path, flags | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    connection.busy_timeout(PATIENCE)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false)?;
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.pragma_update(None, "synchronous", "full")?;
    connection.set_prepared_statement_cache_capacity(32);
    Ok(connection)
}

fn exists(path: &Path) -> Result<()> {
    match std::fs::metadata(path) {
        Ok(file) if file.is_dir() => Err(BookError::IsFolder { path: path.to_owned() }),
        Ok(_) => Ok(()),
        Err(source) => Err(BookError::io(path, "read", source)),
    }
}

/// SQLite says only "cannot open" when the file's permissions forbid it.
fn unwritable(path: &Path, error: rusqlite::Error) -> BookError {
    match error.sqlite_error_code() {
        Some(rusqlite::ErrorCode::CannotOpen) => BookError::ReadOnly { path: path.to_owned() },
        _ => BookError::of(path, error),
    }
}

fn has_log(path: &Path) -> bool {
    let mut log = path.as_os_str().to_owned();
    log.push("-wal");
    std::fs::metadata(log).is_ok_and(|file| file.len() > 0)
}

/// A path as it stands in a `file:` address.
fn uri_path(path: &Path) -> String {
    path.to_string_lossy().replace('%', "%25").replace('?', "%3f").replace('#', "%23")
}

/// The name of the backup made before bringing a book up to date; never that of an existing file.
fn backup_name(path: &Path, version: i64) -> PathBuf {
    let mut turn = 0;
    loop {
        let mut name = path.as_os_str().to_owned();
        name.push(format!(".before-version-{}", version + 1));
        if turn > 0 {
            name.push(format!("-{turn}"));
        }
        let name = PathBuf::from(name);
        if !name.exists() {
            return name;
        }
        turn += 1;
    }
}
