//! Laboratory reports on the command line.

use crate::common::{ok, run_in};
use std::path::Path;

fn refused(at: &Path, arguments: &[&str], words: &str) {
    let run = run_in(at, arguments, "");
    assert_ne!(run.code, 0, "{arguments:?}\n{}", run.told());
    assert!(run.said(words), "{words}\n{}", run.told());
}

fn farm() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    ok(at, &["new", "a.farmbook", "--name", "Long Furrow"]);
    for name in ["Lower field", "Upper field"] {
        ok(at, &["record", "plot", "a.farmbook", name, "--length", "100ft", "--width", "40ft"]);
    }
    let bag = ["--to", "7in", "--cores", "12", "--label", "LF-1", "--on", "2026-03-30"];
    ok(at, &[&["record", "sample", "a.farmbook", "Lower field"][..], &bag].concat());
    folder
}

#[test]
fn a_report_is_recorded_and_read_by_the_farm_s_scheme() {
    let folder = farm();
    let at = folder.path();
    let recorded = ok(
        at,
        &[
            "record",
            "lab-report",
            "a.farmbook",
            "Lower field",
            "--sample",
            "LF-1",
            "--laboratory",
            "County laboratory",
            "--figure",
            "pH=5.4",
            "--figure",
            "Buffer pH (SMP)=6.3",
            "--figure",
            "P (Mehlich-3) lb/ac=60",
            "--figure",
            "Zn (Mehlich-3) ppm=<0.5",
            "--figure",
            "Lime rec ton/ac=2.5",
            "--basis-depth",
            "6.7in",
        ],
    );
    assert!(recorded.stdout.contains("Recorded"), "{}", recorded.told());
    let untold = ok(at, &["lab", "a.farmbook", "Lower field"]);
    assert!(untold.stdout.contains("No scheme is chosen"), "{}", untold.told());
    ok(at, &["settings", "a.farmbook", "--nutrient-scheme", "rutgers-m3"]);
    let told = ok(at, &["lab", "a.farmbook", "Lower field", "--working"]);
    for words in ["30 ppm", "medium", "< 0.5 ppm", "2.5 ton/acre", "Working"] {
        assert!(told.stdout.contains(words), "{words}\n{}", told.told());
    }
    let json = ok(at, &["lab", "a.farmbook", "Lower field", "--json"]).json();
    assert_eq!(json["report"]["figures"].as_array().map(Vec::len), Some(4));
    refused(
        at,
        &["settings", "a.farmbook", "--nutrient-scheme", "rutgers"],
        "is no scheme that is known here",
    );
    let lb = ["record", "lab-report", "a.farmbook", "Lower field", "--figure", "K lb/ac=200"];
    refused(at, &lb, "to what depth");
    refused(
        at,
        &["record", "lab-report", "a.farmbook", "Lower field", "--figure", "pH=71"],
        "did you mean 7.1",
    );
    refused(at, &["record", "lab-report", "a.farmbook", "Lower field", "--figure", "P=30"], "in which unit");
}

#[test]
fn a_table_comes_in_is_known_again_and_is_undone() {
    let folder = farm();
    let at = folder.path();
    std::fs::write(
        at.join("spring.csv"),
        "Sample ID,pH,P (Mehlich-3) ppm,K (AA),Colour\nLF-1,6.4,<2,88,brown\nUpper field,5.9,31,140,grey\n",
    )
    .expect("written");
    let base = [
        "import",
        "a.farmbook",
        "--lab",
        "spring.csv",
        "--laboratory",
        "County laboratory",
        "--sampled",
        "2026-04-01",
    ];
    refused(at, &base, "in which unit");
    let told: Vec<&str> = base
        .into_iter()
        .chain(["--meaning", "K (AA)=potassium ammonium_acetate ppm", "--meaning", "Colour=pass"])
        .collect();
    let columns = ok(at, &[&told[..], &["--show-columns"]].concat());
    assert!(columns.stdout.contains("ammonium acetate"), "{}", columns.told());
    let done = ok(at, &[&told[..], &["--json"]].concat()).json();
    assert_eq!(done["observations"].as_array().map(Vec::len), Some(2), "{done}");
    // The laboratory is known now, and its columns with it; doubles are left out.
    let again = ok(at, &base);
    assert!(again.stdout.contains("2 stood in the book already"), "{}", again.told());
    let id = done["import"].as_str().expect("an id").to_owned();
    let undone = ok(at, &["import", "a.farmbook", "--undo", &id]);
    assert!(undone.stdout.contains("3 records"), "{}", undone.told());
    let lab = ok(at, &["lab", "a.farmbook", "Lower field"]);
    assert!(lab.stdout.contains("No laboratory report"), "{}", lab.told());

    std::fs::write(at.join("report.csv"), b"%PDF-1.7 a report").expect("written");
    refused(at, &["import", "a.farmbook", "--lab", "report.csv"], "this file is a PDF");
}
