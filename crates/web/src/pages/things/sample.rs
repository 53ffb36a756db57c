//! The form of a sample.

use advice::maps::spot::{spot_words, typed_spot};
use book::Snapshot;
use book::model::Sample;
use ground::kit::units::{Dimension, UnitSystem};

use super::{Formed, plots};
use crate::ask::Ask;
use crate::form::{Field, Form, Reader, shown};
use crate::when;

pub(super) const FIELDS: &[Field] = &[
    Field::pick("plot", "Plot", "", &[]),
    Field::day("taken_on", "Day it was taken", ""),
    Field::measure("from_cm", "From which depth", "0 is the surface", Dimension::Depth),
    Field::measure("to_cm", "Down to which depth", "For example 8 in or 20 cm", Dimension::Depth),
    Field::measure(
        "cores",
        "Cores mixed",
        "How many holes the soil came from; a dozen or more stand for the whole plot",
        Dimension::Number,
    )
    .optional(),
    Field::text("bag_label", "What stands on the bag", "").optional(),
    Field::text(
        "spot",
        "Where on the plot",
        "For a bag from one place, which can be mapped: distances east and north of the plan's origin, such as \
         120 ft, 40 ft, or degrees with letters, such as 42.5012 N, 93.4987 W",
    )
    .optional(),
    Field::text("taken_by", "Who took it", "").optional(),
    Field::lines("note", "Note", "").optional(),
];

impl Formed for Sample {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Write down a sample";
    const LEAD: &'static str = "A sample is one bag: cores from one plot and one depth, mixed. Written down once, a \
                                jar, a feel test and a laboratory report can all speak of it.";

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let plot = read.entry("plot");
        let taken_on = read.day_gone("taken_on");
        let from_cm = read.measure_kept("from_cm", before.map(|sample| sample.from_cm));
        let to_cm = read.measure_kept("to_cm", before.map(|sample| sample.to_cm));
        let cores = read.count("cores");
        let taken_by = read.text("taken_by").unwrap_or_default().to_owned();
        let bag_label = read.text("bag_label").unwrap_or_default().to_owned();
        let system = read.system();
        let known = before.and_then(|sample| sample.spot);
        let spot = match read.text("spot") {
            None => None,
            Some(text) if known.is_some_and(|spot| spot_words(&spot, system) == text) => known,
            Some(text) => read.take(typed_spot("spot", text, system)),
        };
        let note = read.lines("note");
        Some(Self {
            plot: plot?,
            taken_on: taken_on?,
            from_cm: from_cm?,
            to_cm: to_cm?,
            cores,
            taken_by,
            bag_label,
            import: before.and_then(|sample| sample.import),
            spot,
            note,
        })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        form.with("plot", self.plot.to_string())
            .with("taken_on", self.taken_on.to_string())
            .with("from_cm", shown(self.from_cm, units))
            .with("to_cm", shown(self.to_cm, units))
            .with("cores", self.cores.map(|count| count.to_string()).unwrap_or_default())
            .with("spot", self.spot.map(|spot| spot_words(&spot, units)).unwrap_or_default())
            .with("taken_by", &self.taken_by)
            .with("bag_label", &self.bag_label)
            .with("note", &self.note)
    }

    fn prepare(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
        let stamp = ask.stamp();
        let form = plots(form, snapshot);
        // Usual values stand only in a form that nobody has touched yet.
        if !ask.body.is_empty() || !form.draw("to_cm").text.is_empty() {
            return form;
        }
        form.with("taken_on", when::day_of(stamp.at).to_string())
            .with("from_cm", "0")
            .with("taken_by", stamp.by)
    }
}
