//! What beds need and the balance of a plot, from the command line.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::run_in;

fn demo() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    drop(advice::demo::create(folder.path().join("a.farmbook")).expect("the demonstration is written"));
    folder
}

#[test]
fn the_feeding_of_a_plot_is_told_and_given_as_json() {
    let folder = demo();
    let on = ["--on", "2026-05-21"];
    let plain = run_in(
        folder.path(),
        &[&["feeding", "a.farmbook", "East tunnel", "--working"][..], &on].concat(),
        "",
    );
    assert_eq!(plain.code, 0, "{}", plain.told());
    for part in [
        "Feeding, East tunnel",
        "Beds A to E",
        "Phosphate (P2O5): none",
        "Given and taken",
        "raw manure",
        "Working",
    ] {
        assert!(plain.stdout.contains(part), "no {part}: {}", plain.stdout);
    }
    let json =
        run_in(folder.path(), &[&["feeding", "a.farmbook", "Creek field", "--json"][..], &on].concat(), "")
            .json();
    assert_eq!(json["needs"][0]["crop_key"], "cabbage");
    let lost = run_in(folder.path(), &["feeding", "a.farmbook", "Nowhere"], "");
    assert!(lost.code != 0 && lost.said("no plot is called"), "{}", lost.told());
}
