//! The water of one plot: what its ground holds, how it takes water, where water stands, what to do, salts, and
//! a watering followed down into it.

mod pictures;
mod view;

use std::sync::Arc;

use advice::water::{PlotWater, Wetting, WhatIf, plot_water, wetting};
use askama::Template;
use book::model::EntryId;
use serde::{Serialize, Serializer};

use crate::ask::Ask;
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::when;
use view::View;

/// Addresses of a plot's water.
pub const ROUTES: &[Route] = &[Route::page(
    "/plots/{plot}/water",
    "The water of a plot, and a watering followed into it: ?what_if=organic-matter, loosened, no-stones or pulsed",
    show,
)];

#[derive(Template, Serialize)]
#[template(path = "plot_water.html")]
struct WaterPage {
    #[serde(skip)]
    shell: Shell,
    id: EntryId,
    name: String,
    /// Everything but the watering; nothing where no ground here holds water.
    #[serde(serialize_with = "inside")]
    water: Option<Arc<PlotWater>>,
    /// The watering that was followed.
    #[serde(serialize_with = "inside")]
    wetting: Option<Arc<Wetting>>,
    #[serde(skip)]
    view: Option<View>,
    /// A change that was asked for and is not known.
    #[serde(skip)]
    unknown: Option<String>,
}

fn inside<T: Serialize, S: Serializer>(kept: &Option<Arc<T>>, serializer: S) -> Result<S::Ok, S::Error> {
    kept.as_deref().serialize(serializer)
}

fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let told = desk
        .told(&snapshot, plot.id)
        .ok_or_else(|| Problem::not_found("The report on this plot could not be made."))?;
    let today = when::day_of(ask.stamp().at);
    let asked = ask.query.text("what_if").filter(|key| !key.is_empty());
    let what_if = asked.map_or(Some(WhatIf::default()), WhatIf::of_key);
    let key = format!("water of {} on {today}", plot.id);
    let water =
        desk.derived(&snapshot, &key, |snapshot| plot_water(snapshot, &told.report, today).map(Arc::new));
    let water = (*water).clone().filter(|water| water.known);
    let wetting = water.as_ref().and_then(|water| {
        let what_if = what_if.unwrap_or_default();
        let key = format!("watering of {} {}", plot.id, what_if.key());
        (*desk.derived(&snapshot, &key, |snapshot| wetting(snapshot, water, what_if).map(Arc::new))).clone()
    });
    let units = ask.units();
    Shown::page(WaterPage {
        shell: ask.shell(Section::Farm, format!("Water, {}", plot.body.name)),
        id: plot.id,
        name: plot.body.name.clone(),
        view: water
            .as_ref()
            .map(|water| View::of(water, wetting.as_deref(), what_if.unwrap_or_default(), units)),
        water,
        wetting,
        unknown: asked.filter(|_| what_if.is_none()).map(str::to_owned),
    })
}
