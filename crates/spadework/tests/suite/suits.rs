//! What suits where, from the command line.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::run_in;

fn demo() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    drop(advice::demo::create(folder.path().join("a.farmbook")).expect("the demonstration is written"));
    folder
}

#[test]
fn crops_stand_against_plots_for_people_and_programs() {
    let folder = demo();
    let plain = run_in(folder.path(), &["suits", "a.farmbook"], "");
    assert_eq!(plain.code, 0, "{}", plain.told());
    for part in ["crops against", "(grown here)", "suits with work", "What this rests on", "no source"] {
        let running = plain.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(running.contains(part), "no {part}: {running}");
    }
    let table = run_in(folder.path(), &["suits", "a.farmbook", "--json"], "").json();
    assert!(table["rows"].as_array().unwrap().len() > 60);
    let on = run_in(folder.path(), &["suits", "a.farmbook", "--plot", "sand knoll", "--json"], "").json();
    assert_eq!(on["name"], "Sand knoll");
}

#[test]
fn one_crop_gets_its_best_place_with_reasons() {
    let folder = demo();
    let plain = run_in(folder.path(), &["suits", "a.farmbook", "--crop", "carrot"], "");
    assert_eq!(plain.code, 0, "{}", plain.told());
    for part in ["What it asks for", "Against:", "It would take:", "Take care"] {
        assert!(plain.stdout.contains(part), "no {part}: {}", plain.stdout);
    }
    let one = ["suits", "a.farmbook", "--crop", "carrot", "--plot", "lower clay", "--json"];
    let json = run_in(folder.path(), &one, "").json();
    assert_eq!(json["places"].as_array().unwrap().len(), 1);
    let none = run_in(folder.path(), &["suits", "a.farmbook", "--crop", "moonwort"], "");
    assert_ne!(none.code, 0);
    assert!(none.stderr.contains("no crop is called"), "{}", none.told());
}
