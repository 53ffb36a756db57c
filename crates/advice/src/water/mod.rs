//! The water of a plot: what its ground holds, how it takes water, where water stands and how to lead it away,
//! salts, and a watering followed down into it.
//!
//! [`plot_water`] gives everything that a page or the command line shows; [`wetting`] follows a watering, which
//! takes longer and is asked for by itself. Both work over [`DRAWS`] equally likely draws of the plot's report
//! and read no clock.

mod drainage;
mod intake;
mod profile;
mod retention;
mod salts;
mod soils;
pub mod tell;
mod tunnel;
mod wetting;
mod whatif;

use book::Snapshot;
use book::model::EntryId;
use ground::kit::Bounded;
use jiff::civil::Date;
use serde::Serialize;

use crate::facts::SeenSign;
use crate::plot_report::{PlotReport, signs_of_plot};

pub use drainage::{
    AIRED_ROOTS_CM, BedHeight, DrainAdvice, Drainage, HIGHEST_BED_CM, LOOK, Reason, sentence, signs_of,
};
pub(crate) use intake::tighter_from_cm;
pub use intake::{GroupOdds, HoleSeen, Intake, SHOWERS_MM, Shower, SprinklerLimit, sprinklers_mm_h};
pub use profile::{BedHolds, Holds, LayerWater};
pub use retention::HeldAt;
pub use salts::{
    CropAtSalts, SaltReading, Salts, SupplySalts, Washing, WaterHazard, latest_reading, supplies,
};
pub use soils::{DRAWS, LayerDraws, Soils};
pub use tunnel::Tunnel;
pub use wetting::{Followed, Moment, RunLayer, WORTH_NOTING, Wetting};
pub use whatif::WhatIf;

/// Provenance of what the page rests on, in words.
const RESTS_ON: &[&str] = &[
    "What the ground holds and conducts: Saxton and Rawls (2006), over everything the ground may be, counting how far real soils stray (recalled and judged).",
    "Water that stands in a shower: Green and Ampt's wetting front at half the saturated conductivity, as air is shut in behind it; even ground, no crust, no cracks.",
    "Greatest sprinkler rates: the sprinkler handbook's table (recalled), halved on bare ground (common practice).",
    "Where water stands: the signs you recorded, weighed by common practice put in order by our judgement; they are no odds.",
    "Days to drain: drainage alone, without a crop; good to a factor of a few.",
];

/// Everything there is to say about the water of one plot, but for the watering that is followed.
#[derive(Debug, Clone, Serialize)]
pub struct PlotWater {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// Does any evidence speak of its make-up or layers?
    pub known: bool,
    /// What it holds.
    pub holds: Holds,
    /// How it takes water.
    pub intake: Intake,
    /// Where water stands and how it leaves.
    pub drainage: Drainage,
    /// Salts.
    pub salts: Salts,
    /// The retention curve of the top.
    pub curve: Vec<HeldAt>,
    /// Depth to which somebody looked, cm.
    pub seen_to_cm: Option<f64>,
    /// What should be known of it.
    pub notes: Vec<String>,
    /// What it rests on.
    pub rests_on: &'static [&'static str],
    /// The draws, for a watering to be followed.
    #[serde(skip)]
    pub soils: Soils,
}

/// The water of a plot; `None` where the book has no such plot, or nothing in its ground holds water.
#[must_use]
pub fn plot_water(snapshot: &Snapshot, report: &PlotReport, today: Date) -> Option<PlotWater> {
    let plot = snapshot.plot(report.id)?;
    let soils = Soils::of(snapshot, report)?;
    let root_depth_cm = report.root_depth_cm;
    let given = plot.body.root_depth_cm.is_some();
    let holds = profile::holds(snapshot, report.id, &soils, root_depth_cm, given)?;
    let seen: Vec<SeenSign> = signs_of_plot(snapshot, report.id);
    let tighter = intake::tighter_from_cm(&soils);
    let judged = ground::water::drainage::water_table::judge(&signs_of(&seen, tighter), root_depth_cm);
    let surface = intake::Surface::of(seen.iter().map(|one| one.sign), judged.wet_from_cm);
    let slope = plot.body.slope_percent.map(Bounded::get);
    let intake = intake::intake(snapshot, report.id, &soils, slope, &surface);
    let drainage =
        drainage::drainage(snapshot.farm.body.units, &soils, &seen, tighter, surface.floor_cm, root_depth_cm);
    Some(PlotWater {
        id: report.id,
        name: report.name.clone(),
        known: report.make_up_known || soils.layers.iter().any(|layer| layer.own),
        intake,
        drainage,
        salts: salts::salts(snapshot, plot, &soils, root_depth_cm, today),
        curve: retention::curve(soils.top()),
        seen_to_cm: soils.seen_to_cm,
        notes: soils.notes.clone(),
        rests_on: RESTS_ON,
        holds,
        soils,
    })
}

/// A watering followed into the ground of a plot, as it is and with one change.
#[must_use]
pub fn wetting(snapshot: &Snapshot, water: &PlotWater, what_if: WhatIf) -> Option<Wetting> {
    wetting::wetting(
        snapshot,
        water.id,
        &water.soils,
        water.holds.usable_mm.median,
        water.holds.root_depth_cm,
        what_if,
    )
}
