//! The form of a harvest.

use book::Snapshot;
use book::model::{EntryId, Harvest};
use ground::kit::units::{Dimension, UnitSystem};

use super::Formed;
use crate::ask::Ask;
use crate::form::{Field, Form, Reader};
use crate::when;
use crate::words::{crop_name, name_of};

pub(super) const FIELDS: &[Field] = &[
    Field::pick("planting", "From which planting", "", &[]),
    Field::day("on", "Day", "Of several pickings put together, the last"),
    Field::measure("kg", "How much", "Fresh, for example 120 lb or 55 kg", Dimension::Load),
    Field::lines("note", "Note", "").optional(),
];

impl Formed for Harvest {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Write down a harvest";
    const LEAD: &'static str =
        "What is carried off a bed takes nutrients with it; the balance of the plot counts them.";

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let planting = read.entry("planting");
        let on = read.day_gone("on");
        let kg = read.measure_kept("kg", before.map(|one| one.kg));
        let note = read.lines("note");
        Some(Self { planting: planting?, on: on?, kg: kg?, note })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        form.with("planting", self.planting.to_string())
            .with("on", self.on.to_string())
            .measure("kg", Some(self.kg), units)
            .with("note", &self.note)
    }

    fn prepare(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
        let bed = ask.query.text("bed").and_then(|bed| bed.parse::<EntryId>().ok());
        let mut plantings: Vec<_> = snapshot.plantings.iter().collect();
        // Those of the bed that was asked for first, then the latest.
        plantings.sort_by_key(|one| (bed != Some(one.body.bed), std::cmp::Reverse(one.body.planted_on)));
        let first = plantings.first().filter(|one| bed == Some(one.body.bed)).map(|one| one.id.to_string());
        let answers: Vec<(String, String)> = plantings
            .into_iter()
            .map(|one| {
                let place = snapshot.bed(one.body.bed).map_or_else(
                    || name_of(snapshot, one.body.bed),
                    |bed| format!("{}, {}", bed.body.name, name_of(snapshot, bed.body.plot)),
                );
                let crop = crop_name(&one.body.crop, snapshot);
                let day = advice::words::day(one.body.planted_on);
                (one.id.to_string(), format!("{crop} of {day}, {place}"))
            })
            .collect();
        let form = match answers.is_empty() {
            true => {
                form.hint("planting", "No planting is written down yet; add one on the page of its bed first")
            }
            false => form,
        };
        let untouched = ask.body.is_empty() && form.draw("on").text.is_empty();
        let form = if untouched {
            form.with("planting", first.unwrap_or_default())
                .with("on", when::day_of(ask.stamp().at).to_string())
        } else {
            form
        };
        form.choices("planting", answers)
    }
}
