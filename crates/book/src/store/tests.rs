//! The book's own behaviour, on real files.

use jiff::civil::date;

use crate::model::{Farm, Place, Plot, PlotArea, Sample, SampleDepth, Shape, UnitSystem};
use crate::{Book, BookError, Stamp};
use ground::kit::Bounded;

fn stamp(minute: i64) -> Stamp {
    let start: jiff::Timestamp = "2026-04-12T08:00:00Z".parse().unwrap();
    Stamp::new(start + jiff::SignedDuration::from_mins(minute), "Ada")
}

fn plot(name: &str) -> Plot {
    Plot {
        name: name.to_owned(),
        place: Place::OpenField,
        shape: Shape::Area { area_m2: PlotArea::literal(300.0) },
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
    }
}

#[test]
fn a_record_is_there_after_the_book_is_opened_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("t.farmbook");
    let mut book = Book::create(&path, Farm::named("Long Furrow", UnitSystem::Metric), &stamp(0)).unwrap();
    let mark = book.change_mark().unwrap();
    let held = book.record(plot("East"), &stamp(1)).unwrap();
    assert!(book.change_mark().unwrap() > mark);
    let sample = Sample {
        plot: held.id,
        taken_on: date(2026, 4, 12),
        from_cm: SampleDepth::literal(0.0),
        to_cm: SampleDepth::literal(20.0),
        cores: Some(12),
        taken_by: "Ada".into(),
        bag_label: "E-1".into(),
        note: String::new(),
    };
    let sample = book.record(sample, &stamp(2)).unwrap();
    drop(book);
    let book = Book::open(&path).unwrap();
    let snapshot = book.snapshot().unwrap();
    assert_eq!(snapshot.plot_named(" east ").unwrap(), &held);
    assert_eq!(snapshot.sample(sample.id).unwrap(), &sample);
    assert!(snapshot.plot(sample.id).is_none());
    assert!(matches!(
        Book::create(&path, Farm::named("x", UnitSystem::Metric), &stamp(0)),
        Err(BookError::Exists { .. })
    ));
}
