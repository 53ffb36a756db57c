//! Structure from the command line: each reading, and what follows for loosening.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use std::path::Path;

use crate::common::{ok, run_in};
use serde_json::Value;

fn seen(folder: &Path, arguments: &[&str]) -> Value {
    ok(folder, &[&["record"], arguments, &["--json"]].concat()).json()["recorded"]["body"]["seen"].clone()
}

fn begun() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    ok(folder.path(), &["new", "a.farmbook", "--name", "Long Furrow"]);
    let plot = ["record", "plot", "a.farmbook", "Lower field", "--length", "100ft", "--width", "40ft"];
    ok(folder.path(), &plot);
    folder
}

#[test]
fn every_reading_is_recorded_and_the_decision_follows() {
    let folder = begun();
    let at = folder.path();
    let field = ["a.farmbook", "Lower field"];
    let texture = ["record", "lab", field[0], field[1], "40", "40", "20"];
    ok(at, &texture);
    let mut probe: Vec<&str> = [&["probe"], &field[..], &["--moisture", "field-capacity"]].concat();
    for _ in 0..12 {
        probe.extend(["--point", "gate = 120, 180, 340, 230, 210"]);
    }
    let probe = seen(at, &probe);
    assert_eq!(probe["points"].as_array().map(Vec::len), Some(12));
    // 340 psi are 2.344 MPa [NIST SP 811, app. B.8].
    let mpa = probe["points"][0]["readings"][2]["resistance_mpa"].as_f64().unwrap();
    assert!((mpa - 2.344_22).abs() < 1e-4, "{mpa}");
    let core = seen(
        at,
        &[&["core"], &field[..], &["--layer", "8-12in", "--core", "350,600,680", "--core", "350,598,-,20"]]
            .concat(),
    );
    assert_eq!(
        (&core["cores"][1]["rock_mass_g"], core["cores"][1].get("moist_mass_g")),
        (&20.0.into(), None)
    );
    let told = ok(at, &[&["structure"], &field[..], &["--json"]].concat()).json();
    assert_eq!(told["decision"]["what"], "look_with_spade", "{told}");
    let spade = seen(
        at,
        &[
            &["spade"],
            &field[..],
            &[
                "--layer",
                "6in,2",
                "--layer",
                "5in,4.5",
                "--sign",
                "roots-turn-aside",
                "--worms",
                "6",
                "--block",
                "12in,12in,12in",
            ],
        ]
        .concat(),
    );
    assert_eq!((&spade["signs"][0], &spade["worms"]["worms"]), (&"roots_turn_aside".into(), &6.0.into()));
    let slake = seen(at, &[&["slake"], &field[..], &["--crumbs", "2 x 20 s, 60 %"]].concat());
    assert_eq!(slake["crumbs"].as_array().map(Vec::len), Some(3));
    let working = seen(
        at,
        &[&["working"], &field[..], &["--depth", "10in", "--handful", "shatters", "--days-since-rain", "3"]]
            .concat(),
    );
    assert_eq!(working["handful"], "shatters");
    let told = ok(at, &[&["structure"], &field[..], &["--json"]].concat()).json();
    assert_eq!(
        (&told["decision"]["what"], &told["decision"]["tool"]),
        (&"loosen".into(), &"broadfork".into()),
        "{told}"
    );
    let text = ok(at, &[&["structure"], &field[..]].concat()).stdout;
    for part in ["Loosen, just below the hard layer", "13 in deep", "Take care", "psi", "What this rests on"]
    {
        assert!(text.contains(part), "no {part}: {text}");
    }
    let without = ok(at, &[&["structure"], &field[..], &["--broadfork", "none", "--json"]].concat()).json();
    assert_eq!(without["decision"]["what"], "covers_instead");
    let deep = ok(
        at,
        &[&["structure"], &field[..], &["--broadfork", "none", "--subsoiler", "20 in", "--json"]].concat(),
    )
    .json();
    assert_eq!(deep["decision"]["tool"], "subsoiler");
}

#[test]
fn what_makes_no_sense_is_refused_by_name() {
    let folder = begun();
    let at = folder.path();
    let field = ["a.farmbook", "Lower field"];
    for (arguments, named) in [
        (vec!["probe", "--moisture", "wet", "--point", "120, hard"], "point"),
        (vec!["probe", "--moisture", "wet", "--point", "120, stuck, 130"], "point"),
        (vec!["core", "--layer", "8in", "--core", "350,600"], "layer"),
        (vec!["core", "--layer", "8-12in", "--core", "350"], "core"),
        (vec!["core", "--layer", "8-12in", "--core", "100,900"], "dry_mass_g"),
        (vec!["spade", "--layer", "6in"], "layer"),
        (vec!["spade"], "signs"),
        (vec!["slake", "--crumbs", "fine"], "crumbs"),
        (vec!["working", "--depth", "far", "--handful", "dents"], "depth"),
    ] {
        let all = [&["record", arguments[0]], &field[..], &arguments[1..], &["--json"]].concat();
        let run = run_in(at, &all, "");
        assert_eq!(run.code, 2, "{all:?}: {}", run.told());
        let error = run.json()["error"].clone();
        assert!(error["field"].as_str().unwrap().contains(named), "{all:?}: {}", run.told());
        assert!(!error["accepted"].as_str().unwrap_or_default().is_empty(), "{all:?}: {}", run.told());
    }
    let reach = run_in(at, &["structure", "a.farmbook", "Lower field", "--broadfork", "9 feet"], "");
    assert!(reach.code == 2 && reach.stderr.contains("broadfork"), "{}", reach.told());
    assert_eq!(
        ok(at, &["list", "a.farmbook", "observation", "--json"]).json()["records"]
            .as_array()
            .map_or(0, Vec::len),
        0
    );
}
