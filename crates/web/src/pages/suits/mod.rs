//! What suits where: crops against plots, the best place for one crop, what suits one plot.

mod best;
mod on_plot;
mod table;

use std::sync::Arc;

use advice::suits::{Against, Measure, PlotPlace, Settle, Standing, places, tell};
use book::Snapshot;
use book::model::EntryId;
use ground::kit::units::{UnitSystem, in_units};

use crate::desk::Desk;
use crate::parts::Firmness;
use crate::reports::Told;
use crate::route::Route;

/// Addresses of what suits where.
pub const ROUTES: &[Route] = &[
    Route::page(
        "/suits",
        "What suits where: crops against plots; ?show=grown for those the farm grows, ?plot= for one plot",
        table::show,
    ),
    Route::page("/suits/{crop}", "The best place for a crop, with what it would take elsewhere", best::show),
    Route::page("/plots/{plot}/suits", "What suits one plot, and what the others would take", on_plot::show),
];

/// A crop on a plot, ready to read.
struct StandingView {
    id: String,
    plot: EntryId,
    crop: String,
    /// The plot or the crop, as the page needs it.
    name: String,
    grown: bool,
    short: String,
    odds: String,
    firmness: Firmness,
    speaks_for: Vec<String>,
    against: Vec<Against>,
    measures: Vec<Measure>,
    settles: Vec<Settle>,
    cautions: Vec<String>,
}

impl StandingView {
    fn of(one: &Standing, name: &str, id: String, grown: bool, units: UnitSystem) -> Self {
        let mut cautions: Vec<&str> = Vec::new();
        for caution in one.measures.iter().flat_map(|measure| &measure.cautions) {
            if !cautions.contains(caution) {
                cautions.push(caution);
            }
        }
        Self {
            id,
            plot: one.cell.plot,
            crop: one.crop.clone(),
            name: name.to_owned(),
            grown,
            short: tell::in_short(&one.cell),
            odds: advice::words::odds(one.cell.odds),
            firmness: one.cell.firmness.into(),
            speaks_for: one.speaks_for.clone(),
            against: one.speaks_against.clone(),
            measures: one.measures.clone(),
            settles: one.settles.clone(),
            cautions: cautions.iter().map(|caution| in_units(caution, units)).collect(),
        }
    }
}

/// The plots as crops see them, with their reports; worked out once until the book changes.
fn places_of(desk: &Desk, snapshot: &Snapshot) -> (Arc<Vec<PlotPlace>>, Vec<Arc<Told>>) {
    let told = desk.told_all(snapshot);
    let kept = desk.derived(snapshot, "plots as crops see them", |snapshot| {
        places(snapshot, told.iter().map(|told| &told.report))
    });
    (kept, told)
}

/// The report behind a place.
fn report_of(told: &[Arc<Told>], place: &PlotPlace) -> Option<Arc<Told>> {
    told.iter().find(|told| told.report.id == place.id).cloned()
}
