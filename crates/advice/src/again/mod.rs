//! Looking again: what readings say over the years, what changed in how they were made, what a job did, and when to
//! look next.
//!
//! [`plot_again`] gathers every reading of a plot, cuts each series where laboratory, procedure or depth changed,
//! and tells steps and trends from scatter by the figures the rest of the advice goes by. [`visits`] says which walk
//! is due when; the work plan takes its jobs from it. Nothing here reads a clock.

pub mod effects;
pub mod gather;
pub mod next;
pub mod property;
mod scatter;
pub mod series;
pub mod tell;

use book::Snapshot;
use book::model::EntryId;
use jiff::civil::Date;
use serde::Serialize;

use effects::{Effect, Neighbour, done_on, effects};
use gather::{Shelf, Wanted, gather};
pub use next::{Look, Visit};
pub use property::{Property, Walk};
pub use series::{Series, Step, Strand};

/// What the page rests on.
const RESTS_ON: &[&str] = &[
    "Trends: the rank test of Mann and Kendall and the slope of Theil and Sen, shown where chance would do as much less than one time in twenty, which takes five years at least.",
    "Two results differ where they lie further apart than scatter brings two readings of unchanged ground nineteen times in twenty.",
    "The scatter of a bag and of the laboratory on it is our judgement, the same as where needs and the make-up are drawn. What a laboratory does alike every year drops out of a step, so that the true limit may be somewhat smaller.",
    "A series is cut where laboratory, procedure or depth changed; month and cores are told and do not cut it (judgement). What was made alike is put together again, whatever was read in between.",
    "Readings with less than 60 days between them are no change over time but stand side by side (judgement).",
    "Nitrate goes up and down with weeks and rain, so only readings of the same quarter of the year are put together (judgement); when to read it hangs on the crop and not on a round of years.",
    "A look that was missed moves to the same season of the next year, unless lime is waited for: then it can be made at once.",
    "What comes by itself: regression to the mean, from the farm's plots read about the same time; with few plots the spread between them is hardly known.",
    "When to look again: three years in the field (RB209 asks for three to five), yearly under cover; the other intervals are common practice, no source.",
];

/// What a plot says over the years.
#[derive(Debug, Clone, Serialize)]
pub struct PlotAgain {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// The day it was told for.
    #[serde(serialize_with = "day")]
    pub today: Date,
    /// Every property that was read, with its cuts, steps and trends.
    pub series: Vec<Series>,
    /// What was done, with what was read before and after.
    pub effects: Vec<Effect>,
    /// When to look next.
    pub visits: Vec<Visit>,
    /// What it rests on.
    pub rests_on: &'static [&'static str],
}

/// When to look next on every plot.
#[derive(Debug, Clone, Serialize)]
pub struct FarmAgain {
    /// The day it was told for.
    #[serde(serialize_with = "day")]
    pub today: Date,
    /// The walks, the soonest first.
    pub visits: Vec<Visit>,
}

fn day<S: serde::Serializer>(date: &Date, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(date)
}

fn all_series(shelf: Shelf) -> Vec<Series> {
    shelf.into_iter().filter_map(|(followed, readings)| Series::of(followed, readings)).collect()
}

/// What a plot says over the years; `None` where the book has no such plot.
#[must_use]
pub fn plot_again(snapshot: &Snapshot, plot: EntryId, today: Date) -> Option<PlotAgain> {
    let held = snapshot.plot(plot)?;
    let series = all_series(gather(snapshot, plot, Wanted::All(today)));
    let done = done_on(snapshot, plot);
    let others: Vec<Neighbour> = if done.is_empty() {
        Vec::new()
    } else {
        let others = snapshot.plots.iter().filter(|other| other.id != plot);
        others
            .map(|other| Neighbour {
                name: other.body.name.clone(),
                shelf: gather(snapshot, other.id, Wanted::Walks),
                done: done_on(snapshot, other.id),
            })
            .collect()
    };
    Some(PlotAgain {
        id: plot,
        name: held.body.name.clone(),
        today,
        effects: effects(&series, &done, &others),
        visits: next::visits(snapshot, plot, &held.body, &series, today),
        series,
        rests_on: RESTS_ON,
    })
}

/// What structure and organic matter say over the years, of what was read in two years or more.
#[must_use]
pub fn structure_years(snapshot: &Snapshot, plot: EntryId) -> Vec<Series> {
    let years = |series: &Series| {
        let first = series.readings.first().map(|reading| reading.on.year());
        series.readings.iter().any(|reading| Some(reading.on.year()) != first)
    };
    all_series(gather(snapshot, plot, Wanted::Structure)).into_iter().filter(years).collect()
}

/// The walks on a plot, the soonest first.
#[must_use]
pub fn visits(snapshot: &Snapshot, plot: EntryId, today: Date) -> Vec<Visit> {
    let Some(held) = snapshot.plot(plot) else { return Vec::new() };
    let series = all_series(gather(snapshot, plot, Wanted::Walks));
    next::visits(snapshot, plot, &held.body, &series, today)
}

/// When to look next on every plot of the farm.
#[must_use]
pub fn farm_again(snapshot: &Snapshot, today: Date) -> FarmAgain {
    let mut all: Vec<Visit> =
        snapshot.plots.iter().flat_map(|plot| visits(snapshot, plot.id, today)).collect();
    all.sort_by(|one, other| one.from.cmp(&other.from).then_with(|| one.plot_name.cmp(&other.plot_name)));
    FarmAgain { today, visits: all }
}
