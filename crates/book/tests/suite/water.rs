//! Beds, plantings and watering: what a record may point to, and what the snapshot says of a bed.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::{farm, plain_plot, stamp};
use book::model::seen::{Layer, Layers, Moisture, MoistureFeel, MoistureReading};
use book::model::*;
use book::{Body, Book, BookError, Kind};
use ground::kit::{Bounded, Refusal};
use jiff::civil::{Date, date};
use serde_json::json;

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

fn bed(plot: EntryId) -> Bed {
    Bed {
        plot,
        name: "Rows".into(),
        length_m: Bounded::literal(30.0),
        width_m: Bounded::literal(0.75),
        count: 2,
    }
}

fn planting(bed: EntryId, planted_on: Date) -> Planting {
    Planting {
        bed,
        crop: PlantedCrop::Catalogue("tomato".into()),
        planted_on,
        how: PlantedHow::Transplanted,
        harvest_on: None,
        ended_on: None,
        mulch: None,
        yield_goal_kg: None,
        note: String::new(),
    }
}

fn seen(plot: EntryId, seen_on: Date, seen: Seen) -> Observation {
    Observation {
        plot,
        sample: None,
        seen_on,
        seen_by: String::new(),
        note: String::new(),
        import: None,
        spot: None,
        seen,
    }
}

fn felt(bed: Option<EntryId>) -> Seen {
    Seen::Moisture(Moisture {
        bed,
        from_cm: Bounded::literal(20.0),
        to_cm: None,
        reading: MoistureReading::Feel(MoistureFeel::Moist),
    })
}

#[test]
fn a_bed_must_count_and_lie_in_the_plot_that_is_named() {
    let (_folder, mut book) = new_book();
    let east = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap().id;
    let west = book.record(plain_plot("West"), &stamp(1, "Ada")).unwrap().id;
    let rows = book.record(bed(east), &stamp(2, "Ada")).unwrap().id;
    let day = date(2026, 5, 1);
    assert_eq!(refused(book.record(planting(east, day), &stamp(3, "Ada"))).field, "bed");
    assert_eq!(refused(book.record(seen(west, day, felt(Some(rows))), &stamp(3, "Ada"))).field, "seen.bed");
    book.record(seen(east, day, felt(Some(rows))), &stamp(3, "Ada")).unwrap();
    book.record(planting(rows, day), &stamp(3, "Ada")).unwrap();
    let crop = Planting { crop: PlantedCrop::FarmCrop(rows), ..planting(rows, day) };
    assert_eq!(refused(book.record(crop, &stamp(3, "Ada"))).field, "crop");
    let system = WateringSystem {
        bed: rows,
        supply: Some(rows),
        delivery: Delivery::Hand,
        efficiency_percent: None,
        wetted_percent: None,
        note: String::new(),
    };
    assert_eq!(refused(book.record(system, &stamp(3, "Ada"))).field, "supply");

    // With the bed, or with its plot, what grows in it waits.
    book.withdraw(rows, 1, "dug up", &stamp(4, "Ada")).unwrap();
    assert!(refused(book.record(planting(rows, day), &stamp(5, "Ada"))).message.contains("withdrawn"));
    let snapshot = book.snapshot().unwrap();
    assert!(snapshot.plantings.is_empty() && snapshot.observations.is_empty());
    assert_eq!(snapshot.plot_of_bed(rows), Some(east), "whether or not the bed counts");
    book.restore(rows, 2, "", &stamp(6, "Ada")).unwrap();
    assert_eq!(book.snapshot().unwrap().moisture_of(rows).len(), 1);
    book.withdraw(east, 1, "let go", &stamp(7, "Ada")).unwrap();
    assert!(book.snapshot().unwrap().plantings.is_empty());
    assert!(refused(book.record(planting(rows, day), &stamp(8, "Ada"))).message.contains("plot"));
    assert!(book.check().unwrap().is_clean());
}

#[test]
fn a_bed_tells_what_stands_in_it_and_how_it_is_watered() {
    let (_folder, mut book) = new_book();
    let plot = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap().id;
    let rows = book.record(bed(plot), &stamp(2, "Ada")).unwrap().id;
    let late = book.record(planting(rows, date(2026, 7, 10)), &stamp(3, "Ada")).unwrap().id;
    let early = Planting { ended_on: Some(date(2026, 6, 30)), ..planting(rows, date(2026, 4, 1)) };
    let early = book.record(early, &stamp(4, "Ada")).unwrap().id;
    let snapshot = book.snapshot().unwrap();
    let order: Vec<EntryId> = snapshot.plantings_of(rows).iter().map(|held| held.id).collect();
    assert_eq!(order, [early, late]);
    for (day, stood) in [
        (date(2026, 3, 31), None),
        (date(2026, 4, 1), Some(early)),
        (date(2026, 6, 30), Some(early)),
        (date(2026, 7, 1), None),
        (date(2027, 1, 1), Some(late)),
    ] {
        assert_eq!(snapshot.planting_on(rows, day).map(|held| held.id), stood, "{day}");
    }
    let system = |lines| WateringSystem {
        bed: rows,
        supply: None,
        delivery: Delivery::DripTape { flow_l_h_per_m: Bounded::literal(5.0), lines },
        efficiency_percent: None,
        wetted_percent: None,
        note: String::new(),
    };
    book.record(system(1), &stamp(5, "Ada")).unwrap();
    book.record(system(2), &stamp(6, "Ada")).unwrap();
    let snapshot = book.snapshot().unwrap();
    let delivery = snapshot.system_of(rows).unwrap().body.delivery;
    // Two lines of 5 L an hour and metre over 0.75 m of width: a litre on a square metre is a millimetre.
    assert_eq!(delivery.rate_mm_h(30.0, 0.75).unwrap(), 10.0 / 0.75);
    // 100 emitters of 2 L/h on 30 m by 0.75 m.
    let emitters =
        Delivery::Emitters { flow_l_h: Bounded::literal(2.0), spacing_m: Bounded::literal(0.3), lines: 1 };
    assert!((emitters.rate_mm_h(30.0, 0.75).unwrap() - 200.0 / 22.5).abs() < 1e-9);
}

#[test]
fn a_planting_does_not_end_before_it_begins() {
    let (_folder, mut book) = new_book();
    let plot = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap().id;
    let rows = book.record(bed(plot), &stamp(2, "Ada")).unwrap().id;
    let wrong = Planting { harvest_on: Some(date(2026, 4, 1)), ..planting(rows, date(2026, 5, 1)) };
    let refusal = refused(book.record(wrong, &stamp(3, "Ada")));
    assert_eq!(refusal.field, "harvest_on");
    assert!(refusal.message.contains("2026-04-01") && refusal.message.contains("2026-05-01"), "{refusal}");
}

/// Each body with what is wrong in it, and the field that must be named.
#[test]
fn refusals_name_the_field() {
    let id = "0190163d-8694-739b-aea5-966c26f8ad91";
    let layer = |from: f64, to: f64| json!({ "from_cm": from, "to_cm": to });
    let observed = |seen: serde_json::Value| json!({ "plot": id, "seen_on": "2026-05-01", "seen": seen });
    let layers = |layers: serde_json::Value| observed(json!({ "what": "layers", "layers": layers }));
    let table = |days: serde_json::Value| json!({ "name": "Gauge", "what": "measured", "days": days });
    for (kind, body, field) in [
        (Kind::Observation, layers(json!([])), "seen.layers"),
        (Kind::Observation, layers(json!([layer(5.0, 20.0)])), "seen.layers[0].from_cm"),
        (Kind::Observation, layers(json!([layer(0.0, 20.0), layer(25.0, 40.0)])), "seen.layers[1].from_cm"),
        (Kind::Observation, layers(json!([layer(0.0, 0.0)])), "seen.layers[0].to_cm"),
        (
            Kind::Observation,
            layers(json!([{ "from_cm": 0, "to_cm": 20, "sand_percent": 40 }])),
            "seen.layers[0].clay_percent",
        ),
        (
            Kind::Observation,
            layers(json!([{ "from_cm": 0, "to_cm": 20, "sand_percent": 70, "clay_percent": 40 }])),
            "seen.layers[0].clay_percent",
        ),
        (
            Kind::Observation,
            observed(json!({ "what": "ring_infiltration", "inside_diameter_mm": 150, "rings": [] })),
            "seen.rings",
        ),
        (
            Kind::Observation,
            observed(json!({ "what": "moisture", "from_cm": 20, "to_cm": 10, "reading": { "feel": "dry" } })),
            "seen.to_cm",
        ),
        (Kind::WeatherTable, table(json!([])), "days"),
        (Kind::WeatherTable, table(json!([{ "date": "2026-05-01" }])), "days[0]"),
        (
            Kind::WeatherTable,
            table(json!([{ "date": "2026-05-01", "tmax_c": 5, "tmin_c": 9 }])),
            "days[0].tmax_c",
        ),
        (
            Kind::WeatherTable,
            table(json!([{ "date": "2026-05-01", "rain_mm": 1 }, { "date": "2026-05-01", "rain_mm": 1 }])),
            "days[1].date",
        ),
        (Kind::Crop, json!({ "name": "Own crop" }), "kc_initial"),
        (
            Kind::WateringSystem,
            json!({ "bed": id, "delivery": { "kind": "drip_tape", "flow_l_h_per_m": 5, "lines": 0 } }),
            "delivery.lines",
        ),
        (
            Kind::Plot,
            json!({ "name": "A", "place": "open_field", "shape": { "kind": "area", "area_m2": 9 },
                    "cover": { "shaded": true } }),
            "cover",
        ),
    ] {
        let refusal = Body::read(kind, &body).unwrap_err();
        assert_eq!(refusal.field, field, "{body}: {refusal}");
        assert!(!refusal.message.is_empty() && !refusal.accepted.is_empty(), "{refusal:?}");
    }
}

#[test]
fn the_layers_looked_at_last_count() {
    let (_folder, mut book) = new_book();
    let plot = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap().id;
    let layers = |to_cm: f64| {
        let layer = Layer::between(Bounded::literal(0.0), Bounded::literal(to_cm));
        Seen::Layers(Layers { layers: vec![layer] })
    };
    book.record(seen(plot, date(2026, 5, 1), layers(60.0)), &stamp(2, "Ada")).unwrap();
    book.record(seen(plot, date(2025, 5, 1), layers(40.0)), &stamp(3, "Ada")).unwrap();
    assert_eq!(book.snapshot().unwrap().layers_of(plot).unwrap().1.bottom_cm(), 60.0);
}
