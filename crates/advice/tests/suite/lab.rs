//! What the laboratory says of a plot, by the demonstration and by reports made here.

use advice::evidence::Evidence;
use advice::farm_jars::FarmJars;
use advice::feeding::lab::{lab_reading, tell};
use advice::lab_report;
use book::model::seen::{OrganicMatter, OrganicMatterPercent};
use book::model::{Observation, Plot, Seen, UnitSystem};
use book::{Book, Stamp};
use ground::fertility::analysis::report::{
    Amount, Analyte, BasisDepth, LabFigure, LabReport, Procedure, ReportUnit,
};
use ground::kit::Bounded;
use jiff::Timestamp;
use jiff::civil::{Date, date};
use serde_json::json;

use crate::yard::Yard;

fn stamp(second: i64) -> Stamp {
    Stamp::new(Timestamp::new(1_770_000_000 + second, 0).expect("a moment"), "Ada")
}

fn book() -> (tempfile::TempDir, Book, book::EntryId) {
    let folder = tempfile::tempdir().expect("a folder");
    let farm = book::model::Farm {
        nutrient_scheme: Some("rutgers_m3".to_owned()),
        ..book::model::Farm::named("Long Furrow Farm", UnitSystem::UsCustomary)
    };
    let mut book = Book::create(folder.path().join("t.farmbook"), farm, &stamp(0)).expect("a book");
    let plot: Plot = serde_json::from_value(json!({
        "name": "Lower field", "place": "open_field", "shape": { "kind": "area", "area_m2": 500.0 }
    }))
    .expect("a plot");
    let plot = book.record(plot, &stamp(1)).expect("recorded").id;
    (folder, book, plot)
}

fn figure(analyte: Analyte, procedure: Procedure, unit: ReportUnit, amount: Amount) -> LabFigure {
    LabFigure { analyte, procedure, unit, amount }
}

fn see(book: &mut Book, plot: book::EntryId, on: Date, seen: Seen, second: i64) {
    let observation = Observation {
        plot,
        sample: None,
        seen_on: on,
        seen_by: String::new(),
        note: String::new(),
        import: None,
        spot: None,
        seen,
    };
    book.record(observation, &stamp(second)).expect("recorded");
}

#[test]
fn the_demonstration_has_an_acid_plot_and_a_tunnel_rich_in_phosphorus() {
    let snapshot = Yard::demo().snapshot();
    let read = |name: &str| {
        let plot = snapshot.plot_named(name).expect("a plot").id;
        lab_reading(&snapshot, plot, None).expect("a reading").report.expect("a report")
    };
    let tunnel = read("East tunnel");
    let phosphorus =
        tunnel.figures.iter().find(|one| one.analyte == Analyte::Phosphorus).expect("phosphorus");
    assert_eq!(phosphorus.class.as_ref().map(|class| class.class.as_str()), Some("very high"));
    // Its limits are recalled, and the page says so.
    assert!(phosphorus.class.as_ref().is_some_and(|class| class.unsure.is_some()));
    assert!(tunnel.nitrate_kg_ha.is_some());

    let knoll = read("Sand knoll");
    let boron = knoll.figures.iter().find(|one| one.analyte == Analyte::Boron).expect("boron");
    assert_eq!(boron.printed, "< 0.2 ppm");
    assert!(knoll.cautions[0].lines[0].contains("130 ppm"), "{:?}", knoll.cautions);
    assert!(knoll.cautions[0].lines.iter().any(|line| line.contains("No level of lead is free of risk")));
    let sum = knoll.exchange.as_ref().and_then(|exchange| exchange.summed).expect("a sum");
    // Adams-Evans: 8 x (8.00 - 7.70) meq/100 g of acidity.
    assert!((sum.acidity_meq_100_g - 2.4).abs() < 1e-9 && sum.holds);
    assert_eq!(knoll.recommended.len(), 3);
    // 1.5 ton/acre on 1000 ft²: 3000 lb / 43.56 = 68.9 lb.
    assert_eq!(knoll.recommended[0].carried[0], "69 lb/1000 ft²");
}

#[test]
fn pounds_an_acre_are_told_in_ppm_and_an_extractant_without_a_scheme_says_so() {
    let (_folder, mut book, plot) = book();
    let mut report = LabReport::new("County laboratory");
    report.basis_depth_cm = Some(BasisDepth::literal(17.0));
    report.figures = vec![
        figure(Analyte::Phosphorus, Procedure::Mehlich3Icp, ReportUnit::LbPerAcre, Amount::Exactly(60.0)),
        figure(Analyte::Potassium, Procedure::Olsen, ReportUnit::Ppm, Amount::Exactly(80.0)),
        figure(Analyte::Lead, Procedure::ModifiedMorgan, ReportUnit::Ppm, Amount::Exactly(22.0)),
        figure(Analyte::PhWater, Procedure::NotStated, ReportUnit::None, Amount::Exactly(7.6)),
    ];
    see(&mut book, plot, date(2026, 4, 1), Seen::LabReport(report), 2);
    let snapshot = book.snapshot().expect("read");
    let reading = lab_reading(&snapshot, plot, None).expect("a reading");
    let report = reading.report.as_ref().expect("a report");
    // Ohio State University: 60 lb/acre of phosphorus are 30 ppm.
    assert_eq!(report.figures[0].in_farm_units[0], "30 ppm");
    assert_eq!(report.figures[0].class.as_ref().map(|class| class.class.as_str()), Some("medium"));
    assert!(report.figures[1].class.is_none());
    assert!(
        tell::class(&report.figures[1]).contains("cannot stand for"),
        "{}",
        tell::class(&report.figures[1])
    );
    // An extract is never read as a total.
    assert!(report.cautions[0].lines[0].contains("cannot be read"), "{:?}", report.cautions);
    // Above pH 7.2 a sum would be swollen by free lime.
    assert!(!report.exchange.as_ref().expect("exchange").holds);
}

#[test]
fn organic_matter_of_a_report_counts_once() {
    let (_folder, mut book, plot) = book();
    let percent = |value| OrganicMatterPercent::literal(value);
    let mut report = LabReport::new("County laboratory");
    report.figures = vec![
        figure(Analyte::OrganicMatter, Procedure::LossOnIgnition, ReportUnit::Percent, Amount::Exactly(3.0)),
        figure(Analyte::Ec, Procedure::Ec1To2, ReportUnit::DsPerM, Amount::Exactly(0.4)),
    ];
    see(&mut book, plot, date(2026, 4, 1), Seen::LabReport(report), 2);
    let beside = |book: &Book| {
        let snapshot = book.snapshot().expect("read");
        let evidence = Evidence::of(&snapshot, plot, &FarmJars::of(&snapshot));
        (evidence.beside, evidence.exhibits)
    };
    let (alone, exhibits) = beside(&book);
    assert_eq!(alone.organic_matter_percent.map(|known| known.likely), Some(3.0));
    assert!(alone.ec_ds_m.is_some() && exhibits[0].used, "{exhibits:?}");

    // The same figure written down by itself, for the same day: that one counts, and the spread stays the same.
    let seen = Seen::OrganicMatter(OrganicMatter { percent: percent(3.0), method: lab_report_method() });
    see(&mut book, plot, date(2026, 4, 1), seen, 3);
    let (both, _) = beside(&book);
    assert_eq!(both.organic_matter_percent, alone.organic_matter_percent);
}

fn lab_report_method() -> Option<book::model::seen::OrganicMatterMethod> {
    let mut report = LabReport::new("");
    report.figures = vec![figure(
        Analyte::OrganicMatter,
        Procedure::LossOnIgnition,
        ReportUnit::Percent,
        Amount::Exactly(3.0),
    )];
    lab_report::organic_matter(&report).and_then(|found| found.method)
}
