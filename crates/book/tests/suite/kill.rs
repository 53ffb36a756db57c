//! The process is killed in the middle of writing, many times; everything it had confirmed is there.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common;

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::Duration;

use crate::common::{plain_note, stamp};
use book::{Book, EntryId};
use rusqlite::Connection;
use sha2::{Digest, Sha256};

const ROUNDS: u32 = 60;
const CHILD_FILE: &str = "BOOK_KILL_TEST_FILE";

/// A number below `below` that differs from round to round.
fn chance(round: u32, what: &str, below: u64) -> u64 {
    let hash = Sha256::new()
        .chain_update(round.to_le_bytes())
        .chain_update(what)
        .chain_update(std::process::id().to_le_bytes())
        .finalize();
    u64::from_le_bytes(hash[..8].try_into().unwrap()) % below
}

fn start(role: &str, file: &Path) -> (Child, BufReader<ChildStdout>) {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args([&format!("kill::{role}"), "--exact", "--ignored", "--nocapture"])
        .env(CHILD_FILE, file)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let out = BufReader::new(child.stdout.take().unwrap());
    (child, out)
}

fn say(line: &str) {
    // Past the test harness, which holds back what tests print.
    let mut out = std::io::stdout().lock();
    writeln!(out, "confirmed {line}").unwrap();
    out.flush().unwrap();
}

fn child_file() -> PathBuf {
    PathBuf::from(std::env::var_os(CHILD_FILE).expect("only ever run by the test that kills it"))
}

/// Writes without end: notes of uneven length, corrections, photos.
#[test]
#[ignore = "run by the test that kills it"]
fn child_writes() {
    let mut book = Book::open(child_file()).unwrap();
    for turn in 0_u32.. {
        let text = format!("note {turn} {}", "x".repeat((turn as usize * 977) % 9000));
        let held = book.record(plain_note(&text), &stamp(i64::from(turn), "child")).unwrap();
        say(&format!("{} 1 {}", held.id, text.len()));
        if turn % 3 == 0 {
            let text = format!("{text} again");
            book.revise(held.id, 1, plain_note(&text), "again", &stamp(i64::from(turn), "child")).unwrap();
            say(&format!("{} 2 {}", held.id, text.len()));
        }
        if turn % 5 == 0 {
            let picture = vec![u8::try_from(turn % 251).unwrap(); 20_000 + turn as usize];
            let sha256 = book.attach(&picture, "image/png").unwrap();
            say(&format!("picture {sha256} {}", picture.len()));
        }
    }
}

#[test]
fn everything_confirmed_before_a_kill_is_there() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("k.farmbook");
    Book::create(&file, common::farm(), &stamp(0, "parent")).unwrap();
    let mut confirmed: Vec<String> = Vec::new();
    for round in 0..ROUNDS {
        let (mut child, out) = start("child_writes", &file);
        let wanted = chance(round, "lines", 12);
        let mut lines = out.lines().map(Result::unwrap).filter(|line| line.contains("confirmed "));
        for _ in 0..wanted {
            confirmed.push(lines.next().expect("the child writes until it is killed"));
        }
        std::thread::sleep(Duration::from_micros(chance(round, "pause", 4000)));
        child.kill().unwrap();
        child.wait().unwrap();
        // What it had still said counts as confirmed too.
        confirmed.extend(lines);

        let book = Book::open(&file).unwrap();
        let report = book.check().unwrap();
        assert!(report.is_clean(), "round {round}: {:?}", report.problems);
        for line in &confirmed {
            holds(&book, line);
        }
    }
    assert!(confirmed.len() as u32 > ROUNDS, "the child hardly wrote: {}", confirmed.len());
    println!("{ROUNDS} kills, {} confirmed writes, all there", confirmed.len());
}

fn holds(book: &Book, line: &str) {
    let words: Vec<&str> = line.split_whitespace().collect();
    let [.., "confirmed", id, number, length] = words[..] else { panic!("{line}") };
    let length: usize = length.parse().unwrap();
    if id == "picture" {
        assert_eq!(book.attachment(number).unwrap().bytes.len(), length, "{line}");
        return;
    }
    let id: EntryId = id.parse().unwrap();
    let number: usize = number.parse().unwrap();
    let history = book.history(id).unwrap();
    let book::Body::Note(note) = &history[number - 1].body else { panic!("{line}") };
    assert_eq!(note.text.len(), length, "{line}");
}

/// Makes one book after another.
#[test]
#[ignore = "run by the test that kills it"]
fn child_makes_books() {
    let folder = child_file();
    for turn in 0.. {
        let file = folder.join(format!("{}-{turn}.farmbook", std::process::id()));
        Book::create(&file, common::farm(), &stamp(0, "child")).unwrap();
        say(&turn.to_string());
    }
}

#[test]
fn a_kill_leaves_no_half_made_book() {
    let folder = tempfile::tempdir().unwrap();
    for round in 0..20 {
        let (mut child, out) = start("child_makes_books", folder.path());
        let mut lines = out.lines().map(Result::unwrap).filter(|line| line.contains("confirmed "));
        lines.next().unwrap();
        std::thread::sleep(Duration::from_micros(chance(round, "make", 30_000)));
        child.kill().unwrap();
        child.wait().unwrap();
    }
    let mut books = 0;
    for entry in std::fs::read_dir(folder.path()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|end| end == "farmbook") {
            assert!(Book::open(&path).unwrap().check().unwrap().is_clean(), "{}", path.display());
            books += 1;
        }
    }
    assert!(books >= 20, "{books}");
}

/// A book of version 1, as the first step of the migrations made it.
fn version_one(path: &Path) {
    let connection = Connection::open(path).unwrap();
    connection
        .execute_batch(&format!(
            "BEGIN; {} PRAGMA application_id = 0x5370576b; PRAGMA user_version = 1; COMMIT;",
            include_str!("../../migrations/0001_log.sql")
        ))
        .unwrap();
    connection
        .execute_batch(
            r#"INSERT INTO entry VALUES ('0190163d-8694-739b-aea5-966c26f8ad91', 'farm');
            INSERT INTO revision (entry_id, number, recorded_at, recorded_by, body)
            VALUES ('0190163d-8694-739b-aea5-966c26f8ad91', 1, '2025-03-01T09:00:00Z', 'Ada',
                    '{"name":"Old Furrow","units":"us_customary"}');"#,
        )
        .unwrap();
}

/// Brings a book up to date and says so.
#[test]
#[ignore = "run by the test that kills it"]
fn child_brings_up_to_date() {
    say("starting");
    Book::open(child_file()).unwrap();
}

#[test]
fn a_kill_while_bringing_a_book_up_to_date_loses_nothing() {
    for round in 0..30 {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("old.farmbook");
        version_one(&file);
        let (mut child, out) = start("child_brings_up_to_date", &file);
        out.lines().map(Result::unwrap).find(|line| line.contains("confirmed ")).unwrap();
        std::thread::sleep(Duration::from_micros(chance(round, "migrate", 12_000)));
        child.kill().unwrap();
        child.wait().unwrap();
        let book = Book::open(&file).unwrap();
        assert!(book.check().unwrap().is_clean(), "round {round}");
        assert_eq!(book.snapshot().unwrap().farm.body.name, "Old Furrow");
    }
}
