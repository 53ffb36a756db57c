//! A laboratory's table of several samples: matched by bag, remembered, undone as a whole.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::{farm, plain_plot, stamp};
use book::model::weather::DateOrder;
use book::model::{HeadingMeans, LabHeading, Sample, SampleDepth, Seen};
use book::{Book, BookError, LabImport, RowRefusal, propose_lab_columns};
use ground::fertility::analysis::report::{Amount, Analyte, BasisDepth, LabReport, Procedure, ReportUnit};
use ground::kit::Bounded;
use jiff::civil::date;

const TABLE: &str = "Sample ID,Lab No,pH,Buffer pH (SMP),P (Mehlich-3) ppm,K lb/ac,OM %,Lime rec ton/ac\n\
    LF-1,101,5.4,6.3,<2,120,3.1,2.5\n\
    ET-1,102,6.9,,310,640,7.2,0\n\
    Upper field,103,6.1,6.7,35,210,2.8,1\n";

fn bag(book: &mut Book, plot: &str, label: &str) {
    let plot = book.snapshot().unwrap().plot_named(plot).unwrap().id;
    let sample = Sample {
        plot,
        taken_on: date(2026, 3, 20),
        from_cm: SampleDepth::literal(0.0),
        to_cm: SampleDepth::literal(17.0),
        cores: Some(15),
        taken_by: "Ada".to_owned(),
        bag_label: label.to_owned(),
        import: None,
        spot: None,
        note: String::new(),
    };
    book.record(sample, &stamp(2, "Ada")).unwrap();
}

fn new_book() -> (tempfile::TempDir, Book) {
    let folder = tempfile::tempdir().unwrap();
    let mut book = Book::create(folder.path().join("t.farmbook"), farm(), &stamp(0, "Ada")).unwrap();
    for plot in ["Lower field", "East tunnel", "Upper field"] {
        book.record(plain_plot(plot), &stamp(1, "Ada")).unwrap();
    }
    bag(&mut book, "Lower field", "LF-1");
    bag(&mut book, "East tunnel", "ET-1");
    (folder, book)
}

/// Columns as the headings propose them, for a laboratory.
fn import(book: &Book, text: &str) -> LabImport {
    let laboratories = book.snapshot().unwrap().laboratories;
    let proposal = propose_lab_columns(text, &laboratories, "Valley laboratory").unwrap();
    LabImport {
        laboratory: "Valley laboratory".to_owned(),
        file_name: "spring.csv".to_owned(),
        basis_depth_cm: Some(BasisDepth::literal(17.0)),
        date: Some(date(2026, 4, 1)),
        date_order: DateOrder::YearMonthDay,
        columns: proposal
            .columns
            .into_iter()
            .map(|column| LabHeading {
                means: column.means.unwrap_or_else(|| panic!("{} is not known", column.heading)),
                heading: column.heading,
            })
            .collect(),
    }
}

fn reports(book: &Book, plot: &str) -> Vec<LabReport> {
    let snapshot = book.snapshot().unwrap();
    let plot = snapshot.plot_named(plot).unwrap().id;
    let of = |seen: &Seen| if let Seen::LabReport(report) = seen { Some(report.clone()) } else { None };
    snapshot.evidence(plot).filter_map(|held| of(&held.body.seen)).collect()
}

fn wrong(book: &mut Book, text: &str, import: &LabImport) -> Vec<RowRefusal> {
    let mark = book.change_mark().unwrap();
    match book.import_lab_table(text, import, &stamp(9, "Ada")) {
        Err(BookError::Rows(rows)) => {
            assert_eq!(book.change_mark().unwrap(), mark, "something was stored");
            rows
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn three_samples_find_their_plots_and_the_columns_are_remembered() {
    let (_folder, mut book) = new_book();
    let told = import(&book, TABLE);
    let done = book.import_lab_table(TABLE, &told, &stamp(9, "Ada")).unwrap();
    assert_eq!((done.samples.len(), done.observations.len(), done.known_already), (1, 3, 0));
    assert!(done.remarks.iter().any(|line| line.contains("LF-1")), "{:?}", done.remarks);

    let report = &reports(&book, "Lower field")[0];
    assert_eq!((report.laboratory.as_str(), report.number.as_str()), ("Valley laboratory", "101"));
    let phosphorus = report.first(Analyte::Phosphorus).unwrap();
    assert_eq!((phosphorus.amount, phosphorus.procedure), (Amount::Below(2.0), Procedure::Mehlich3Icp));
    assert_eq!(report.first(Analyte::Potassium).unwrap().unit, ReportUnit::LbPerAcre);
    assert_eq!(report.recommended.len(), 1);
    assert!(reports(&book, "East tunnel")[0].buffer().is_none());

    // The bag that was written down before keeps its day and its depth.
    let snapshot = book.snapshot().unwrap();
    let observation = snapshot.observations.iter().find(|held| held.body.import.is_some()).unwrap();
    assert_eq!(observation.body.import, done.import);
    assert_eq!(snapshot.imports[0].body.rows, 3);

    // Next year's table of the same laboratory is read as this one was.
    let laboratory = &snapshot.laboratories[0].body;
    assert_eq!(laboratory.name, "Valley laboratory");
    let again = propose_lab_columns(TABLE, &snapshot.laboratories, "").unwrap();
    assert_eq!(again.laboratory.as_deref(), Some("Valley laboratory"));
    assert_eq!(again.basis_depth_cm.map(Bounded::get), Some(17.0));

    // The same table again: doubles are noticed, and nothing is stored.
    let mark = book.change_mark().unwrap();
    let done = book.import_lab_table(TABLE, &told, &stamp(10, "Ada")).unwrap();
    assert_eq!((done.observations.len(), done.known_already, done.import), (0, 3, None));
    assert_eq!(book.change_mark().unwrap(), mark);
}

#[test]
fn an_import_is_undone_as_a_whole() {
    let (_folder, mut book) = new_book();
    let told = import(&book, TABLE);
    let done = book.import_lab_table(TABLE, &told, &stamp(9, "Ada")).unwrap();
    let undone = book.undo_import(done.import.unwrap(), "wrong farm", &stamp(10, "Ada")).unwrap();
    assert_eq!(undone, 4, "three reports and the sample that it made");
    let snapshot = book.snapshot().unwrap();
    assert_eq!((snapshot.observations.len(), snapshot.imports.len(), snapshot.samples.len()), (0, 0, 2));
    // And it may come in again.
    let done = book.import_lab_table(TABLE, &told, &stamp(11, "Ada")).unwrap();
    assert_eq!(done.observations.len(), 3);
}

#[test]
fn what_a_person_said_of_a_column_stays() {
    let (_folder, mut book) = new_book();
    let mut told = import(&book, TABLE);
    told.columns[5].means = HeadingMeans::Figure {
        analyte: Analyte::Potassium,
        procedure: Procedure::AmmoniumAcetate,
        unit: ReportUnit::LbPerAcre,
    };
    book.import_lab_table(TABLE, &told, &stamp(9, "Ada")).unwrap();
    let again = import(&book, TABLE);
    assert_eq!(again.columns[5].means, told.columns[5].means);
}

#[test]
fn bad_figures_are_named_all_at_once_and_nothing_is_half_imported() {
    let (_folder, mut book) = new_book();
    let text = "Sample ID,pH,Buffer pH (SMP),P (Mehlich-3) ppm,OM %\n\
        LF-1,71,6.3,20,3.1\n\
        ET-1,6.9,8.4,\"1,234\",120\n\
        Upper field,6.1,6.7,70 lb/ac,2.8\n\
        Nowhere,6.1,6.7,20,2.8\n";
    let told = import(&book, text);
    let rows = wrong(&mut book, text, &told);
    let of = |line: u64| -> Vec<&RowRefusal> { rows.iter().filter(|row| row.line == line).collect() };
    let [ph] = of(2)[..] else { panic!("{rows:?}") };
    assert_eq!((ph.refusal.field.as_str(), ph.refusal.example.as_str()), ("pH", "7.1"));
    let fields: Vec<&str> = of(3).iter().map(|row| row.refusal.field.as_str()).collect();
    assert_eq!(fields, ["Buffer pH (SMP)", "P (Mehlich-3) ppm", "OM %"]);
    assert!(of(4)[0].refusal.message.contains("two units in one column"), "{:?}", of(4));

    // With the figures mended, the stranger is named, with the bags that are known.
    let text = "Sample ID,pH\nLF-1,7.1\nNowhere,6.1\n";
    let told = import(&book, text);
    let rows = wrong(&mut book, text, &told);
    assert_eq!((rows[0].line, rows[0].refusal.field.as_str()), (3, "Sample ID"));
    assert!(rows[0].refusal.accepted.contains("ET-1, LF-1"), "{}", rows[0].refusal.accepted);
}

#[test]
fn amounts_per_area_need_their_depth_and_decimal_commas_their_semicolons() {
    let (_folder, mut book) = new_book();
    let mut told = import(&book, TABLE);
    told.basis_depth_cm = None;
    let rows = wrong(&mut book, TABLE, &told);
    assert!(rows.iter().all(|row| row.refusal.field == "basis_depth_cm"), "{rows:?}");

    let text = "Sample ID,pH,OM %\nLF-1,6,4,3,1\n";
    let told = import(&book, text);
    let rows = wrong(&mut book, text, &told);
    assert!(rows[0].refusal.message.contains("decimal comma"), "{rows:?}");

    let text = "Sample ID;pH;OM %\nLF-1;6,4;3,1\n";
    let told = import(&book, text);
    book.import_lab_table(text, &told, &stamp(9, "Ada")).unwrap();
    assert_eq!(reports(&book, "Lower field")[0].figures[0].amount, Amount::Exactly(6.4));
}

#[test]
fn a_bag_twice_and_a_number_twice_are_noticed() {
    let (_folder, mut book) = new_book();
    let text = "Sample ID,Lab No,pH\nLF-1,7,6.4\nlf-1,8,6.9\n";
    let told = import(&book, text);
    let rows = wrong(&mut book, text, &told);
    assert_eq!(rows[0].line, 3);
    assert!(rows[0].refusal.message.contains("line 2"), "{rows:?}");

    let text = "Sample ID,Lab No,pH\nLF-1,7,6.4\n";
    let told = import(&book, text);
    book.import_lab_table(text, &told, &stamp(9, "Ada")).unwrap();
    let rows = wrong(&mut book, "Sample ID,Lab No,pH\nLF-1,7,6.9\n", &told);
    assert!(rows[0].refusal.message.contains("stands in the book"), "{rows:?}");
}

#[test]
fn dates_are_read_in_the_order_they_prove() {
    let (_folder, mut book) = new_book();
    let text = "plot,Date sampled,pH\nUpper field,4/25/2026,6.4\n";
    let proposal = propose_lab_columns(text, &[], "").unwrap();
    assert_eq!(proposal.date_order, Some(DateOrder::MonthDayYear));
    let told = LabImport { date_order: DateOrder::MonthDayYear, ..import(&book, text) };
    book.import_lab_table(text, &told, &stamp(9, "Ada")).unwrap();
    let snapshot = book.snapshot().unwrap();
    assert_eq!(snapshot.samples.last().unwrap().body.taken_on, date(2026, 4, 25));
}
