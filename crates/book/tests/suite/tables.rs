//! CSV out and in.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common;

use crate::common::{farm, plain_note, plain_plot, stamp};
use book::model::Seen;
use book::{Book, BookError, LabColumn, LabColumns, RowRefusal};
use ground::kit::Bounded;
use proptest::prelude::*;

fn new_book() -> (tempfile::TempDir, Book) {
    let folder = tempfile::tempdir().unwrap();
    let mut book = Book::create(folder.path().join("t.farmbook"), farm(), &stamp(0, "Ada")).unwrap();
    book.record(plain_plot("Lower field"), &stamp(1, "Ada")).unwrap();
    book.record(plain_plot("East tunnel"), &stamp(1, "Ada")).unwrap();
    (folder, book)
}

fn wrong(book: &mut Book, text: &str) -> Vec<RowRefusal> {
    let mark = book.change_mark().unwrap();
    match book.import_lab_csv(text, &LabColumns::default(), &stamp(9, "Ada")) {
        Err(BookError::Rows(rows)) => {
            assert_eq!(book.change_mark().unwrap(), mark, "something was stored");
            rows
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_lab_table_becomes_samples_and_results() {
    let (_folder, mut book) = new_book();
    let text = "\u{feff}Plot,date,bag,from_cm,to_cm,cores,sand_percent,silt_percent,clay_percent,organic_matter_percent,procedure,by\r\n\
        lower field,2026-04-12,LF-1,0,20,15,40.5,39.5,20,3.1,Laser diffraction,County lab\r\n\
        \r\n\
        East tunnel,2026-04-12,ET-1,,,,62,25,13,,,County lab\r\n";
    let done = book.import_lab_csv(text, &LabColumns::default(), &stamp(9, "Ada")).unwrap();
    assert_eq!((done.samples.len(), done.observations.len(), done.known_already), (2, 3, 0));
    let snapshot = book.snapshot().unwrap();
    let field = snapshot.plot_named("Lower field").unwrap().id;
    let seen: Vec<_> = snapshot.evidence(field).map(|held| held.body.seen.what()).collect();
    assert_eq!(seen, ["lab_texture", "organic_matter"]);
    assert_eq!(snapshot.samples_of(field).next().unwrap().body.cores, Some(15));

    // The same table again changes nothing.
    let again = book.import_lab_csv(text, &LabColumns::default(), &stamp(10, "Ada")).unwrap();
    assert_eq!((again.samples.len(), again.observations.len(), again.known_already), (0, 0, 3));
}

#[test]
fn semicolons_and_decimal_commas_and_other_headings() {
    let (_folder, mut book) = new_book();
    let columns = LabColumns::default()
        .read(LabColumn::Plot, "Feld")
        .read(LabColumn::Sand, "Sand")
        .read(LabColumn::Silt, "Schluff")
        .read(LabColumn::Clay, "Ton")
        .read(LabColumn::SiltLimit, "Grenze");
    let text = "Feld;date;Sand;Schluff;Ton;Grenze\nLower field;2026-04-12;40,5;39,5;20,0;63 um\n";
    book.import_lab_csv(text, &columns, &stamp(9, "Ada")).unwrap();
    let snapshot = book.snapshot().unwrap();
    let Seen::LabTexture(lab) = &snapshot.observations[0].body.seen else { panic!("a lab texture") };
    assert_eq!(serde_json::to_value(lab).unwrap()["sand_percent"], 40.5);
    assert_eq!(serde_json::to_value(lab).unwrap()["silt_limit"], "63 um");
}

#[test]
fn a_depth_may_be_written_as_people_write_it() {
    let (_folder, mut book) = new_book();
    let text =
        "plot,date,depth,ec_ds_m\nLower field,2026-04-12,0-6 in,1\nLower field,2026-04-13,30 cm,\"1,5\"\n";
    book.import_lab_csv(text, &LabColumns::default(), &stamp(9, "Ada")).unwrap();
    let layers: Vec<_> = book
        .snapshot()
        .unwrap()
        .samples
        .iter()
        .map(|sample| (sample.body.from_cm.get(), sample.body.to_cm.get()))
        .collect();
    // The inch is 2.54 cm exactly: NIST SP 811, appendix B.8.
    assert_eq!(layers, [(0.0, 15.24), (0.0, 30.0)]);
}

#[test]
fn every_wrong_cell_is_named_and_nothing_is_stored() {
    let (_folder, mut book) = new_book();
    let text = "plot,date,sand_percent,silt_percent,clay_percent\n\
        Lower field,12/4/2026,40,40,20\n\
        Lower field,2026-04-12,forty,40,20\n\
        Lower field,2026-04-12,40,40,40\n\
        Lower field,2026-04-12,40,,20\n\
        Lower field,2026-04-12,,,\n\
        Lower field,2026-04-12,140,40,20\n";
    let told: Vec<(u64, String)> =
        wrong(&mut book, text).into_iter().map(|row| (row.line, row.refusal.field)).collect();
    let expected = [
        (2, "date"),
        (3, "sand_percent"),
        (4, "sand_percent"),
        (5, "silt_percent"),
        (6, "sand_percent"),
        (7, "sand_percent"),
    ];
    assert_eq!(told, expected.map(|(line, field)| (line, field.to_owned())));

    let rows =
        wrong(&mut book, "plot,date,sand_percent,silt_percent,clay_percent\nAcre,2026-04-12,40,40,20\n");
    assert_eq!((rows[0].line, rows[0].refusal.accepted.as_str()), (2, "Lower field, East tunnel"));
    let rows = wrong(&mut book, "date,sand_percent\n2026-04-12,40\n");
    assert_eq!((rows[0].line, rows[0].refusal.field.as_str()), (1, "plot"));
    let rows = wrong(
        &mut book,
        "plot,date,sand_percent,silt_percent,clay_percent,sands\nLower field,2026-04-12,4,4,92,1\n",
    );
    assert_eq!((rows[0].line, rows[0].refusal.field.as_str()), (1, "sands"));
    // A good row before a bad one is not stored either.
    let rows = wrong(
        &mut book,
        "plot,date,from_cm,to_cm,ec_ds_m\nLower field,2026-04-12,0,20,1\nLower field,2026-04-12,30,20,1\n",
    );
    assert_eq!((rows[0].line, rows[0].refusal.field.as_str()), (3, "to_cm"));
    assert!(!wrong(&mut book, "").is_empty());
    assert!(!wrong(&mut book, "plot,date,ec_ds_m\n").is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// Any text as a table, with and without the right heading.
    #[test]
    fn a_hostile_table_never_panics(text in "([ -~\n\r;,\t\"\u{e9}\u{0}]{0,40}|[0-9.,eE+-]{0,12}|Lower field|2026-04-12|,){0,12}", heading in any::<bool>()) {
        let (_folder, mut book) = new_book();
        let text = if heading {
            format!("plot,date,from_cm,to_cm,cores,bag,sand_percent,silt_percent,clay_percent,note\nLower field,2026-04-12,{text}")
        } else {
            text
        };
        let _ = book.import_lab_csv(&text, &LabColumns::default(), &stamp(9, "Ada"));
        prop_assert!(book.check().unwrap().is_clean());
    }

    /// Every cell of the export reads back as it was written, however hostile the text.
    #[test]
    fn exported_tables_are_well_formed(script in common::any_script()) {
        let folder = tempfile::tempdir().unwrap();
        let book = common::fill(&folder.path().join("a.farmbook"), &script).unwrap();
        let files = book.export_csv(folder.path().join("tables")).unwrap();
        prop_assert_eq!(files.len(), book::CSV_TABLES.len());
        let snapshot = book.snapshot().unwrap();
        let mut plots = csv::Reader::from_path(folder.path().join("tables/plots.csv")).unwrap();
        let names: Vec<String> = plots.records().map(|row| row.unwrap()[4].to_owned()).collect();
        let name = snapshot.plots[0].body.name.clone();
        prop_assert!(names == [name.clone()] || names == [format!("'{name}")], "{names:?} {name:?}");
        let mut seen = csv::Reader::from_path(folder.path().join("tables/observations.csv")).unwrap();
        prop_assert_eq!(seen.records().map(Result::unwrap).count(), snapshot.observations.len());
    }
}

#[test]
fn tables_replace_nothing_and_disarm_formulas() {
    let (folder, mut book) = new_book();
    book.record(plain_note("=1+1"), &stamp(3, "Ada")).unwrap();
    let tables = folder.path().join("tables");
    book.export_csv(&tables).unwrap();
    let notes = std::fs::read_to_string(tables.join("notes.csv")).unwrap();
    assert!(notes.contains(",'=1+1"), "{notes}");
    assert!(matches!(book.export_csv(&tables), Err(BookError::Exists { .. })));
}
