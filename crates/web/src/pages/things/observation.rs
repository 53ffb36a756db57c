//! What surrounds a reading: the day, the person, the sample and the note. The reading itself is
//! corrected in the form it was recorded with.

use book::Snapshot;
use book::model::Observation;
use ground::kit::units::UnitSystem;

use super::Formed;
use crate::ask::Ask;
use crate::form::{Field, Form, Reader};
use crate::words;

const FIELDS: &[Field] = &[
    Field::day("seen_on", "Day it was seen", ""),
    Field::text("seen_by", "Who saw it", "").optional(),
    Field::pick("sample", "Sample it was made on", "Leave open if it was made straight on the plot", &[])
        .optional(),
    Field::lines("note", "Note", "Doubts above all").optional(),
];

impl Formed for Observation {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Record what was seen";
    const LEAD: &'static str = "";

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let seen_on = read.day("seen_on");
        let seen_by = read.text("seen_by").unwrap_or_default().to_owned();
        let sample = read.entry("sample");
        let note = read.lines("note");
        let before = before?;
        Some(Self { plot: before.plot, sample, seen_on: seen_on?, seen_by, note, seen: before.seen.clone() })
    }

    fn fill(&self, form: Form, _units: UnitSystem) -> Form {
        form.with("seen_on", self.seen_on.to_string())
            .with("seen_by", &self.seen_by)
            .with("sample", self.sample.map(|sample| sample.to_string()).unwrap_or_default())
            .with("note", &self.note)
    }

    fn prepare(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
        let plot = ask.entry("id").ok().and_then(|id| snapshot.observation(id)).map(|held| held.body.plot);
        let samples = plot.into_iter().flat_map(|plot| snapshot.samples_of(plot));
        form.choices(
            "sample",
            samples.map(|held| (held.id.to_string(), words::titled(&held.body.clone().into()))),
        )
    }
}
