//! Five years of soil tests on the creek field: another laboratory at first, then the same one every spring.

use book::model::{EntryId, Observation, Sample, SampleDepth, Seen};
use book::{Book, Result, Stamp};
use ground::fertility::analysis::report::{Amount, Analyte, LabFigure, LabReport, Procedure, ReportUnit};
use ground::kit::{Bounded, Refusal};
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Years back, laboratory, number, pH, phosphorus, potassium and organic matter; the first laboratory reads a
/// sourer pH and burns off more.
const TESTS: [(i64, &str, &str, [f64; 4]); 5] = [
    (5, "Weir House soil laboratory", "88-0117", [5.3, 31.0, 64.0, 2.6]),
    (4, "Millrace soil laboratory", "1702", [5.7, 19.0, 58.0, 1.9]),
    (3, "Millrace soil laboratory", "2390", [5.8, 20.0, 52.0, 2.0]),
    (2, "Millrace soil laboratory", "3121", [5.9, 22.0, 55.0, 2.2]),
    (1, "Millrace soil laboratory", "3867", [6.0, 21.0, 50.0, 2.3]),
];
/// Days before this year's bag, on which the bags of the years before were filled.
const FILLED_BACK: i64 = 66;
/// Days that the laboratory took.
const TOOK: i64 = 8;

/// Writes them down.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    let missing = || Refusal::new("plot", "the demonstration has no creek field");
    let plot: EntryId = book.snapshot()?.plot_named("Creek field").map(|held| held.id).ok_or_else(missing)?;
    for (back, laboratory, number, [ph, phosphorus, potassium, organic]) in TESTS {
        let taken_on = today.saturating_sub(back.years()).saturating_sub(FILLED_BACK.days());
        let sample = Sample {
            plot,
            taken_on,
            from_cm: SampleDepth::literal(0.0),
            to_cm: SampleDepth::literal(17.0),
            cores: Some(if back == 3 { 6 } else { 18 }),
            taken_by: "Mab".to_owned(),
            bag_label: format!("C-{:02}", taken_on.year() % 100),
            import: None,
            spot: None,
            note: String::new(),
        };
        let sample = book.record(sample, &stamp(taken_on)?)?.id;
        let figure = |analyte, procedure, unit, value| LabFigure {
            analyte,
            procedure,
            unit,
            amount: Amount::Exactly(value),
        };
        let report = LabReport {
            number: number.to_owned(),
            figures: vec![
                figure(Analyte::PhWater, Procedure::NotStated, ReportUnit::None, ph),
                figure(Analyte::Phosphorus, Procedure::Mehlich1, ReportUnit::Ppm, phosphorus),
                figure(Analyte::Potassium, Procedure::Mehlich1, ReportUnit::Ppm, potassium),
                figure(Analyte::OrganicMatter, Procedure::LossOnIgnition, ReportUnit::Percent, organic),
            ],
            ..LabReport::new(laboratory)
        };
        let seen_on = taken_on.saturating_add(TOOK.days());
        let body = Observation {
            plot,
            sample: Some(sample),
            seen_on,
            seen_by: "Laboratory".to_owned(),
            note: String::new(),
            import: None,
            spot: None,
            seen: Seen::LabReport(report),
        };
        book.record(body, &stamp(seen_on)?)?;
    }
    Ok(())
}

fn stamp(day: Date) -> Result<Stamp> {
    let at = TimeZone::UTC.to_timestamp(day.at(8, 0, 0, 0)).map_err(|error| {
        Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
    })?;
    Ok(Stamp::new(at, "Mab"))
}
