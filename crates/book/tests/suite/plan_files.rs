//! The plan out and in again: nothing lost, nothing stored in part, and what people get wrong explained.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use book::model::{
    Bed, Farm, Form, Frame, KeepOutWhy, Outline, PartKind, Place, PlanOrigin, PlanPart, Plot, Shape,
    Structure, StructureKind, UnitSystem,
};
use book::{Book, PlanImport, Snapshot, Stamp, WalkIs, plan_csv, plan_geojson, plan_gpx, read_plan};
use ground::kit::Bounded;

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
        let read = read_plan(text.as_bytes(), None, WalkIs::Line).unwrap();
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
    let read = read_plan(polygon.as_bytes(), None, WalkIs::Line).unwrap();
    let Form::Area { outer, holes } = &read.parts[0].outline.form else { panic!("{read:?}") };
    assert_eq!((outer.len(), holes.len()), (4, 0));
    let point = r#"{"type":"Point","coordinates":[42.5,-93.5]}"#;
    let read = read_plan(point.as_bytes(), Some([-93.49, 42.49]), WalkIs::Line).unwrap();
    assert_eq!(read.parts[0].outline.form, Form::Point { at: [-93.5, 42.5] });
    assert_eq!(read.remarks.len(), 1);
    let refusal = read_plan(polygon.as_bytes(), Some([-93.5, 42.5]), WalkIs::Line).unwrap_err();
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

/// A book with a plot, its bed and a fence, and something of every form drawn.
fn full(folder: &std::path::Path, frame: Frame) -> Book {
    let mut book = book(folder);
    let at = |x: f64, y: f64| match frame {
        Frame::Wgs84 => [-93.5 + x / 82_000.0, 42.5 + y / 111_000.0],
        _ => [x, y],
    };
    let origin =
        PlanOrigin { latitude_degrees: Bounded::literal(42.5), longitude_degrees: Bounded::literal(-93.5) };
    let farm = book.snapshot().unwrap().farm;
    let fixed = Farm { plan_origin: Some(origin), ..farm.body };
    book.revise(farm.id, farm.number, fixed, "its place", &stamp()).unwrap();
    let plot = Plot {
        name: "Lower field, \"wet\"".to_owned(),
        place: Place::OpenField,
        shape: Shape::Area { area_m2: Bounded::literal(880.0) },
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        cover: None,
        organic: None,
        zone_of: None,
    };
    let plot = book.record(plot, &stamp()).unwrap().id;
    let bed = Bed {
        plot,
        name: "Long beds".to_owned(),
        length_m: Bounded::literal(20.0),
        width_m: Bounded::literal(0.75),
        count: 2,
    };
    let bed = book.record(bed, &stamp()).unwrap().id;
    let fence = book.record(Structure::named("Deer fence", StructureKind::Fence), &stamp()).unwrap().id;
    let ring = |places: &[[f64; 2]]| places.iter().map(|[x, y]| at(*x, *y)).collect::<Vec<_>>();
    let outer = ring(&[[0.0, 0.0], [30.0, 0.0], [30.0, 30.0], [0.0, 30.0]]);
    let holes = vec![
        // With the clock, as holes go out.
        ring(&[[4.0, 4.0], [8.0, 7.0], [8.0, 4.0]]),
        ring(&[[20.0, 20.0], [20.0, 23.0], [24.0, 23.0], [24.0, 20.0]]),
    ];
    let area = |outer, holes| Outline { frame, form: Form::Area { outer, holes } };
    let line = |through| Outline { frame, form: Form::Line { through } };
    let round = ring(&[[-2.0, -2.0], [32.0, -2.0], [32.0, 32.0], [-2.0, 32.0], [-2.0, -2.0]]);
    for part in [
        PlanPart {
            plot: Some(plot),
            note: "Two ponds, both fenced;\nheron in May, \u{fc}ber 1 m deep".to_owned(),
            ..PlanPart::drawn(PartKind::Plot, area(outer, holes))
        },
        PlanPart {
            plot: Some(plot),
            bed: Some(bed),
            number: Some(2),
            ..PlanPart::drawn(
                PartKind::Bed,
                area(ring(&[[5.0, 10.0], [5.75, 10.0], [5.75, 30.0], [5.0, 30.0]]), vec![]),
            )
        },
        PlanPart { structure: Some(fence), ..PlanPart::drawn(PartKind::Post, line(round)) },
        PlanPart {
            plot: Some(plot),
            why: Some(KeepOutWhy::OldFence),
            name: "'=SUM(A1), 3".to_owned(),
            number: Some(3),
            ..PlanPart::drawn(PartKind::KeepOut, line(ring(&[[0.0, 15.0], [30.0, 15.5]])))
        },
        PlanPart {
            name: "<Well> & pump".to_owned(),
            ..PlanPart::drawn(PartKind::WaterPoint, Outline::point(frame, at(29.0, 29.0)))
        },
    ] {
        book.record(part, &stamp()).unwrap();
    }
    book
}

/// The three texts of a plan.
fn texts(snapshot: &Snapshot) -> [String; 3] {
    let origin = Some([-93.5, 42.5]);
    [plan_geojson(snapshot, origin), plan_csv(snapshot, origin), plan_gpx(snapshot, origin).unwrap()]
}

#[test]
fn a_plan_comes_back_from_every_format_as_it_went_out() {
    let folder = tempfile::tempdir().unwrap();
    let snapshot = full(folder.path(), Frame::Wgs84).snapshot().unwrap();
    for text in texts(&snapshot) {
        let read = read_plan(text.as_bytes(), None, WalkIs::Line).unwrap();
        assert!(read.remarks.is_empty(), "{:?}", read.remarks);
        assert_eq!(read.parts.len(), snapshot.plan_parts.len(), "{text}");
        for held in &snapshot.plan_parts {
            let wanted = &held.body;
            let name = match wanted.kind {
                PartKind::Plot => "Lower field, \"wet\"",
                _ => &wanted.name,
            };
            let found = read.parts.iter().find(|part| part.outline == wanted.outline);
            let found = found.unwrap_or_else(|| panic!("{wanted:?} is not in\n{text}"));
            assert_eq!(found.kind, Some(wanted.kind));
            assert_eq!((found.name.as_str(), &found.note), (name, &wanted.note), "{text}");
            assert_eq!((found.plot, found.bed, found.structure), (wanted.plot, wanted.bed, wanted.structure));
            assert_eq!((found.number, found.why), (wanted.number, wanted.why), "{text}");
        }
    }
}

#[test]
fn what_stands_already_is_known_again_in_metres_too() {
    for frame in [Frame::Wgs84, Frame::Metres] {
        let folder = tempfile::tempdir().unwrap();
        let mut book = full(folder.path(), frame);
        let before = book.snapshot().unwrap();
        for text in texts(&before) {
            let refused = book.import_plan(text.as_bytes(), &how(WalkIs::Area), &stamp());
            assert!(refused.unwrap_err().to_string().contains("on the plan already"), "{text}");
        }
        // One thing more: it alone comes in, and that is told.
        let more = r#"<wpt lat="42.5001" lon="-93.5001"><name>Oak</name><type>tree</type></wpt></gpx>"#;
        let text = texts(&before)[2].replace("</gpx>", more);
        let kept = book.import_plan(text.as_bytes(), &how(WalkIs::Area), &stamp()).unwrap();
        assert_eq!((kept.parts, kept.known_already), (1, 5), "{kept:?}");
        let import = book.snapshot().unwrap().import(kept.import).unwrap().body.clone();
        assert!(import.remarks.iter().any(|remark| remark.contains("5 of its things")), "{import:?}");
    }
}

#[test]
fn another_book_keeps_the_names_of_what_it_has_no_record_of() {
    let folders = [tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap()];
    let snapshot = full(folders[0].path(), Frame::Wgs84).snapshot().unwrap();
    for (text, name) in texts(&snapshot).into_iter().zip(["a", "b", "c"]) {
        let farm = Farm::named("Other farm", UnitSystem::Metric);
        let mut other = Book::create(folders[1].path().join(name), farm, &stamp()).unwrap();
        let kept = other.import_plan(text.as_bytes(), &how(WalkIs::Area), &stamp()).unwrap();
        assert_eq!((kept.parts, kept.plots), (5, 1), "{kept:?}");
        let now = other.snapshot().unwrap();
        let named = |wanted: &str| now.plan_parts.iter().any(|part| part.body.name == wanted);
        assert!(named("Long beds, 2") && named("Deer fence"), "{:?}", now.plan_parts);
        // 900 m² less half of 4 by 3 and 4 by 3.
        let area_m2 = now.plots[0].body.shape.area_m2();
        assert!((area_m2 - 882.0).abs() < 3.0, "{area_m2}");
        assert!(kept.remarks.iter().any(|remark| remark.contains("Long beds, 2")), "{kept:?}");
        // Undone, the plot it made goes too, and the plan counts from nowhere again.
        other.undo_import(kept.import, "the wrong farm", &stamp()).unwrap();
        let undone = other.snapshot().unwrap();
        assert!(undone.plan_parts.is_empty() && undone.plots.is_empty(), "{:?}", undone.plots);
        assert_eq!(undone.farm.body.plan_origin, None);
    }
}

#[test]
fn a_plot_that_has_soil_of_its_own_by_now_outlives_the_file_it_came_with() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(folder.path());
    let text = r#"{"type":"Feature","properties":{"kind":"plot","name":"Far field"},"geometry":{"type":"Polygon",
        "coordinates":[[[-93.5,42.5],[-93.499,42.5],[-93.499,42.501],[-93.5,42.5]]]}}"#;
    let kept = book.import_plan(text.as_bytes(), &how(WalkIs::Area), &stamp()).unwrap();
    let plot = book.snapshot().unwrap().plots[0].id;
    let bed = Bed {
        plot,
        name: "Beds".to_owned(),
        length_m: Bounded::literal(20.0),
        width_m: Bounded::literal(0.75),
        count: 2,
    };
    book.record(bed, &stamp()).unwrap();
    book.undo_import(kept.import, "too early", &stamp()).unwrap();
    let now = book.snapshot().unwrap();
    assert_eq!((now.plan_parts.len(), now.plots.len()), (0, 1));
}

#[test]
fn tables_of_other_countries_are_read_or_told() {
    let read = |text: &str| read_plan(text.as_bytes(), Some([8.5, 47.1]), WalkIs::Line);
    for text in [
        "kind;name;longitude;latitude\ntree;Linde;8,512;47,101",
        "kind\tname\tlat\tlon\ntree\tLinde\t47.101\t8.512",
        "kind,name,latitude,longitude\ntree,Linde,47 06.06 N,8 30.72 E",
    ] {
        let plan = read(text).unwrap();
        let Form::Point { at: [x, y] } = plan.parts[0].outline.form else { panic!("{plan:?}") };
        // 6.06' are 0.101°, 30.72' are 0.512°.
        assert!((x - 8.512).abs() < 1e-9 && (y - 47.101).abs() < 1e-9, "{text}: {x} {y}");
    }
    let comma = read("kind;wkt\ntrack;LINESTRING (8,5 47,1, 8,6 47,2)").unwrap_err();
    assert!(comma.message.contains("line 2") && comma.message.contains("decimal points"), "{comma}");
    // Which comma is which cannot be told for certain, so none is guessed: what is taken is said, with an example that is.
    for text in [
        "kind;wkt\nplot;POLYGON((8,5 47,1; 8,6 47,1; 8,6 47,2; 8,5 47,1))",
        "kind;wkt\nplot;POLYGON ((8,5 47,1, 8,6 47,1, 8,6 47,2, 8,5 47,1))",
        "kind;wkt\ntrack;LINESTRING (8.5 47.1, 8.6 47.2; 8.7 47.3)",
        "kind;wkt\ntree;POINT (8,5 47,1)",
    ] {
        let refused = read(text).unwrap_err();
        assert!(refused.message.contains("line 2"), "{refused}");
        assert!(refused.accepted.contains("decimal points"), "{refused}");
        assert!(text.contains(&refused.given), "{refused}");
        let again = read(&format!("kind,wkt\nplot,\"{}\"", refused.example));
        assert!(again.is_ok(), "{again:?}");
    }
    let words = read("kind,longitude,latitude\ntree,by the barn,47.1").unwrap_err();
    assert!(words.message.contains("line 2") && words.message.contains("by the barn"), "{words}");
    let broken = read("kind,wkt\ntrack,\"LINESTRING (8.5 47.1, 8.6 47.2)").map(|plan| plan.parts.len());
    assert!(broken.is_err() || broken == Ok(1), "{broken:?}");
}

#[test]
fn a_geojson_of_another_program_gives_what_can_be_drawn_and_tells_the_rest() {
    let text = r##"{
      "type": "FeatureCollection", "name": "export", "crs": {"type": "name", "properties": {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}},
      "bbox": [-93.6, 42.4, -93.4, 42.6],
      "features": [
        {"type": "Feature", "properties": {"name": "North", "stroke": "#ff0000", "tags": {"a": [1, 2]}}, "geometry": {"type": "MultiPolygon",
          "coordinates": [[[[-93.5,42.5,281.0],[-93.499,42.5,281.0],[-93.499,42.501,281.0],[-93.5,42.5,281.0]]],
                          [[[-93.498,42.5],[-93.497,42.5],[-93.497,42.501],[-93.498,42.5]]]]}},
        {"type": "Feature", "properties": null, "geometry": null},
        {"type": "Feature", "id": 7, "properties": {"kind": "tree", "number": 12}, "geometry": {"type": "GeometryCollection", "geometries": [
          {"type": "Point", "coordinates": [-93.5, 42.5]}, {"type": "MultiPoint", "coordinates": [[-93.5, 42.501], [-93.5, 42.502]]}]}}
      ]}"##;
    let read = read_plan(text.as_bytes(), Some([-93.5, 42.5]), WalkIs::Line).unwrap();
    assert_eq!(read.parts.len(), 5, "{read:?}");
    assert_eq!(read.parts.iter().filter(|part| part.kind == Some(PartKind::Tree)).count(), 3);
    assert!(read.remarks.iter().any(|remark| remark.contains("Feature 2 has no place")), "{read:?}");
    let unknown = text.replace("\"kind\": \"tree\"", "\"kind\": \"spaceport\"");
    let refused = read_plan(unknown.as_bytes(), None, WalkIs::Line).unwrap_err();
    assert!(refused.message.contains("feature 3") && refused.message.contains("spaceport"), "{refused}");
}

#[test]
fn half_a_world_away_nothing_is_stored() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = full(folder.path(), Frame::Metres);
    let before = book.snapshot().unwrap();
    for text in [
        r#"{"type":"Point","coordinates":[86.5,-42.5]}"#,
        "kind,wkt\ntree,POINT (86.5 -42.5)",
        r#"<gpx version="1.1" creator="a test"><wpt lat="-42.5" lon="86.5"/></gpx>"#,
    ] {
        let refused = book.import_plan(text.as_bytes(), &how(WalkIs::Points), &stamp()).unwrap_err();
        assert!(refused.to_string().contains("km from the farm"), "{refused}");
    }
    let after = book.snapshot().unwrap();
    assert_eq!((before.plan_parts.len(), before.mark), (after.plan_parts.len(), after.mark));
}

/// A GPX of tracks, each of pieces, and waypoints; 0.0009 degrees of latitude are 100 m.
fn walked(tracks: &[&[&[[f64; 2]]]], spots: &[&str]) -> String {
    let mut gpx =
        String::from(r#"<gpx version="1.1" creator="a test" xmlns="http://www.topografix.com/GPX/1/1">"#);
    for name in spots {
        gpx.push_str(&format!(r#"<wpt lat="42.5" lon="-93.5"><name>{name}</name></wpt>"#));
    }
    for (number, track) in tracks.iter().enumerate() {
        gpx.push_str(&format!("<trk><name>Field {number}</name>"));
        for piece in *track {
            gpx.push_str("<trkseg>");
            for [x, y] in *piece {
                let (lat, lon) = (42.5 + y * 0.0009, -93.5 + x * 0.0009);
                gpx.push_str(&format!(r#"<trkpt lat="{lat}" lon="{lon}"/>"#));
            }
            gpx.push_str("</trkseg>");
        }
        gpx.push_str("</trk>");
    }
    gpx + "</gpx>"
}

fn plots(walk_is: WalkIs) -> PlanImport {
    PlanImport { kind: PartKind::Plot, ..how(walk_is) }
}

#[test]
fn a_walk_with_a_pause_is_one_piece_of_ground() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(folder.path());
    let whole = walked(&[&[&[[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.0]]]], &[]);
    let paused = walked(&[&[&[[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]], &[[0.0, 1.0], [0.0, 0.0]]]], &[]);
    let area = |book: &Book| book.snapshot().unwrap().plots[0].body.shape.area_m2();
    let kept = book.import_plan(whole.as_bytes(), &plots(WalkIs::Area), &stamp()).unwrap();
    let without = area(&book);
    book.undo_import(kept.import, "", &stamp()).unwrap();
    let kept = book.import_plan(paused.as_bytes(), &plots(WalkIs::Area), &stamp()).unwrap();
    assert_eq!((kept.parts, kept.plots), (1, 1));
    assert!((area(&book) - without).abs() < 1e-6, "{} {without}", area(&book));
    assert!(kept.remarks.iter().any(|remark| remark.contains("broken off once")), "{:?}", kept.remarks);
}

#[test]
fn a_spot_in_the_file_of_a_walk_does_not_keep_the_walk_out() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(folder.path());
    let file = walked(
        &[&[&[[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 0.0]]], &[&[[0.0, 0.0], [0.0, 0.2]]]],
        &["Start"],
    );
    let kept = book.import_plan(file.as_bytes(), &plots(WalkIs::Area), &stamp()).unwrap();
    assert_eq!((kept.parts, kept.plots), (3, 1));
    assert!(kept.remarks.iter().any(|remark| remark.contains("Start")), "{:?}", kept.remarks);
    let snapshot = book.snapshot().unwrap();
    assert_eq!(snapshot.plan_parts.iter().filter(|part| part.body.kind == PartKind::Other).count(), 2);
}

#[test]
fn posts_along_a_straight_fence_are_all_kept() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(folder.path());
    let fence: Vec<[f64; 2]> = (0..500).map(|post| [f64::from(post) * 0.03, 0.0]).collect();
    let posts = PlanImport { kind: PartKind::Post, ..how(WalkIs::Points) };
    let kept = book.import_plan(walked(&[&[&fence]], &[]).as_bytes(), &posts, &stamp()).unwrap();
    assert_eq!(kept.parts, 500);
    let many: Vec<[f64; 2]> = (0..6_000).map(|post| [f64::from(post) * 0.003, 0.0]).collect();
    let refused = book.import_plan(walked(&[&[&many]], &[]).as_bytes(), &posts, &stamp()).unwrap_err();
    assert!(refused.to_string().contains("6000 places"), "{refused}");
}

/// RFC 7946, section 3.1.6: outer rings run against the clock, holes with it. A plot in two pieces has the area of both.
#[test]
fn rings_go_out_the_right_way_round_and_pieces_add_up() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(folder.path());
    let square = |x: f64, side: f64| {
        format!("[[[{x},42.5],[{x},{n}],[{e},{n}],[{e},42.5],[{x},42.5]]]", n = 42.5 + side, e = x + side)
    };
    let file = format!(
        r#"{{"type":"Feature","properties":{{"name":"Two"}},"geometry":{{"type":"MultiPolygon","coordinates":[{},{}]}}}}"#,
        square(-93.5, 0.001),
        square(-93.49, 0.002)
    );
    let kept = book.import_plan(file.as_bytes(), &plots(WalkIs::Area), &stamp()).unwrap();
    assert_eq!((kept.parts, kept.plots), (2, 1));
    let snapshot = book.snapshot().unwrap();
    let signed = |ring: &[[f64; 2]]| ground::spatial::plane::signed_area_m2(ring);
    // A degree of longitude at this latitude, and of latitude, in metres (WGS 84, to a hundredth).
    let (east, north) = (82_200.0, 111_080.0);
    let wanted = (0.001_f64.powi(2) + 0.002_f64.powi(2)) * east * north;
    let area = snapshot.plots[0].body.shape.area_m2();
    assert!((area / wanted - 1.0).abs() < 0.01, "{area} {wanted}");
    let out: geojson::GeoJson = plan_geojson(&snapshot, None).parse().unwrap();
    let geojson::GeoJson::FeatureCollection(out) = out else { panic!("{out:?}") };
    for feature in out.features {
        let geojson::GeometryValue::Polygon { coordinates } = feature.geometry.unwrap().value else {
            panic!()
        };
        let ring: Vec<[f64; 2]> = coordinates[0].iter().map(|at| [at[0], at[1]]).collect();
        assert!(signed(&ring) > 0.0, "{ring:?}");
    }
    // What stands already is known again, whichever way round it came.
    let again = book.import_plan(file.as_bytes(), &plots(WalkIs::Area), &stamp());
    assert!(again.is_err(), "{again:?}");
}

#[test]
fn a_plot_that_was_only_drawn_goes_and_comes_back_with_its_outline() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(folder.path());
    let field = |name: &str| Plot {
        name: name.to_owned(),
        place: Place::OpenField,
        shape: Shape::Area { area_m2: Bounded::literal(100.0) },
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        cover: None,
        organic: None,
        zone_of: None,
    };
    let draw = |book: &mut Book, name: &str| {
        book.write(|writing| {
            let plot = writing.record(field(name), &stamp())?.id;
            let form = Form::Area { outer: vec![[0.0, 0.0], [10.0, 0.0], [10.0, 10.0]], holes: Vec::new() };
            let part = PlanPart::drawn(PartKind::Plot, Outline { frame: Frame::Metres, form });
            Ok((plot, writing.record(PlanPart { plot: Some(plot), ..part }, &stamp())?.id))
        })
        .unwrap()
    };
    let (plot, part) = draw(&mut book, "Lower field");
    book.write(|writing| writing.take_off_plan(part, 1, &stamp())).unwrap();
    assert!(book.snapshot().unwrap().plots.is_empty());
    book.write(|writing| writing.bring_back_to_plan(part, 2, &stamp())).unwrap();
    let snapshot = book.snapshot().unwrap();
    assert_eq!((snapshot.plots.len(), snapshot.plan_parts.len()), (1, 1));
    // Once something else speaks of it, it stays.
    let bed = Bed {
        plot,
        name: "Bed".to_owned(),
        length_m: Bounded::literal(10.0),
        width_m: Bounded::literal(0.75),
        count: 1,
    };
    book.record(bed, &stamp()).unwrap();
    book.write(|writing| writing.take_off_plan(part, 3, &stamp())).unwrap();
    let snapshot = book.snapshot().unwrap();
    assert_eq!((snapshot.plots.len(), snapshot.plan_parts.len()), (1, 0));
}

/// GPX 1.1 and RFC 7946 (3.1.1) want decimal degrees as numbers; 42° 30.07' is 42.50117°.
#[test]
fn degrees_that_are_no_single_number_are_told_as_such() {
    for (text, given) in [
        (r#"<gpx version="1.1" creator="a test"><wpt lat="42 30.07 N" lon="-93.5"/></gpx>"#, "42 30.07 N"),
        ("<gpx version='1.1' creator='a test'>\n<wpt lat='42.5' lon='93,5'/></gpx>", "93,5"),
        (r#"{"type":"Point","coordinates":["-93.5","42.5"]}"#, "-93.5"),
    ] {
        let refusal = read_plan(text.as_bytes(), None, WalkIs::Line).unwrap_err();
        assert_eq!(refusal.given, given, "{refusal}");
        assert!(refusal.message.contains("is not one number"), "{refusal}");
        assert!(!refusal.message.contains("f64") && !refusal.message.contains("element"), "{refusal}");
    }
    let gpx = "<gpx version='1.1' creator='a test'>\n<wpt lat='42.5' lon='93,5'/></gpx>";
    assert!(read_plan(gpx.as_bytes(), None, WalkIs::Line).unwrap_err().message.contains("line 2"));
}

#[test]
fn swapped_numbers_are_told_in_the_words_of_their_file() {
    let farm = Some([-93.49, 42.49]);
    let gpx = r#"<gpx version="1.1" creator="a test"><wpt lat="-43.5" lon="22.5"/></gpx>"#;
    let read = read_plan(gpx.as_bytes(), Some([-43.49, 22.49]), WalkIs::Points).unwrap();
    assert!(read.remarks[0].contains("under lon") && !read.remarks[0].contains("GeoJSON"), "{read:?}");
    let point = r#"{"type":"Point","coordinates":[42.5,-93.5]}"#;
    let read = read_plan(point.as_bytes(), farm, WalkIs::Line).unwrap();
    assert!(read.remarks[0].contains("GeoJSON") && read.remarks[0].contains("near the farm"), "{read:?}");
    let read = read_plan(point.as_bytes(), None, WalkIs::Line).unwrap();
    assert!(!read.remarks[0].contains("near the farm"), "a book without a place: {read:?}");
}

#[test]
fn what_is_no_file_of_places_is_named() {
    let refusal = read_plan(b"\x89PNG\r\n", None, WalkIs::Line).unwrap_err();
    assert!(
        refusal.message.contains("a picture") && refusal.accepted.contains("under the plan"),
        "{refusal}"
    );
    assert!(!refusal.message.contains("laboratory"), "{refusal}");
    let refusal = read_plan(b"<!DOCTYPE html><html></html>", None, WalkIs::Line).unwrap_err();
    assert!(refusal.message.contains("a web page"), "{refusal}");
}
