//! The plan out and in again: nothing lost, nothing stored in part, and what people get wrong explained.

use book::model::{Farm, Form, Frame, Outline, PartKind, PlanPart, UnitSystem};
use book::{Book, PlanImport, Stamp, WalkIs, plan_csv, plan_geojson, read_plan};

fn stamp() -> Stamp {
    Stamp::new(jiff::Timestamp::UNIX_EPOCH, "a test")
}

fn how(walk_is: WalkIs) -> PlanImport {
    PlanImport { file_name: "walk.gpx".to_owned(), kind: PartKind::Track, walk_is }
}

fn book(folder: &std::path::Path) -> Book {
    Book::create(folder.join("a.farmbook"), Farm::named("Long Furrow Farm", UnitSystem::Metric), &stamp())
        .expect("a new book can be made")
}

fn ditch() -> PlanPart {
    let through = vec![[-93.5, 42.5], [-93.499_123_456, 42.500_9]];
    PlanPart {
        name: "east ditch, \"old\"".to_owned(),
        number: Some(2),
        note: "=full in spring".to_owned(),
        ..PlanPart::drawn(PartKind::Drain, Outline { frame: Frame::Wgs84, form: Form::Line { through } })
    }
}

#[test]
fn geojson_and_csv_give_back_what_they_were_given() {
    let folder = tempfile::tempdir().unwrap();
    let mut from = book(folder.path());
    from.record(ditch(), &stamp()).unwrap();
    let snapshot = from.snapshot().unwrap();
    for text in [plan_geojson(&snapshot, None), plan_csv(&snapshot, None)] {
        let read = read_plan(text.as_bytes(), None).unwrap();
        let [part] = read.parts.as_slice() else { panic!("{read:?}") };
        let wanted = ditch();
        assert_eq!(part.kind, Some(wanted.kind));
        assert_eq!((&part.name, &part.note, part.number), (&wanted.name, &wanted.note, wanted.number));
        assert_eq!(part.outline, wanted.outline);
    }
}

/// The example polygon of RFC 7946, appendix A.3, swapped and not.
#[test]
fn swapped_numbers_and_another_continent_are_seen() {
    let polygon =
        r#"{"type":"Polygon","coordinates":[[[100.0,0.0],[101.0,0.0],[101.0,1.0],[100.0,1.0],[100.0,0.0]]]}"#;
    let read = read_plan(polygon.as_bytes(), None).unwrap();
    let Form::Area { outer, holes } = &read.parts[0].outline.form else { panic!("{read:?}") };
    assert_eq!((outer.len(), holes.len()), (4, 0));
    let point = r#"{"type":"Point","coordinates":[42.5,-93.5]}"#;
    let read = read_plan(point.as_bytes(), Some([-93.49, 42.49])).unwrap();
    assert_eq!(read.parts[0].outline.form, Form::Point { at: [-93.5, 42.5] });
    assert_eq!(read.remarks.len(), 1);
    let refusal = read_plan(polygon.as_bytes(), Some([-93.5, 42.5])).unwrap_err();
    assert!(refusal.message.contains("km from the farm"), "{refusal}");
}

#[test]
fn a_walk_of_fifty_thousand_places_is_thinned_kept_and_undone() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(folder.path());
    let mut gpx = String::from(
        r#"<gpx version="1.1" creator="a test" xmlns="http://www.topografix.com/GPX/1/1"><trk><name>edge</name><trkseg>"#,
    );
    for i in 0..50_000 {
        let way = f64::from(i) / 50_000.0 * 4.0;
        let [x, y] = match way {
            w if w < 1.0 => [w, 0.0],
            w if w < 2.0 => [1.0, w - 1.0],
            w if w < 3.0 => [3.0 - w, 1.0],
            w => [0.0, 4.0 - w],
        };
        gpx.push_str(&format!(r#"<trkpt lat="{}" lon="{}"/>"#, 42.5 + y * 0.001, -93.5 + x * 0.001));
    }
    gpx.push_str("</trkseg></trk></gpx>");
    let kept = book.import_plan(gpx.as_bytes(), &how(WalkIs::Area), &stamp()).unwrap();
    assert_eq!(kept.parts, 1);
    assert!(kept.remarks.iter().any(|remark| remark.contains("50000 places")), "{kept:?}");
    let snapshot = book.snapshot().unwrap();
    assert!(snapshot.plan_parts[0].body.outline.points().count() < 60);
    assert!(snapshot.farm.body.plan_origin.is_some());
    book.undo_import(kept.import, "wrong walk", &stamp()).unwrap();
    assert!(book.snapshot().unwrap().plan_parts.is_empty());
}

#[test]
fn what_cannot_be_read_stores_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(folder.path());
    for text in [
        "",
        "{",
        "<gpx",
        "a,b\n1,2",
        r#"{"type":"FeatureCollection","features":[]}"#,
        "kind,wkt\nshed,POINT (1 2)",
    ] {
        let refused = book.import_plan(text.as_bytes(), &how(WalkIs::Line), &stamp());
        assert!(refused.is_err(), "{text}");
    }
    let snapshot = book.snapshot().unwrap();
    assert!(snapshot.plan_parts.is_empty() && snapshot.imports.is_empty());
}
