//! The form of beds.

use book::Snapshot;
use book::model::Bed;
use ground::kit::units::{Dimension, UnitSystem};

use super::{Formed, plots};
use crate::ask::Ask;
use crate::form::{Field, Form, Reader, shown};

pub(super) const FIELDS: &[Field] = &[
    Field::pick("plot", "Plot", "", &[]),
    Field::text("name", "Name", "One bed, or several equal ones: Beds 1 to 8"),
    Field::measure("length_m", "Length of each", "For example 50 ft or 15 m", Dimension::Length),
    Field::measure("width_m", "Width of each", "For example 30 in or 75 cm", Dimension::Length),
    Field::measure("count", "How many of them", "", Dimension::Number),
];

impl Formed for Bed {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Add beds";
    const LEAD: &'static str = "Equal beds are one entry with a count.";

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let plot = read.entry("plot");
        let name = read.text("name").map(str::to_owned);
        let length_m = read.measure_kept("length_m", before.map(|bed| bed.length_m));
        let width_m = read.measure_kept("width_m", before.map(|bed| bed.width_m));
        let count = read.count("count");
        Some(Self { plot: plot?, name: name?, length_m: length_m?, width_m: width_m?, count: count? })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        form.with("plot", self.plot.to_string())
            .with("name", &self.name)
            .with("length_m", shown(self.length_m, units))
            .with("width_m", shown(self.width_m, units))
            .with("count", self.count.to_string())
    }

    fn prepare(form: Form, snapshot: &Snapshot, _ask: &Ask) -> Form {
        plots(form, snapshot)
    }
}
