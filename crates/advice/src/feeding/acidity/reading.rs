//! What a soil test says of acidity.

use book::Snapshot;
use book::model::EntryId;
use ground::fertility::acidity::lime_kind::LimeKind;
use ground::fertility::acidity::{LimeFigures, sulfur};
use ground::fertility::analysis::in_ppm::ppm_factor;
use ground::fertility::analysis::report::{Analyte, FreeLime, LabReport, Procedure, ReportUnit};
use ground::kit::Bounded;
use jiff::civil::Date;
use serde::Serialize;

use crate::lab_rounds::{Round, lab_rounds};

/// The soil test that acidity is read from.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AcidTest {
    /// The record.
    pub id: EntryId,
    /// Its day.
    pub on: Date,
    /// Bags that its figures are means of.
    pub bags: usize,
    /// Who made it.
    pub laboratory: String,
    /// pH in water.
    pub ph_water: Option<f64>,
    /// pH in salt.
    pub ph_salt: Option<f64>,
    /// Each buffer with its pH, in words.
    pub buffers: Vec<String>,
    /// Does the soil hold free lime?
    pub free_lime: bool,
    /// Magnesium, ppm.
    pub magnesium_ppm: Option<f64>,
    /// Magnesium saturation, percent.
    pub magnesium_percent: Option<f64>,
    /// Exchange capacity, meq/100 g.
    pub capacity_meq_100_g: Option<f64>,
    /// Exchangeable sodium, percent, where it is told or can be worked out.
    pub sodium_percent: Option<f64>,
    /// Where that sodium figure is from.
    pub sodium_from: &'static str,
    /// The laboratory's own lime rates, as printed.
    pub lime_recommended: Vec<String>,
    /// What may mislead.
    pub remarks: Vec<String>,
    /// What lime methods read.
    #[serde(skip)]
    pub figures: LimeFigures,
}

/// The latest soil test that speaks of pH; else the latest at all.
pub(super) fn latest(snapshot: &Snapshot, plot: EntryId) -> Option<AcidTest> {
    let rounds = lab_rounds(snapshot, plot);
    let speaks = |round: &&Round<'_>| {
        round.report.first(Analyte::PhWater).is_some() || round.report.first(Analyte::PhSalt).is_some()
    };
    let round = rounds.iter().rev().find(speaks).or_else(|| rounds.last())?;
    Some(read(round))
}

fn exact(report: &LabReport, analyte: Analyte) -> Option<f64> {
    report.first(analyte)?.amount.exactly()
}

fn ppm(report: &LabReport, analyte: Analyte) -> Option<f64> {
    let figure = report.first(analyte)?;
    let depth = report.basis_depth_cm.map(Bounded::get);
    let (factor, _) = ppm_factor(figure, depth, report.density_g_cm3.map(Bounded::get))?;
    Some(factor * figure.amount.exactly()?)
}

fn meq(report: &LabReport, analyte: Analyte) -> Option<f64> {
    let figure = report.first(analyte)?;
    // A volume of soil is taken for its mass where the report gives no density.
    let by = match figure.unit {
        ReportUnit::MeqPer100Cm3 => 1.0 / report.density_g_cm3.map_or(1.0, Bounded::get),
        _ => 1.0,
    };
    Some(by * figure.amount.exactly()?)
}

fn read(round: &Round<'_>) -> AcidTest {
    let report: &LabReport = &round.report;
    let ph_water = exact(report, Analyte::PhWater);
    let ph_salt = exact(report, Analyte::PhSalt);
    let mut figures = LimeFigures {
        soil_ph: ph_water,
        acidity_meq_100_g: meq(report, Analyte::ExchangeableAcidity),
        capacity_meq_100_g: meq(report, Analyte::Cec),
        ..LimeFigures::default()
    };
    let (mut buffers, mut remarks) = (Vec::new(), Vec::new());
    for figure in report.of(Analyte::BufferPh) {
        let Some(value) = figure.amount.exactly() else { continue };
        let value = if figure.unit == ReportUnit::Index { value / 10.0 } else { value };
        match figure.procedure {
            Procedure::Smp => figures.smp = Some(value),
            Procedure::Sikora => figures.sikora = Some(value),
            Procedure::Mehlich => figures.mehlich = Some(value),
            Procedure::AdamsEvans | Procedure::ModifiedAdamsEvans | Procedure::MooreSikora => {
                figures.adams_evans = Some(value);
            }
            Procedure::NotStated => remarks.push(
                "The report gives a buffer pH but not which buffer: no lime method may read it. Ask the laboratory."
                    .to_owned(),
            ),
            other => remarks.push(format!(
                "No lime method here reads {}: the laboratory's own lime rate stands.",
                other.words()
            )),
        }
        buffers.push(format!("{} {}", figure.procedure.words(), ground::kit::quantity::number(value)));
    }
    figures.aluminium_morgan_ppm = report
        .by(Analyte::Aluminium, Procedure::ModifiedMorgan)
        .filter(|figure| figure.unit == ReportUnit::Ppm)
        .and_then(|figure| figure.amount.exactly());
    let free_lime = matches!(report.free_lime, Some(FreeLime::Slight | FreeLime::Strong))
        || exact(report, Analyte::Carbonate).is_some_and(|share| share > 0.5)
        || ph_water.is_some_and(|ph| ph > sulfur::FREE_LIME_ABOVE_PH);
    if free_lime && figures.capacity_meq_100_g.is_some() {
        remarks.push(
            "Free lime inflates the calcium of a report, and with it the exchange capacity and every saturation."
                .to_owned(),
        );
    }
    let magnesium_ppm = ppm(report, Analyte::Magnesium);
    let (sodium_percent, sodium_from) = super::sodium::percent(report, figures.capacity_meq_100_g);
    AcidTest {
        id: round.held.id,
        on: round.held.body.seen_on,
        bags: round.bags,
        laboratory: report.laboratory.clone(),
        ph_water,
        ph_salt,
        buffers,
        free_lime,
        magnesium_ppm,
        magnesium_percent: exact(report, Analyte::MagnesiumSaturation).or_else(|| {
            let share = 100.0 * magnesium_ppm? / 121.5 / figures.capacity_meq_100_g?;
            (share <= 100.0).then_some(share)
        }),
        capacity_meq_100_g: figures.capacity_meq_100_g,
        sodium_percent,
        sodium_from,
        lime_recommended: lime_recommended(report),
        remarks,
        figures,
    }
}

fn lime_recommended(report: &LabReport) -> Vec<String> {
    report
        .recommended
        .iter()
        .filter(|line| line.what == ground::fertility::analysis::report::RecommendedWhat::Lime)
        .map(|line| {
            let crop =
                if line.for_crop.is_empty() { String::new() } else { format!(" for {}", line.for_crop) };
            format!("{} {}{crop}", ground::kit::quantity::number(line.rate), line.unit.symbol())
        })
        .collect()
}

/// Which limestone.
pub(super) fn kind(test: &AcidTest) -> &'static str {
    LimeKind::of(test.magnesium_ppm, test.magnesium_percent).words()
}
