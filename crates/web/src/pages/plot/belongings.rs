//! What belongs to a plot besides evidence: beds, structures, samples, notes, photos, withdrawn records.

use advice::words::day;
use book::model::{EntryId, Sample, Structure};
use book::{Held, Snapshot};
use ground::kit::units::UnitSystem;
use jiff::civil::Date;
use serde::Serialize;

use super::beds::BedLine;
use crate::form::shown;
use crate::when;
use crate::words;

/// Everything that belongs to a plot.
#[derive(Serialize)]
pub(super) struct Belongings {
    pub(super) beds: Vec<BedLine>,
    pub(super) structures: Vec<Thing>,
    pub(super) samples: Vec<Thing>,
    pub(super) notes: Vec<NoteLine>,
    pub(super) photos: Vec<PhotoLine>,
    pub(super) withdrawn: Vec<WithdrawnLine>,
    /// For forms that write down what was done today.
    #[serde(skip)]
    pub(super) today: Date,
}

/// A thing in a line.
#[derive(Serialize)]
pub(crate) struct Thing {
    pub(crate) id: EntryId,
    pub(crate) name: String,
    pub(crate) detail: String,
    pub(crate) note: String,
}

/// A note.
#[derive(Serialize)]
pub(crate) struct NoteLine {
    pub(crate) id: EntryId,
    pub(crate) text: String,
    pub(crate) when: String,
    pub(crate) by: String,
}

/// A photo.
#[derive(Serialize)]
pub(super) struct PhotoLine {
    pub(super) id: EntryId,
    pub(super) caption: String,
    pub(super) when: String,
}

/// A record that no longer counts.
#[derive(Serialize)]
pub(super) struct WithdrawnLine {
    pub(super) id: EntryId,
    pub(super) what: String,
    pub(super) reason: String,
}

impl Belongings {
    pub(super) fn of(snapshot: &Snapshot, plot: EntryId, today: Date, units: UnitSystem) -> Self {
        Self {
            today,
            beds: BedLine::all(snapshot, plot, today, units),
            structures: snapshot.structures_on(plot).map(|held| structure_line(held, units)).collect(),
            samples: snapshot.samples_of(plot).map(|held| sample_line(held, units)).collect(),
            notes: notes_on(snapshot, Some(plot)),
            photos: snapshot
                .photos_of(plot)
                .map(|held| PhotoLine {
                    id: held.id,
                    caption: held.body.caption.clone(),
                    when: when::moment(held.recorded_at),
                })
                .collect(),
            withdrawn: snapshot
                .withdrawn
                .iter()
                .filter(|one| snapshot.plot_of(&one.record.body) == Some(plot))
                .map(|one| WithdrawnLine {
                    id: one.record.id,
                    what: crate::problem::capital(&words::titled(&one.record.body)),
                    reason: one.reason.clone(),
                })
                .collect(),
        }
    }
}

/// Notes on a plot, or on the farm.
pub(crate) fn notes_on(snapshot: &Snapshot, plot: Option<EntryId>) -> Vec<NoteLine> {
    let mut notes: Vec<NoteLine> = snapshot
        .notes_on(plot)
        .map(|held| NoteLine {
            id: held.id,
            text: held.body.text.clone(),
            when: when::moment(held.recorded_at),
            by: held.recorded_by.clone(),
        })
        .collect();
    notes.reverse();
    notes
}

/// A structure in a line.
pub(crate) fn structure_line(held: &Held<Structure>, units: UnitSystem) -> Thing {
    let structure = &held.body;
    let mut detail = structure.kind.words().to_owned();
    match (structure.length_m, structure.width_m) {
        (Some(length), Some(width)) => {
            detail.push_str(&format!(", {} by {}", shown(length, units), shown(width, units)));
        }
        (Some(side), None) | (None, Some(side)) => detail.push_str(&format!(", {}", shown(side, units))),
        (None, None) => {}
    }
    Thing { id: held.id, name: structure.name.clone(), detail, note: structure.note.clone() }
}

fn sample_line(held: &Held<Sample>, units: UnitSystem) -> Thing {
    let sample = &held.body;
    let cores = sample.cores.map_or_else(|| "cores not counted".to_owned(), |count| format!("{count} cores"));
    let by = if sample.taken_by.is_empty() { String::new() } else { format!(", by {}", sample.taken_by) };
    let name =
        if sample.bag_label.is_empty() { "Bag without a label".to_owned() } else { sample.bag_label.clone() };
    Thing {
        id: held.id,
        name,
        detail: format!(
            "{}, {} to {}, {cores}{by}",
            day(sample.taken_on),
            shown(sample.from_cm, units),
            shown(sample.to_cm, units)
        ),
        note: sample.note.clone(),
    }
}
