//! Sodium on a soil test, and whether gypsum would do anything.

use book::Snapshot;
use book::model::EntryId;
use ground::fertility::acidity::gypsum::{CrumbInRainWater, NO_GYPSUM, calls_for_gypsum, gypsum_kg_m2};
use ground::fertility::acidity::sodium::{SodiumStanding, WATCH_FROM_PERCENT, exchangeable_sodium_percent};
use ground::fertility::analysis::in_ppm::ppm_factor;
use ground::fertility::analysis::report::{Analyte, LabReport};
use ground::kit::Bounded;
use serde::Serialize;

use super::reading::AcidTest;

/// Layer that a gypsum rate is told for, cm, its density, and what the exchange takes beyond the sodium.
const LAYER: (f64, f64, f64) = (15.0, 1.3, 1.2);

/// What sodium says.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SodiumTold {
    /// Exchangeable sodium, percent.
    pub sodium_percent: f64,
    /// Where that is from.
    pub from: &'static str,
    /// How it stands.
    pub standing: SodiumStanding,
    /// Pure gypsum for six inches, kg/m², where it is called for and the exchange capacity is known.
    pub gypsum_kg_m2: Option<f64>,
    /// What to do, in a sentence or two.
    pub says: String,
}

/// Exchangeable sodium of a report, percent, with where it is from.
pub(super) fn percent(report: &LabReport, capacity_meq_100_g: Option<f64>) -> (Option<f64>, &'static str) {
    let exact = |analyte: Analyte| report.first(analyte)?.amount.exactly();
    if let Some(share) = exact(Analyte::SodiumSaturation) {
        return (Some(share), "the report's sodium saturation");
    }
    if let Some(ratio) = exact(Analyte::SodiumAdsorptionRatio) {
        return (Some(exchangeable_sodium_percent(ratio)), "the sodium adsorption ratio");
    }
    let from_ppm = || {
        let figure = report.first(Analyte::Sodium)?;
        let depth = report.basis_depth_cm.map(Bounded::get);
        let (factor, _) = ppm_factor(figure, depth, report.density_g_cm3.map(Bounded::get))?;
        let share = 100.0 * factor * figure.amount.exactly()? / 230.0 / capacity_meq_100_g?;
        (share <= 100.0).then_some(share)
    };
    (from_ppm(), "the report's sodium over its exchange capacity")
}

/// Exchangeable sodium of the latest soil test of a plot that tells it, percent.
#[must_use]
pub fn exchangeable_sodium(snapshot: &Snapshot, plot: EntryId) -> Option<f64> {
    super::reading::latest(snapshot, plot)?.sodium_percent
}

pub(super) fn told(test: &AcidTest) -> Option<SodiumTold> {
    let sodium_percent = test.sodium_percent?;
    let standing = SodiumStanding::of(sodium_percent, None);
    let called = calls_for_gypsum(sodium_percent, CrumbInRainWater::NotTried);
    let (depth, density, factor) = LAYER;
    let gypsum_kg_m2 = test
        .capacity_meq_100_g
        .filter(|_| called)
        .map(|capacity| gypsum_kg_m2(depth, density, capacity, sodium_percent, WATCH_FROM_PERCENT, factor));
    let says = match standing {
        SodiumStanding::None => NO_GYPSUM.to_owned(),
        SodiumStanding::Watch => {
            "Drop a dry crumb in rain water and look after 2 to 24 hours. If the water goes cloudy, gypsum helps; if it stays clear, it does nothing.".to_owned()
        }
        SodiumStanding::Sodic | SodiumStanding::SalineSodic => {
            "Gypsum replaces the sodium, once the ground can drain and there is water to wash it down; before that it does nothing. Ask an adviser first: what is washed out goes to ditches and wells.".to_owned()
        }
    };
    Some(SodiumTold { sodium_percent, from: test.sodium_from, standing, gypsum_kg_m2, says })
}
