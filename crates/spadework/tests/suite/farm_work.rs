//! A farm from its first day: book, plot, evidence, decisions, copies, the app.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Stdio};

use crate::common::{ok, program, run_in};

/// A book with one plot, made as a grower would.
fn begun(folder: &Path) {
    ok(
        folder,
        &["new", "a.farmbook", "--name", "Long Furrow", "--latitude", "-42.5", "--last-frost", "05-12"],
    );
    ok(folder, &["record", "plot", "a.farmbook", "Lower field", "--area", "4000 sq ft", "--slope", "3"]);
}

#[test]
fn evidence_of_every_kind_is_recorded_and_decided_on() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    ok(
        at,
        &["record", "sample", "a.farmbook", "lower FIELD", "--to", "8", "--cores", "12", "--label", "LF-1"],
    );
    ok(
        at,
        &[
            "record",
            "jar",
            "a.farmbook",
            "lower field",
            "--mark",
            "1min=7/8in",
            "--mark",
            "2h=1 1/2 to 1 11/16in",
            "--mark",
            "1d=?",
            "--water-height",
            "7",
            "--sample",
            "lf-1",
            "--by",
            "Ada",
            "--on",
            "2026-04-12",
        ],
    );
    ok(at, &["record", "lab", "a.farmbook", "Lower field", "42", "38", "20", "--sample", "LF-1"]);
    ok(at, &["record", "feel", "a.farmbook", "Lower field", "--ribbon", "1.5", "--rub", "neither"]);
    let organic = [
        "record",
        "seen",
        "a.farmbook",
        "Lower field",
        "--set",
        "what=organic_matter",
        "--set",
        "percent=3.2",
    ];
    ok(at, &organic);
    ok(at, &["record", "note", "a.farmbook", "Dug a drain", "--plot", "Lower field"]);
    let running = [
        "record",
        "jar",
        "a.farmbook",
        "Lower field",
        "--mark",
        "1min=7/8in",
        "--still-settling",
        "--soil-height",
        "2in",
    ];
    ok(at, &running);

    let plot = ok(at, &["plot", "a.farmbook", "Lower field", "--json"]).json();
    assert_eq!(plot["make_up"]["class"], "loam", "the laboratory says 42, 38, 20");
    assert_eq!(plot["evidence"].as_array().unwrap().len(), 5);
    assert!(!plot["findings"].as_array().unwrap().is_empty());
    let words = ok(at, &["plot", "a.farmbook", "Lower field", "--picture", "--working"]).stdout;
    for part in ["Odds of each class", "available water", "Evidence", "[firm", "Caution:", "Rests on:"] {
        assert!(words.contains(part), "{part} is missing:\n{words}");
    }
    let farm = ok(at, &["farm", "a.farmbook"]).stdout;
    assert!(farm.contains("Lower field") && farm.contains("jar settling"), "{farm}");
    assert_eq!(ok(at, &["check", "a.farmbook", "--json"]).json()["problems"].as_array().unwrap().len(), 0);
}

#[test]
fn a_refused_record_stores_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let before = ok(at, &["check", "a.farmbook", "--json"]).json()["revisions"].clone();
    for (arguments, field) in [
        (vec!["record", "lab", "a.farmbook", "Lower field", "42", "38", "60"], "sand"),
        (vec!["record", "jar", "a.farmbook", "Nowhere", "--sand", "1", "--silt", "1", "--clay", "1"], "plot"),
        (vec!["record", "jar", "a.farmbook", "Lower field", "--sand", "1", "--silt", "1"], "clay"),
        (vec!["record", "feel", "a.farmbook", "Lower field"], "ball"),
        (vec!["record", "note", "a.farmbook", " "], "text"),
        (vec!["record", "plot", "a.farmbook", "lower field", "--area", "1 acre"], "name"),
        (vec!["record", "sample", "a.farmbook", "Lower field", "--to", "8", "--on", "12 April"], "on"),
        (vec!["record", "seen", "a.farmbook", "Lower field", "--set", "what=moon"], "what"),
    ] {
        let refused = run_in(at, &[&arguments[..], &["--json"]].concat(), "");
        assert_eq!(refused.code, 2, "{arguments:?}: {}", refused.told());
        assert_eq!(refused.json()["error"]["field"], field, "{}", refused.told());
    }
    assert_eq!(ok(at, &["check", "a.farmbook", "--json"]).json()["revisions"], before);
}

#[test]
fn copies_hold_all_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    ok(at, &["record", "lab", "a.farmbook", "Lower field", "42", "38", "20"]);
    ok(at, &["export", "a.farmbook", "--archive", "a.json"]);
    ok(at, &["import", "b.farmbook", "--archive", "a.json"]);
    ok(at, &["export", "b.farmbook", "--archive", "b.json"]);
    let text = |name: &str| std::fs::read_to_string(at.join(name)).unwrap();
    assert_eq!(text("a.json"), text("b.json"));
    assert_eq!(ok(at, &["export", "a.farmbook", "--archive", "-"]).stdout.trim(), text("a.json").trim());
    ok(at, &["export", "a.farmbook", "--csv", "tables"]);
    assert!(text("tables/plots.csv").contains("Lower field"));
    ok(at, &["backup", "a.farmbook", "c.farmbook"]);
    assert_eq!(ok(at, &["farm", "c.farmbook"]).stdout, ok(at, &["farm", "a.farmbook"]).stdout);

    for arguments in [
        vec!["backup", "a.farmbook", "c.farmbook"],
        vec!["export", "a.farmbook", "--archive", "a.json"],
        vec!["import", "c.farmbook", "--archive", "a.json"],
        vec!["new", "a.farmbook", "--name", "Other"],
    ] {
        let refused = run_in(at, &arguments, "");
        assert_eq!(refused.code, 3, "{arguments:?}: {}", refused.told());
        assert!(refused.said("already a file"), "{}", refused.told());
    }
    std::fs::write(
        at.join("lab.csv"),
        "plot,date,Sand (%),silt_percent,clay_percent\nLower field,2026-04-12,40,40,20\n",
    )
    .unwrap();
    ok(at, &["import", "a.farmbook", "--lab", "lab.csv", "--column", "sand_percent=Sand (%)"]);
    std::fs::write(
        at.join("bad.csv"),
        "plot,date,sand_percent,silt_percent,clay_percent\nNowhere,x,140,40,20\n",
    )
    .unwrap();
    let refused = run_in(at, &["import", "a.farmbook", "--lab", "bad.csv"], "");
    assert_eq!(refused.code, 2, "{}", refused.told());
}

#[test]
fn what_is_no_book_is_told_apart() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    std::fs::write(at.join("shopping.txt"), "milk, nails").unwrap();
    for (name, words) in
        [("missing.farmbook", "no farm book at"), ("shopping.txt", "not a farm book"), (".", "is a folder")]
    {
        for command in ["farm", "check"] {
            let told = run_in(at, &[command, name], "");
            assert_eq!(told.code, 3, "{}", told.told());
            assert!(told.said(words), "{}", told.told());
        }
    }
    let told = run_in(at, &["serve", "shopping.txt"], "");
    assert_eq!(told.code, 3, "{}", told.told());
}

#[test]
fn the_demonstration_farm_is_the_same_every_time() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let first = ok(at, &["demo", "--no-serve", "--book", "one.farmbook"]).stdout;
    let second = ok(at, &["demo", "--no-serve", "--book", "two.farmbook"]).stdout;
    assert_eq!(first, second);
    let again = ok(at, &["demo", "--no-serve", "--book", "one.farmbook"]);
    assert_eq!(again.stdout, first);
    assert!(again.said("used as it is"));
    let json = ok(at, &["demo", "--no-serve", "--book", "one.farmbook", "--json"]).json();
    let plots = json["farm"]["plots"].as_array().unwrap();
    let tunnels = plots.iter().filter(|plot| plot["place"] == "high_tunnel").count();
    assert!(plots.len() >= 6 && tunnels >= 2, "{} plots, {tunnels} tunnels", plots.len());
    assert!(!json["farm"]["attention"].as_array().unwrap().is_empty());
}

struct Served(Child);

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

#[test]
fn serve_prints_an_address_that_answers() {
    let folder = tempfile::tempdir().unwrap();
    begun(folder.path());
    let mut served = Served(
        program(folder.path())
            .args(["serve", "a.farmbook", "--port", "0"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap(),
    );
    let mut line = String::new();
    BufReader::new(served.0.stdout.take().unwrap()).read_line(&mut line).unwrap();
    let host =
        line.trim().strip_prefix("http://").and_then(|rest| rest.strip_suffix('/')).expect("an address");
    assert!(host.starts_with("127.0.0.1:"), "{host}");
    let mut connection = TcpStream::connect(host).unwrap();
    write!(connection, "GET /methods HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n").unwrap();
    let mut answer = String::new();
    connection.read_to_string(&mut answer).unwrap();
    assert!(answer.starts_with("HTTP/1.1 200"), "{}", answer.lines().next().unwrap_or_default());
}
