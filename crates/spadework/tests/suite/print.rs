//! Sheets printed from the command line.

use crate::common::run_in;

const SHEETS: [&str; 3] = ["work", "spread", "buying"];

fn demo() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    drop(advice::demo::create(folder.path().join("a.farmbook")).expect("the demonstration is written"));
    folder
}

#[test]
fn every_sheet_is_written_and_nothing_is_written_over() {
    let folder = demo();
    for sheet in SHEETS {
        let out = format!("{sheet}.pdf");
        let arguments = ["print", sheet, "a.farmbook", "--out", &out, "--on", "2026-05-21"];
        let written = run_in(folder.path(), &arguments, "");
        assert_eq!(written.code, 0, "{}", written.told());
        let first = std::fs::read(folder.path().join(&out)).expect("the sheet is there");
        // The header of every PDF file (ISO 32000-2, 7.5.2).
        assert!(first.starts_with(b"%PDF-1."));

        let again = run_in(folder.path(), &arguments, "");
        assert_eq!(again.code, 2, "{}", again.told());
        assert!(again.said("is there already; it was left as it is"), "{}", again.told());
        assert!(again.said("--force"), "{}", again.told());

        let forced = run_in(folder.path(), &[&arguments[..], &["--force", "--json"]].concat(), "");
        assert_eq!(forced.code, 0, "{}", forced.told());
        let bytes = std::fs::read(folder.path().join(&out)).expect("the sheet is there");
        assert_eq!(forced.json()["bytes"].as_u64(), Some(bytes.len() as u64));
        assert_eq!(bytes, first, "the same book and day give the same sheet");
    }
}

#[test]
fn the_paper_can_be_chosen() {
    let folder = demo();
    let size = |paper: &str| {
        let out = format!("{paper}.pdf");
        let arguments =
            ["print", "work", "a.farmbook", "--out", &out, "--paper", paper, "--on", "2026-05-21"];
        let written = run_in(folder.path(), &arguments, "");
        assert_eq!(written.code, 0, "{}", written.told());
        std::fs::read(folder.path().join(out)).expect("the sheet is there")
    };
    assert_ne!(size("letter"), size("a4"));
    let folio =
        run_in(folder.path(), &["print", "work", "a.farmbook", "--out", "x.pdf", "--paper", "folio"], "");
    assert_eq!(folio.code, 2, "{}", folio.told());
    assert!(folio.said("letter") && folio.said("a4"), "{}", folio.told());
}

#[test]
fn what_cannot_be_printed_is_told() {
    let folder = demo();
    let tell = |arguments: &[&str]| run_in(folder.path(), arguments, "");
    let day = tell(&["print", "work", "a.farmbook", "--out", "x.pdf", "--on", "spring"]);
    assert_eq!(day.code, 2, "{}", day.told());
    assert!(day.said("2026-04-12"), "{}", day.told());
    let no_book = tell(&["print", "work", "b.farmbook", "--out", "x.pdf"]);
    assert_eq!(no_book.code, 3, "{}", no_book.told());
    let no_folder = tell(&["print", "work", "a.farmbook", "--out", "sheets/x.pdf"]);
    assert_eq!(no_folder.code, 1, "{}", no_folder.told());
    assert!(no_folder.said("its folder is not there"), "{}", no_folder.told());
    let no_file = tell(&["print", "work", "a.farmbook", "--out", "."]);
    assert_eq!(no_file.code, 2, "{}", no_file.told());
    assert!(!folder.path().join("x.pdf").exists());
}
