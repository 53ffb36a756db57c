//! The latest laboratory figure of a nutrient on a plot, with how far it may be off, as draws.

use book::Snapshot;
use book::model::EntryId;
use ground::fertility::analysis::report::{Amount, Analyte, LabFigure, LabReport};
use ground::fertility::schemes::{ClassFound, Interpretation, Scheme, interpret_in};
use ground::kit::chance::{Chance, Fingerprint};
use jiff::civil::Date;
use serde::Serialize;

use crate::lab_rounds::{decimals, lab_rounds};

/// Draws of a need.
pub const NEED_DRAWS: usize = 200;

/// Coefficient of variation of a composite sample with its analysis (our judgement; duplicate cores and
/// proficiency rounds lie between a tenth and a quarter).
pub(crate) fn composite_cv(analyte: Analyte) -> f64 {
    match analyte {
        Analyte::Phosphorus => 0.15,
        Analyte::Potassium => 0.12,
        Analyte::NitrateN => 0.20,
        _ => 0.12,
    }
}

/// A nutrient on a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SoilTest {
    /// What.
    pub analyte: Analyte,
    /// The record it stands in.
    pub record: EntryId,
    /// The day of the report.
    pub on: Date,
    /// As printed.
    pub printed: String,
    /// Its class under the farm's scheme, or why there is none.
    pub reading: Interpretation,
    /// Classes it may lie in, likeliest first, with their odds.
    pub odds: Vec<(String, f64)>,
    /// The class of each draw.
    #[serde(skip)]
    pub draws: Vec<Option<ClassFound>>,
}

/// The latest figure of a nutrient under a scheme, that the scheme has classes for where there is one.
#[must_use]
pub fn soil_test(snapshot: &Snapshot, plot: EntryId, scheme: Scheme, analyte: Analyte) -> Option<SoilTest> {
    let mut found: Option<SoilTest> = None;
    for round in lab_rounds(snapshot, plot) {
        let report: &LabReport = &round.report;
        for figure in report.of(analyte) {
            let reading = interpret_in(scheme, report, figure);
            // A later figure without a class does not hide an earlier one that has one.
            if reading.class().is_none() && found.as_ref().is_some_and(|one| one.reading.class().is_some()) {
                continue;
            }
            found = Some(SoilTest {
                analyte,
                record: round.held.id,
                on: round.held.body.seen_on,
                printed: format!(
                    "{}{}",
                    format!("{} {}", figure.amount.words(), figure.unit.symbol()).trim(),
                    round.of_bags()
                ),
                draws: draws(scheme, report, figure, reading.class()),
                odds: Vec::new(),
                reading,
            });
        }
    }
    found.map(|mut test| {
        test.odds = odds(&test.draws);
        test
    })
}

fn draws(
    scheme: Scheme,
    report: &LabReport,
    figure: &LabFigure,
    class: Option<&ClassFound>,
) -> Vec<Option<ClassFound>> {
    let Some(class) = class else { return Vec::new() };
    let Some(value) = figure.amount.exactly() else { return vec![Some(class.clone()); NEED_DRAWS] };
    let mut print = Fingerprint::new();
    print.bytes(figure.analyte.words().as_bytes());
    print.number(value);
    let mut chance = Chance::new(print.finish());
    let cv = composite_cv(figure.analyte);
    let half_unit = half_unit(value);
    (0..NEED_DRAWS)
        .map(|_| {
            let rounded = half_unit * (2.0 * chance.uniform() - 1.0);
            let drawn = ((value + rounded) * libm::exp(cv * chance.normal())).max(0.0);
            let figure = LabFigure { amount: Amount::Exactly(drawn), ..*figure };
            interpret_in(scheme, report, &figure).class().cloned()
        })
        .collect()
}

/// Half a unit of the last digit that a figure is printed with.
fn half_unit(value: f64) -> f64 {
    0.5 * libm::pow(10.0, -f64::from(decimals(value)))
}

fn odds(draws: &[Option<ClassFound>]) -> Vec<(String, f64)> {
    let mut counts: Vec<(String, f64)> = Vec::new();
    #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
    let each = 1.0 / draws.len().max(1) as f64;
    for class in draws.iter().flatten() {
        match counts.iter_mut().find(|(name, _)| *name == class.class) {
            Some((_, odds)) => *odds += each,
            None => counts.push((class.class.clone(), each)),
        }
    }
    counts.sort_by(|a, b| b.1.total_cmp(&a.1));
    counts
}
