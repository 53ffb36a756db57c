//! Corrections, withdrawals, clashes, and what a record may link to.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::{farm, plain_note, plain_plot, stamp};
use book::model::{Note, Observation, Photo, Plot, Seen};
use book::{Body, Book, BookError, EntryId};
use ground::kit::{Bounded, Refusal};
use ground::texture::lab::LabTexture;
use jiff::civil::date;

fn new_book() -> (tempfile::TempDir, Book) {
    let folder = tempfile::tempdir().unwrap();
    let book = Book::create(folder.path().join("t.farmbook"), farm(), &stamp(0, "Ada")).unwrap();
    (folder, book)
}

fn refused<T: std::fmt::Debug>(result: book::Result<T>) -> Refusal {
    match result {
        Err(BookError::Refused(refusal)) => refusal,
        other => panic!("{other:?}"),
    }
}

fn lab(plot: EntryId, sample: Option<EntryId>) -> Observation {
    Observation {
        plot,
        sample,
        seen_on: date(2026, 4, 12),
        seen_by: "County lab".into(),
        note: String::new(),
        import: None,
        spot: None,
        seen: Seen::LabTexture(LabTexture {
            sand_percent: Bounded::literal(40.0),
            silt_percent: Bounded::literal(40.0),
            clay_percent: Bounded::literal(20.0),
            silt_limit: Default::default(),
            procedure: Default::default(),
        }),
    }
}

#[test]
fn history_shows_every_revision_and_its_reason() {
    let (_folder, mut book) = new_book();
    let id = book.record(plain_note("sand 40"), &stamp(1, "Ada")).unwrap().id;
    book.revise(id, 1, plain_note("sand 41"), "misread", &stamp(2, "Ben")).unwrap();
    book.withdraw(id, 2, "wrong plot", &stamp(3, "Ada")).unwrap();
    let snapshot = book.snapshot().unwrap();
    assert!(snapshot.notes.is_empty());
    assert_eq!(snapshot.withdrawn[0].reason, "wrong plot");
    assert!(matches!(book.get::<Note>(id), Err(BookError::NotFound { .. })));
    book.restore(id, 3, "right after all", &stamp(4, "Ada")).unwrap();
    assert_eq!(book.get::<Note>(id).unwrap().body.text, "sand 41");
    let told: Vec<_> = book
        .history(id)
        .unwrap()
        .into_iter()
        .map(|revision| {
            let Body::Note(note) = revision.body else { panic!("a note stays a note") };
            (revision.number, note.text, revision.withdrawn, revision.reason, revision.recorded_by)
        })
        .collect();
    let line = |number, text: &str, withdrawn, reason: &str, by: &str| {
        (number, text.to_owned(), withdrawn, reason.to_owned(), by.to_owned())
    };
    assert_eq!(
        told,
        [
            line(1, "sand 40", false, "", "Ada"),
            line(2, "sand 41", false, "misread", "Ben"),
            line(3, "sand 41", true, "wrong plot", "Ada"),
            line(4, "sand 41", false, "right after all", "Ada"),
        ]
    );
}

#[test]
fn a_clash_shows_both_and_stores_neither() {
    let (_folder, mut book) = new_book();
    let id = book.record(plain_note("one"), &stamp(1, "Ada")).unwrap().id;
    book.revise(id, 1, plain_note("two"), "", &stamp(2, "Ben")).unwrap();
    let mark = book.change_mark().unwrap();
    let error = book.revise(id, 1, plain_note("three"), "", &stamp(3, "Ada")).unwrap_err();
    let words = error.to_string();
    let BookError::Clash { from_number: 1, now, yours } = error else { panic!("{words}") };
    assert_eq!((now.number, now.recorded_by.as_str()), (2, "Ben"));
    assert_eq!(now.body, Body::Note(plain_note("two")));
    assert_eq!(*yours.unwrap(), Body::Note(plain_note("three")));
    assert!(words.contains("version 1") && words.contains("version 2") && words.contains("Ben"), "{words}");
    assert!(matches!(book.withdraw(id, 1, "", &stamp(4, "Ada")), Err(BookError::Clash { yours: None, .. })));
    assert_eq!(book.change_mark().unwrap(), mark);
}

#[test]
fn links_must_lead_somewhere_that_counts() {
    let (_folder, mut book) = new_book();
    let east = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap();
    let west = book.record(plain_plot("West"), &stamp(1, "Ada")).unwrap();
    let note = book.record(plain_note("a"), &stamp(2, "Ada")).unwrap();
    assert_eq!(refused(book.record(lab(note.id, None), &stamp(3, "Ada"))).field, "plot");
    let nowhere: EntryId = "0190163d-8694-739b-aea5-966c26f8ad91".parse().unwrap();
    assert_eq!(refused(book.record(lab(nowhere, None), &stamp(3, "Ada"))).field, "plot");
    let sample = book::model::Sample {
        plot: east.id,
        taken_on: date(2026, 4, 1),
        from_cm: Bounded::literal(0.0),
        to_cm: Bounded::literal(20.0),
        cores: None,
        taken_by: String::new(),
        bag_label: String::new(),
        import: None,
        spot: None,
        note: String::new(),
    };
    let sample = book.record(sample, &stamp(4, "Ada")).unwrap();
    assert_eq!(refused(book.record(lab(west.id, Some(sample.id)), &stamp(5, "Ada"))).field, "sample");
    let seen = book.record(lab(east.id, Some(sample.id)), &stamp(5, "Ada")).unwrap();
    let photo = Photo {
        plot: Some(west.id),
        observation: Some(seen.id),
        sha256: "0".repeat(64),
        media_type: "image/png".into(),
        caption: String::new(),
    };
    assert_eq!(refused(book.record(photo.clone(), &stamp(6, "Ada"))).field, "observation");
    let photo = Photo { plot: None, ..photo };
    assert_eq!(refused(book.record(photo, &stamp(6, "Ada"))).field, "sha256");

    book.withdraw(east.id, 1, "sold", &stamp(7, "Ada")).unwrap();
    let refusal = refused(book.record(lab(east.id, None), &stamp(8, "Ada")));
    assert!(refusal.message.contains("withdrawn"), "{refusal}");
    assert!(book.check().unwrap().is_clean());
}

#[test]
fn what_belongs_to_a_withdrawn_plot_waits_with_it() {
    let (_folder, mut book) = new_book();
    let east = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap();
    book.record(lab(east.id, None), &stamp(2, "Ada")).unwrap();
    book.withdraw(east.id, 1, "let go", &stamp(3, "Ada")).unwrap();
    let snapshot = book.snapshot().unwrap();
    assert!(snapshot.plots.is_empty() && snapshot.observations.is_empty());
    assert_eq!(snapshot.withdrawn.len(), 1);
    book.restore(east.id, 2, "taken back", &stamp(4, "Ada")).unwrap();
    assert_eq!(book.snapshot().unwrap().evidence(east.id).count(), 1);
}

fn jar(plot: EntryId, finished: bool, tops_mm: &[(f64, f64)]) -> Observation {
    let marks: Vec<_> = tops_mm
        .iter()
        .map(|(after_s, mm)| serde_json::json!({ "after_s": after_s, "top": { "seen": "at", "mm": mm } }))
        .collect();
    let json = serde_json::json!({
        "plot": plot, "seen_on": "2026-04-12",
        "seen": {
            "what": "jar", "started_at": "2026-04-12T08:00:00Z", "finished": finished,
            "reading": { "marks": { "read_as": "timed", "marks": marks } },
        },
    });
    let Ok(Body::Observation(jar)) = Body::read(book::Kind::Observation, &json) else { panic!("{json}") };
    jar
}

#[test]
fn a_jar_grows_mark_by_mark_and_must_make_sense() {
    let (_folder, mut book) = new_book();
    let plot = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap().id;
    let id = book.record(jar(plot, false, &[]), &stamp(2, "Ada")).unwrap().id;
    assert_eq!(book.snapshot().unwrap().running_jars()[0].id, id);
    book.revise(id, 1, jar(plot, false, &[(60.0, 34.0)]), "", &stamp(3, "Ada")).unwrap();
    let sunk = jar(plot, false, &[(60.0, 34.0), (7200.0, 12.0)]);
    let refusal = refused(book.revise(id, 2, sunk, "", &stamp(4, "Ada")));
    assert_eq!(refusal.field, "seen.reading.marks.marks[1].top");
    let whole = jar(plot, true, &[(60.0, 34.0), (7200.0, 58.0), (86_400.0, 72.0)]);
    book.revise(id, 2, whole, "", &stamp(4, "Ada")).unwrap();
    assert!(book.snapshot().unwrap().running_jars().is_empty());
    let nothing = refused(book.record(jar(plot, true, &[]), &stamp(5, "Ada")));
    assert_eq!(nothing.field, "seen.reading.marks.marks");
}

#[test]
fn a_jar_pairs_with_the_laboratory_on_its_own_sample() {
    let (_folder, mut book) = new_book();
    let plot = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap().id;
    let sample = |label: &str| book::model::Sample {
        plot,
        taken_on: date(2026, 4, 1),
        from_cm: Bounded::literal(0.0),
        to_cm: Bounded::literal(20.0),
        cores: Some(12),
        taken_by: String::new(),
        bag_label: label.to_owned(),
        import: None,
        spot: None,
        note: String::new(),
    };
    let both = book.record(sample("both"), &stamp(2, "Ada")).unwrap().id;
    let lone = book.record(sample("lone"), &stamp(2, "Ada")).unwrap().id;
    let marks = [(60.0, 34.0), (7200.0, 58.0), (86_400.0, 72.0)];
    let on = |sample, finished| Observation { sample: Some(sample), ..jar(plot, finished, &marks) };
    let paired = book.record(on(both, true), &stamp(3, "Ada")).unwrap().id;
    book.record(on(both, false), &stamp(3, "Ada")).unwrap();
    book.record(on(lone, true), &stamp(3, "Ada")).unwrap();
    book.record(jar(plot, true, &marks), &stamp(3, "Ada")).unwrap();
    let later = Observation { seen_on: date(2026, 6, 1), ..lab(plot, Some(both)) };
    let later = book.record(later, &stamp(4, "Ada")).unwrap().id;
    book.record(lab(plot, Some(both)), &stamp(5, "Ada")).unwrap();
    let snapshot = book.snapshot().unwrap();
    let pairs: Vec<_> =
        snapshot.jar_lab_pairs().iter().map(|pair| (pair.sample, pair.jar.id, pair.lab.id)).collect();
    assert_eq!(pairs, [(both, paired, later)]);
}

/// 50 plots with ten observations each, as the page of a large farm reads them.
#[test]
fn a_large_book_is_read_whole_and_in_order() {
    let (_folder, mut book) = new_book();
    book.write(|writing| {
        for turn in 0..50 {
            let plot = writing.record(plain_plot(&format!("Plot {turn}")), &stamp(turn, "Ada"))?;
            for day in (1..=10).rev() {
                let seen_on = date(2026, 4, day);
                writing.record(Observation { seen_on, ..lab(plot.id, None) }, &stamp(turn, "Ada"))?;
            }
        }
        Ok(())
    })
    .unwrap();
    let snapshot = book.snapshot().unwrap();
    assert_eq!((snapshot.plots.len(), snapshot.observations.len()), (50, 500));
    assert_eq!(snapshot.plots[49].body.name, "Plot 49");
    let days: Vec<i8> = snapshot.evidence(snapshot.plots[7].id).map(|held| held.body.seen_on.day()).collect();
    assert_eq!(days, (1..=10).collect::<Vec<i8>>());
    let reader = book.reader().unwrap();
    assert_eq!(reader.change_mark().unwrap(), snapshot.mark);
    assert_eq!(reader.snapshot().unwrap().plots, snapshot.plots);
}

#[test]
fn plots_keep_names_apart() {
    let (_folder, mut book) = new_book();
    let east = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap();
    assert_eq!(refused(book.record(plain_plot(" east "), &stamp(2, "Ada"))).field, "name");
    // Its own name is free to itself, and a withdrawn plot's name is free to others.
    book.revise(east.id, 1, plain_plot("EAST"), "", &stamp(3, "Ada")).unwrap();
    book.withdraw(east.id, 2, "", &stamp(4, "Ada")).unwrap();
    book.record(plain_plot("East"), &stamp(5, "Ada")).unwrap();
    assert_eq!(refused(book.restore(east.id, 3, "", &stamp(6, "Ada"))).field, "name");
}

#[test]
fn one_farm_a_book() {
    let (_folder, mut book) = new_book();
    refused(book.record(farm(), &stamp(1, "Ada")));
    let held = book.snapshot().unwrap().farm;
    refused(book.withdraw(held.id, 1, "", &stamp(2, "Ada")));
    assert!(matches!(
        book.revise(held.id, 1, plain_plot("East"), "", &stamp(3, "Ada")),
        Err(BookError::NotFound { what: "plot", .. })
    ));
}

#[test]
fn refusals_name_the_field() {
    let (_folder, mut book) = new_book();
    let blank = Plot { name: " ".into(), ..plain_plot("x") };
    assert_eq!(refused(book.record(blank, &stamp(1, "Ada"))).field, "name");
    assert_eq!(refused(book.record(plain_note("a\0b"), &stamp(1, "Ada"))).field, "text");
    assert_eq!(refused(book.record(plain_note("a"), &stamp(1, &"x".repeat(200)))).field, "recorded_by");
    let plot = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap();
    let mut wrong = lab(plot.id, None);
    let Seen::LabTexture(texture) = &mut wrong.seen else { panic!("a lab texture") };
    texture.clay_percent = Bounded::literal(50.0);
    assert_eq!(refused(book.record(wrong, &stamp(2, "Ada"))).field, "seen.sand_percent");
    let json = serde_json::json!({
        "plot": plot.id, "seen_on": "2026-04-12",
        "seen": { "what": "jar", "finished": false, "reading": { "marks": { "read_as": "timed", "marks": [] } } },
    });
    assert_eq!(Body::read(book::Kind::Observation, &json).unwrap_err().field, "seen.started_at");
    assert_eq!(book.snapshot().unwrap().observations.len(), 0);
}
