//! Files that appear whole or not at all.

use std::ffi::OsString;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::error::{BookError, Result};

/// Lets `write` fill a draft beside `path`, then gives it that name without replacing anything.
/// When `write` fails, no trace of the draft is left.
pub(crate) fn appear<T>(path: &Path, write: impl FnOnce(&Path) -> Result<T>) -> Result<T> {
    let draft = draft_name(path);
    // Whether one may write there, the system tells best; a draft left by a crash is emptied.
    let outcome = fs::File::create(&draft)
        .map_err(|source| BookError::io(path, "written", source))
        .and_then(|_| write(&draft))
        .and_then(|value| publish(&draft, path).map(|()| value));
    for leftover in ["", "-wal", "-shm", "-journal"] {
        let mut name = draft.clone().into_os_string();
        name.push(leftover);
        // Nothing to clear away is the usual case.
        let _ = fs::remove_file(name);
    }
    outcome
}

fn publish(draft: &Path, path: &Path) -> Result<()> {
    let failed = |source| BookError::io(path, "written", source);
    fs::File::open(draft).and_then(|file| file.sync_all()).map_err(failed)?;
    // A hard link never replaces a file. Some memory cards know no links; there, look and rename.
    match fs::hard_link(draft, path) {
        Ok(()) => {}
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists || path.exists() => {
            return Err(BookError::Exists { path: path.to_owned() });
        }
        Err(_) => fs::rename(draft, path).map_err(failed)?,
    }
    sync_folder(path);
    Ok(())
}

/// Makes the new name last through a power cut, where the system can.
fn sync_folder(path: &Path) {
    if let Some(folder) = folder_of(path) {
        // Not every file system lets a folder be synced; the file itself is.
        let _ = fs::File::open(folder).and_then(|folder| folder.sync_all());
    }
}

/// The folder a path lies in; `None` for a bare file name in the current folder.
fn folder_of(path: &Path) -> Option<&Path> {
    path.parent().filter(|folder| !folder.as_os_str().is_empty())
}

fn draft_name(path: &Path) -> PathBuf {
    let mut name: OsString = path.as_os_str().to_owned();
    name.push(format!(".draft-{}", std::process::id()));
    PathBuf::from(name)
}
