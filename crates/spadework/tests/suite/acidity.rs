//! The acidity of a plot, from the command line.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::run_in;

fn demo() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    drop(advice::demo::create(folder.path().join("a.farmbook")).expect("the demonstration is written"));
    folder
}

#[test]
fn the_acidity_of_a_plot_is_told_and_given_as_json() {
    let folder = demo();
    let plain = run_in(folder.path(), &["acidity", "a.farmbook", "sand knoll"], "");
    assert_eq!(plain.code, 0, "{}", plain.told());
    for part in ["too sour", "How much lime", "What to spread", "Take care", "goggles", "est again"] {
        assert!(plain.stdout.contains(part), "no {part}: {}", plain.stdout);
    }
    let json = run_in(folder.path(), &["acidity", "a.farmbook", "sand knoll", "--json"], "").json();
    let deep =
        run_in(folder.path(), &["acidity", "a.farmbook", "sand knoll", "--depth", "12 in", "--json"], "")
            .json();
    let need = |json: &serde_json::Value| json["need"]["carbonate_kg_m2"]["median"].as_f64().unwrap();
    assert!((need(&deep) - 2.0 * need(&json)).abs() < 1e-9);
}

#[test]
fn a_depth_and_a_method_that_are_none_are_refused_by_name() {
    let folder = demo();
    let depth = run_in(folder.path(), &["acidity", "a.farmbook", "sand knoll", "--depth", "9 feet"], "");
    assert!(depth.code != 0 && depth.stderr.contains("depth"), "{}", depth.told());
    let method = run_in(folder.path(), &["settings", "a.farmbook", "--lime-method", "moonlight"], "");
    assert!(method.code != 0 && method.stderr.contains("tri-state-smp"), "{}", method.told());
    let kept = run_in(folder.path(), &["settings", "a.farmbook", "--lime-method", "Tri State SMP"], "");
    assert_eq!(kept.code, 0, "{}", kept.told());
    let json = run_in(folder.path(), &["acidity", "a.farmbook", "sand knoll", "--json"], "").json();
    assert_eq!(json["chosen"]["method"], "tri-state-smp");
    assert!(json["need"].is_null());
}
