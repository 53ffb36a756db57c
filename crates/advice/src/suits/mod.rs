//! What suits where: the crops of the catalogue against the plots of the farm.
//!
//! Each crop is put to every possible make-up of a plot ([`ground::siting`]); the verdict is the one that most of them
//! give, with its odds. What was never looked at holds nothing against a crop, but no verdict is firm while it may
//! overturn it. [`table`] is the whole farm, [`best_place`] one crop, [`on_plot`] one plot.

mod cell;
mod detail;
mod measures;
mod place;
mod rows;
pub mod tell;

use book::Snapshot;
use book::model::{EntryId, Place, UnitSystem};
use ground::siting::warmth::COVER_WARMS_C;
use ground::siting::{SiteNeeds, Verdict};
use serde::Serialize;

use crate::PlotReport;
use crate::words;

pub use cell::Cell;
pub use detail::Against;
pub use measures::Measure;
pub use place::{PlotPlace, Unknown};
pub use rows::{CropRow, crops};

/// What the page rests on.
const RESTS_ON: &[&str] = &[
    "Roots, season and water use: FAO Irrigation and Drainage Paper 56, read; the depth that roots need is the upper half, which takes up seven tenths of the water (recalled).",
    "Acidity and the temperatures that crops grow in: a growers' handbook, mostly recalled; soil temperature for germination: a leaflet of 1954, recalled.",
    "Salts: thresholds and slopes of the salinity laboratory, read; each possible make-up takes a place of its own between the sources where they disagree.",
    "Texture, stones, how a crop stands wet ground, and the lines between \u{201c}suits\u{201d}, \u{201c}suits with work\u{201d} and \u{201c}does not suit\u{201d}: common practice and our judgement, no source.",
    "Not weighed: pests, rotation, markets, and winter cold on plants that stay for years. A field's pH is taken to stray by 0.2 from its sample (judgement).",
];

/// What the pages rest on, in the units of the reader.
fn rests_on(units: UnitSystem) -> Vec<String> {
    let mut lines: Vec<String> = RESTS_ON.iter().map(|line| (*line).to_owned()).collect();
    lines.push(format!(
        "An unheated cover: the mean of the day {} warmer (one study of a closed tunnel, its abstract read) and three weeks more at each end (common practice).",
        words::warmer(COVER_WARMS_C, units)
    ));
    lines
}

/// A plot in the head of the table.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlotHead {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// Under the sky or under cover.
    pub place: Place,
    /// What is not known of it.
    pub unknown: Vec<Unknown>,
}

/// A crop with its verdict on every plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SuitsRow {
    /// The crop.
    #[serde(flatten)]
    pub crop: CropRow,
    /// In the order of the plots.
    pub cells: Vec<Cell>,
}

/// The crops against the plots.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SuitsTable {
    /// The plots.
    pub plots: Vec<PlotHead>,
    /// The crops, those that the farm grows first.
    pub rows: Vec<SuitsRow>,
    /// What it rests on.
    pub rests_on: Vec<String>,
}

/// What would settle a verdict.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Settle {
    /// What is not known.
    pub unknown: Unknown,
    /// What would tell, in a sentence.
    pub text: &'static str,
    /// Where to write it down.
    pub address: String,
}

/// A crop on a plot with everything behind the verdict.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Standing {
    /// Key of the crop.
    pub crop: String,
    /// Its name.
    pub crop_name: String,
    /// The verdict.
    #[serde(flatten)]
    pub cell: Cell,
    /// What speaks for it.
    pub speaks_for: Vec<String>,
    /// What speaks against it, worst first.
    pub speaks_against: Vec<Against>,
    /// What it would take.
    pub measures: Vec<Measure>,
    /// What would settle the verdict, where it is not firm.
    pub settles: Vec<Settle>,
}

/// One crop on every plot, best first.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BestPlace {
    /// What the crop asks for.
    pub needs: SiteNeeds,
    /// The plots, best first: by the odds that it suits, then with work, then by the fewest drawbacks.
    pub places: Vec<Standing>,
    /// What may hurt someone, of all the work named.
    pub cautions: Vec<&'static str>,
    /// What it rests on.
    pub rests_on: Vec<String>,
}

/// Every crop on one plot, best first.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OnPlot {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// The crops: those the farm grows first in each verdict.
    pub crops: Vec<Standing>,
    /// Keys of those that the farm grows.
    pub grown: Vec<String>,
    /// What may hurt someone, of all the work named.
    pub cautions: Vec<&'static str>,
    /// What it rests on.
    pub rests_on: Vec<String>,
}

/// The plots of the reports as crops see them; those of which nothing holds water are left out.
#[must_use]
pub fn places<'a>(snapshot: &Snapshot, reports: impl IntoIterator<Item = &'a PlotReport>) -> Vec<PlotPlace> {
    let farm = place::FarmYear::of(snapshot);
    reports.into_iter().filter_map(|report| PlotPlace::of(snapshot, report, &farm)).collect()
}

/// Every crop against every plot.
#[must_use]
pub fn table(snapshot: &Snapshot, places: &[PlotPlace]) -> SuitsTable {
    let rows = crops(snapshot)
        .into_iter()
        .filter_map(|crop| {
            let needs = ground::siting::needs_of(&crop.key).ok()?;
            let cells = places.iter().filter_map(|place| cell::cell(needs, place)).collect();
            Some(SuitsRow { crop, cells })
        })
        .collect();
    SuitsTable {
        plots: places
            .iter()
            .map(|place| PlotHead {
                id: place.id,
                name: place.name.clone(),
                place: place.place,
                unknown: place.unknown.clone(),
            })
            .collect(),
        rows,
        rests_on: rests_on(snapshot.farm.body.units),
    }
}

fn standing(
    snapshot: &Snapshot,
    report: &PlotReport,
    needs: &SiteNeeds,
    place: &PlotPlace,
    units: UnitSystem,
) -> Option<Standing> {
    let cell = cell::cell(needs, place)?;
    let speaks_against = detail::against(needs, place, &cell, units);
    let settles = if cell.firmness == crate::Firmness::Firm {
        Vec::new()
    } else {
        place
            .unknown
            .iter()
            .map(|unknown| Settle {
                unknown: *unknown,
                text: unknown.settle(),
                address: unknown.address(place.id),
            })
            .collect()
    };
    Some(Standing {
        crop: needs.key.clone(),
        crop_name: needs.name.clone(),
        speaks_for: detail::speaks_for(needs, place, &cell, units),
        measures: measures::measures(snapshot, report, needs, place, (&cell, &speaks_against), units),
        speaks_against,
        settles,
        cell,
    })
}

fn cautions<'a>(standings: impl Iterator<Item = &'a Standing>) -> Vec<&'static str> {
    let mut all: Vec<&'static str> = Vec::new();
    for caution in standings.flat_map(|one| &one.measures).flat_map(|measure| &measure.cautions) {
        if !all.contains(caution) {
            all.push(caution);
        }
    }
    all
}

fn by_rank(a: &Cell, b: &Cell) -> std::cmp::Ordering {
    let drawbacks = |cell: &Cell| -> f64 {
        cell.tally.grades.iter().map(|grades| grades[1] + 2.0 * grades[2] + 4.0 * grades[3]).sum()
    };
    let with_work = |cell: &Cell| cell.odds_each[0] + cell.odds_each[1];
    b.odds_each[0]
        .total_cmp(&a.odds_each[0])
        .then(with_work(b).total_cmp(&with_work(a)))
        .then(drawbacks(a).total_cmp(&drawbacks(b)))
}

/// One crop on every plot, best first. Reports stand in the order of the places.
#[must_use]
pub fn best_place<'a>(
    snapshot: &Snapshot,
    needs: &SiteNeeds,
    places: impl IntoIterator<Item = (&'a PlotPlace, &'a PlotReport)>,
    units: UnitSystem,
) -> BestPlace {
    let mut places: Vec<Standing> = places
        .into_iter()
        .filter_map(|(place, report)| standing(snapshot, report, needs, place, units))
        .collect();
    places.sort_by(|a, b| by_rank(&a.cell, &b.cell));
    BestPlace { cautions: cautions(places.iter()), needs: needs.clone(), places, rests_on: rests_on(units) }
}

/// Every crop on one plot: what suits first, in each verdict what the farm grows first, then by rank.
#[must_use]
pub fn on_plot(snapshot: &Snapshot, place: &PlotPlace, report: &PlotReport, units: UnitSystem) -> OnPlot {
    let rows = crops(snapshot);
    let grown: Vec<String> = rows.iter().filter(|row| row.grown).map(|row| row.key.clone()).collect();
    let mut crops: Vec<Standing> = rows
        .iter()
        .filter_map(|row| standing(snapshot, report, ground::siting::needs_of(&row.key).ok()?, place, units))
        .collect();
    let is_grown = |one: &Standing| grown.contains(&one.crop);
    crops.sort_by(|a, b| {
        let verdict = |one: &Standing| Verdict::ALL.iter().position(|verdict| *verdict == one.cell.verdict);
        verdict(a).cmp(&verdict(b)).then(is_grown(b).cmp(&is_grown(a))).then(by_rank(&a.cell, &b.cell))
    });
    OnPlot {
        id: place.id,
        name: place.name.clone(),
        cautions: cautions(crops.iter()),
        crops,
        grown,
        rests_on: rests_on(units),
    }
}

#[cfg(test)]
mod tests;
