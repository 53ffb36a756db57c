//! Records by their id: listed, corrected, withdrawn, restored, and their history; beds, structures,
//! photos, decisions and settings.

use crate::common;

use std::path::Path;

use crate::common::{ok, run_in};
use serde_json::Value;

/// Refused at that field, and nothing was stored.
fn refused(folder: &Path, arguments: &[&str], field: &str) -> Value {
    let before = revisions(folder);
    let run = run_in(folder, &[arguments, &["--json"]].concat(), "");
    assert_eq!(run.code, 2, "{arguments:?}: {}", run.told());
    let error = run.json()["error"].clone();
    assert_eq!(error["field"], field, "{arguments:?}: {}", run.told());
    assert_ne!(error["message"], "", "{}", run.told());
    assert_eq!(revisions(folder), before, "{arguments:?}");
    error
}

fn revisions(folder: &Path) -> Value {
    ok(folder, &["check", "a.farmbook", "--json"]).json()["revisions"].clone()
}

/// A book with two plots, a sample and a laboratory result on the first.
fn begun(folder: &Path) {
    ok(folder, &["new", "a.farmbook", "--name", "Long Furrow"]);
    for name in ["Lower field", "Upper field"] {
        ok(folder, &["record", "plot", "a.farmbook", name, "--length", "100ft", "--width", "40ft"]);
    }
    ok(
        folder,
        &["record", "sample", "a.farmbook", "Lower field", "--to", "8in", "--cores", "12", "--label", "LF-1"],
    );
    ok(
        folder,
        &["record", "lab", "a.farmbook", "Lower field", "42", "38", "20", "--sample", "LF-1", "--by", "Ada"],
    );
}

/// The id shown for the only record of that kind.
fn short(folder: &Path, kind: &str) -> String {
    let listed = ok(folder, &["list", "a.farmbook", kind, "--all", "--json"]).json();
    let records = listed["records"].as_array().expect("records are a list");
    assert_eq!(records.len(), 1, "{listed}");
    records[0]["short_id"].as_str().expect("an id is text").to_owned()
}

#[test]
fn a_correction_is_a_further_version_with_its_reason() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let lab = short(at, "observation");
    let before = ok(at, &["plot", "a.farmbook", "Lower field", "--json"]).json();
    assert_eq!(before["make_up"]["class"], "loam");
    let corrected = ok(
        at,
        &[
            "correct",
            "a.farmbook",
            &lab,
            "--set",
            "seen.sand_percent=60 %",
            "--set",
            "seen.silt_percent=30",
            "--set",
            "seen.clay_percent=10",
            "--reason",
            "read the wrong line",
            "--by",
            "Bo",
        ],
    );
    assert!(corrected.stdout.contains("was 42"), "{}", corrected.told());
    let after = ok(at, &["plot", "a.farmbook", "Lower field", "--json"]).json();
    assert_eq!(after["make_up"]["class"], "sandy loam", "advice rests on the correction");

    let history = ok(at, &["history", "a.farmbook", &lab, "--json"]).json();
    let told: Vec<(u64, &str, &str, &str)> = history["revisions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| {
            let text = |key: &str| one[key].as_str().unwrap();
            (one["number"].as_u64().unwrap(), text("done"), text("recorded_by"), text("reason"))
        })
        .collect();
    assert_eq!(told, [(2, "changed", "Bo", "read the wrong line"), (1, "recorded", "Ada", "")]);
    assert_eq!(history["revisions"][1]["body"]["seen"]["sand_percent"], 42.0, "nothing is overwritten");
    let words = ok(at, &["history", "a.farmbook", &lab]).stdout;
    assert!(words.contains("by Bo: read the wrong line") && words.contains("was 42"), "{words}");
}

#[test]
fn a_correction_may_give_the_whole_record_back() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let sample = short(at, "sample");
    let mut body = ok(at, &["correct", "a.farmbook", &sample, "--show"]).json();
    body["cores"] = 15.into();
    let arguments =
        ["correct", "a.farmbook", &sample, "--in", "-", "--set", "to_cm=6in", "--reason", "counted"];
    let run = run_in(at, &[&arguments[..], &["--json"]].concat(), &body.to_string());
    assert_eq!(run.code, 0, "{}", run.told());
    let kept = &run.json()["corrected"];
    assert_eq!((&kept["number"], &kept["body"]["cores"]), (&2.into(), &15.into()));
    // Six inches are 15.24 cm by definition.
    assert_eq!(kept["body"]["to_cm"], 15.24);
    let cleared =
        ok(at, &["correct", "a.farmbook", &sample, "--clear", "cores", "--reason", "guessed", "--json"]);
    assert!(cleared.json()["corrected"]["body"].get("cores").is_none(), "{}", cleared.told());
}

#[test]
fn links_are_corrected_by_name() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let lab = short(at, "observation");
    refused(
        at,
        &["correct", "a.farmbook", &lab, "--set", "plot=Upper field", "--reason", "wrong plot"],
        "sample",
    );
    let moved = ok(
        at,
        &[
            "correct",
            "a.farmbook",
            &lab,
            "--set",
            "plot=upper field",
            "--clear",
            "sample",
            "--reason",
            "wrong plot",
        ],
    );
    assert!(moved.stdout.contains("Plot: Upper field, was Lower field"), "{}", moved.told());
    let error =
        refused(at, &["correct", "a.farmbook", &lab, "--set", "plot=uper feild", "--reason", "x"], "plot");
    assert_eq!(error["example"], "Upper field", "the nearest name is the example");
}

#[test]
fn a_correction_that_cannot_be_is_refused_by_field() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let (sample, lab) = (short(at, "sample"), short(at, "observation"));
    for (arguments, field) in [
        (vec![&*sample, "--set", "cores=0", "--reason", "x"], "cores"),
        (vec![&*sample, "--set", "cores=many", "--reason", "x"], "cores"),
        (vec![&*sample, "--set", "to_cm=5 lb", "--reason", "x"], "to_cm"),
        (vec![&*sample, "--set", "depth=5in", "--reason", "x"], "depth"),
        (vec![&*sample, "--set", "cores", "--reason", "x"], "set"),
        (vec![&*sample, "--set", "cores=12", "--reason", "x"], "set"),
        (vec![&*sample, "--reason", "x"], "set"),
        (vec![&*sample, "--set", "cores=13"], "reason"),
        (vec![&*sample, "--set", "cores=13", "--reason", "  "], "reason"),
        (vec![&*sample, "--clear", "taken_on", "--reason", "x"], "taken_on"),
        (vec![&*lab, "--set", "seen.sand_percent=90", "--reason", "x"], "seen.sand_percent"),
        (vec!["zzzzzz", "--set", "cores=13", "--reason", "x"], "record"),
        (vec!["", "--set", "cores=13", "--reason", "x"], "record"),
        (vec!["farm", "--set", "last_frost=31 Foo", "--reason", "x"], "last_frost"),
        (vec!["Lower field", "--set", "name=upper FIELD", "--reason", "x"], "name"),
    ] {
        refused(at, &[&["correct", "a.farmbook"], &arguments[..]].concat(), field);
    }
}

#[test]
fn a_clash_is_told_and_stores_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let sample = short(at, "sample");
    ok(at, &["correct", "a.farmbook", &sample, "--set", "cores=14", "--reason", "counted", "--from", "1"]);
    for arguments in [
        vec!["correct", "a.farmbook", &*sample, "--set", "cores=15", "--reason", "counted", "--from", "1"],
        vec!["withdraw", "a.farmbook", &*sample, "--reason", "lost", "--from", "1"],
    ] {
        let error = refused(at, &arguments, "from");
        assert!(error["message"].as_str().unwrap().contains("now at version 2"), "{error}");
        assert_eq!(error["example"], "--from 2");
        assert!(error["try"][0].as_str().unwrap().starts_with("spadework history a.farmbook"), "{error}");
    }
    ok(at, &["settings", "a.farmbook", "--hour-worth", "20"]);
    refused(at, &["settings", "a.farmbook", "--hour-worth", "25", "--from", "1"], "from");
}

#[test]
fn what_is_withdrawn_does_not_count_and_comes_back() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let lab = short(at, "observation");
    let class = || ok(at, &["plot", "a.farmbook", "Lower field", "--json"]).json()["make_up_known"].clone();
    refused(at, &["withdraw", "a.farmbook", &lab], "reason");
    refused(at, &["restore", "a.farmbook", &lab, "--reason", "x"], "");
    ok(at, &["withdraw", "a.farmbook", &lab, "--reason", "another farm's report"]);
    assert_eq!(class(), false);
    assert!(!ok(at, &["list", "a.farmbook"]).stdout.contains(&lab));
    assert!(ok(at, &["list", "a.farmbook", "--all"]).stdout.contains("withdrawn"));
    refused(at, &["withdraw", "a.farmbook", &lab, "--reason", "x"], "");
    refused(at, &["correct", "a.farmbook", &lab, "--set", "note=x", "--reason", "x"], "");
    ok(at, &["restore", "a.farmbook", &lab, "--reason", "ours after all"]);
    assert_eq!(class(), true);

    // A plot takes what belongs to it along, and is found by its name to be restored.
    ok(at, &["withdraw", "a.farmbook", "Lower field", "--reason", "let go"]);
    assert!(!ok(at, &["list", "a.farmbook"]).stdout.contains("lab texture"));
    let error = refused(at, &["record", "note", "a.farmbook", "x", "--plot", "Lower field"], "plot");
    assert!(error["message"].as_str().unwrap().contains("was withdrawn"), "{error}");
    let history = ok(at, &["history", "a.farmbook", "Lower field", "--json"]).json();
    let done: Vec<&str> =
        history["revisions"].as_array().unwrap().iter().map(|one| one["done"].as_str().unwrap()).collect();
    assert_eq!(done, ["withdrawn", "restored", "withdrawn", "recorded", "recorded", "recorded"]);
    ok(at, &["restore", "a.farmbook", "Lower field", "--reason", "taken back"]);
    assert!(ok(at, &["list", "a.farmbook"]).stdout.contains("lab texture"));
    refused(at, &["withdraw", "a.farmbook", "farm", "--reason", "x"], "");
}

#[test]
fn every_shown_id_names_its_record() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    ok(at, &["demo", "--no-serve", "--book", "a.farmbook"]);
    let listed = ok(at, &["list", "a.farmbook", "--all", "--json"]).json();
    let records = listed["records"].as_array().unwrap();
    assert!(records.len() > 50);
    // The demonstration is seeded, so these are always the same.
    for record in records.iter().step_by(7) {
        let (id, short) = (record["id"].as_str().unwrap(), record["short_id"].as_str().unwrap());
        assert!(short.len() <= 8, "{short}");
        for name in [id, short, &short.to_uppercase()] {
            let history = ok(at, &["history", "a.farmbook", name, "--json"]).json();
            assert_eq!(history["revisions"][0]["id"], id, "{name}");
        }
    }
    // All were made within a few years, so identities begin alike.
    let error = refused(at, &["history", "a.farmbook", "018e"], "record");
    assert!(error["message"].as_str().unwrap().contains("records have ids with"), "{error}");
    let whole = ok(at, &["history", "a.farmbook", "--json"]).json();
    assert_eq!(whole["revisions"].as_array().unwrap().len() as u64, revisions(at).as_u64().unwrap());
    for width in ["80", "40"] {
        for arguments in [["list", "a.farmbook"], ["history", "a.farmbook"]] {
            let output =
                common::program(at).args(arguments).env("COLUMNS", width).output().expect("the program runs");
            let text = String::from_utf8(output.stdout).unwrap();
            let long: Vec<&str> =
                text.lines().filter(|line| line.chars().count() > width.parse().unwrap()).collect();
            assert!(long.is_empty(), "{arguments:?} at {width}: {long:#?}");
        }
    }
}

#[test]
fn beds_structures_photos_and_decisions_are_recorded() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let bed = ok(
        at,
        &[
            "record",
            "bed",
            "a.farmbook",
            "Lower field",
            "Beds 1 to 8",
            "--length",
            "50ft",
            "--width",
            "30in",
            "--count",
            "8",
            "--json",
        ],
    );
    // A foot is 0.3048 m and an inch 0.0254 m by definition.
    assert_eq!(bed.json()["recorded"]["body"]["length_m"], 15.24);
    assert_eq!(bed.json()["recorded"]["body"]["width_m"], 0.762);
    let tunnel = ["--kind", "high-tunnel", "--plot", "Lower field", "--length", "96ft"];
    ok(at, &[&["record", "structure", "a.farmbook", "East tunnel"], &tunnel[..]].concat());
    for (arguments, field) in [
        (vec!["bed", "a.farmbook", "Lower field", "", "--length", "1", "--width", "1"], "name"),
        (vec!["bed", "a.farmbook", "Lower field", "B", "--length", "", "--width", "1"], "length"),
        (
            vec!["bed", "a.farmbook", "Lower field", "B", "--length", "1", "--width", "1", "--count", "0"],
            "count",
        ),
        (vec!["bed", "a.farmbook", "Nowhere", "B", "--length", "1", "--width", "1"], "plot"),
        (vec!["structure", "a.farmbook", "T", "--kind", "fence", "--length", "5 lb"], "length"),
        (vec!["structure", "a.farmbook", "T", "--kind", "castle"], "kind"),
        (vec!["photo", "a.farmbook", "a.farmbook"], "photo"),
        (vec!["decision", "a.farmbook", "Lower field", "crustng", "accept"], "finding"),
        (vec!["decision", "a.farmbook", "Upper field", "crusting", "accept"], "finding"),
        (vec!["decision", "a.farmbook", "Lower field", "crusting", "refuse"], "reason"),
        (vec!["decision", "a.farmbook", "Lower field", "crusting", "perhaps"], "CHOICE"),
    ] {
        let run = run_in(at, &[&["record"], &arguments[..], &["--json"]].concat(), "");
        assert_eq!(run.code, 2, "{arguments:?}: {}", run.told());
        let told = run.json()["error"]["field"].as_str().unwrap().to_owned();
        assert!(told.trim_matches(['<', '>', '-']) == field, "{arguments:?}: {}", run.told());
    }

    // Told by the content and not by the name: the signature of PNG (ISO/IEC 15948, from memory).
    std::fs::write(at.join("jar.jpg"), b"\x89PNG\r\n\x1a\nrest").unwrap();
    let lab = short(at, "observation");
    let photo =
        ok(at, &["record", "photo", "a.farmbook", "jar.jpg", "--observation", &lab, "--caption", "The jar"]);
    assert!(photo.stdout.contains("image/png"), "{}", photo.told());
    let listed = ok(at, &["list", "a.farmbook", "photos", "--plot", "Lower field"]).stdout;
    assert!(listed.contains("The jar"), "a photo belongs to the plot of its observation: {listed}");
    let missing = run_in(at, &["record", "photo", "a.farmbook", "no.jpg"], "");
    assert_eq!(missing.code, 1, "{}", missing.told());

    let decide = |rest: &[&str]| {
        ok(at, &[&["record", "decision", "a.farmbook", "Lower field", "Crusting"], rest].concat())
    };
    decide(&["postpone"]);
    decide(&["refuse", "--reason", "no straw to be had", "--by", "Ada"]);
    let plot = ok(at, &["plot", "a.farmbook", "Lower field"]).stdout;
    let plot = plot.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(plot.contains("Decided: refused on") && plot.contains("by Ada (no straw to be had)"), "{plot}");
    let decision = short(at, "decision");
    assert!(ok(at, &["history", "a.farmbook", &decision]).stdout.contains("Decided: refused, was postponed"));
    assert_eq!(
        ok(at, &["check", "a.farmbook", "--json"]).json()["problems"].as_array().map(Vec::len),
        Some(0)
    );
}

#[test]
fn settings_are_shown_and_changed() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    ok(
        at,
        &[
            "settings",
            "a.farmbook",
            "--farm-units",
            "metric",
            "--last-frost",
            "12 May",
            "--hour-worth",
            "20",
            "--currency",
            "usd",
            "--latitude",
            "-42.5",
        ],
    );
    let settings = |key: &str| {
        ok(at, &["settings", "a.farmbook", "--json"]).json()["settings"]["body"].get(key).cloned()
    };
    assert_eq!(settings("units"), Some("metric".into()));
    assert_eq!(settings("last_frost"), Some("05-12".into()));
    assert_eq!(settings("currency"), Some("USD".into()));
    // A number without a unit is now in metres.
    ok(at, &["record", "plot", "a.farmbook", "Third", "--length", "30", "--width", "10"]);
    let third = ok(at, &["correct", "a.farmbook", "Third", "--show"]).json();
    assert_eq!(third["shape"]["length_m"], 30.0);
    ok(at, &["settings", "a.farmbook", "--last-frost", "none"]);
    assert_eq!(settings("last_frost"), None);
    let before = revisions(at);
    ok(at, &["settings", "a.farmbook"]);
    ok(at, &["settings", "a.farmbook", "--hour-worth", "20"]);
    assert_eq!(revisions(at), before, "nothing new is no new version");
    for (flag, value) in [
        ("name", ""),
        ("last-frost", "soon"),
        ("first-frost", ""),
        ("hour-worth", "-1"),
        ("latitude", "95"),
        ("currency", "dollars"),
    ] {
        refused(at, &["settings", "a.farmbook", &format!("--{flag}={value}")], flag);
    }
}
