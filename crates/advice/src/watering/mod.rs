//! The water of beds: what a bed lacks this morning, whether to water today and for how long, the week ahead, and
//! which beds of the farm can run together.
//!
//! [`FarmWeather`] is made once for a farm and a day; [`bed_water`] runs one bed through its season with the
//! belief about its plot and gives everything a page shows; [`water_today`] gathers the beds. Nothing here reads a
//! clock: the caller says which day it is.

mod advise;
mod bed;
mod draws;
mod farm;
mod growth;
mod hardware;
mod intake;
mod known_days;
mod looks;
mod place;
mod reckon;
mod salts;
mod season;
mod soil;
mod tell;
mod usual;
mod weather;
mod working;

#[cfg(test)]
mod tests;

use book::Snapshot;
use book::model::Plot;
use jiff::ToSpan;
use jiff::civil::Date;

pub use advise::{Advice, Call, Missed, OUTLOOK_D, OutlookDay, RunAdvice, timer};
pub use bed::{BedWater, CropNow, SeasonTotals, WateringLine, bed_water};
pub use farm::{BedLine, RunSet, SupplyToday, WaterToday, water_today};
pub use intake::Intake;
pub use looks::Look;
pub use place::{Wanted, WantedKind};
pub use salts::SaltAdvice;
pub use season::{SeasonDay, Start};
pub use tell::weekday;
pub(crate) use usual::RAIN_COUNTS;
pub use usual::{season_irrigation_mm, usual_water};
pub use weather::{DaySource, DayWeather, FarmWeather};

/// Draws of soil and weather that a bed is run with.
pub const DRAWS: usize = 300;
/// Days of bare ground before planting that a bed in the open is run through.
const LEAD_D: i64 = 30;

/// What goes with watering, whatever the numbers say.
pub const CAUTIONS: &[&str] = &[
    "A hose, tank or fertiliser feed joined to drinking water needs a backflow preventer, or dirty water can be drawn back into the taps: local plumbing codes say which kind, and a licensed plumber fits it.",
];

/// The first day of weather that the beds of a farm need: a month before the earliest standing planting, at
/// least a fortnight and at most a year back.
#[must_use]
pub fn first_day(snapshot: &Snapshot, today: Date) -> Date {
    let planted = snapshot.plantings.iter().filter(|held| held.body.stood_on(today));
    let earliest = planted.map(|held| held.body.planted_on).min().unwrap_or(today);
    let earliest = earliest.min(today.saturating_sub(14.days()));
    earliest.saturating_sub(LEAD_D.days()).max(today.saturating_sub(365.days()))
}

/// What the cover of a plot likely leaves of evapotranspiration; 1 in the open.
pub(crate) fn cover_factor(plot: &Plot) -> f64 {
    place::Under::of(plot).factor.map_or(1.0, |known| known.likely)
}

/// The weather of a farm from [`first_day`] to the end of the week ahead.
#[must_use]
pub fn farm_weather(snapshot: &Snapshot, today: Date) -> FarmWeather {
    #[expect(clippy::cast_possible_wrap, reason = "a week")]
    let last = today.saturating_add((OUTLOOK_D as i64 - 1).days());
    FarmWeather::of(snapshot, first_day(snapshot, today), last, DRAWS)
}
