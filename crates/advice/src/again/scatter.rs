//! How far one reading may be off: the figures that the rest of the advice goes by, one standard deviation each.

use book::Snapshot;
use book::model::Observation;
use book::model::seen::OrganicMatter;
use ground::fertility::analysis::report::Analyte;
use ground::structure::probe::transect::TransectOutput;
use ground::structure::spade::slake::SlakeOutput;
use ground::water::infiltration::ring::combine;

use crate::feeding::needs::composite_cv;
use crate::rings::{LONE_RING_FACTOR, RingSeen};
use crate::sampling;

/// z of a 90 % range.
pub(super) const Z_90: f64 = 1.645;
/// Two people score one block within half a class or so (judgement).
pub(super) const SCORE_OFF: f64 = 0.5;
/// The class of single crumbs strays by about one and a half (judgement), where they were not told one by one.
const CRUMB_OFF: f64 = 1.5;
/// Weather alone makes a yield differ by a quarter from year to year (judgement).
pub(super) const YIELD_CV: f64 = 0.25;

/// pH of a composite sample.
pub(super) fn ph(snapshot: &Snapshot, body: &Observation) -> f64 {
    sampling::ph_error(sampling::cores(snapshot, body))
}

/// Organic matter of a composite sample, percent.
pub(super) fn organic_matter(snapshot: &Snapshot, body: &Observation, found: &OrganicMatter) -> f64 {
    sampling::organic_matter_error(found, sampling::cores(snapshot, body))
}

/// A figure of a composite sample, as a share of it.
pub(super) fn figure(analyte: Analyte) -> f64 {
    composite_cv(analyte)
}

/// The depth of the pan's top, cm, from how far single pushes stray.
#[expect(clippy::cast_precision_loss, reason = "pushes by the dozen")]
pub(super) fn pan_top_cm(found: &TransectOutput) -> Option<f64> {
    let top = found.pan_top_cm?;
    let pushes = found.pushes.iter().filter(|push| push.pan.is_some()).count().max(1) as f64;
    // The median of a few strays a quarter more than their mean; a push is read to an inch or so.
    let one = ((top.high - top.low) / (2.0 * Z_90)).max(2.5);
    Some(1.25 * one / pushes.sqrt())
}

/// The share of pushes that are stopped, percent, from its interval.
pub(super) fn stopped_percent(found: &TransectOutput) -> f64 {
    ((found.stopped_high_percent - found.stopped_low_percent) / (2.0 * Z_90)).max(1.0)
}

/// The mean class of crumbs.
#[expect(clippy::cast_precision_loss, reason = "crumbs by the dozen")]
pub(super) fn slake(found: &SlakeOutput) -> f64 {
    let one = found.class_deviation.unwrap_or(CRUMB_OFF).max(0.3);
    one / (found.classes.len().max(1) as f64).sqrt()
}

/// The mean conductivity of the rings of one day, mm/h, and its error as a share of it.
pub(super) fn rings(seen: &[RingSeen]) -> Option<(f64, f64)> {
    let rates: Vec<f64> = seen.iter().map(|ring| ring.conductivity_mm_h).collect();
    let all = combine(&rates)?;
    let lone = libm::log(LONE_RING_FACTOR) / Z_90;
    #[expect(clippy::cast_precision_loss, reason = "a few rings")]
    let floor = 0.5 * lone / (rates.len() as f64).sqrt();
    Some((all.mean_mm_h, all.log_standard_error().map_or(lone, |error| error.max(floor))))
}

/// Worms of one block: counts stray as their root.
pub(super) fn worms(count: f64, per_ft3: f64) -> f64 {
    if count > 0.0 { per_ft3 / count.sqrt() } else { 1.0 }
}
