//! Zones of a plot from the map of a property.

use book::model::EntryId;
use book::model::plan::Point;
use ground::spatial::outline::Area;
use ground::spatial::plane;
use ground::spatial::zones::{TOLERANCE_CELLS, ZoneWorth, cluster, suggest, worth, zone_areas};
use serde::Serialize;

use super::MapReport;
use super::property::Property;
use crate::plan::FarmPlan;

/// Readings that each zone has to hold before zones are proposed: the mean of fewer strays too far (our judgement).
pub(super) const READINGS_A_ZONE: usize = 4;
/// Seed of the grouping, so that the same map gives the same zones.
const SEED: u64 = 6;

/// A zone.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ZoneTold {
    /// Its number, from the lowest mean.
    pub number: usize,
    /// Mean of the map in it.
    pub mean: f64,
    /// Its area.
    pub area_m2: f64,
    /// Its outline, metres east and north.
    pub outer: Vec<Point>,
    /// What is cut out of it.
    pub holes: Vec<Vec<Point>>,
    /// Readings that lie in it.
    pub readings: usize,
}

/// Zones of a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ZonesTold {
    /// The plot.
    pub plot: EntryId,
    /// Its name.
    pub plot_name: String,
    /// What the zones are made by.
    pub property: Property,
    /// The zones.
    pub zones: Vec<ZoneTold>,
    /// Borders between them are straightened by no more than this, m.
    pub border_within_m: f64,
    /// Share of the map's variance between them.
    pub explained_of_map: f64,
    /// How they fare against one mean, by the readings left out in turn.
    pub worth: ZoneWorth,
}

/// The map of a plot in `count` zones that part all of its outline: ground that the map leaves blank goes with the zone next to
/// it. `None` without a surface of figures.
#[must_use]
pub fn zones(report: &MapReport, plan: &FarmPlan, count: usize) -> Option<ZonesTold> {
    let plot = report.plot?;
    let surface = report.surface.as_ref().filter(|_| report.property != Property::Class)?;
    let map =
        surface.cells.with(surface.cells.cells.iter().map(|cell| cell.map(|cell| cell.value)).collect());
    let found = suggest(&map, count, cluster::USUAL_COMPACTNESS, SEED)?;
    let outline =
        plan.area_of(plot).map(|(outer, holes)| Area { outer: outer.to_vec(), holes: holes.to_vec() });
    let areas = zone_areas(&found.of_cell, found.means.len(), outline.as_ref())?;
    let within = |at: Point| areas.iter().position(|area| plane::encloses(&area.outer, &area.holes, at));
    let (values, of): (Vec<f64>, Vec<usize>) =
        report.values.at_places.iter().filter_map(|one| Some((one.value, within(one.at)?))).unzip();
    let worth = worth(&values, &of)?;
    let zones = found
        .means
        .iter()
        .zip(&areas)
        .enumerate()
        .map(|(zone, (mean, area))| ZoneTold {
            number: zone + 1,
            mean: *mean,
            area_m2: area.area_m2(),
            outer: area.outer.clone(),
            holes: area.holes.clone(),
            readings: worth.readings.get(zone).copied().unwrap_or(0),
        })
        .collect();
    Some(ZonesTold {
        plot,
        plot_name: report.name.clone(),
        property: report.property,
        zones,
        explained_of_map: found.explained,
        border_within_m: TOLERANCE_CELLS * surface.cells.cell_m,
        worth,
    })
}

/// The number of zones by which readings left out are told best, more only where each takes away a twentieth more of the
/// squared error, and none with a zone of fewer than four readings (our judgement); `None` where two are no better than one.
#[must_use]
pub fn suggested(report: &MapReport, plan: &FarmPlan) -> Option<usize> {
    let mut best: Option<(usize, f64)> = None;
    for count in 2..=4 {
        let Some(told) = zones(report, plan, count) else { continue };
        let held = told.zones.iter().all(|zone| zone.readings >= READINGS_A_ZONE);
        if held && told.worth.better_than_one && best.is_none_or(|best| told.worth.explained > best.1 + 0.05)
        {
            best = Some((count, told.worth.explained));
        }
    }
    best.map(|best| best.0)
}
