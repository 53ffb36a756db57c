//! The water of a plot and a profile that is run, from the command line.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::run_in;

const CASE: &str = r#"
times_h = [0, 2, 24]
bottom = "free_drainage"

[start]
head_cm = -336.5

[[layers]]
thickness_cm = 60
[layers.soil.class]
texture = "loam"
set = "carsel_parrish1988"

[[periods]]
until_h = 2
water_mm_h = 10
"#;

fn demo() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    drop(advice::demo::create(folder.path().join("a.farmbook")).expect("the demonstration is written"));
    folder
}

#[test]
fn the_water_of_a_plot_is_told_and_given_as_json() {
    let folder = demo();
    let plain = run_in(folder.path(), &["water", "a.farmbook", "lower clay"], "");
    assert_eq!(plain.code, 0, "{}", plain.told());
    for part in [
        "What it holds",
        "Layers",
        "Where water stands",
        "grey layer",
        "Hooghoudt",
        "Caution: ",
        "roots end here",
    ] {
        assert!(plain.stdout.contains(part), "no {part}: {}", plain.stdout);
    }
    assert!(!plain.stdout.contains("A watering, followed down"));
    let followed = run_in(folder.path(), &["water", "a.farmbook", "Creek field", "--what-if", "pulsed"], "");
    assert!(followed.stdout.contains("Watered in pulses: two days later"), "{}", followed.stdout);
    let json =
        run_in(folder.path(), &["water", "a.farmbook", "Creek field", "--what-if", "loosened", "--json"], "")
            .json();
    assert_eq!(json["wetting"]["what_if"], "loosened");
    assert!(json["water"]["holds"]["usable_mm"]["median"].as_f64().unwrap() > 10.0);
    let nothing = run_in(folder.path(), &["water", "a.farmbook", "New ground"], "");
    assert!(nothing.code == 0 && nothing.stdout.contains("Nothing that was recorded"), "{}", nothing.told());
}

#[test]
fn a_change_that_is_none_is_refused_with_the_ones_there_are() {
    let folder = demo();
    let odd = run_in(folder.path(), &["water", "a.farmbook", "Creek field", "--what-if", "loosen"], "");
    assert_ne!(odd.code, 0);
    assert!(odd.said("--what-if") && odd.said("loosened"), "{}", odd.told());
    let lost = run_in(folder.path(), &["water", "a.farmbook", "Creek"], "");
    assert!(lost.said("no plot is called"), "{}", lost.told());
}

/// Conservation of water: what was applied is in the ground, ran off, stands or drained.
#[test]
fn a_profile_is_run_and_written() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("case.toml"), CASE).unwrap();
    let run = run_in(folder.path(), &["profile-run", "case.toml", "-o", "out.csv"], "");
    assert_eq!(run.code, 0, "{}", run.told());
    let table = std::fs::read_to_string(folder.path().join("out.csv")).unwrap();
    let mut lines = table.lines();
    let head: Vec<&str> = lines.next().unwrap().split(',').collect();
    let at = |name: &str| head.iter().position(|one| *one == name).unwrap_or_else(|| panic!("no {name}"));
    let rows: Vec<Vec<f64>> =
        lines.map(|line| line.split(',').map(|cell| cell.parse().unwrap()).collect()).collect();
    assert_eq!(rows.len() % 3, 0, "every time has every depth");
    let (first, last) = (&rows[0], rows.last().unwrap());
    assert!((last[at("applied_mm")] - 20.0).abs() < 1e-6);
    let gained = last[at("storage_mm")] - first[at("storage_mm")];
    let left = last[at("runoff_mm")]
        + last[at("standing_mm")]
        + last[at("evaporation_mm")]
        + last[at("drainage_mm")];
    assert!((gained + left - 20.0).abs() < 1e-3, "{gained} {left}");
    let json = run_in(folder.path(), &["profile-run", "case.toml", "--json"], "").json();
    assert!(json["table"].as_str().unwrap().starts_with("time_h,depth_cm"));
    assert!(json["greatest_balance_error_mm"].as_f64().unwrap() < 1e-3);
}

#[test]
fn a_case_that_cannot_be_run_names_the_field() {
    let folder = tempfile::tempdir().unwrap();
    for (text, words) in [
        (CASE.replace("thickness_cm = 60", "thickness_cm = -1"), "thickness_cm"),
        (CASE.replace("free_drainage", "sponge"), "bottom"),
        (CASE.replace("until_h", "till_h"), "till_h"),
        ("layers = [".to_owned(), "not TOML"),
    ] {
        std::fs::write(folder.path().join("case.toml"), &text).unwrap();
        let run = run_in(folder.path(), &["profile-run", "case.toml"], "");
        assert_ne!(run.code, 0, "{text}");
        assert!(run.said(words), "{words}: {}", run.told());
    }
    let missing = run_in(folder.path(), &["profile-run", "none.toml"], "");
    assert!(missing.said("could not be read"), "{}", missing.told());
}
