//! The order of the house, checked: which way imports run, where knowledge stands, how long a file is.

use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().expect("the workspace is there")
}

/// Every file of ours below `folder` that ends in one of `endings`.
fn ours(folder: &Path, endings: &[&str], found: &mut Vec<PathBuf>) {
    let skipped = ["target", "node_modules", "dist", "test-results", "playwright-report", ".git", ".venv"];
    for entry in fs::read_dir(folder).expect("a folder of the workspace can be read") {
        let path = entry.expect("an entry can be read").path();
        let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
        if path.is_dir() {
            if !skipped.contains(&name) {
                ours(&path, endings, found);
            }
        } else if endings.iter().any(|ending| name.ends_with(ending)) {
            found.push(path);
        }
    }
}

fn all(endings: &[&str]) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    for part in ["crates", "checks", "benches", "scripts"] {
        ours(&root().join(part), endings, &mut found);
    }
    assert!(!found.is_empty());
    found
        .into_iter()
        .map(|path| (path.clone(), fs::read_to_string(&path).expect("text can be read")))
        .collect()
}

#[test]
fn every_rust_file_says_what_it_is() {
    let silent: Vec<_> = all(&[".rs"])
        .into_iter()
        .filter(|(_, text)| !text.starts_with("//!"))
        .map(|(path, _)| path)
        .collect();
    assert!(silent.is_empty(), "no `//!` at the top: {silent:#?}");
}

#[test]
fn files_can_be_read_in_one_sitting() {
    let long: Vec<_> = all(&[".rs", ".ts", ".css", ".html"])
        .into_iter()
        .map(|(path, text)| (text.lines().count(), path))
        .filter(|(lines, _)| *lines > 600)
        .collect();
    assert!(long.is_empty(), "longer than 600 lines: {long:#?}");
}

/// What each crate may use of ours. A crate missing here is a mistake.
const MAY_USE: &[(&str, &[&str])] = &[
    ("crates/ground", &[]),
    ("crates/figures", &["ground"]),
    ("crates/book", &["ground"]),
    ("crates/advice", &["book", "ground"]),
    ("crates/report", &["advice", "book", "figures", "ground"]),
    ("crates/web", &["advice", "book", "checks", "figures", "ground", "report"]),
    ("crates/spadework", &["advice", "book", "checks", "figures", "ground", "report", "web"]),
    ("checks", &["ground"]),
    ("benches", &["advice", "book", "ground"]),
];

#[test]
fn imports_run_one_way() {
    let names = ["ground", "figures", "book", "advice", "report", "web", "spadework", "checks", "benches"];
    let members = fs::read_dir(root().join("crates")).expect("the crates are there").count() + 2;
    assert_eq!(members, MAY_USE.len(), "a crate is missing from the list of what may be used");
    for (folder, may_use) in MAY_USE {
        let manifest =
            fs::read_to_string(root().join(folder).join("Cargo.toml")).expect("a manifest is there");
        let manifest: toml::Table = manifest.parse().expect("a manifest is TOML");
        let own = manifest["package"]["name"].as_str().expect("a crate has a name");
        for table in ["dependencies", "build-dependencies"] {
            let Some(used) = manifest.get(table).and_then(toml::Value::as_table) else { continue };
            for name in used.keys().filter(|name| names.contains(&name.as_str())) {
                assert!(may_use.contains(&name.as_str()), "{own} must not use {name}");
            }
        }
    }
}

#[test]
fn the_science_has_no_files_clock_network_or_globals() {
    let banned = [
        "std::fs",
        "std::net",
        "std::env",
        "std::process",
        "std::time",
        "SystemTime",
        "static mut",
        "thread_local!",
    ];
    for (path, text) in
        all(&[".rs"]).into_iter().filter(|(path, _)| path.starts_with(root().join("crates/ground/src")))
    {
        for word in banned {
            assert!(!text.contains(word), "{} uses {word}", path.display());
        }
    }
}

#[test]
fn every_source_is_cited() {
    let code = all(&[".rs", ".toml", ".csv"]);
    for key in ground::kit::sources::BIBLIOGRAPHY.keys() {
        let cited = code
            .iter()
            .filter(|(path, _)| !path.starts_with(root().join("crates/ground/bibliography")))
            .any(|(_, text)| text.contains(key.as_str()));
        assert!(cited, "{key} stands in the bibliography and nothing cites it");
    }
}
