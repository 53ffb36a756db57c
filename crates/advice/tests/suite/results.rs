//! Results of many bags typed at once: every wrong cell is told, and all is stored or nothing.

use crate::yard::results_about;
use advice::results::{
    Column, ResultRow, ResultsAbout, known_figures, may_be_second, read_results, read_table, record_results,
    table_refusals,
};
use book::model::{EntryId, Farm, Place, Plot, Seen, Shape};
use book::{Book, Stamp};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
use ground::texture::feel::Rub;
use jiff::Timestamp;
use jiff::civil::date;

struct Ground {
    _folder: tempfile::TempDir,
    book: Book,
    plot: EntryId,
    stamp: Stamp,
}

fn ground() -> Ground {
    let folder = tempfile::tempdir().expect("a folder");
    let stamp = Stamp::new(Timestamp::UNIX_EPOCH, "Ada");
    let farm = Farm::named("Invented Farm", UnitSystem::UsCustomary);
    let mut book = Book::create(folder.path().join("a.farmbook"), farm, &stamp).expect("a book");
    let plot = book.record(north_field(), &stamp).expect("a plot").id;
    Ground { _folder: folder, book, plot, stamp }
}

fn north_field() -> Plot {
    Plot {
        name: "North field".to_owned(),
        place: Place::OpenField,
        shape: Shape::Area { area_m2: Bounded::literal(1000.0) },
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        organic: None,
        zone_of: None,
        cover: None,
    }
}

fn about(plot: EntryId) -> ResultsAbout {
    results_about(plot, None, date(2026, 4, 12))
}

const TABLE: &str = "bag,sand_top,silt_top,clay_top,feel,pH,organic matter %,hard_from,note\n\
    A,1 in,1 1/2 in,1 3/4 in,1 1/4 in g,6.4,3.1,9 in,\n\
    B,25 mm,38 mm,not seen,no ribbon,6.9,,none 18 in,\"dry, cloddy\"\n\
    C,,,,,,,,\n";

fn read(ground: &Ground, text: &str) -> Result<advice::results::Results, Vec<advice::results::CellRefusal>> {
    let (columns, rows, _) = read_table(text).expect("the headings are sound");
    read_results(&ground.book.snapshot().expect("a snapshot"), about(ground.plot), &columns, &rows)
}

#[test]
fn a_table_goes_into_the_book_as_samples_and_what_was_seen() {
    let mut ground = ground();
    let results = read(&ground, TABLE).expect("nothing is wrong");
    let kept = record_results(&mut ground.book, &results, &ground.stamp).expect("it is stored");
    assert_eq!((kept.samples.len(), kept.observations.len(), kept.known_already), (2, 9, 0));
    let snapshot = ground.book.snapshot().expect("a snapshot");
    let feel = snapshot
        .evidence(ground.plot)
        .find_map(|held| match &held.body.seen {
            Seen::Feel(feel) if feel.ribbon_mm.is_some() => Some((held.body.sample, feel.clone())),
            _ => None,
        })
        .expect("a feel test");
    // 1 1/4 in is 31.75 mm (1 in = 25.4 mm exactly).
    assert_eq!(feel.1.ribbon_mm.map(Bounded::get), Some(31.75));
    assert_eq!(feel.1.rub, Some(Rub::Gritty));
    assert_eq!(snapshot.sample(feel.0.expect("a bag")).expect("the bag").body.bag_label, "A");
    // The same table again is known, and nothing is stored twice.
    let again =
        read(&ground, &TABLE.replace("9 in", "").replace("none 18 in", "")).expect("nothing is wrong");
    let kept = record_results(&mut ground.book, &again, &ground.stamp).expect("it is stored");
    assert_eq!((kept.samples.len(), kept.observations.len(), kept.known_already), (0, 0, 7));
}

#[test]
fn every_wrong_cell_is_told_by_its_row_and_column() {
    let ground = ground();
    let wrong = "bag,sand_top,silt_top,clay_top,feel,pH,organic_matter,hard_from\n\
        A,40 mm,30 mm,50 mm,,,,\n\
        B,,,,squashy,64,300,none\n\
        a,,,,,6.5,,\n\
        ,,,,,6.5,,\n";
    let refused = read(&ground, wrong).expect_err("much is wrong");
    let told: Vec<(usize, &str)> = refused.iter().map(|one| (one.row, one.column_words.as_str())).collect();
    for wanted in [
        (0, "Top of silt"),
        (1, "Feel"),
        (1, "pH"),
        (1, "Organic matter %"),
        (1, "Hard from"),
        (2, "Bag"),
        (3, "Bag"),
    ] {
        assert!(told.contains(&wanted), "{wanted:?} is not in {told:?}");
    }
    for cell in &refused {
        assert!(!cell.refusal.message.is_empty() && !cell.refusal.accepted.is_empty(), "{cell:?}");
    }
    assert_eq!(ground.book.snapshot().expect("a snapshot").samples.len(), 0);
}

#[test]
fn lines_are_counted_as_an_editor_counts_them() {
    // RFC 4180 ends lines with CR LF, other systems with LF alone; blank lines count in both.
    for table in ["bag,pH\nA,6.4\n\nB,sour\n", "bag,pH\r\nA,6.4\r\n\r\nB,sour\r\n"] {
        let (columns, rows, lines) = read_table(table).expect("the headings are sound");
        assert_eq!(lines, [2, 4], "{table:?}");
        let ground = ground();
        let snapshot = ground.book.snapshot().expect("a snapshot");
        let refused = read_results(&snapshot, about(ground.plot), &columns, &rows).expect_err("sour");
        let told = table_refusals(refused, &lines);
        assert_eq!((told[0].line, told[0].refusal.field.as_str()), (4, "pH"));
    }
}

#[test]
fn headings_that_are_not_understood_are_told() {
    let refused = read_table("bag,wetness of the moon\nA,3\n").expect_err("no such column");
    assert!(refused[0].refusal.message.contains("wetness of the moon"), "{refused:?}");
    assert_eq!(read_table("sand_top\n3\n").expect_err("no bag")[0].refusal.field, "bag");
    assert!(matches!(Column::of("P (Mehlich-3) ppm"), Ok(Column::Figure(_))));
    assert!(Column::of("P (Mehlich-3)").is_err(), "a unit is needed");
}

#[test]
fn an_empty_table_and_columns_given_twice_are_refused() {
    let ground = ground();
    assert_eq!(read(&ground, "bag,feel\nA,\n").expect_err("nothing typed")[0].refusal.field, "rows");
    let snapshot = ground.book.snapshot().expect("a snapshot");
    let row = ResultRow { bag: "A".to_owned(), cells: vec!["2".to_owned(); 2], note: String::new() };
    let twice = [Column::OrganicMatter, Column::OrganicMatter];
    let refused = read_results(&snapshot, about(ground.plot), &twice, &[row]).expect_err("twice");
    assert_eq!(refused[0].refusal.field, "columns");
}

fn kept(ground: &mut Ground, text: &str) -> advice::results::Kept {
    let results = read(ground, text).expect("nothing is wrong");
    record_results(&mut ground.book, &results, &ground.stamp).expect("it is stored")
}

#[test]
fn what_says_otherwise_than_the_book_is_refused_at_its_cell() {
    let mut ground = ground();
    kept(&mut ground, "bag,pH,organic matter %,feel\nA,6.4,3.1,no ribbon\n");
    let refused =
        read(&ground, "bag,pH,organic matter %,feel\nA,5.2,2.0,1 in g\n").expect_err("it says otherwise");
    let mut told: Vec<(&str, &str)> =
        refused.iter().map(|one| (one.column_words.as_str(), one.refusal.given.as_str())).collect();
    told.sort_unstable();
    assert_eq!(told, [("Feel", "1 in g"), ("Organic matter %", "2.0"), ("pH", "5.2")]);
    for cell in &refused {
        assert!(cell.refusal.message.contains("second reading"), "{}", cell.refusal.message);
        // Page and command line tell it by this, in whichever units.
        for system in [UnitSystem::UsCustomary, UnitSystem::Metric] {
            assert!(may_be_second(&cell.refusal.clone().in_units(system)), "{cell:?}");
        }
    }
    let record = ground.book.snapshot().expect("a snapshot").observations[0].id.to_string();
    assert!(refused.iter().any(|cell| cell.refusal.message.contains(&record)), "{refused:?} {record}");
    let ph = refused.iter().find(|cell| cell.column_words == "pH").expect("its cell");
    assert!(ph.refusal.message.contains("6.4"), "{ph:?}");
    // Another laboratory reads a bag by itself.
    let snapshot = ground.book.snapshot().expect("a snapshot");
    let (columns, rows, _) = read_table("bag,pH\nA,5.2\n").expect("sound");
    let elsewhere = ResultsAbout { laboratory: "Millrace".to_owned(), ..about(ground.plot) };
    assert!(read_results(&snapshot, elsewhere, &columns, &rows).is_ok());
    // A second reading is kept beside the first, and after that both are known.
    let second = ResultsAbout { second_reading: true, ..about(ground.plot) };
    let results = read_results(&snapshot, second, &columns, &rows).expect("a second reading");
    let kept = record_results(&mut ground.book, &results, &ground.stamp).expect("it is stored");
    assert_eq!((kept.observations.len(), kept.known_already), (1, 0));
    let known = self::kept(&mut ground, "bag,pH\nA,5.2\n");
    assert_eq!((known.observations.len(), known.known_already), (0, 1));
}

#[test]
fn of_a_printout_only_what_is_new_is_stored() {
    let mut ground = ground();
    kept(&mut ground, "bag,pH\nA,6.4\n");
    let more = kept(&mut ground, "bag,pH,P (Mehlich-3) ppm\nA,6.4,52\n");
    assert_eq!(more.observations.len(), 1);
    let snapshot = ground.book.snapshot().expect("a snapshot");
    let held = snapshot.observation(more.observations[0]).expect("it is there");
    let Seen::LabReport(report) = &held.body.seen else { panic!("a printout") };
    assert_eq!(report.figures.len(), 1, "pH stands in the book once");
    let known = known_figures(&snapshot, held.body.sample, None, UnitSystem::Metric);
    let words: Vec<&str> = known.iter().map(|one| one.words.as_str()).collect();
    assert_eq!(words.len(), 2, "{words:?}");
    assert!(words[0].contains("6.4") && words[1].contains("52 ppm"), "{words:?}");
}
