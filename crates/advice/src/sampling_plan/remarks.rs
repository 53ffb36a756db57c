//! What should be known of the points of a plan, kept or not.

use book::Snapshot;
use book::model::{EntryId, Frame, SamplingPlan, UnitSystem};
use ground::kit::{Bounded, Provenance};
use ground::spatial::sampling::protocol::protocol;

use super::tell::layer_between;
use super::{situation, wanted};
use crate::plan::FarmPlan;

/// A plot that is drawn in several pieces is sampled on the largest alone.
pub(super) fn pieces(farm: &FarmPlan, plot: EntryId) -> Option<String> {
    let pieces = farm.pieces_of(plot).count();
    (pieces > 1).then(|| {
        format!(
            "The plot is drawn in {pieces} pieces, and only the largest is sampled here. Make each of the others a plot of its own to sample it too."
        )
    })
}

/// What goes with a kept plan.
pub(super) fn of_kept(
    snapshot: &Snapshot,
    farm: &FarmPlan,
    plan: &SamplingPlan,
    units: UnitSystem,
) -> Vec<String> {
    let mut said = Vec::new();
    if plan.frame != Frame::PlotCorner {
        said.extend(pieces(farm, plan.plot));
    }
    let Some(plot) = snapshot.plot(plan.plot) else { return said };
    let layers = protocol(situation(&plot.body), wanted(plan.purpose));
    let same = |one: f64, other: f64| (one - other).abs() < 0.05;
    let this = layers
        .iter()
        .position(|row| same(row.from_cm, plan.from_cm.get()) && same(row.to_cm, plan.to_cm.get()));
    let Some(this) = this else { return said };
    let row = layers[this];
    let own = if row.provenance == Provenance::Read { "" } else { " (common practice)" };
    said.push(format!("Where and how deep: {}{own}.", row.why.replacen(": ", "; ", 1)));
    let others: Vec<String> = layers
        .iter()
        .enumerate()
        .filter(|(at, _)| *at != this)
        .map(|(_, row)| layer_between(row.from_cm, row.to_cm, units))
        .collect();
    if !others.is_empty() {
        said.push(format!(
            "Layer {} of {}, from the top. The layer of {} comes from the same holes and goes into bags of its own, with a plan and labels of their own.",
            this + 1,
            layers.len(),
            others.join(" and that of ")
        ));
    }
    said
}
