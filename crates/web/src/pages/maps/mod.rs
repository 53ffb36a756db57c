//! Maps of what varies: which property, its map over a plot or the farm, and zones of a plot.

mod choose;
mod show;
mod zones;

use advice::maps::{MapReport, Property, map_report_of};
use book::Snapshot;
use book::model::EntryId;
use std::sync::Arc;

use crate::ask::Ask;
use crate::form::Field;
use crate::problem::Problem;
use crate::route::Route;
use crate::when;

pub(crate) use show::{asked_plot, report_of};

/// Addresses of maps.
pub const ROUTES: &[Route] = &[
    Route::page(
        "/maps",
        "What can be mapped, and how many readings with a place there are of each",
        choose::show,
    ),
    Route::page(
        "/maps/{property}",
        "The map of a property: ?plot= a plot, the whole farm without",
        show::show,
    ),
    Route::page(
        "/maps/{property}/zones",
        "Zones of a plot from its map: ?plot= the plot, ?count= 2 to 4",
        zones::show,
    ),
    Route::save(
        "/maps/{property}/zones",
        "Makes plots of the zones, and moves the readings that lie in them",
        zones::FIELDS,
        zones::save,
    ),
    Route::save("/maps/join", "Joins the zones of a plot back to it", JOIN, zones::join),
];

const JOIN: &[Field] = &[Field::text("plot", "Plot that the zones were made from", "Its id")];

/// The property that an address names.
fn property(ask: &Ask) -> Result<Property, Problem> {
    Property::of_key(ask.param("property")).ok_or_else(|| {
        Problem::not_found(format!("Nothing that can be mapped is called {:?}.", ask.param("property")))
    })
}

/// The report, worked out anew only when the book changed.
fn reported(
    ask: &Ask,
    snapshot: &Snapshot,
    property: Property,
    plot: Option<EntryId>,
) -> Result<Arc<MapReport>, Problem> {
    let today = when::day_of(ask.stamp().at);
    let desk = ask.desk()?;
    // Lime hangs on the season, so the day is part of what was asked.
    let key = format!("map of {} on {plot:?}, {today}", property.key());
    let made = desk.derived(snapshot, &key, |snapshot| {
        let told = match plot {
            _ if !property.worked_out() => Vec::new(),
            Some(plot) => desk.told(snapshot, plot).into_iter().collect(),
            None => desk.told_all(snapshot),
        };
        let reports: Vec<_> = told.iter().map(|told| &told.report).collect();
        map_report_of(snapshot, property, plot, today, &reports).map(Arc::new)
    });
    (*made).clone().ok_or_else(|| Problem::not_found("This book has no such plot."))
}
