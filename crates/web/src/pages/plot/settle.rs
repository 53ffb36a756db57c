//! What would settle the open findings: measurements ranked by what they give for their cost.

use advice::PlotReport;
use book::Snapshot;
use serde::Serialize;

use crate::pages::farm::money;
use crate::parts::OddsLine;

/// One measurement.
#[derive(Serialize)]
pub(super) struct MeasureLine {
    pub(super) key: &'static str,
    pub(super) name: String,
    pub(super) how: &'static str,
    pub(super) minutes: f64,
    pub(super) money: String,
    /// Expected saving by deciding better.
    pub(super) gain: String,
    /// Findings it may settle, each with its chance.
    pub(super) settles: Vec<OddsLine>,
    /// Whether it is worth more than it costs.
    pub(super) pays: bool,
}

/// Findings named beside a measurement.
const NAMED: usize = 3;

/// The measurements, best for its cost first.
pub(super) fn lines(snapshot: &Snapshot, report: &PlotReport) -> Vec<MeasureLine> {
    let farm = &snapshot.farm.body;
    report
        .measurements
        .iter()
        // What can settle nothing is not worth a line.
        .filter(|one| !one.may_settle.is_empty())
        .map(|one| MeasureLine {
            key: one.key,
            name: crate::problem::capital(one.name),
            how: one.how,
            minutes: one.minutes,
            money: money(one.cost_money, farm),
            gain: if one.gain < 0.5 { "hardly anything".to_owned() } else { money(one.gain.round(), farm) },
            settles: one
                .may_settle
                .iter()
                .take(NAMED)
                .map(|may| OddsLine::new(may.title, may.chance))
                .collect(),
            pays: one.gain > one.cost,
        })
        .collect()
}
