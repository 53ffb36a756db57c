//! Zones of a plot from the map of a property.

use book::model::EntryId;
use book::model::plan::Point;
use ground::spatial::zones::{ZoneWorth, cluster, outline, suggest, worth};
use serde::Serialize;

use super::MapReport;
use super::property::Property;

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
    /// Share of the map's variance between them.
    pub explained_of_map: f64,
    /// How they fare against one mean, by the readings left out in turn.
    pub worth: ZoneWorth,
}

/// The map of a plot in `count` zones. `None` without a surface of figures.
#[must_use]
pub fn zones(report: &MapReport, count: usize) -> Option<ZonesTold> {
    let plot = report.plot?;
    let surface = report.surface.as_ref().filter(|_| report.property != Property::Class)?;
    let map =
        surface.cells.with(surface.cells.cells.iter().map(|cell| cell.map(|cell| cell.value)).collect());
    let found = suggest(&map, count, cluster::USUAL_COMPACTNESS, SEED)?;
    let of_reading: Vec<(f64, usize)> = report
        .values
        .at_places
        .iter()
        .filter_map(|one| Some((one.value, found.of_cell.cells[found.of_cell.cell_of(one.at)?]?)))
        .collect();
    let (values, of): (Vec<f64>, Vec<usize>) = of_reading.into_iter().unzip();
    let worth = worth(&values, &of)?;
    let zones = found
        .means
        .iter()
        .zip(&found.areas_m2)
        .enumerate()
        .map(|(zone, (mean, area_m2))| {
            let (outer, holes) = outline(&found.of_cell, zone)?;
            Some(ZoneTold {
                number: zone + 1,
                mean: *mean,
                area_m2: *area_m2,
                outer,
                holes,
                readings: worth.readings.get(zone).copied().unwrap_or(0),
            })
        })
        .collect::<Option<Vec<_>>>()?;
    Some(ZonesTold {
        plot,
        plot_name: report.name.clone(),
        property: report.property,
        zones,
        explained_of_map: found.explained,
        worth,
    })
}

/// The number of zones by which readings left out are told best, more only where each takes away a twentieth more of the
/// squared error (our judgement); `None` where two are no better than one.
#[must_use]
pub fn suggested(report: &MapReport) -> Option<usize> {
    let mut best: Option<(usize, f64)> = None;
    for count in 2..=4 {
        let Some(told) = zones(report, count) else { continue };
        if told.worth.better_than_one && best.is_none_or(|best| told.worth.explained > best.1 + 0.05) {
            best = Some((count, told.worth.explained));
        }
    }
    best.map(|best| best.0)
}
