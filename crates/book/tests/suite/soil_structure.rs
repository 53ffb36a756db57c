//! Readings of structure: what is refused, field by field, and what is kept.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use book::model::Seen;
use book::{Body, Kind};
use serde_json::json;

fn seen(what: &str, rest: serde_json::Value) -> Result<Seen, serde_json::Error> {
    let mut whole = rest;
    whole["what"] = what.into();
    serde_json::from_value(whole)
}

#[test]
fn what_contradicts_itself_is_refused_at_its_field() {
    let reading = |depth: f64, mpa: f64| json!({ "depth_cm": depth, "resistance_mpa": mpa });
    let point =
        |readings: serde_json::Value| json!({ "moisture": "wet", "points": [{ "readings": readings }] });
    for (what, body, field) in [
        ("probe", point(json!([reading(20.0, 1.0), reading(10.0, 1.0)])), "points[0].readings[1].depth_cm"),
        ("probe", point(json!([{ "depth_cm": 10.0 }])), "points[0].readings[0].resistance_mpa"),
        ("probe", point(json!([])), "points[0].readings"),
        (
            "probe",
            json!({ "moisture": "wet", "points": [{ "readings": [reading(20.0, 1.0)], "stuck_at_cm": 15.0 }] }),
            "points[0].stuck_at_cm",
        ),
        (
            "cores",
            json!({ "from_cm": 10, "to_cm": 20, "cores": [{ "volume_ml": 100, "dry_mass_g": 140, "moist_mass_g": 120 }] }),
            "cores[0].moist_mass_g",
        ),
        (
            "working",
            json!({ "depth_cm": 15, "handful": "dents", "limits": { "plastic_limit_percent": 30, "liquid_limit_percent": 20 } }),
            "limits.liquid_limit_percent",
        ),
        ("slake", json!({ "crumbs": [] }), "crumbs"),
    ] {
        let refusal = seen(what, body).unwrap().accept().unwrap_err();
        assert_eq!(refusal.field, field);
        assert!(!refusal.accepted.is_empty(), "{refusal}");
    }
}

#[test]
fn what_no_version_may_hold_is_refused_on_reading() {
    let id = "0190163d-8694-739b-aea5-966c26f8ad91";
    for (body, field) in [
        (json!({ "what": "probe", "moisture": "wet", "points": [] }), "seen.points"),
        (
            json!({ "what": "cores", "from_cm": 20, "to_cm": 20, "cores": [{ "volume_ml": 100, "dry_mass_g": 140 }] }),
            "seen.to_cm",
        ),
        (json!({ "what": "cores", "from_cm": 10, "to_cm": 20, "cores": [] }), "seen.cores"),
        (json!({ "what": "spade" }), "seen.signs"),
    ] {
        let whole = json!({ "plot": id, "seen_on": "2026-05-01", "seen": body });
        let refusal = Body::read(Kind::Observation, &whole).unwrap_err();
        assert_eq!(refusal.field, field, "{refusal}");
    }
}

#[test]
fn a_probe_that_was_stuck_counts_as_a_rod_that_stops() {
    let read = seen(
        "probe",
        json!({ "moisture": "field_capacity", "points": [{ "readings": [{ "depth_cm": 10, "resistance_mpa": 1.0 }], "stuck_at_cm": 20 }] }),
    )
    .unwrap();
    assert_eq!(read.accept(), Ok(()));
    let Seen::Probe(probe) = read else { panic!("a probe") };
    assert_eq!(probe.input().pushes[0].readings.len(), 2);
}
