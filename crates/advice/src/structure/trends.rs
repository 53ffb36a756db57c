//! What readings of the same kind say from year to year.

use std::collections::BTreeMap;

use book::Snapshot;
use book::model::{EntryId, Seen};
use ground::kit::Bounded;
use ground::structure::trend::{Direction, LEAST_YEARS, Trend, trend};
use serde::Serialize;

use super::readings::Readings;
use crate::lab_report;

/// A reading that is followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Followed {
    /// Depth at which the hard layer begins, cm.
    PanTop,
    /// Pushes that were stopped, percent.
    Stopped,
    /// Density of cores, g/cm³.
    Density,
    /// Score of the spade block.
    Score,
    /// Mean class of the slake test.
    Slake,
    /// Earthworms in a cubic foot.
    Worms,
    /// Organic matter, percent.
    OrganicMatter,
}

impl Followed {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::PanTop => "depth at which the hard layer begins",
            Self::Stopped => "share of pushes that are stopped",
            Self::Density => "density of the cores",
            Self::Score => "structure score (1 is best)",
            Self::Slake => "stability of crumbs in water",
            Self::Worms => "earthworms in the block",
            Self::OrganicMatter => "organic matter",
        }
    }

    /// Is a rise to the good?
    #[must_use]
    pub fn rise_is_good(self) -> bool {
        !matches!(self, Self::Stopped | Self::Density | Self::Score)
    }
}

/// Readings of one kind over the years.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrendTold {
    /// What is followed.
    pub what: Followed,
    /// The mean of each year.
    pub years: Vec<(i16, f64)>,
    /// The trend; none for fewer than four years.
    pub trend: Option<Trend>,
    /// Which way it goes.
    pub direction: Option<Direction>,
    /// Years still missing before anything can be said.
    pub years_missing: usize,
}

/// Every reading with two years or more.
#[must_use]
pub fn trends(snapshot: &Snapshot, plot: EntryId, readings: &Readings) -> Vec<TrendTold> {
    let mut years: BTreeMap<Followed, BTreeMap<i16, Vec<f64>>> = BTreeMap::new();
    let mut put = |what, year, value: f64| {
        years.entry(what).or_default().entry(year).or_default().push(value);
    };
    // Readings of dry ground and of wheel tracks do not compare.
    for one in readings.transects.iter().filter(|one| one.comparable && !one.tracks) {
        put(Followed::Stopped, one.on.year(), one.found.stopped_percent);
        if let Some(top) = one.found.pan_top_cm {
            put(Followed::PanTop, one.on.year(), top.median);
        }
    }
    for one in &readings.cores {
        put(Followed::Density, one.on.year(), one.mean_g_cm3);
    }
    for one in &readings.blocks {
        if let Some(score) = &one.score {
            put(Followed::Score, one.on.year(), score.score);
        }
        if let Some(worms) = &one.worms {
            put(Followed::Worms, one.on.year(), worms.per_ft3);
        }
    }
    for one in &readings.slakes {
        put(Followed::Slake, one.on.year(), one.found.mean_class);
    }
    for held in snapshot.evidence(plot) {
        let percent = match &held.body.seen {
            Seen::OrganicMatter(found) => Some(found.percent.get()),
            Seen::LabReport(report) => lab_report::organic_matter(report).map(|found| found.percent.get()),
            _ => None,
        };
        if let Some(percent) = percent {
            put(Followed::OrganicMatter, held.body.seen_on.year(), percent);
        }
    }
    years.into_iter().filter(|(_, years)| years.len() > 1).map(|(what, years)| told(what, years)).collect()
}

fn told(what: Followed, years: BTreeMap<i16, Vec<f64>>) -> TrendTold {
    let years: Vec<(i16, f64)> = years
        .into_iter()
        .map(|(year, values)| {
            #[expect(clippy::cast_precision_loss, reason = "a few readings")]
            let n = values.len() as f64;
            (year, values.iter().sum::<f64>() / n)
        })
        .collect();
    let points: Vec<(f64, f64)> = years.iter().map(|(year, value)| (f64::from(*year), *value)).collect();
    let trend = trend(&points);
    TrendTold {
        what,
        direction: trend.map(|trend| trend.direction()),
        trend,
        years_missing: LEAST_YEARS.saturating_sub(years.len()),
        years,
    }
}
