//! Two processes write to one book at the same time.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use std::process::{Command, Stdio};

use crate::common::{farm, plain_note, stamp};
use book::{Book, BookError, EntryId};

const FILE: &str = "BOOK_TWO_WRITERS_TEST_FILE";
const SHARED: &str = "BOOK_TWO_WRITERS_TEST_RECORD";
const EACH: u32 = 60;

/// Writes its own notes, and corrects one note that the other process corrects too.
#[test]
#[ignore = "run by the test of two writers"]
fn child_writes_and_corrects() {
    let mut book = Book::open(std::env::var_os(FILE).expect("only ever run by its test")).unwrap();
    let shared: EntryId = std::env::var(SHARED).unwrap().parse().unwrap();
    let me = std::process::id().to_string();
    for turn in 0..EACH {
        book.record(plain_note(format!("{me} {turn}")), &stamp(i64::from(turn), &me)).unwrap();
        loop {
            let now = book.get::<book::model::Note>(shared).unwrap();
            let count: u32 = now.body.text.parse().unwrap();
            let next = plain_note((count + 1).to_string());
            match book.revise(shared, now.number, next, "", &stamp(i64::from(turn), &me)) {
                Ok(_) => break,
                Err(BookError::Clash { .. }) => {}
                Err(error) => panic!("{error}"),
            }
        }
    }
}

#[test]
fn two_processes_lose_nothing_of_each_other() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("w.farmbook");
    let mut book = Book::create(&file, farm(), &stamp(0, "parent")).unwrap();
    let shared = book.record(plain_note("0"), &stamp(0, "parent")).unwrap().id;
    let children: Vec<_> = (0..2)
        .map(|_| {
            Command::new(std::env::current_exe().unwrap())
                .args(["two_writers::child_writes_and_corrects", "--exact", "--ignored"])
                .env(FILE, &file)
                .env(SHARED, shared.to_string())
                .stdout(Stdio::piped())
                .spawn()
                .unwrap()
        })
        .collect();
    for child in children {
        let pid = child.id();
        let done = child.wait_with_output().unwrap();
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stdout));
        let own =
            book.snapshot().unwrap().notes.into_iter().filter(|note| note.recorded_by == pid.to_string());
        assert!(own.count() >= EACH as usize);
    }
    // Every correction counted one up from what it replaced: none was lost.
    let now = book.get::<book::model::Note>(shared).unwrap();
    assert_eq!(now.body.text, (2 * EACH).to_string());
    assert_eq!(now.number, 1 + 2 * EACH);
    assert!(book.check().unwrap().is_clean());
}
