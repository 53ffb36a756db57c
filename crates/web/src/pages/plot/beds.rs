//! The beds of a plot, each with what grows in it, how it is watered and when it last was.

use advice::words::day;
use book::model::{Bed, CoverCrop, EntryId, Planting};
use book::{Held, Snapshot};
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem, show};
use jiff::civil::Date;
use serde::Serialize;

use super::belongings::Thing;
use crate::form::shown;
use crate::pages::things::watering::usual_minutes;
use crate::words;

/// Waterings of a bed that are listed.
const WATERINGS: usize = 3;

/// A bed, or the equal beds of one record.
#[derive(Serialize)]
pub(super) struct BedLine {
    pub(super) id: EntryId,
    pub(super) name: String,
    pub(super) detail: String,
    /// What grows or grew in it, latest first.
    pub(super) plantings: Vec<Thing>,
    /// Covers, latest first.
    pub(super) covers: Vec<Thing>,
    /// How it is watered.
    pub(super) system: Option<Thing>,
    /// The latest waterings, latest first.
    pub(super) waterings: Vec<Thing>,
    /// Waterings that are not listed.
    pub(super) earlier: usize,
    /// Minutes that it ran the last time, for writing down the next one at a touch.
    pub(super) minutes: Option<String>,
}

impl BedLine {
    /// The beds of a plot.
    pub(super) fn all(snapshot: &Snapshot, plot: EntryId, today: Date, units: UnitSystem) -> Vec<Self> {
        snapshot.beds_of(plot).map(|bed| Self::of(bed, snapshot, today, units)).collect()
    }

    fn of(held: &Held<Bed>, snapshot: &Snapshot, today: Date, units: UnitSystem) -> Self {
        let plantings = snapshot.plantings_of(held.id).into_iter().rev();
        let waterings = snapshot.waterings_of(held.id);
        let system = snapshot.system_of(held.id).map(|system| Thing {
            id: system.id,
            name: words::watered(&system.body, units),
            detail: String::new(),
            note: system.body.note.clone(),
        });
        Self {
            id: held.id,
            name: held.body.name.clone(),
            detail: size(&held.body, units),
            plantings: plantings.map(|planting| planting_line(planting, snapshot, today)).collect(),
            covers: snapshot
                .covers_of(held.id)
                .into_iter()
                .rev()
                .map(|held| cover_line(held, today))
                .collect(),
            minutes: usual_minutes(snapshot, held.id),
            system,
            earlier: waterings.len().saturating_sub(WATERINGS),
            waterings: waterings
                .iter()
                .rev()
                .take(WATERINGS)
                .map(|watering| Thing {
                    id: watering.id,
                    name: day(watering.body.on),
                    detail: words::amount(watering.body.amount, units),
                    note: watering.body.note.clone(),
                })
                .collect(),
        }
    }
}

/// "8 of 50 ft by 30 in (1000 sq ft in all)".
fn size(bed: &Bed, units: UnitSystem) -> String {
    let each = format!("{} by {}", shown(bed.length_m, units), shown(bed.width_m, units));
    let area = show(bed.area_m2(), Dimension::Area, units);
    if bed.count == 1 {
        format!("{each} ({area})")
    } else {
        format!("{} of {each} ({area} in all)", bed.count)
    }
}

fn cover_line(held: &Held<CoverCrop>, today: Date) -> Thing {
    let cover = &held.body;
    let sown = if cover.sown_on > today { "to be sown" } else { "sown" };
    let mut detail = format!("{sown} {}", day(cover.sown_on));
    match (cover.ended, cover.end_by) {
        (Some(end), _) => detail.push_str(&format!(", {} {}", end.how.words(), day(end.on))),
        (None, Some(by)) => detail.push_str(&format!(", to be ended by {}", day(by))),
        (None, None) => {}
    }
    Thing { id: held.id, name: words::seeds_words(&cover.seeds), detail, note: cover.note.clone() }
}

fn planting_line(held: &Held<Planting>, snapshot: &Snapshot, today: Date) -> Thing {
    let planting = &held.body;
    let mut detail = format!("{} {}", planting.how.words(), day(planting.planted_on));
    if planting.planted_on > today {
        detail = format!("to be {detail}");
    }
    match (planting.ended_on, planting.harvest_on) {
        (Some(ended), _) => detail.push_str(&format!(", ended {}", day(ended))),
        (None, Some(harvest)) => detail.push_str(&format!(", harvest until {}", day(harvest))),
        (None, None) => {}
    }
    if let Some(mulch) = planting.mulch {
        detail.push_str(&format!(", {} on {} %", mulch.of.words(), mulch.covered_percent.get()));
    }
    Thing {
        id: held.id,
        name: crate::problem::capital(&words::crop_name(&planting.crop, snapshot)),
        detail,
        note: planting.note.clone(),
    }
}
