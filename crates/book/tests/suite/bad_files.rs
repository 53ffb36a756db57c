//! Files that are no book, or no longer one: a clear message, and the file left as it was.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use crate::common::{farm, plain_note, stamp};
use book::{Book, BookError};
use proptest::prelude::*;

fn refused(path: &Path) -> BookError {
    let before = fs::read(path).ok();
    let error = Book::open(path).unwrap_err();
    assert!(Book::open_read_only(path).is_err());
    assert_eq!(fs::read(path).ok(), before, "the file was touched");
    let words = error.to_string();
    assert!(words.contains(&path.display().to_string()), "which file: {words}");
    assert!(words.ends_with('.'), "what to do: {words}");
    error
}

/// A book of some size, in one closed file.
fn sound_book(path: &Path) {
    let mut book = Book::create(path, farm(), &stamp(0, "Ada")).unwrap();
    for turn in 0..60 {
        book.record(plain_note("clay ".repeat(200)), &stamp(turn, "Ada")).unwrap();
    }
    book.attach(&[7; 50_000], "image/png").unwrap();
}

#[test]
fn missing_files_and_folders() {
    let folder = tempfile::tempdir().unwrap();
    assert!(matches!(refused(&folder.path().join("none.farmbook")), BookError::Missing { .. }));
    assert!(matches!(refused(folder.path()), BookError::IsFolder { .. }));
    let below = folder.path().join("no/such/folder.farmbook");
    assert!(matches!(Book::create(&below, farm(), &stamp(0, "")), Err(BookError::Missing { .. })));
    assert!(matches!(Book::create(folder.path(), farm(), &stamp(0, "")), Err(BookError::IsFolder { .. })));
}

#[test]
fn other_files() {
    let folder = tempfile::tempdir().unwrap();
    let text = folder.path().join("text.farmbook");
    fs::write(&text, "sand 40, silt 40, clay 20\n".repeat(100)).unwrap();
    assert!(matches!(refused(&text), BookError::NotABook { .. }));
    assert!(matches!(Book::create(&text, farm(), &stamp(0, "")), Err(BookError::Exists { .. })));

    let short = folder.path().join("short.farmbook");
    fs::write(&short, "x").unwrap();
    assert!(matches!(refused(&short), BookError::NotABook { .. }));

    let empty = folder.path().join("empty.farmbook");
    fs::write(&empty, "").unwrap();
    let error = refused(&empty);
    assert!(error.to_string().contains("it is empty"), "{error}");

    let foreign = folder.path().join("foreign.farmbook");
    rusqlite::Connection::open(&foreign).unwrap().execute_batch("CREATE TABLE entry (id)").unwrap();
    let error = refused(&foreign);
    assert!(error.to_string().contains("another program"), "{error}");
}

#[test]
fn a_truncated_book_is_damaged() {
    let folder = tempfile::tempdir().unwrap();
    let whole = folder.path().join("whole.farmbook");
    sound_book(&whole);
    let bytes = fs::read(&whole).unwrap();
    for share in [10, 25, 50, 75, 95, 99] {
        let path = folder.path().join(format!("cut-{share}.farmbook"));
        fs::write(&path, &bytes[..bytes.len() * share / 100]).unwrap();
        let error = refused(&path);
        assert!(
            matches!(error, BookError::Damaged { .. } | BookError::NotABook { .. }),
            "{share} %: {error}"
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

    /// Any few bytes overwritten: reading the book gives an answer or an error, never a panic, and
    /// what the check calls clean can be read.
    #[test]
    fn a_scribbled_book_never_panics(
        places in proptest::collection::vec((any::<proptest::sample::Index>(), any::<u8>()), 1..40),
    ) {
        static SOUND: LazyLock<Vec<u8>> = LazyLock::new(|| {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("s.farmbook");
            sound_book(&path);
            fs::read(&path).unwrap()
        });
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("s.farmbook");
        let mut bytes = SOUND.clone();
        for (place, byte) in places {
            let place = place.index(bytes.len());
            bytes[place] = byte;
        }
        fs::write(&path, bytes).unwrap();
        if let Ok(book) = Book::open(&path) {
            let clean = book.check().is_ok_and(|report| report.is_clean());
            let read = book.snapshot().is_ok() && book.to_archive().is_ok();
            prop_assert!(read || !clean);
        }
    }
}

#[test]
fn a_backup_is_a_whole_book_and_replaces_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.farmbook");
    sound_book(&path);
    let book = Book::open(&path).unwrap();
    let copy = folder.path().join("copy.farmbook");
    book.backup(&copy).unwrap();
    assert_eq!(Book::open(&copy).unwrap().to_archive().unwrap(), book.to_archive().unwrap());
    assert!(matches!(book.backup(&copy), Err(BookError::Exists { .. })));
    assert!(matches!(book.backup(folder.path()), Err(BookError::IsFolder { .. })));
    let drafts = fs::read_dir(folder.path())
        .unwrap()
        .filter(|entry| entry.as_ref().unwrap().file_name().to_string_lossy().contains("draft"));
    assert_eq!(drafts.count(), 0);
}

/// Permission bits do not bind the superuser, so the test runs itself again as nobody when it must.
#[cfg(unix)]
#[test]
fn a_read_only_place_can_be_read_and_says_so_when_written() {
    use std::os::unix::fs::PermissionsExt;
    use std::os::unix::process::CommandExt;

    const PLACE: &str = "BOOK_READ_ONLY_TEST_PLACE";
    if let Some(place) = std::env::var_os(PLACE) {
        return read_only_place(Path::new(&place));
    }
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("place");
    fs::create_dir(&place).unwrap();
    sound_book(&place.join("a.farmbook"));
    unfinished_book(folder.path(), &place.join("u.farmbook"));
    let test = folder.path().join("test-program");
    fs::copy(std::env::current_exe().unwrap(), &test).unwrap();
    let allow = |path: &Path, mode| fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    allow(folder.path(), 0o755);
    allow(&test, 0o755);
    allow(&place.join("a.farmbook"), 0o444);
    allow(&place, 0o555);
    let root = std::os::unix::fs::MetadataExt::uid(&fs::metadata(folder.path()).unwrap()) == 0;
    let mut again = std::process::Command::new(&test);
    again
        .args(["bad_files::a_read_only_place_can_be_read_and_says_so_when_written", "--exact", "--nocapture"])
        .env(PLACE, &place);
    if root {
        again.uid(65_534).gid(65_534);
    }
    let done = again.output().unwrap();
    allow(&place, 0o755);
    let told = String::from_utf8_lossy(&done.stdout);
    assert!(
        done.status.success() && told.contains("1 passed"),
        "{told}{}",
        String::from_utf8_lossy(&done.stderr)
    );
}

/// A book as a crash leaves it: its last entries stand in the log beside it.
#[cfg(unix)]
fn unfinished_book(folder: &Path, to: &Path) {
    let path = folder.join("open.farmbook");
    let mut book = Book::create(&path, farm(), &stamp(0, "Ada")).unwrap();
    book.record(plain_note("last words"), &stamp(1, "Ada")).unwrap();
    for end in ["", "-wal"] {
        let with = |path: &Path| std::path::PathBuf::from(format!("{}{end}", path.display()));
        fs::copy(with(&path), with(to)).unwrap();
    }
    assert!(fs::metadata(format!("{}-wal", to.display())).unwrap().len() > 0);
}

#[cfg(unix)]
fn read_only_place(place: &Path) {
    let path = place.join("a.farmbook");
    let error = Book::open(&path).unwrap_err();
    assert!(matches!(error, BookError::ReadOnly { .. }), "{error}");
    let mut book = Book::open_read_only(&path).unwrap();
    assert_eq!(book.snapshot().unwrap().notes.len(), 60);
    assert!(book.check().unwrap().is_clean());
    let error = book.record(plain_note("late"), &stamp(99, "Ada")).unwrap_err();
    assert!(matches!(error, BookError::ReadOnly { .. }), "{error}");
    let error = Book::open_read_only(place.join("u.farmbook")).unwrap_err();
    assert!(matches!(error, BookError::Unfinished { .. }), "{error}");
    let error = Book::create(place.join("b.farmbook"), farm(), &stamp(0, "Ada")).unwrap_err();
    assert!(matches!(error, BookError::ReadOnly { .. }), "{error}");
    let error = book.backup(place.join("c.farmbook")).unwrap_err();
    assert!(matches!(error, BookError::ReadOnly { .. }), "{error}");
}
