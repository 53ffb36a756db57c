//! What is refused is told as it was typed: the option, the person's units, what is accepted, an example.

use crate::common;

use crate::common::{run, run_in};

const LAYERS: [&str; 6] = ["--sand", "7/8in", "--silt", "13/16in", "--clay", "1/2in"];

fn jar(more: &[&str]) -> common::Run {
    run(&[&["jar"], more].concat())
}

#[test]
fn a_measure_below_zero_is_judged_as_a_measure() {
    let told = jar(&["--sand", "-3mm", "--silt", "13/16in", "--clay", "1/2in"]);
    assert_eq!(told.code, 2, "{}", told.told());
    assert!(
        told.said("refused: --sand: \"-3mm\" is below zero; give a length in inches, feet, mm"),
        "{}",
        told.told()
    );
    assert!(told.said("for example 2 3/16 in"));
    let json = jar(&["--sand", "-3mm", "--silt", "1in", "--clay", "1in", "--json"]).json();
    assert_eq!(json["error"]["field"], "sand");
    assert_eq!(json["error"]["given"], "-3mm");
    for more in [
        vec!["jar", "--ruler", "-1/16in", "--sand", "1in", "--silt", "1in", "--clay", "1in"],
        vec!["jar", "--mark", "-1min=1in"],
        vec!["when", "--water-height", "-7in", "--water-temperature", "68F"],
        vec!["feel", "--ball", "yes", "--ribbon", "-1in"],
        vec!["texture", "-40", "40", "20"],
    ] {
        let told = run(&more);
        assert_eq!(told.code, 2, "{more:?}: {}", told.told());
        assert!(told.stderr.starts_with("refused: "), "{more:?}: {}", told.told());
        assert!(told.said("is below zero") || told.said("was given"), "{more:?}: {}", told.told());
    }
    let cold = run(&["when", "--water-height", "7in", "--water-temperature", "-4C"]);
    assert!(cold.said("refused: --water-temperature: water temperature must be"), "{}", cold.told());
}

#[test]
fn an_option_is_not_taken_for_the_value_of_the_one_before() {
    let told = jar(&["--sand", "--silt", "1in", "--clay", "1in"]);
    assert_eq!(told.code, 2);
    assert!(told.said("--sand <HEIGHT>"), "{}", told.told());
}

/// 1 in is 25.4 mm [NIST SP 811]: what was typed in inches is told in inches.
#[test]
fn contradictions_are_told_in_the_units_and_options_that_were_typed() {
    for (more, words) in [
        (
            vec!["--sand-top", "2in", "--silt-top", "1in", "--clay-top", "3in"],
            "refused: --silt-top: this top at 1 in is below the one before it at 2 in",
        ),
        (
            [&LAYERS[..], &["--water-height", "2in"]].concat(),
            "refused: --water-height: the water surface at 2 in is not above the settled soil at 2 3/16 in",
        ),
        (
            [&LAYERS[..], &["--fill", "2in=8floz", "--fill", "1in=9floz"]].concat(),
            "refused: --fill: more water must stand higher, but 9 fl oz stands at 1 in and 8 fl oz at 2 in",
        ),
        (
            [&LAYERS[..], &["--width", "2in=3in", "--width", "2in=4in"]].concat(),
            "refused: --width: the jar has two widths at one height: 3 in and 4 in at 2 in",
        ),
        (vec!["--mark", "1min=2in", "--mark", "2h=1in"], "refused: --mark: this top at 1 in is below"),
        (vec!["--sand", "0", "--silt", "0", "--clay", "0"], "refused: --sand: all the heights are zero"),
        (vec!["--mark", "0s=7/8in"], "must be 1 s to 365 d, but 0s was given (for example 2 h)"),
        (
            [&LAYERS[..], &["--ruler", "0"]].concat(),
            "refused: --ruler: ruler step must be 0.004 in to 13/16 in, but 0 was given (for example 1/16 in)",
        ),
    ] {
        let told = jar(&more);
        assert_eq!(told.code, 2, "{more:?}: {}", told.told());
        assert!(told.said(words), "{more:?}: {}", told.told());
        assert!(!told.stderr.contains(" mm"), "{more:?}: {}", told.told());
    }
    let metric = jar(&["--units", "metric", "--sand-top", "50", "--silt-top", "25", "--clay-top", "70"]);
    assert!(metric.said("this top at 25 mm is below the one before it at 50 mm"), "{}", metric.told());
    let float = jar(&[&LAYERS[..], &["--float", "1in"]].concat());
    let told: String = float.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("1 in of floating organic matter"), "{}", float.stdout);
}

#[test]
fn a_jar_of_which_nothing_was_seen_names_no_class() {
    for more in [
        vec!["--sand", "?", "--silt", "?", "--clay", "?"],
        vec!["--sand-top", "?", "--silt-top", "?", "--clay-top", "3in"],
        vec!["--mark", "1min=?", "--mark", "2h=?", "--mark", "1d=?"],
    ] {
        let told = jar(&more);
        assert_eq!(told.code, 0, "{}", told.told());
        assert!(told.stdout.starts_with("Nothing is known from this jar."), "{}", told.told());
        assert!(!told.stdout.contains("loam") && !told.stdout.contains("90 %"), "{}", told.told());
        let json = jar(&[&more[..], &["--json"]].concat()).json();
        assert_eq!((&json["class"], &json["tells_nothing"]), (&serde_json::Value::Null, &true.into()));
    }
}

#[test]
fn the_book_tells_too_and_leans_on_nothing_that_was_not_seen() {
    let folder = tempfile::tempdir().unwrap();
    let at = |arguments: &[&str]| run_in(folder.path(), arguments, "");
    assert_eq!(at(&["new", "a.farmbook", "--name", "Long Furrow"]).code, 0);
    assert!(at(&["farm", "a.farmbook"]).stdout.contains("spadework record plot"), "what comes next");
    assert_eq!(at(&["record", "plot", "a.farmbook", "Hill", "--area", "4000sqft"]).code, 0);

    let told = at(&["record", "plot", "a.farmbook", "Low", "--length", "-100ft", "--width", "40ft"]);
    assert!(told.code == 2 && told.said("refused: --length:") && told.said("-100ft"), "{}", told.told());
    let told = at(&["record", "sample", "a.farmbook", "Hill", "--from", "8in", "--to", "4in"]);
    assert!(told.said("refused: --to: the bottom of the layer must be deeper"), "{}", told.told());
    assert!(told.said("more than 8 in") && !told.stderr.contains("cm"), "{}", told.told());
    let told = at(&["record", "sample", "a.farmbook", "Hill", "--to", "8in", "--on", "9999-01-01"]);
    assert!(told.code == 2 && told.said("refused: --on: 9999-01-01 has not come yet"), "{}", told.told());

    let jar = ["record", "jar", "a.farmbook", "Hill", "--sand", "?", "--silt", "?", "--clay", "?"];
    assert_eq!(at(&jar).code, 0, "a jar that could not be read is kept");
    let plot = at(&["plot", "a.farmbook", "Hill", "--json"]).json();
    assert_eq!(plot["make_up_known"], false);
    let evidence = &plot["evidence"][0];
    assert_eq!(evidence["used"], false);
    assert!(evidence["remark"].as_str().unwrap().contains("Too little of this jar was seen"), "{evidence}");
}

#[test]
fn files_that_are_wrong_are_refused_and_not_blamed_on_the_book() {
    let folder = tempfile::tempdir().unwrap();
    let at = |arguments: &[&str]| run_in(folder.path(), arguments, "");
    let write = |name: &str, bytes: &[u8]| std::fs::write(folder.path().join(name), bytes).unwrap();
    let told = at(&["new", "none/here/a.farmbook", "--name", "Long Furrow"]);
    assert!(told.code == 3 && told.said("there is no folder none/here"), "{}", told.told());
    assert_eq!(at(&["new", "a.farmbook", "--name", "Long Furrow"]).code, 0);

    write("lab.csv", b"plot,date,sand\nHill,2026-01-01,40\n");
    let told = at(&["import", "a.farmbook", "--lab", "lab.csv"]);
    assert!(told.code == 2 && told.said("sand, silt and clay go together"), "{}", told.told());
    assert!(told.said("--column sand_percent=HEADING"), "{}", told.told());
    write("lab.csv", b"\xff\xfe\x00");
    let told = at(&["import", "a.farmbook", "--lab", "lab.csv"]);
    assert!(told.code == 2 && told.said("the table has no rows"), "{}", told.told());
    let told = at(&["import", "a.farmbook"]);
    assert!(
        told.code == 2 && told.said("--archive FILE, --lab FILE, --weather FILE or --undo ID"),
        "{}",
        told.told()
    );
    let told = at(&["export", "a.farmbook"]);
    assert!(told.code == 2 && told.said("--archive FILE, or --csv FOLDER"), "{}", told.told());
    write("case.toml", b"[source]\nkey = \"a\"\n{\n");
    let told = at(&["verify", "case.toml"]);
    assert!(told.code == 2 && told.said("line 3: ") && !told.stderr.contains('|'), "{}", told.told());
}
