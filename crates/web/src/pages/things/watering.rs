//! The form of a watering that was given.

use book::Snapshot;
use book::model::{WateringAmount, WateringDone};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};

use super::{Formed, beds};
use crate::ask::Ask;
use crate::form::{Field, Form, Reader};
use crate::when;

pub(super) const FIELDS: &[Field] = &[
    Field::pick("bed", "Bed", "", &[]),
    Field::day("on", "Day", ""),
    Field::measure(
        "minutes",
        "How long the water ran",
        "For example 45 min or 1 h 30 min. It becomes a depth where the book knows how the bed is watered",
        Dimension::Duration,
    )
    .optional(),
    Field::measure(
        "depth",
        "Or the depth over the whole bed",
        "From a gauge or cans set out under the sprinkler",
        Dimension::WaterDepth,
    )
    .optional(),
    Field::measure(
        "volume",
        "Or the water given to all its beds together",
        "From a meter, or cans counted: 12 cans of 2 gal are 24 gal",
        Dimension::BulkVolume,
    )
    .optional(),
    Field::lines("note", "Note", "").optional(),
];

impl Formed for WateringDone {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Write down a watering";
    const LEAD: &'static str = "Give one of the three: minutes, a depth, or an amount of water.";

    fn read(read: &mut Reader<'_>, _before: Option<&Self>) -> Option<Self> {
        let bed = read.entry("bed");
        let on = read.day("on");
        let given = ["minutes", "depth", "volume"].map(|name| read.text(name).is_some());
        let minutes = read.measure("minutes").map(WateringAmount::Minutes);
        let depth = read.measure("depth").map(WateringAmount::DepthMm);
        let volume = read.measure("volume").map(WateringAmount::VolumeL);
        let note = read.lines("note");
        let one_of_three = |field: &str, message: &str, given: &str| {
            Refusal::new(field, message)
                .given(given)
                .accepted("one of the minutes, the depth and the amount")
                .example("45 min")
        };
        match given.iter().filter(|given| **given).count() {
            0 => read.refuse(one_of_three(
                "minutes",
                "How much: give the minutes, the depth or the amount of water",
                "nothing",
            )),
            1 => {}
            _ => read.refuse(one_of_three(
                if given[2] { "volume" } else { "depth" },
                "How much: give the minutes, the depth or the amount of water, and only one of them",
                "more than one",
            )),
        }
        Some(Self { bed: bed?, on: on?, amount: minutes.or(depth).or(volume)?, note })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let form = form.with("bed", self.bed.to_string()).with("on", self.on.to_string());
        let form = match self.amount {
            WateringAmount::Minutes(minutes) => form.measure("minutes", Some(minutes), units),
            WateringAmount::DepthMm(depth) => form.water("depth", Some(depth), units),
            WateringAmount::VolumeL(volume) => form.measure("volume", Some(volume), units),
        };
        form.with("note", &self.note)
    }

    fn prepare(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
        let form = beds(form, snapshot, ask);
        if !ask.body.is_empty() || !form.draw("on").text.is_empty() {
            return form;
        }
        let form = form.with("on", when::day_of(ask.stamp().at).to_string());
        let usual = ask.query.text("bed").and_then(|bed| usual_minutes(snapshot, bed.parse().ok()?));
        form.with("minutes", usual.unwrap_or_default())
    }
}

/// How long the water ran in that bed the last time it was told in minutes, as text.
pub(crate) fn usual_minutes(snapshot: &Snapshot, bed: book::model::EntryId) -> Option<String> {
    snapshot.waterings_of(bed).iter().rev().find_map(|watering| match watering.body.amount {
        WateringAmount::Minutes(minutes) => Some(crate::form::lossless(minutes, UnitSystem::Metric)),
        _ => None,
    })
}
