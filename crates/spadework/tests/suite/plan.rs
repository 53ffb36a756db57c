//! The plan of the farm from the command line.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use std::path::Path;

use book::model::{Farm, UnitSystem};
use book::{Book, Stamp};
use serde_json::Value;

use crate::common::{Run, run_in};

/// A farm without a plot; its plan has its place, or none.
fn farm(at: Option<(f64, f64)>) -> tempfile::TempDir {
    use book::model::PlanOrigin;
    use ground::kit::Bounded;
    let folder = tempfile::tempdir().unwrap();
    let plan_origin = at.map(|(latitude, longitude)| PlanOrigin {
        latitude_degrees: Bounded::new(latitude).unwrap(),
        longitude_degrees: Bounded::new(longitude).unwrap(),
    });
    let farm = Farm { plan_origin, ..Farm::named("Long Furrow Farm", UnitSystem::Metric) };
    let stamp = Stamp::new(jiff::Timestamp::UNIX_EPOCH, "a test");
    drop(Book::create(folder.path().join("a.farmbook"), farm, &stamp).unwrap());
    folder
}

/// `plan add a.farmbook ...`
fn add(folder: &Path, more: &[&str]) -> Run {
    run_in(folder, &[&["plan", "add", "a.farmbook"], more].concat(), "")
}

fn parts(folder: &Path) -> Vec<Value> {
    let told = run_in(folder, &["plan", "show", "a.farmbook", "--json"], "");
    assert_eq!(told.code, 0, "{}", told.told());
    told.json()["parts"].as_array().cloned().unwrap()
}

fn sound(run: Run) -> Run {
    assert_eq!(run.code, 0, "{}", run.told());
    run
}

#[test]
fn things_are_drawn_by_sides_corners_and_degrees() {
    let folder = farm(Some((42.5, -93.5)));
    let path = folder.path();
    let made = sound(add(path, &["plot", "--name", "Lower field", "--sides", "20 by 60 m", "--at", "0, 0"]));
    assert!(made.stdout.contains("drawn north"), "{}", made.told());
    sound(add(path, &["water_point", "--name", "Well", "--at", "42 30.07 N, 93 29.92 W"]));
    let track = "42.5, -93.5; 42.5009, -93.5; 42.5009, -93.4988";
    sound(add(path, &["track", "--name", "Lane", "--corners", track]));
    let fence = ["keep_out", "--why", "old_fence", "--line", "--corners", "0, 30 m; 10, 31; 20, 30"];
    sound(add(path, &[&fence[..], &["--note", "Wire still comes up"]].concat()));
    let drawn = parts(path);
    assert_eq!(drawn.len(), 4);
    // 42°30.07' lies 0.0011667° north of 42.5°, at 111.08 km a degree (WGS 84).
    let north = drawn[1]["points"][0][1].as_f64().unwrap();
    assert!((north - 129.6).abs() < 0.5, "{}", drawn[1]);
    assert!((drawn[2]["perimeter_m"].as_f64().unwrap() - 198.6).abs() < 1.0, "{}", drawn[2]);
    assert_eq!((drawn[3]["why"].as_str(), drawn[3]["form"].as_str()), (Some("old_fence"), Some("line")));
    let shown = sound(run_in(path, &["plan", "show", "a.farmbook"], ""));
    assert!(shown.stdout.contains("Lower field") && shown.stdout.contains("1200 m²"), "{}", shown.told());
}

#[test]
fn a_piece_is_cut_out_and_beds_keep_off_it() {
    let folder = farm(None);
    let path = folder.path();
    let plot = ["plot", "--name", "Field", "--corners", "0, 0; 40, 0; 40, 20; 0, 20"];
    let holes = ["--hole", "2, 2; 6, 2; 6, 5; 2, 5", "--hole", "20, 10; 24, 10; 24, 15"];
    sound(add(path, &[&plot[..], &holes[..]].concat()));
    let drawn = parts(path);
    // 40 by 20 less 4 by 3 and half of 4 by 5.
    assert!((drawn[0]["area_m2"].as_f64().unwrap() - 778.0).abs() < 1e-6, "{}", drawn[0]);
    let beds = ["plan", "beds", "a.farmbook", "field", "--bed", "75cm", "--path", "45cm", "--direction", "N"];
    let looked = sound(run_in(path, &[&beds[..], &["--json"]].concat(), ""));
    assert!(looked.json()["share_percent"].as_f64().unwrap() < 62.5, "{}", looked.told());
    assert!(looked.json()["beds"].as_array().unwrap().is_empty());
    sound(run_in(path, &[&beds[..], &["--keep", "Long beds"]].concat(), ""));
    assert!(parts(path).iter().any(|part| part["kind"] == "bed"));
}

#[test]
fn what_is_mistyped_is_told_at_its_option_and_nothing_is_drawn() {
    let folder = farm(Some((42.5, -93.5)));
    let path = folder.path();
    for (arguments, words) in [
        (&["shed", "--at", "0, 0"][..], "no kind of thing"),
        (&["tree"], "not said where it lies"),
        (&["tree", "--at", "up the hill"], "--at"),
        (&["tree", "--at", "-42.5012, 86.4987"], "km from the farm"),
        (&["tree", "--at", "42 70.0 N, 93 29.92 W"], "--at"),
        (&["plot", "--sides", "20 by 60 m"], "needs a name"),
        (&["plot", "--name", "A", "--sides", "twenty"], "--sides"),
        (&["keep_out", "--why", "ghosts", "--at", "0, 0"], "no reason to keep out"),
        (&["tree", "--why", "edge", "--at", "0, 0"], "only a place that is kept out of"),
        (&["tree", "--at", "0, 0", "--hole", "1, 1; 2, 1; 2, 2"], "only an area"),
        (
            &["plot", "--name", "A", "--corners", "0, 0; 9, 0; 9, 9", "--hole", "1, 1; 2, 1"],
            "piece 1 has 2 corners",
        ),
    ] {
        let run = add(path, arguments);
        assert!(run.code != 0 && run.said(words), "{arguments:?}: {}", run.told());
    }
    assert!(parts(path).is_empty());
    // A refusal of what is neither names both ways of saying a place.
    let run = add(path, &["tree", "--at", "10 m east"]);
    assert!(run.code != 0 && run.said("distances east and north") && run.said("latitude"), "{}", run.told());
}

#[test]
fn degrees_give_an_empty_plan_its_place() {
    let floating = farm(None);
    let path = floating.path();
    sound(add(path, &["tree", "--at", "42.50121, -93.49872"]));
    let told = sound(run_in(path, &["plan", "show", "a.farmbook", "--json"], "")).json();
    assert_eq!(told["origin"]["latitude_degrees"].as_f64(), Some(42.50121), "{told}");
    // A thousandth of a degree of latitude is 111 m (WGS 84).
    sound(add(path, &["tree", "--at", "42.50221, -93.49872"]));
    let north = parts(path)[1]["points"][0][1].as_f64().unwrap();
    assert!((north - 111.0).abs() < 0.5, "{north}");
    // Where distances were drawn first, that they count from there now is told.
    let other = farm(None);
    sound(add(other.path(), &["tree", "--at", "5 m, 5 m"]));
    let run = sound(add(other.path(), &["tree", "--at", "42.50121, -93.49872"]));
    assert!(run.stdout.contains("now counts from the first place typed"), "{}", run.told());
}

#[test]
fn remarks_on_what_was_drawn_come_with_it() {
    let folder = farm(None);
    let path = folder.path();
    let crossed = ["plot", "--name", "Bow tie", "--corners", "0, 0; 40, 30; 40, 0; 0, 30"];
    let run = sound(add(path, &crossed));
    assert!(run.stdout.contains("Bow tie: ") && run.stdout.contains("crosses itself"), "{}", run.told());
    let file = r#"{"type":"Feature","properties":{"kind":"plot","name":"Tie","frame":"metres"},"geometry":{"type":"Polygon","coordinates":[[[100,0],[140,30],[140,0],[100,30],[100,0]]]}}"#;
    std::fs::write(path.join("tie.geojson"), file).unwrap();
    let run = sound(run_in(path, &["plan", "import", "a.farmbook", "tie.geojson"], ""));
    assert!(run.stdout.contains("Tie: ") && run.stdout.contains("crosses itself"), "{}", run.told());
    // A book in feet is told its limits in feet: 30 m are 98 ft 5 in.
    let us = run_in(
        path,
        &["plan", "beds", "a.farmbook", "Tie", "--bed", "200ft", "--path", "1ft", "--units", "us"],
        "",
    );
    assert!(us.code != 0 && us.said("98") && !us.said(" 30 m"), "{}", us.told());
}

#[test]
fn swapped_degrees_are_put_right_and_told() {
    let folder = farm(Some((42.5, -93.5)));
    let run = sound(add(folder.path(), &["tree", "--at", "-93.4987, 42.5012"]));
    assert!(run.stdout.contains("the other way round"), "{}", run.told());
    let north = parts(folder.path())[0]["points"][0][1].as_f64().unwrap();
    assert!((north - 133.3).abs() < 0.5, "{north}");
}

#[test]
fn the_demonstration_goes_out_and_in_again_whole() {
    let folder = crate::common::demo();
    let path = folder.path();
    let count = parts(path).len();
    assert!(count > 40, "{count}");
    for name in ["plan.geojson", "plan.csv", "plan.gpx"] {
        sound(run_in(path, &["plan", "export", "a.farmbook", name], ""));
        let again = run_in(path, &["plan", "import", "a.farmbook", name], "");
        assert!(again.code != 0 && again.said("on the plan already"), "{}", again.told());
        let other = farm(None);
        std::fs::copy(path.join(name), other.path().join(name)).unwrap();
        let kept = sound(run_in(other.path(), &["plan", "import", "a.farmbook", name], ""));
        assert!(kept.stdout.contains(&format!("{count} things drawn, 9 plots made")), "{}", kept.told());
        assert_eq!(parts(other.path()).len(), count);
    }
    let odd = run_in(path, &["plan", "export", "a.farmbook", "plan.doc"], "");
    assert!(odd.code != 0 && odd.said(".geojson, .gpx or .csv"), "{}", odd.told());
}

#[test]
fn what_is_wrong_with_it_is_told() {
    let folder = farm(None);
    let path = folder.path();
    sound(add(path, &["plot", "--name", "Bow tie", "--corners", "0, 0; 40, 30; 40, 0; 0, 30"]));
    sound(add(path, &["plot", "--name", "West", "--corners", "100, 0; 130, 0; 130, 20; 100, 20"]));
    sound(add(path, &["plot", "--name", "East", "--corners", "128, 0; 160, 0; 160, 20; 128, 20"]));
    let told = sound(run_in(path, &["plan", "check", "a.farmbook"], ""));
    for words in ["Bow tie: Its outline crosses itself", "West: It lies over East", "40 m²"] {
        assert!(told.stdout.contains(words), "{}", told.told());
    }
}
