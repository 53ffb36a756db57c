//! Maps of what varies over the farm: what may honestly be shown of a property, and why.

mod accept;
mod parts;
mod parts_told;
mod plots;
pub mod property;
pub mod spot;
pub mod surface;
pub mod tell;
pub mod values;

use book::model::{EntryId, Plot};
use book::{Held, Snapshot};
use ground::spatial::limits::Shown;
use jiff::civil::Date;
use serde::Serialize;

pub use accept::{accept, back_to_one, is_of_parting, not_parted};
pub use parts::{ZoneTold, ZonesTold, suggested, zones};
pub use plots::{PlotFigure, PlotTold};
pub use property::Property;
pub use surface::{CellValue, NoSurface, Surface};
pub use values::{SpotValue, Values};

use crate::farm_jars::FarmJars;
use crate::plan::FarmPlan;
use crate::plot_report::{Options, PlotReport, plot_report_with};
use surface::Ground;

/// What can be said of a property over a plot or the farm.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MapReport {
    /// The property.
    pub property: Property,
    /// The plot; none for the whole farm.
    pub plot: Option<EntryId>,
    /// Name of the plot, or of the farm.
    pub name: String,
    /// Names of the zones that the plot was parted into.
    pub zones: Vec<String>,
    /// The readings.
    #[serde(flatten)]
    pub values: Values,
    /// Readings without a place.
    pub without_place: usize,
    /// What each plot is told to be as a whole.
    pub plots: Vec<PlotTold>,
    /// Plots of the map of the farm that are not drawn on its plan.
    pub not_drawn: Vec<String>,
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
pub fn map_report(
    snapshot: &Snapshot,
    property: Property,
    plot: Option<EntryId>,
    today: Date,
) -> Option<MapReport> {
    let jars = FarmJars::of(snapshot);
    let options = Options { weigh_measurements: false, ..Options::default() };
    let reports: Vec<PlotReport> = plots_of(snapshot, plot)?
        .into_iter()
        .filter(|_| property.worked_out())
        .map(|plot| plot_report_with(snapshot, plot, &jars, &options))
        .collect();
    map_report_of(snapshot, property, plot, today, &reports.iter().collect::<Vec<_>>())
}

/// The same for a caller that holds the reports of the plots; they are needed where a plot's figure is worked out.
#[must_use]
pub fn map_report_of(
    snapshot: &Snapshot,
    property: Property,
    plot: Option<EntryId>,
    today: Date,
    reports: &[&PlotReport],
) -> Option<MapReport> {
    let plan = FarmPlan::of(snapshot);
    let held = plots_of(snapshot, plot)?;
    let name = match plot {
        Some(plot) => snapshot.plot(plot)?.body.name.clone(),
        None => snapshot.farm.body.name.clone(),
    };
    let ids: Vec<EntryId> = held.iter().map(|plot| plot.id).collect();
    let values = Values::of(snapshot, &plan, property, &ids);
    let plots = held
        .iter()
        .map(|held| {
            let report = reports.iter().copied().find(|report| report.id == held.id);
            plots::told(snapshot, held, property, &values, report, today)
        })
        .collect();
    let not_drawn = held
        .iter()
        .filter(|held| plot.is_none() && plan.area_of(held.id).is_none())
        .map(|held| held.body.name.clone())
        .collect();
    let allowed = if plot.is_some() { Shown::of(values.at_places.len()) } else { Shown::PointsOnly };
    let made = plot.map(|plot| {
        if property.of_plots_alone() {
            return Err(NoSurface::OfThePlot);
        }
        if values.without > 0 {
            return Err(NoSurface::NotEverywhere);
        }
        let ground = Ground { area: plan.area_of(plot) };
        surface::surface(property, values.scale, &values.at_places, &ground)
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
        zones: plot.map_or_else(Vec::new, |plot| {
            snapshot.zones_of(plot).map(|zone| zone.body.name.clone()).collect()
        }),
        name,
        without_place: values.elsewhere.len(),
        plots,
        not_drawn,
        allowed,
        shown: if surface.is_some() { allowed } else { Shown::PointsOnly },
        surface,
        no_surface,
        latest_on,
        values,
    })
}

fn plots_of(snapshot: &Snapshot, plot: Option<EntryId>) -> Option<Vec<&Held<Plot>>> {
    match plot {
        Some(plot) => Some(vec![snapshot.plot(plot)?]),
        None => Some(snapshot.plots.iter().collect()),
    }
}

/// How many readings of each property there are, for choosing one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Mappable {
    /// The property.
    pub property: Property,
    /// As a heading.
    pub title: String,
    /// Is it worked out for plots as a whole?
    pub worked_out: bool,
    /// Readings with a place.
    pub at_places: usize,
    /// Readings without.
    pub without_place: usize,
    /// Plots with readings at places: plot, name, how many.
    pub plots: Vec<(EntryId, String, usize)>,
}

/// The properties that have a reading, and those that are worked out for plots as a whole.
#[must_use]
pub fn mappable(snapshot: &Snapshot) -> Vec<Mappable> {
    let plan = FarmPlan::of(snapshot);
    let plots: Vec<EntryId> = snapshot.plots.iter().map(|plot| plot.id).collect();
    Property::all()
        .filter_map(|property| {
            let values = Values::of(snapshot, &plan, property, &plots);
            if values.at_places.is_empty() && values.elsewhere.is_empty() && !property.of_plots_alone() {
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
                worked_out: property.of_plots_alone(),
                property,
                title: property.title(),
                at_places: values.at_places.len(),
                without_place: values.elsewhere.len(),
                plots: of_plots,
            })
        })
        .collect()
}
