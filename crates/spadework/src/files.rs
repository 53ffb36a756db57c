//! Files a command makes beside the farm book: whole or not at all, and nothing is written over unasked.

use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use ground::kit::Refusal;

use crate::trouble::Trouble;

/// Whether a file may be written: asked before the work, so that nobody waits for a refusal.
pub(crate) fn can_save(option: &str, path: &Path, force: bool) -> Result<(), Trouble> {
    if path.is_dir() {
        return Err(Refusal::new(option, format!("{} is a folder", path.display()))
            .given(path.display())
            .accepted("the name of a file")
            .example(path.join("plan.pdf").display())
            .into());
    }
    if path.exists() && !force {
        return Err(Trouble::from(
            Refusal::new(option, format!("{} is there already; it was left as it is", path.display()))
                .given(path.display())
                .accepted("the name of a file that is not there yet")
                .example(other_name(path).display()),
        )
        .hint("the same command with --force, which replaces it"));
    }
    Ok(())
}

/// Writes a file. One that is there already is replaced only with `force`, and only once the new one is whole.
pub(crate) fn save(option: &str, path: &Path, bytes: &[u8], force: bool) -> Result<(), Trouble> {
    can_save(option, path, force)?;
    let draft = draft_name(path);
    let written = write_new(&draft, bytes).and_then(|()| fs::rename(&draft, path));
    written.map_err(|error| {
        // What was begun is cleared away; it may never have been there.
        let _ = fs::remove_file(&draft);
        told(path, &error)
    })
}

fn write_new(draft: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create(true).truncate(true).open(draft)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// A name in the same folder that no other run uses.
fn draft_name(path: &Path) -> PathBuf {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!(".{name}.{}.part", std::process::id()))
}

/// "plan-2.pdf" beside "plan.pdf".
fn other_name(path: &Path) -> PathBuf {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let ending = path.extension().map_or_else(String::new, |ending| format!(".{}", ending.to_string_lossy()));
    path.with_file_name(format!("{stem}-2{ending}"))
}

fn told(path: &Path, error: &io::Error) -> Trouble {
    let why = match error.kind() {
        ErrorKind::NotFound => "its folder is not there".to_owned(),
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
            "this folder may not be written to".to_owned()
        }
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        _ => error.to_string(),
    };
    Trouble::other(format!("{} could not be written: {why}", path.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_written_over_only_when_asked() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("plan.pdf");
        save("out", &path, b"first", false).expect("a new file");
        let refused = save("out", &path, b"second", false).expect_err("it is there");
        assert!(refused.is_about("out"));
        assert!(refused.words(200).contains("plan-2.pdf"), "{}", refused.words(200));
        assert_eq!(fs::read(&path).expect("the file"), b"first");
        save("out", &path, b"third", true).expect("forced");
        assert_eq!(fs::read(&path).expect("the file"), b"third");
        assert_eq!(fs::read_dir(folder.path()).expect("the folder").count(), 1, "no draft is left");
    }

    #[test]
    fn what_cannot_be_written_is_told() {
        let folder = tempfile::tempdir().expect("a folder");
        let gone = save("out", &folder.path().join("no/plan.pdf"), b"x", false).expect_err("no such folder");
        assert!(gone.words(200).contains("its folder is not there"), "{}", gone.words(200));
        let not_a_file = save("out", folder.path(), b"x", true).expect_err("a folder");
        assert!(not_a_file.words(200).contains("is a folder"), "{}", not_a_file.words(200));
    }
}
