//! A book goes through its archive without loss, and archives that were tampered with are refused.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common;

use book::{Body, Book, BookError, Kind};
use proptest::prelude::*;
use proptest::sample::select;
use serde_json::Value;

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, ..ProptestConfig::default() })]

    /// Records, numbers, times, names, reasons, withdrawals, photos: all of it comes back.
    #[test]
    fn archive_and_back_is_the_same_book(script in common::any_script()) {
        let folder = tempfile::tempdir().unwrap();
        let first = common::fill(&folder.path().join("first.farmbook"), &script).unwrap();
        let archive = first.to_archive().unwrap();
        let second = Book::from_archive(folder.path().join("second.farmbook"), &archive).unwrap();

        let (before, after) = (first.snapshot().unwrap(), second.snapshot().unwrap());
        prop_assert_eq!(serde_json::to_value(&before).unwrap(), serde_json::to_value(&after).unwrap());
        prop_assert_eq!(&before.observations, &after.observations);
        for held in &before.observations {
            prop_assert_eq!(first.history(held.id).unwrap(), second.history(held.id).unwrap());
        }
        for gone in &before.withdrawn {
            prop_assert_eq!(first.history(gone.record.id).unwrap(), second.history(gone.record.id).unwrap());
        }
        for photo in &before.photos {
            let sha256 = &photo.body.sha256;
            prop_assert_eq!(first.attachment(sha256).unwrap(), second.attachment(sha256).unwrap());
        }
        prop_assert_eq!(second.to_archive().unwrap(), archive);
        prop_assert_eq!(second.check().unwrap(), first.check().unwrap());
        prop_assert!(second.check().unwrap().is_clean());

        // What the caller holds after writing is what the file holds.
        prop_assert_eq!(&before.farm.body, &script.farm_again);
        prop_assert_eq!(&before.plots[0].body, &script.plot_again);
        let last = &script.observation_again.seen;
        prop_assert!(before.observations.iter().any(|held| held.body.seen == *last && held.number == 4));
    }

    /// Any small damage to an archive is refused or harmless; it never panics and leaves no half book.
    #[test]
    fn a_tampered_archive_never_makes_a_bad_book(
        script in common::any_script(),
        at in any::<proptest::sample::Index>(),
        with in prop_oneof![Just("null"), Just("-1"), Just("\"\""), Just("[]"), Just("{}"), Just("1e400"), Just("")],
    ) {
        let folder = tempfile::tempdir().unwrap();
        let archive = common::fill(&folder.path().join("first.farmbook"), &script).unwrap().to_archive().unwrap();
        // Put something else in the place of one value.
        let colons: Vec<usize> = archive.match_indices("\": ").map(|found| found.0 + 3).collect();
        let start = colons[at.index(colons.len())];
        let end = start + archive[start..].find([',', '\n']).unwrap();
        let tampered = format!("{}{with}{}", &archive[..start], &archive[end..]);
        let path = folder.path().join("second.farmbook");
        match Book::from_archive(&path, &tampered) {
            Ok(book) => prop_assert!(book.check().unwrap().is_clean()),
            Err(error) => {
                prop_assert!(matches!(error, BookError::Refused(_)), "{error}");
                prop_assert!(!path.exists());
            }
        }
    }

    /// Any text at all.
    #[test]
    fn hostile_text_is_refused(text in any::<String>()) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("b.farmbook");
        prop_assert!(matches!(Book::from_archive(&path, &text), Err(BookError::Refused(_))));
        prop_assert!(!path.exists());
    }

    /// Any JSON in the place of a record: refused, or the same when written and read again.
    #[test]
    fn hostile_bodies_are_refused_or_sound(json in hostile_json(), kind in select(Kind::ALL.to_vec())) {
        if let Ok(body) = Body::read(kind, &json) {
            let again = serde_json::to_value(&body).unwrap();
            prop_assert_eq!(Body::read(kind, &again).unwrap(), body);
        }
    }
}

/// JSON made of the fields and words that records have, in any wrong order.
fn hostile_json() -> impl Strategy<Value = Value> {
    let key = select(vec![
        "plot",
        "name",
        "text",
        "seen",
        "what",
        "reading",
        "marks",
        "read_as",
        "signs",
        "sign",
        "shape",
        "kind",
        "at",
        "low_mm",
        "high_mm",
        "percent",
        "words",
        "finished",
        "started_at",
        "seen_on",
        "sand_percent",
        "units",
        "x",
    ]);
    let word = select(vec![
        "jar",
        "signs",
        "timed",
        "between",
        "straight",
        "gravel",
        "packing",
        "mass_percent",
        "metric",
        "2026-04-12",
        "0190163d-8694-739b-aea5-966c26f8ad91",
        "",
        "\u{0}",
        "rectangle",
        "crust",
    ]);
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        word.prop_map(Value::from),
        any::<String>().prop_map(Value::from),
    ];
    leaf.prop_recursive(5, 40, 6, move |inner| {
        prop_oneof![
            proptest::collection::vec(inner.clone(), 0..4).prop_map(Value::from),
            proptest::collection::vec((key.clone(), inner), 0..6)
                .prop_map(|pairs| pairs.into_iter().map(|(key, value)| (key.to_owned(), value)).collect()),
        ]
    })
}

#[test]
fn an_archive_never_goes_over_a_book() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.farmbook");
    let book = Book::create(&path, common::farm(), &common::stamp(0, "Ada")).unwrap();
    let archive = book.to_archive().unwrap();
    assert!(matches!(Book::from_archive(&path, &archive), Err(BookError::Exists { .. })));
    assert_eq!(book.to_archive().unwrap(), archive);
    let file = folder.path().join("a.json");
    book.save_archive(&file).unwrap();
    assert_eq!(std::fs::read_to_string(&file).unwrap(), archive);
    assert!(matches!(book.save_archive(&file), Err(BookError::Exists { .. })));
}

#[test]
fn deep_nesting_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let text = format!("{}{}", "[".repeat(200_000), "]".repeat(200_000));
    let error = Book::from_archive(folder.path().join("b.farmbook"), &text).unwrap_err();
    assert!(error.to_string().contains("not an archive"), "{error}");
}

#[test]
fn an_archive_that_leaps_is_refused_at_its_line() {
    let folder = tempfile::tempdir().unwrap();
    let mut book =
        Book::create(folder.path().join("a.farmbook"), common::farm(), &common::stamp(0, "Ada")).unwrap();
    book.record(common::plain_note("one"), &common::stamp(1, "Ada")).unwrap();
    let archive = book.to_archive().unwrap();
    let mut json: serde_json::Value = serde_json::from_str(&archive).unwrap();
    json["log"][1]["number"] = 2.into();
    let error = Book::from_archive(folder.path().join("b.farmbook"), &json.to_string()).unwrap_err();
    let BookError::Refused(refusal) = error else { panic!("{error}") };
    assert_eq!(refusal.field, "log[1].number");
    assert_eq!(refusal.accepted, "1");
}
