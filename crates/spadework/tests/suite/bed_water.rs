//! `et0` and `watering`: what is printed, and what is refused.

use crate::common::{run, run_in};

/// FAO-56, example 18: Brussels on 6 July, 50°48' N, 100 m, wind 10 km/h at 10 m, 9.25 h of sunshine. Printed:
/// 3.9 mm/day, with 3.88 on the way.
#[test]
fn the_published_day_is_met() {
    let told = run(&[
        "et0",
        "--units",
        "metric",
        "--latitude",
        "50.8",
        "--elevation",
        "100 m",
        "--date",
        "2026-07-06",
        "--tmax",
        "21.5 C",
        "--tmin",
        "12.3 C",
        "--rh-max",
        "84",
        "--rh-min",
        "63",
        "--wind",
        "2.78 m/s",
        "--wind-height",
        "10 m",
        "--sunshine",
        "9 h 15 min",
        "--json",
    ]);
    assert_eq!(told.code, 0, "{}", told.told());
    let et0 = told.json()["et0_mm_d"].as_f64().expect("a number");
    assert!((et0 - 3.88).abs() <= 0.005, "{et0}");
}

#[test]
fn a_day_of_two_temperatures_is_worked_out_with_what_was_taken_for_granted() {
    let told = run(&[
        "et0",
        "--latitude",
        "42.5",
        "--date",
        "2026-07-06",
        "--tmax",
        "84F",
        "--tmin",
        "61F",
        "--working",
    ]);
    assert_eq!(told.code, 0, "{}", told.told());
    for words in ["in on 2026-07-06", "Working", "Wind was not measured", "Sunlight was not measured"] {
        assert!(told.stdout.contains(words), "{words}: {}", told.told());
    }
}

#[test]
fn what_cannot_be_is_refused_by_its_name() {
    for (arguments, field) in [
        (&["--latitude", "120", "--date", "2026-07-06", "--tmax", "84F", "--tmin", "61F"][..], "latitude"),
        (&["--latitude", "42", "--date", "6 July", "--tmax", "84F", "--tmin", "61F"], "date"),
        (&["--latitude", "42", "--date", "2026-07-06", "--tmax", "hot", "--tmin", "61F"], "tmax"),
        (&["--latitude", "42", "--date", "2026-07-06", "--tmax", "61F", "--tmin", "84F"], "tmin"),
    ] {
        let mut all = vec!["et0", "--json"];
        all.extend(arguments);
        let refused = run(&all);
        assert_eq!(refused.code, 2, "{}", refused.told());
        let said = refused.json()["error"]["field"].as_str().unwrap_or_default().to_owned();
        assert!(said.contains(field), "{said}: {}", refused.told());
    }
}

#[test]
fn the_demonstration_tells_its_water() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let made = run_in(at, &["demo", "--no-serve", "--book", "a.farmbook"], "");
    assert_eq!(made.code, 0, "{}", made.told());
    let farm = run_in(at, &["watering", "a.farmbook"], "");
    assert_eq!(farm.code, 0, "{}", farm.told());
    for words in ["Carrot beds", "Beds A to E", "backflow"] {
        assert!(farm.stdout.contains(words), "{words}: {}", farm.told());
    }
    let bed = run_in(at, &["watering", "a.farmbook", "beds 1 to 12", "--working"], "");
    assert_eq!(bed.code, 0, "{}", bed.told());
    for words in ["Why", "The week ahead", "ETc = Kc ET0", "Caution"] {
        assert!(bed.stdout.contains(words), "{words}: {}", bed.told());
    }
    let json = run_in(at, &["watering", "a.farmbook", "--json"], "").json();
    assert_eq!(json["beds"].as_array().map(Vec::len), Some(6));
    let long_ago = run_in(at, &["watering", "a.farmbook", "--on", "2019-01-05"], "");
    assert!(long_ago.stdout.contains("Nothing that is written down grows"), "{}", long_ago.told());
    let unknown = run_in(at, &["watering", "a.farmbook", "Bed 99", "--json"], "");
    assert_eq!(unknown.code, 2, "{}", unknown.told());
    assert_eq!(unknown.json()["error"]["field"], "bed");
    let no_day = run_in(at, &["watering", "a.farmbook", "--on", "tomorrow", "--json"], "");
    assert_eq!((no_day.code, &no_day.json()["error"]["field"]), (2, &serde_json::json!("on")));
}
