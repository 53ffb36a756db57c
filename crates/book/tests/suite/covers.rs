//! Cover crops: what a record may say, and how it is found again.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::{farm, plain_plot, stamp};
use book::model::*;
use book::{Book, BookError};
use ground::covers::mix::Sowing;
use ground::kit::{Bounded, Refusal};
use jiff::civil::{Date, date};

fn yard() -> (tempfile::TempDir, Book, EntryId) {
    let folder = tempfile::tempdir().unwrap();
    let mut book = Book::create(folder.path().join("t.farmbook"), farm(), &stamp(0, "Ada")).unwrap();
    let plot = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap().id;
    let bed = Bed {
        plot,
        name: "Rows".into(),
        length_m: Bounded::literal(30.0),
        width_m: Bounded::literal(1.0),
        count: 2,
    };
    let bed = book.record(bed, &stamp(2, "Ada")).unwrap().id;
    (folder, book, bed)
}

fn cover(bed: EntryId, covers: &[&str], sown_on: Date) -> CoverCrop {
    CoverCrop {
        bed,
        seeds: covers.iter().map(|key| CoverSeed { cover: (*key).to_owned(), rate_kg_ha: None }).collect(),
        sown_on,
        sown: Sowing::Broadcast,
        end_by: None,
        ended: None,
        stand: None,
        note: String::new(),
    }
}

fn refused(result: book::Result<impl std::fmt::Debug>) -> Refusal {
    match result {
        Err(BookError::Refused(refusal)) => refusal,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_cover_is_found_by_its_bed_and_stands_in_the_tables() {
    let (_folder, mut book, bed) = yard();
    let later = cover(bed, &["buckwheat"], date(2026, 7, 10));
    let mut mix = cover(bed, &["oats", "pea-spring"], date(2025, 8, 10));
    mix.seeds[0].rate_kg_ha = Some(SeedRate::literal(80.0));
    mix.ended = Some(CoverEnd { on: date(2025, 12, 1), how: CoverEnding::Winterkilled });
    book.record(later, &stamp(3, "Ada")).unwrap();
    book.record(mix.clone(), &stamp(4, "Ada")).unwrap();
    let snapshot = book.snapshot().unwrap();
    let found: Vec<_> = snapshot.covers_of(bed).iter().map(|held| held.body.sown_on).collect();
    assert_eq!(found, [date(2025, 8, 10), date(2026, 7, 10)]);
    assert!(mix.grew_on(date(2025, 8, 10)) && mix.grew_on(date(2025, 11, 30)));
    assert!(!mix.grew_on(date(2025, 12, 1)) && !mix.grew_on(date(2025, 8, 9)));
    let table = String::from_utf8(book.csv_table("covers").unwrap()).unwrap();
    assert!(table.contains("winterkilled") && table.contains("Rows"), "{table}");
    let seeds = String::from_utf8(book.csv_table("cover_seeds").unwrap()).unwrap();
    assert!(seeds.contains("oats,80") && seeds.contains("buckwheat,"), "{seeds}");
}

#[test]
fn what_cannot_be_is_refused_in_words() {
    let (_folder, mut book, bed) = yard();
    let at = stamp(5, "Ada");
    let refusal = refused(book.record(cover(bed, &[], date(2026, 8, 1)), &at));
    assert_eq!(refusal.field, "seeds");
    let refusal = refused(book.record(cover(bed, &["rye"], date(2026, 8, 1)), &at));
    assert_eq!(refusal.field, "seeds[0].cover");
    assert!(refusal.message.contains("rye-cereal"), "{}", refusal.message);
    let refusal = refused(book.record(cover(bed, &["oats", "oats"], date(2026, 8, 1)), &at));
    assert_eq!(refusal.field, "seeds[1].cover");
    // A name that finds the cover is told its key.
    let refusal = refused(book.record(cover(bed, &["cereal rye"], date(2026, 8, 1)), &at));
    assert_eq!(refusal.example, "rye-cereal");
    let ended = CoverCrop {
        ended: Some(CoverEnd { on: date(2026, 7, 31), how: CoverEnding::Mown }),
        ..cover(bed, &["oats"], date(2026, 8, 1))
    };
    assert_eq!(refused(book.record(ended, &at)).field, "ended.on");
    let end_by = CoverCrop { end_by: Some(date(2026, 7, 1)), ..cover(bed, &["oats"], date(2026, 8, 1)) };
    assert_eq!(refused(book.record(end_by, &at)).field, "end_by");
}

#[test]
fn rates_are_read_and_written_as_people_write_them() {
    // 1 lb/acre is 1.120851 kg/ha (pound and acre exact).
    let rate: SeedRate = area_rate("rate", "100 lb/acre", UnitSystem::Metric).unwrap();
    assert!((rate.get() - 100.0 * 0.453_592_37 / 0.404_685_642_24).abs() < 1e-9);
    assert_eq!(area_rate_words(rate.get(), UnitSystem::UsCustomary), "100 lb/acre");
    let plain: SeedRate = area_rate("rate", "10 g/m2", UnitSystem::UsCustomary).unwrap();
    assert_eq!(plain.get(), 100.0);
    assert!(area_rate::<SeedRate>("rate", "a lot", UnitSystem::Metric).is_err());
}

/// The table of covers may change under a book: what was written once stays readable, in the book and in archives.
#[test]
fn a_cover_that_left_the_table_is_still_read() {
    let nowhere = "0190163d-8694-739b-aea5-966c26f8ad91".parse().unwrap();
    let body = serde_json::to_value(cover(nowhere, &["a-cover-of-old"], date(2026, 8, 1))).unwrap();
    assert!(Body::read(Kind::Cover, &body).is_ok());
    let (folder, mut book, bed) = yard();
    book.record(cover(bed, &["oats"], date(2026, 8, 1)), &stamp(3, "Ada")).unwrap();
    let archive = book.to_archive().unwrap().replace("\"oats\"", "\"a-cover-of-old\"");
    let again = Book::from_archive(folder.path().join("again.farmbook"), &archive).unwrap();
    assert!(again.check().unwrap().is_clean());
    assert_eq!(again.snapshot().unwrap().covers[0].body.seeds[0].cover, "a-cover-of-old");
    // Written anew it is looked up.
    let refusal = refused(book.record(cover(bed, &["a-cover-of-old"], date(2026, 8, 1)), &stamp(5, "Ada")));
    assert_eq!(refusal.field, "seeds[0].cover");
}
