//! Water today: every bed of the farm, and which can run together.

use std::collections::BTreeMap;

use book::Snapshot;
use book::model::EntryId;
use ground::irrigation::hardware::supply_sets::{BedDraw, RunMinutes};
use ground::irrigation::hardware::{BedFlow, pack};
use ground::kit::Bounded;
use jiff::civil::Date;
use serde::Serialize;

use super::CAUTIONS;
use super::advise::{Call, timer};
use super::bed::BedWater;
use super::place::{Wanted, WantedKind};
use crate::finding::Firmness;

/// A bed in a line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BedLine {
    /// The bed.
    pub bed: EntryId,
    /// Its name.
    pub bed_name: String,
    /// The plot's name.
    pub plot_name: String,
    /// What grows in it.
    pub crop: String,
    /// Water or wait; absent while something is wanted.
    pub call: Option<Call>,
    /// How surely.
    pub firmness: Option<Firmness>,
    /// Odds that water is due today, 0 to 1.
    pub odds_due: Option<f64>,
    /// Day by which it is due, within the week.
    pub due_on: Option<Date>,
    /// Minutes today, where it is due and a flow is known.
    pub minutes: Option<f64>,
    /// What to do, in a line.
    pub headline: String,
    /// What is wanted first.
    pub wanted: Option<String>,
}

/// Beds that run together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RunSet {
    /// "3 of Beds 1 to 12".
    pub beds: Vec<String>,
    /// Flow of all of them, L/min.
    pub flow_l_min: f64,
    /// The longest of their runs, min.
    pub run_min: f64,
}

/// One supply of water today.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SupplyToday {
    /// The supply; absent for beds that name none.
    pub supply: Option<EntryId>,
    /// Its name.
    pub name: String,
    /// What it gives, L/min.
    pub flow_l_min: Option<f64>,
    /// Sets in their order, one after another; empty where its flow is not known.
    pub sets: Vec<RunSet>,
    /// All sets one after another, min.
    pub total_min: f64,
    /// Water for all of them, L.
    pub volume_l: f64,
    /// Beds that draw more than it gives.
    pub too_much: Vec<String>,
    /// Beds in no set: watered by hand, or of an unknown flow.
    pub others: Vec<String>,
    /// In a sentence.
    pub sentence: String,
}

/// Water today.
#[derive(Debug, Clone, Serialize)]
pub struct WaterToday {
    /// The day.
    pub today: Date,
    /// In a sentence.
    pub headline: String,
    /// Beds where something grows, most pressing first.
    pub beds: Vec<BedLine>,
    /// What to run, supply by supply.
    pub supplies: Vec<SupplyToday>,
    /// What the whole farm lacks to be told better.
    pub wanted: Vec<Wanted>,
    /// Cautions.
    pub cautions: &'static [&'static str],
}

/// Gathers the beds of a farm. Beds where nothing grows are left out.
#[must_use]
pub fn water_today<'a>(
    snapshot: &Snapshot,
    beds: impl IntoIterator<Item = &'a BedWater>,
    today: Date,
) -> WaterToday {
    let beds: Vec<&BedWater> = beds.into_iter().filter(|bed| grows(bed)).collect();
    let mut lines: Vec<BedLine> = beds.iter().map(|bed| line(bed)).collect();
    let rank = |line: &BedLine| match line.call {
        Some(Call::Water) => 0,
        None => 1,
        Some(Call::Wait) => 2,
    };
    lines.sort_by(|a, b| {
        rank(a)
            .cmp(&rank(b))
            .then(b.odds_due.unwrap_or(0.0).total_cmp(&a.odds_due.unwrap_or(0.0)))
            .then(a.due_on.cmp(&b.due_on))
    });
    let due: Vec<&BedWater> = beds
        .iter()
        .copied()
        .filter(|bed| bed.advice.as_ref().is_some_and(|advice| advice.call == Call::Water))
        .collect();
    let mut wanted: Vec<Wanted> = Vec::new();
    for bed in &beds {
        for one in &bed.wanted {
            if matches!(one.kind, WantedKind::Latitude | WantedKind::Weather | WantedKind::Normals)
                && !wanted.contains(one)
            {
                wanted.push(one.clone());
            }
        }
    }
    WaterToday {
        today,
        headline: headline(&lines, due.len()),
        beds: lines,
        supplies: supplies(snapshot, &due),
        wanted,
        cautions: CAUTIONS,
    }
}

fn grows(bed: &BedWater) -> bool {
    bed.crop.is_some() || bed.wanted.iter().any(|wanted| wanted.kind == WantedKind::Crop)
}

fn headline(lines: &[BedLine], due: usize) -> String {
    let told = lines.iter().filter(|line| line.call.is_some()).count();
    match (lines.len(), told, due) {
        (0, ..) => "Nothing that is written down grows in any bed today.".to_owned(),
        (_, 0, _) => "Beds are planted, but something is wanted before their water can be told.".to_owned(),
        (_, _, 0) => "No planted bed needs water today.".to_owned(),
        (_, 1, _) => "The one planted bed needs water today.".to_owned(),
        (_, told, due) if due == told => "Every planted bed needs water today.".to_owned(),
        (_, told, 1) => format!("1 of {told} planted beds needs water today (equal beds count as one)."),
        (_, told, due) => format!("{due} of {told} planted beds need water today (equal beds count as one)."),
    }
}

fn line(bed: &BedWater) -> BedLine {
    let advice = bed.advice.as_ref();
    let due = advice.filter(|advice| advice.call == Call::Water);
    BedLine {
        bed: bed.bed,
        bed_name: bed.bed_name.clone(),
        plot_name: bed.plot_name.clone(),
        crop: bed.crop.as_ref().map(|crop| crop.name.clone()).unwrap_or_default(),
        call: advice.map(|advice| advice.call),
        firmness: advice.map(|advice| advice.firmness),
        odds_due: advice.map(|advice| advice.odds_due),
        due_on: advice.and_then(|advice| advice.due_on),
        minutes: due.and_then(|advice| advice.run.as_ref()?.set_min),
        headline: bed.headline.clone(),
        wanted: advice.is_none().then(|| bed.wanted.first().map(|wanted| wanted.text.clone())).flatten(),
    }
}

/// Beds that are due, by supply, sorted into sets that it can feed at once.
fn supplies(snapshot: &Snapshot, due: &[&BedWater]) -> Vec<SupplyToday> {
    let mut by_supply: BTreeMap<Option<EntryId>, Vec<&BedWater>> = BTreeMap::new();
    for bed in due {
        by_supply.entry(bed.supply).or_default().push(bed);
    }
    by_supply.into_iter().map(|(supply, beds)| supply_today(snapshot, supply, &beds)).collect()
}

fn supply_today(snapshot: &Snapshot, supply: Option<EntryId>, beds: &[&BedWater]) -> SupplyToday {
    let held = supply.and_then(|id| snapshot.supply(id));
    let name = held.map_or_else(|| "Without a supply".to_owned(), |held| held.body.name.clone());
    let flow_l_min = held.and_then(|held| held.body.flow_l_min).map(Bounded::get);
    let mut flows = Vec::new();
    let (mut volume_l, mut too_much, mut others) = (0.0, Vec::new(), Vec::new());
    for bed in beds {
        let Some(run) = bed.advice.as_ref().and_then(|advice| advice.run.as_ref()) else {
            others.push(format!("{}: {}", named(bed), bed.headline));
            continue;
        };
        volume_l += run.volume_all_l;
        let (Some(flow), Some(minutes)) = (run.flow_each_l_min, run.set_min) else {
            others.push(format!("{}: {}", named(bed), bed.headline));
            continue;
        };
        if flow_l_min.is_some_and(|most| flow > most) {
            too_much.push(named(bed));
            continue;
        }
        let (Ok(flow_l_min), Ok(run_min)) = (BedDraw::new(flow), RunMinutes::new(minutes)) else { continue };
        // Equal beds of one record have a valve each.
        flows.extend((0..bed.count).map(|_| BedFlow { name: named(bed), flow_l_min, run_min }));
    }
    let sets: Vec<RunSet> = match flow_l_min {
        None => Vec::new(),
        Some(most) => pack(&flows, most)
            .into_iter()
            .map(|set| RunSet { beds: together(&set.beds), flow_l_min: set.flow_l_min, run_min: set.run_min })
            .collect(),
    };
    let total_min = sets.iter().fold(0.0, |sum, set| sum + set.run_min);
    if flow_l_min.is_none() {
        let runs = beds.iter().filter(|bed| flows.iter().any(|flow| flow.name == named(bed)));
        others.extend(runs.map(|bed| format!("{}: {}", named(bed), bed.headline)));
    }
    let sentence = match (held.is_some(), flow_l_min.is_some()) {
        (false, _) => "No supply is written down for these: one after another.".to_owned(),
        (true, false) => {
            "What it gives is not known: time it with a bucket to be told which beds can run together."
                .to_owned()
        }
        (true, true) => sentence(&sets, total_min, flows.is_empty()),
    };
    SupplyToday { supply, name, flow_l_min, sets, total_min, volume_l, too_much, others, sentence }
}

fn sentence(sets: &[RunSet], total_min: f64, by_hand: bool) -> String {
    match sets {
        [] if by_hand => "By hand, one bed after another.".to_owned(),
        [] => "No bed can run on it as it is.".to_owned(),
        [one] => format!("All of them at once, {}.", timer(one.run_min)),
        many => format!("{} runs one after another, {} in all.", many.len(), timer(total_min)),
    }
}

fn named(bed: &BedWater) -> String {
    format!("{}, {}", bed.plot_name, bed.bed_name)
}

/// "3 of Creek, Beds 1 to 12".
fn together(names: &[String]) -> Vec<String> {
    let mut counts: Vec<(&str, usize)> = Vec::new();
    for name in names {
        match counts.iter_mut().find(|(known, _)| known == name) {
            Some((_, count)) => *count += 1,
            None => counts.push((name, 1)),
        }
    }
    counts
        .into_iter()
        .map(|(name, count)| if count == 1 { name.to_owned() } else { format!("{name}: {count} beds") })
        .collect()
}
