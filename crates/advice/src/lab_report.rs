//! What a laboratory's printout says of organic matter and salts, as the readings that other advice knows.

use book::model::seen::{
    ElectricalConductivity, OrganicMatter, OrganicMatterMethod, OrganicMatterPercent, Salinity,
    SalinityExtract,
};
use book::model::{EntryId, Observation, Seen};
use book::{Held, Snapshot};
use ground::fertility::analysis::report::{Analyte, LabReport, Procedure};
use ground::kit::Bounded;

/// Organic matter over organic carbon (common practice).
const MATTER_PER_CARBON: f64 = 1.72;

/// Organic matter on a printout; from carbon where only that was measured. A figure below what can be told
/// is none.
#[must_use]
pub fn organic_matter(report: &LabReport) -> Option<OrganicMatter> {
    let (figure, factor) = match report.first(Analyte::OrganicMatter) {
        Some(figure) => (figure, 1.0),
        None => (report.first(Analyte::OrganicCarbon)?, MATTER_PER_CARBON),
    };
    let percent = OrganicMatterPercent::new(factor * figure.amount.exactly()?).ok()?;
    let method = match figure.procedure {
        Procedure::LossOnIgnition => Some(OrganicMatterMethod::LossOnIgnition),
        Procedure::WalkleyBlack => Some(OrganicMatterMethod::WetOxidation),
        Procedure::DryCombustion => Some(OrganicMatterMethod::DryCombustion),
        _ => None,
    };
    Some(OrganicMatter { percent, method })
}

/// Salts on a printout.
#[must_use]
pub fn salinity(report: &LabReport) -> Option<Salinity> {
    let figure = report.first(Analyte::Ec)?;
    let ec_ds_m = ElectricalConductivity::new(figure.amount.exactly()?).ok()?;
    let extract = match figure.procedure {
        Procedure::EcPaste => SalinityExtract::SaturatedPaste,
        Procedure::Ec1To1 => SalinityExtract::OneToOne,
        Procedure::Ec1To2 => SalinityExtract::OneToTwo,
        Procedure::Ec1To5 => SalinityExtract::OneToFive,
        _ => SalinityExtract::NotStated,
    };
    Some(Salinity { ec_ds_m, extract })
}

/// The salts that an observation tells, by itself or on a printout.
#[must_use]
pub fn salts_seen(body: &Observation) -> Option<Salinity> {
    match &body.seen {
        Seen::Salinity(salts) => Some(*salts),
        Seen::LabReport(report) => salinity(report),
        _ => None,
    }
}

/// Is the same thing of the same soil written down by itself too? Then the printout's figure is left, so that
/// one measurement counts once.
#[must_use]
pub fn told_by_itself(snapshot: &Snapshot, plot: EntryId, body: &Observation, is: fn(&Seen) -> bool) -> bool {
    snapshot.evidence(plot).any(|other| {
        is(&other.body.seen) && other.body.seen_on == body.seen_on && other.body.sample == body.sample
    })
}

/// The printouts of a plot, latest first: by the day, and among those of one day the one first written last.
#[must_use]
pub fn reports_of(snapshot: &Snapshot, plot: EntryId) -> Vec<(&Held<Observation>, &LabReport)> {
    let mut reports: Vec<_> = snapshot.lab_reports_on(plot).collect();
    reports.reverse();
    reports
}
