//! What a laboratory's printout says of a plot: every figure in several units and its class under the farm's
//! scheme, exchange capacity, cautions, and the laboratory's own recommendation beside.

pub mod cautions;
pub mod exchange;
pub mod figure;
pub mod tell;

use std::borrow::Cow;

use book::Snapshot;
use book::model::{EntryId, UnitSystem};
use ground::fertility::analysis::in_ppm::ppm_factor;
use ground::fertility::analysis::nitrate::nitrate_n_kg_ha;
use ground::fertility::analysis::report::{Analyte, LabRecommended, LabReport, RateUnit};
use ground::fertility::schemes::Scheme;
use ground::kit::Bounded;
use ground::kit::quantity::number;
use jiff::civil::Date;
use serde::Serialize;

pub use cautions::Caution;
pub use exchange::ExchangeRead;
pub use figure::{ClassRead, FigureRead};

use crate::lab_report::reports_of;
use crate::lab_rounds::{Round, lab_rounds};
use crate::words;

/// Density that nitrate is counted with where the report gives none, g/cm³.
const NITRATE_DENSITY_G_CM3: f64 = ground::fertility::analysis::nitrate::USUAL_DENSITY_G_CM3;

/// What the laboratory says of a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LabReading {
    /// The plot.
    pub plot: EntryId,
    /// Its name.
    pub plot_name: String,
    /// The scheme by which figures are classed.
    pub scheme: Option<SchemeRead>,
    /// A key that stands in the settings and names no scheme known here.
    pub unknown_scheme: Option<String>,
    /// The printout that is read.
    pub report: Option<ReportRead>,
    /// The other printouts of the plot, latest first.
    pub others: Vec<OtherReport>,
}

/// The farm's scheme.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct SchemeRead {
    /// Its key.
    pub key: &'static str,
    /// Its title.
    pub title: &'static str,
    /// Where it is meant for.
    pub region: &'static str,
    /// What of it is held here.
    pub says: &'static str,
}

/// Another printout of the plot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OtherReport {
    /// The record.
    pub id: EntryId,
    /// Its day.
    pub on: Date,
    /// "County laboratory, no. 12".
    pub from: String,
}

/// A printout as it is read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReportRead {
    /// The record.
    pub id: EntryId,
    /// Its day.
    pub on: Date,
    /// Who made it, and its number.
    pub from: String,
    /// Layer that was sampled, cm.
    pub sampled_cm: Option<[f64; 2]>,
    /// Label of the bag, of one.
    pub bag: String,
    /// Bags that the figures are means of.
    pub bags: usize,
    /// Depth that its amounts per area speak of.
    pub basis_depth_cm: Option<f64>,
    /// Every figure.
    pub figures: Vec<FigureRead>,
    /// Exchange capacity and base saturation.
    pub exchange: Option<ExchangeRead>,
    /// Nitrate in the sampled layer, kg N/ha.
    pub nitrate_kg_ha: Option<f64>,
    /// What the laboratory itself recommends.
    pub recommended: Vec<RecommendedRead>,
    /// Metals to be careful of.
    pub cautions: Vec<Caution>,
    /// What may mislead.
    pub remarks: Vec<String>,
}

/// A line of the laboratory's own recommendation.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RecommendedRead {
    /// Of what.
    pub what: &'static str,
    /// For which crop.
    pub for_crop: String,
    /// As printed: "1.5 ton/acre".
    pub printed: String,
    /// The same in what is carried to beds.
    pub carried: Vec<String>,
    /// The same, g/m².
    pub g_m2: f64,
}

/// The scheme that the farm has chosen.
#[must_use]
pub fn scheme_of(snapshot: &Snapshot) -> Option<Scheme> {
    Scheme::of_key(snapshot.farm.body.nutrient_scheme.as_deref()?)
}

/// What the laboratory says of a plot: the printout of that record, else the latest, or the mean of the bags of its day. `None` where the book has no
/// such plot.
#[must_use]
pub fn lab_reading(snapshot: &Snapshot, plot: EntryId, asked: Option<EntryId>) -> Option<LabReading> {
    let held = snapshot.plot(plot)?;
    let scheme = scheme_of(snapshot);
    let units = snapshot.farm.body.units;
    let reports = reports_of(snapshot, plot);
    let rounds = lab_rounds(snapshot, plot);
    let asked = asked.and_then(|id| reports.iter().find(|(held, _)| held.id == id));
    let shown = match asked {
        Some((held, report)) => Some(Round { held, report: Cow::Borrowed(*report), bags: 1 }),
        None => rounds.last().cloned(),
    };
    // Of a mean of several bags every printout can be looked at.
    let one = shown.as_ref().filter(|round| round.bags == 1).map(|round| round.held.id);
    let others = reports
        .iter()
        .filter(|(held, _)| Some(held.id) != one)
        .map(|(held, report)| OtherReport { id: held.id, on: held.body.seen_on, from: from(report) })
        .collect();
    Some(LabReading {
        plot,
        plot_name: held.body.name.clone(),
        scheme: scheme.map(|scheme| SchemeRead {
            key: scheme.key(),
            title: scheme.title(),
            region: scheme.region(),
            says: scheme.says(),
        }),
        unknown_scheme: snapshot.farm.body.nutrient_scheme.clone().filter(|_| scheme.is_none()),
        report: shown.map(|round| report_read(snapshot, scheme, &round, units)),
        others,
    })
}

fn from(report: &LabReport) -> String {
    let name = if report.laboratory.trim().is_empty() { "a laboratory" } else { report.laboratory.trim() };
    if report.number.trim().is_empty() {
        name.to_owned()
    } else {
        format!("{name}, no. {}", report.number.trim())
    }
}

fn report_read(
    snapshot: &Snapshot,
    scheme: Option<Scheme>,
    round: &Round<'_>,
    units: UnitSystem,
) -> ReportRead {
    let (held, report): (_, &LabReport) = (round.held, &round.report);
    let sample = held.body.sample.and_then(|id| snapshot.sample(id));
    let sampled_cm = sample.map(|sample| [sample.body.from_cm.get(), sample.body.to_cm.get()]);
    let thickness = sampled_cm.map(|[from, to]| to - from);
    ReportRead {
        id: held.id,
        on: held.body.seen_on,
        from: format!("{}{}", from(report), round.of_bags()),
        sampled_cm,
        bag: sample
            .filter(|_| round.bags == 1)
            .map(|sample| sample.body.bag_label.clone())
            .unwrap_or_default(),
        bags: round.bags,
        basis_depth_cm: report.basis_depth_cm.map(Bounded::get),
        figures: report
            .figures
            .iter()
            .map(|one| figure::read(scheme, report, one, thickness, units))
            .collect(),
        exchange: exchange::read(report),
        nitrate_kg_ha: nitrate(report, thickness),
        recommended: report.recommended.iter().map(|line| recommended(line, units)).collect(),
        cautions: cautions::metals(report),
        remarks: cautions::remarks(report, thickness, units),
    }
}

/// Nitrate nitrogen in the sampled layer.
fn nitrate(report: &LabReport, thickness_cm: Option<f64>) -> Option<f64> {
    let figure = report.first(Analyte::NitrateN)?;
    let (depth, density) = (report.basis_depth_cm.map(Bounded::get), report.density_g_cm3.map(Bounded::get));
    let ppm = figure.amount.exactly()? * ppm_factor(figure, depth, density)?.0;
    Some(nitrate_n_kg_ha(ppm, thickness_cm.or(depth)?, density.unwrap_or(NITRATE_DENSITY_G_CM3)))
}

fn recommended(line: &LabRecommended, units: UnitSystem) -> RecommendedRead {
    let g_m2 = line.rate * line.unit.g_m2();
    let carried: &[RateUnit] = match units {
        UnitSystem::UsCustomary => &[RateUnit::LbPer1000Ft2, RateUnit::LbPer100Ft2],
        UnitSystem::Metric => &[RateUnit::KgPerHa, RateUnit::GPerM2],
    };
    RecommendedRead {
        what: line.what.words(),
        for_crop: line.for_crop.clone(),
        printed: format!("{} {}", number(line.rate), line.unit.symbol()),
        carried: carried
            .iter()
            .filter(|unit| **unit != line.unit)
            .map(|unit| format!("{} {}", words::short(g_m2 / unit.g_m2()), unit.symbol()))
            .collect(),
        g_m2,
    }
}
