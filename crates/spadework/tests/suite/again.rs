//! Over the years from the command line.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::{ok, run_in};

#[test]
fn a_plot_and_the_farm_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    ok(at, &["new", "a.farmbook", "--name", "Long Furrow"]);
    ok(at, &["record", "plot", "a.farmbook", "Lower field", "--length", "100ft", "--width", "40ft"]);
    for percent in ["percent=2.1", "percent=2.6"] {
        let set = ["--set", "what=organic_matter", "--set", percent, "--set", "method=loss_on_ignition"];
        ok(at, &[&["record", "seen", "a.farmbook", "Lower field"], &set[..]].concat());
    }
    let told = ok(at, &["again", "a.farmbook", "Lower field", "--json"]).json();
    assert_eq!(told["series"][0]["property"], "organic_matter", "{told}");
    // Two readings of one day and one bag are one.
    assert_eq!(told["series"][0]["readings"].as_array().map(Vec::len), Some(1), "{told}");
    let text = ok(at, &["again", "a.farmbook", "Lower field"]).stdout;
    assert!(text.contains("one reading") && text.contains("When to look next"), "{text}");
    let farm = ok(at, &["again", "a.farmbook", "--json"]).json();
    assert_eq!(farm["visits"][0]["plot_name"], "Lower field", "{farm}");
    let wrong = run_in(at, &["again", "a.farmbook", "Lower feild"], "");
    assert!(wrong.code != 0 && wrong.told().contains("Lower field"), "{}", wrong.told());
}
