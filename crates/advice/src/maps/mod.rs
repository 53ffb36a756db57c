//! Maps of what varies over the farm: what may honestly be shown of a property, and why.

mod accept;
mod parts;
pub mod property;
pub mod surface;
pub mod tell;
pub mod values;

use book::Snapshot;
use book::model::EntryId;
use ground::kit::Spread;
use ground::kit::quantiles::student_within;
use ground::spatial::limits::Shown;
use jiff::civil::Date;
use serde::Serialize;

pub use accept::{accept, back_to_one, zone_plots};
pub use parts::{ZoneTold, ZonesTold, suggested, zones};
pub use property::Property;
pub use surface::{CellValue, NoSurface, Surface};
pub use values::{SpotValue, Values};

use crate::plan::FarmPlan;
use surface::Ground;

/// The mean of a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlotMean {
    /// The plot.
    pub plot: EntryId,
    /// Its name.
    pub name: String,
    /// Readings behind it.
    pub readings: usize,
    /// How many of them have a place.
    pub at_places: usize,
    /// Their mean.
    pub mean: f64,
    /// The mean with its 90 % range; none for a single reading.
    pub spread: Option<Spread>,
    /// Day of the latest.
    pub latest_on: Date,
}

/// What can be said of a property over a plot or the farm.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MapReport {
    /// The property.
    pub property: Property,
    /// The plot; none for the whole farm.
    pub plot: Option<EntryId>,
    /// Name of the plot, or of the farm.
    pub name: String,
    /// The readings.
    #[serde(flatten)]
    pub values: Values,
    /// Readings without a place.
    pub without_place: usize,
    /// Means of the plots that have a reading.
    pub means: Vec<PlotMean>,
    /// What the number of readings allows on this plot; points alone for the farm.
    pub allowed: Shown,
    /// What is shown.
    pub shown: Shown,
    /// The surface, where one is shown.
    pub surface: Option<Surface>,
    /// Why none is.
    pub no_surface: Option<NoSurface>,
    /// Day of the latest reading.
    pub latest_on: Option<Date>,
}

/// The map of a property: of one plot, with a surface where there may be one, or of the whole farm. `None` for a plot that
/// is not in the book.
#[must_use]
pub fn map_report(snapshot: &Snapshot, property: Property, plot: Option<EntryId>) -> Option<MapReport> {
    let plan = FarmPlan::of(snapshot);
    let plots: Vec<EntryId> = match plot {
        Some(plot) => vec![snapshot.plot(plot)?.id],
        None => snapshot.plots.iter().map(|plot| plot.id).collect(),
    };
    let name = match plot {
        Some(plot) => snapshot.plot(plot)?.body.name.clone(),
        None => snapshot.farm.body.name.clone(),
    };
    let values = Values::of(snapshot, &plan, property, &plots);
    let means = plots.iter().filter_map(|plot| mean(snapshot, &values, *plot)).collect();
    let allowed = if plot.is_some() { Shown::of(values.at_places.len()) } else { Shown::PointsOnly };
    let made = plot.map(|plot| {
        let ground = Ground { area: plan.area_of(plot) };
        surface::surface(property, &values.at_places, &ground)
    });
    let (surface, no_surface) = match made {
        Some(Ok(surface)) => (Some(surface), None),
        Some(Err(why)) => (None, Some(why)),
        None => (None, None),
    };
    let latest_on =
        values.at_places.iter().map(|one| one.seen_on).chain(values.elsewhere.iter().map(|one| one.1)).max();
    Some(MapReport {
        property,
        plot,
        name,
        without_place: values.elsewhere.len(),
        means,
        allowed,
        shown: if surface.is_some() { allowed } else { Shown::PointsOnly },
        surface,
        no_surface,
        latest_on,
        values,
    })
}

/// All readings of a plot; the range is Student's.
fn mean(snapshot: &Snapshot, values: &Values, plot: EntryId) -> Option<PlotMean> {
    let placed = values.at_places.iter().filter(|one| one.plot == plot).map(|one| (one.seen_on, one.value));
    let other = values.elsewhere.iter().filter(|one| one.0 == plot).map(|one| (one.1, one.2));
    let at_places = placed.clone().count();
    let all: Vec<(Date, f64)> = placed.chain(other).collect();
    let latest_on = all.iter().map(|one| one.0).max()?;
    #[expect(clippy::cast_precision_loss, reason = "readings by the dozen")]
    let n = all.len() as f64;
    let mean = all.iter().map(|one| one.1).sum::<f64>() / n;
    let spread = (all.len() > 1).then(|| {
        let square = all.iter().map(|one| (one.1 - mean) * (one.1 - mean)).sum::<f64>() / (n - 1.0);
        let reach = student_within(0.9, n - 1.0) * (square / n).sqrt();
        Spread { low: mean - reach, median: mean, high: mean + reach }
    });
    Some(PlotMean {
        plot,
        name: snapshot.plot(plot)?.body.name.clone(),
        readings: all.len(),
        at_places,
        mean,
        spread,
        latest_on,
    })
}

/// How many readings of each property there are, for choosing one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Mappable {
    /// The property.
    pub property: Property,
    /// As a heading.
    pub title: String,
    /// Readings with a place.
    pub at_places: usize,
    /// Readings without.
    pub without_place: usize,
    /// Plots with readings at places: plot, name, how many.
    pub plots: Vec<(EntryId, String, usize)>,
}

/// The properties that have a reading.
#[must_use]
pub fn mappable(snapshot: &Snapshot) -> Vec<Mappable> {
    let plan = FarmPlan::of(snapshot);
    let plots: Vec<EntryId> = snapshot.plots.iter().map(|plot| plot.id).collect();
    Property::all()
        .filter_map(|property| {
            let values = Values::of(snapshot, &plan, property, &plots);
            if values.at_places.is_empty() && values.elsewhere.is_empty() {
                return None;
            }
            let of_plots = snapshot
                .plots
                .iter()
                .map(|plot| {
                    let count = values.at_places.iter().filter(|one| one.plot == plot.id).count();
                    (plot.id, plot.body.name.clone(), count)
                })
                .filter(|one| one.2 > 0)
                .collect();
            Some(Mappable {
                property,
                title: property.title(),
                at_places: values.at_places.len(),
                without_place: values.elsewhere.len(),
                plots: of_plots,
            })
        })
        .collect()
}
