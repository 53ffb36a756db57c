//! Water today, for the whole farm.

use advice::watering::{Call, WaterToday, water_today, weekday};
use advice::words;
use askama::Template;
use book::Snapshot;
use book::model::EntryId;
use ground::irrigation::hardware::LITRES_PER_GALLON;
use ground::kit::units::UnitSystem;
use serde::Serialize;

use crate::ask::Ask;
use crate::desk::Desk;
use crate::parts::Firmness;
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::when;

#[derive(Template, Serialize)]
#[template(path = "watering/today.html")]
struct TodayPage {
    #[serde(skip)]
    shell: Shell,
    water: WaterToday,
    #[serde(skip)]
    day: String,
    #[serde(skip)]
    lines: Vec<TodayLine>,
    #[serde(skip)]
    supplies: Vec<SupplyView>,
    #[serde(skip)]
    beds: usize,
}

/// A bed in a line.
#[derive(Debug, Clone, Serialize)]
pub(crate) struct TodayLine {
    pub(crate) bed: EntryId,
    pub(crate) name: String,
    pub(crate) crop: String,
    /// Whether it wants water today.
    pub(crate) due: bool,
    /// "Run 50 min today", "No water needed today; most likely by Saturday 28 November".
    pub(crate) says: String,
    pub(crate) firmness: Option<Firmness>,
    /// "odds that it is due: 86 %".
    pub(crate) odds: String,
}

struct SupplyView {
    name: String,
    flow: String,
    volume: String,
    sentence: String,
    sets: Vec<SetView>,
    too_much: Vec<String>,
    others: Vec<String>,
}

struct SetView {
    beds: String,
    minutes: String,
    flow: String,
}

/// Water today and its lines for a page.
pub(crate) fn lines(ask: &Ask, desk: &Desk, snapshot: &Snapshot) -> (WaterToday, Vec<TodayLine>) {
    let today = when::day_of(ask.stamp().at);
    let beds = desk.water_all(snapshot, today);
    let water = water_today(snapshot, beds.iter().map(AsRef::as_ref), today);
    let lines = water
        .beds
        .iter()
        .map(|line| TodayLine {
            bed: line.bed,
            name: format!("{}, {}", line.plot_name, line.bed_name),
            crop: line.crop.clone(),
            due: line.call == Some(Call::Water),
            says: match (line.call, line.due_on, &line.wanted) {
                (Some(Call::Wait), Some(due), _) => {
                    format!("{}; most likely by {}", line.headline, weekday(due))
                }
                (None, _, Some(wanted)) => wanted.clone(),
                _ => line.headline.clone(),
            },
            firmness: line.firmness.map(|firmness| match firmness {
                advice::Firmness::Firm => Firmness::Firm,
                advice::Firmness::Likely => Firmness::Likely,
                advice::Firmness::Open => Firmness::Open,
            }),
            odds: line
                .odds_due
                .map_or_else(String::new, |odds| format!("odds that it is due: {}", words::odds(odds))),
        })
        .collect();
    (water, lines)
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot().map_err(Problem::from)?;
    let (water, lines) = lines(ask, &desk, &snapshot);
    Shown::page(TodayPage {
        shell: ask.shell(Section::Farm, "Water today"),
        day: weekday(water.today),
        supplies: supplies(&water, ask.units()),
        beds: snapshot.beds.len(),
        lines,
        water,
    })
}

fn supplies(water: &WaterToday, units: UnitSystem) -> Vec<SupplyView> {
    let us = units == UnitSystem::UsCustomary;
    let volume = |litres: f64| {
        if us { format!("{:.0} gal", litres / LITRES_PER_GALLON) } else { format!("{litres:.0} L") }
    };
    let flow = |l_min: f64| {
        if us {
            format!("{} gal/min", words::short(l_min / LITRES_PER_GALLON))
        } else {
            format!("{} L/min", words::short(l_min))
        }
    };
    water
        .supplies
        .iter()
        .map(|supply| SupplyView {
            name: supply.name.clone(),
            flow: supply.flow_l_min.map(flow).unwrap_or_default(),
            volume: if supply.volume_l > 0.0 { volume(supply.volume_l) } else { String::new() },
            sentence: supply.sentence.clone(),
            sets: supply
                .sets
                .iter()
                .map(|set| SetView {
                    beds: set.beds.join("; "),
                    minutes: advice::watering::timer(set.run_min),
                    flow: flow(set.flow_l_min),
                })
                .collect(),
            too_much: supply.too_much.clone(),
            others: supply.others.clone(),
        })
        .collect()
}
