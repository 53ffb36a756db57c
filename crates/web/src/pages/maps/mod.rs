//! Maps of what varies: which property, its map over a plot or the farm, and zones of a plot.

mod choose;
mod show;
mod zones;

use advice::maps::{MapReport, Property, map_report};
use book::Snapshot;
use book::model::EntryId;
use std::sync::Arc;

use crate::ask::Ask;
use crate::form::Field;
use crate::problem::Problem;
use crate::route::Route;

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
    let key = format!("map of {} on {plot:?}", property.key());
    let made =
        ask.desk()?.derived(snapshot, &key, |snapshot| map_report(snapshot, property, plot).map(Arc::new));
    (*made).clone().ok_or_else(|| Problem::not_found("This book has no such plot."))
}
