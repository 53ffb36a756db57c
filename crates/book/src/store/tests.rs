//! What can only be seen from inside: limits of the disk, versions of the file, the guards in it.

use std::time::Duration;

use rusqlite::Connection;

use super::migrate::{APPLICATION_ID, LATEST, migrate};
use crate::model::{Farm, Kind, Note, UnitSystem};
use crate::{Book, BookError, Stamp};

fn stamp(minute: i64) -> Stamp {
    let start: jiff::Timestamp = "2026-04-12T08:00:00Z".parse().unwrap();
    Stamp::new(start + jiff::SignedDuration::from_mins(minute), "Ada")
}

fn new_book(folder: &tempfile::TempDir) -> Book {
    Book::create(folder.path().join("t.farmbook"), Farm::named("Long Furrow", UnitSystem::Metric), &stamp(0))
        .unwrap()
}

fn note(text: &str) -> Note {
    Note { plot: None, text: text.to_owned() }
}

#[test]
fn a_full_disk_is_told_and_costs_only_the_last_entry() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = new_book(&folder);
    let pages: i64 = book.connection.pragma_query_value(None, "page_count", |row| row.get(0)).unwrap();
    book.connection.pragma_update(None, "max_page_count", pages + 4).unwrap();
    let mut stored = 0;
    let error = loop {
        match book.record(note(&"clay ".repeat(500)), &stamp(stored)) {
            Ok(_) => stored += 1,
            Err(error) => break error,
        }
    };
    assert!(matches!(error, BookError::Full { .. }), "{error}");
    assert!(error.to_string().contains("the disk is full"), "{error}");
    assert!(stored > 0);
    assert_eq!(book.snapshot().unwrap().notes.len(), usize::try_from(stored).unwrap());
    assert!(book.check().unwrap().is_clean());
    // Once there is room again, the same book goes on.
    book.connection.pragma_update(None, "max_page_count", 1_000_000).unwrap();
    book.record(note("there is room again"), &stamp(99)).unwrap();
}

#[test]
fn a_second_writer_waits_and_is_then_told() {
    let folder = tempfile::tempdir().unwrap();
    let mut first = new_book(&folder);
    let mut second = Book::open(first.path()).unwrap();
    second.wait_for_other_writers(Duration::from_millis(50)).unwrap();
    let error = first
        .write(|writing| {
            writing.record(note("first"), &stamp(1))?;
            Ok(second.record(note("second"), &stamp(2)).unwrap_err())
        })
        .unwrap();
    assert!(matches!(error, BookError::Busy { .. }), "{error}");
    second.record(note("second"), &stamp(3)).unwrap();
    assert_eq!(first.snapshot().unwrap().notes.len(), 2);
}

#[test]
fn nothing_of_a_failed_group_is_stored() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = new_book(&folder);
    let mark = book.change_mark().unwrap();
    let error = book
        .write(|writing| {
            writing.record(note("kept with the next"), &stamp(1))?;
            writing.record(note("  "), &stamp(2))
        })
        .unwrap_err();
    assert!(matches!(error, BookError::Refused(_)), "{error}");
    assert_eq!(book.change_mark().unwrap(), mark);
}

#[test]
fn the_file_itself_refuses_to_change_its_log() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = new_book(&folder);
    book.record(note("a"), &stamp(1)).unwrap();
    for sql in [
        "UPDATE revision SET reason = 'x'",
        "DELETE FROM revision",
        "UPDATE entry SET kind = 'plot'",
        "DELETE FROM entry",
        "INSERT INTO revision (entry_id, number, recorded_at, recorded_by, body) \
         SELECT id, 3, '2026-04-12T08:00:00Z', '', '{}' FROM entry LIMIT 1",
        "INSERT INTO revision (entry_id, number, recorded_at, recorded_by, body) \
         SELECT id, 2, '2026-04-12T08:00:00Z', '', '{' FROM entry LIMIT 1",
        "INSERT INTO revision (entry_id, number, recorded_at, recorded_by, body) \
         SELECT id, 2, '2026-04-12T08:00:00Z', '', '{\"plot\":\"nowhere\"}' FROM entry LIMIT 1",
        "INSERT INTO revision (entry_id, number, recorded_at, recorded_by, body) \
         SELECT id, 2, '2026-04-12T08:00:00Z', '', '{\"bed\":\"nowhere\"}' FROM entry LIMIT 1",
        "INSERT INTO revision (entry_id, number, recorded_at, recorded_by, body) \
         SELECT id, 2, '2026-04-12T08:00:00Z', '', '{\"crop\":{\"farm_crop\":\"nowhere\"}}' FROM entry LIMIT 1",
    ] {
        assert!(book.connection.execute(sql, []).is_err(), "{sql}");
    }
    assert!(book.check().unwrap().is_clean());
}

#[test]
fn check_finds_what_is_wrong() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = new_book(&folder);
    let sha256 = book.attach(b"picture", "image/png").unwrap();
    let held = book.record(note("a"), &stamp(1)).unwrap();
    // Another program with full rights over the file.
    book.connection
        .execute_batch(
            "PRAGMA foreign_keys = OFF;
             DROP TRIGGER revision_is_never_changed; DROP TRIGGER attachment_is_never_changed;
             UPDATE revision SET body = '{\"text\":\"a\",\"colour\":1}' WHERE number = 1 AND body LIKE '%\"text\"%';
             UPDATE attachment SET bytes = x'00';
             INSERT INTO entry VALUES ('someone', 'tractor');",
        )
        .unwrap();
    let report = book.check().unwrap();
    let told = format!("{:?}", report.problems);
    for part in
        ["colour", &held.id.to_string(), &sha256, "tractor", "revision_is_never_changed", "has no revision"]
    {
        assert!(told.contains(part), "{part} in {told}");
    }
}

#[test]
fn an_older_book_is_backed_up_and_brought_up_to_date() {
    for version in 1..LATEST {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("old.farmbook");
        let mut old = Connection::open(&path).unwrap();
        migrate(&mut old, 0, version).unwrap();
        old.execute_batch(
            r#"INSERT INTO entry VALUES ('0190163d-8694-739b-aea5-966c26f8ad91', 'farm');
            INSERT INTO revision (entry_id, number, recorded_at, recorded_by, body)
            VALUES ('0190163d-8694-739b-aea5-966c26f8ad91', 1, '2025-03-01T09:00:00Z', 'Ada',
                    '{"name":"Old Furrow","units":"us_customary"}');"#,
        )
        .unwrap();
        drop(old);
        assert!(matches!(Book::open_read_only(&path), Err(BookError::Older { .. })));

        let book = Book::open(&path).unwrap();
        assert_eq!(book.snapshot().unwrap().farm.body.name, "Old Furrow");
        assert!(book.check().unwrap().is_clean());

        let kept = folder.path().join(format!("old.farmbook.before-version-{}", version + 1));
        let backup = Connection::open(kept).unwrap();
        let found: i64 = backup.pragma_query_value(None, "user_version", |row| row.get(0)).unwrap();
        let name: String =
            backup.query_row("SELECT body ->> '$.name' FROM revision", [], |row| row.get(0)).unwrap();
        assert_eq!((found, name.as_str()), (version, "Old Furrow"));

        // A second time there is nothing to do, and no second backup.
        Book::open(&path).unwrap();
        assert!(!folder.path().join(format!("old.farmbook.before-version-{}-1", version + 1)).exists());
    }
}

#[test]
fn a_newer_book_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let book = new_book(&folder);
    let path = book.path().to_owned();
    book.connection.pragma_update(None, "user_version", LATEST + 1).unwrap();
    drop(book);
    let before = std::fs::read(&path).unwrap();
    let error = Book::open(&path).unwrap_err();
    assert!(matches!(error, BookError::Newer { .. }), "{error}");
    assert_eq!(std::fs::read(&path).unwrap(), before);
}

#[test]
fn the_file_says_what_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let book = new_book(&folder);
    let pragma = |name: &str| -> String {
        book.connection
            .pragma_query_value(None, name, |row| row.get_ref(0).map(|value| format!("{value:?}")))
            .unwrap()
    };
    assert_eq!(pragma("application_id"), format!("Integer({APPLICATION_ID})"));
    assert_eq!(pragma("user_version"), format!("Integer({LATEST})"));
    assert_eq!(pragma("foreign_keys"), "Integer(1)");
    assert_eq!(pragma("trusted_schema"), "Integer(0)");
    // 2 is FULL: https://sqlite.org/pragma.html#pragma_synchronous
    assert_eq!(pragma("synchronous"), "Integer(2)");
    assert!(pragma("journal_mode").contains(&format!("{:?}", b"wal")), "{}", pragma("journal_mode"));
}

#[test]
fn every_kind_has_its_view() {
    let folder = tempfile::tempdir().unwrap();
    let book = new_book(&folder);
    for kind in Kind::ALL {
        let columns = book
            .connection
            .prepare(&format!("SELECT * FROM {}", kind.view()))
            .unwrap()
            .column_names()
            .map(str::to_owned)
            .collect::<Vec<_>>();
        assert_eq!(columns[..4], ["id", "number", "recorded_at", "recorded_by"], "{}", kind.name());
        assert!(columns.len() > 4, "{}", kind.name());
    }
}

#[test]
fn seeded_identities_are_the_same_twice() {
    let written: Vec<_> = (0..2)
        .map(|_| {
            let folder = tempfile::tempdir().unwrap();
            let mut book = new_book(&folder);
            book.seed_ids(7);
            for minute in 1..20 {
                book.record(note("again"), &stamp(minute)).unwrap();
            }
            book.snapshot().unwrap().notes
        })
        .collect();
    assert_eq!(written[0], written[1]);
}
