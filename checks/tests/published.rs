//! Every published case against the registry.

use checks::{Status, parse, run, shipped};

#[test]
fn every_published_case_agrees() {
    let files = shipped().unwrap();
    let outcomes: Vec<_> =
        files.iter().flat_map(|file| file.case.iter().map(move |case| run(file, case))).collect();
    assert!(!outcomes.is_empty(), "no case was run");
    let bad: Vec<_> = outcomes.iter().filter(|outcome| !outcome.status.is_good()).collect();
    for outcome in &bad {
        println!("{} / {}: {}", outcome.file, outcome.case, outcome.status.words());
        for line in outcome.lines.iter().filter(|line| !line.agrees) {
            println!(
                "    {}: expected {}, got {}, tolerance {:?}",
                line.path, line.expected, line.got, line.tolerance
            );
        }
    }
    println!("{} cases, {} not good", outcomes.len(), bad.len());
    assert!(bad.is_empty());
}

const FILE: &str = r#"
[source]
key = "SoilSurveyManual2017"
at = "pp. 122-124"
provenance = "read"
"#;

fn status_of(case: &str) -> Status {
    let file =
        parse("test.toml", &format!("{FILE}\n[[case]]\nname = \"t\"\nmethod = \"texture-class\"\n{case}"))
            .expect("the text is a check file");
    run(&file, &file.case[0]).status
}

const LOAM: &str = "input = { sand_percent = 40, silt_percent = 40, clay_percent = 20 }\n";

#[test]
fn a_wrong_value_is_a_difference() {
    assert_eq!(status_of(&format!("{LOAM}expect = {{ class = \"loam\" }}")), Status::Agrees);
    assert_eq!(status_of(&format!("{LOAM}expect = {{ class = \"clay\" }}")), Status::Differs);
    assert_eq!(status_of(&format!("{LOAM}expect = {{ no_such_output = \"1.0\" }}")), Status::Differs);
}

#[test]
fn a_known_difference_must_stay_one() {
    assert_eq!(
        status_of(&format!("{LOAM}expect = {{ class = \"clay\" }}\nknown_difference = \"misprint\"")),
        Status::KnownDifference
    );
    let now = status_of(&format!("{LOAM}expect = {{ class = \"loam\" }}\nknown_difference = \"misprint\""));
    assert_eq!(now, Status::NowAgrees);
    assert!(!now.is_good());
}

#[test]
fn a_refusal_can_be_expected() {
    let input = "input = { sand_percent = 140, silt_percent = 40, clay_percent = 20 }\n";
    assert_eq!(status_of(&format!("{input}refused = \"sand_percent\"")), Status::Agrees);
    assert_eq!(status_of(&format!("{input}refused = \"clay_percent\"")), Status::Differs);
    assert_eq!(status_of(&format!("{LOAM}refused = \"sand_percent\"")), Status::Differs);
}

#[test]
fn files_that_hide_something_are_refused() {
    let case =
        |rest: &str| format!("{FILE}\n[[case]]\nname = \"t\"\nmethod = \"texture-class\"\n{LOAM}{rest}");
    assert!(parse("x", &case("")).unwrap_err().message.contains("expected outputs"));
    let silent = case("expect = { class = \"loam\" }\ntolerance = { class = 1.0 }");
    assert!(parse("x", &silent).unwrap_err().message.contains("without saying why"));
    let elsewhere = case("expect = { class = \"loam\" }\ntolerance = { clas = 1.0 }\nwhy = \"x\"");
    assert!(parse("x", &elsewhere).unwrap_err().message.contains("does not expect"));
    assert!(
        parse("x", &case("expect = { class = \"loam\" }").replace("SoilSurveyManual2017", "Nobody")).is_err()
    );
}
