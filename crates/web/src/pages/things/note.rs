//! The form of a note.

use book::Snapshot;
use book::model::Note;
use ground::kit::units::UnitSystem;

use super::{Formed, plots};
use crate::ask::Ask;
use crate::form::{Field, Form, Reader};

pub(super) const FIELDS: &[Field] = &[
    Field::pick("plot", "Plot", "Leave open for a note on the farm", &[]).optional(),
    Field::lines("text", "Note", "What was seen, done or said"),
];

impl Formed for Note {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Write a note";
    const LEAD: &'static str =
        "Anything worth remembering. Notes are kept as they are written and are not weighed as evidence.";

    fn read(read: &mut Reader<'_>, _before: Option<&Self>) -> Option<Self> {
        let plot = read.entry("plot");
        let text = read.lines("text");
        (!text.is_empty()).then_some(Self { plot, text })
    }

    fn fill(&self, form: Form, _units: UnitSystem) -> Form {
        form.with("plot", self.plot.map(|plot| plot.to_string()).unwrap_or_default()).with("text", &self.text)
    }

    fn prepare(form: Form, snapshot: &Snapshot, _ask: &Ask) -> Form {
        plots(form, snapshot)
    }
}
