//! The form of what is in hand: counted, bought or lost.

use book::Snapshot;
use book::model::{Stock, StockChange};
use ground::kit::units::{Dimension, UnitSystem};

use super::Formed;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader};
use crate::when;

pub(super) const FIELDS: &[Field] = &[
    Field::pick("material", "Material", "", &[]),
    Field::one_of(
        "what",
        "What happened",
        "",
        &[
            Choice::new("counted", "Counted: this much is in hand"),
            Choice::new("bought", "Bought"),
            Choice::new("lost", "Lost, given away or spoilt"),
        ],
    ),
    Field::measure("kg", "How much", "For example 2 lb 4 oz or 45 kg", Dimension::Load),
    Field::day("on", "Day", ""),
    Field::lines("note", "Note", "").optional(),
];

impl Formed for Stock {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Write down what is in hand";
    const LEAD: &'static str = "A count is of the end of its day. What was spread is taken off by itself.";

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let material = read.entry("material");
        let what = read.choice("what").map(|choice| match choice {
            "bought" => StockChange::Bought,
            "lost" => StockChange::Lost,
            _ => StockChange::Counted,
        });
        let kg = read.measure_kept("kg", before.map(|stock| stock.kg));
        let on = read.day_gone("on");
        let note = read.lines("note");
        Some(Self { material: material?, on: on?, kg: kg?, what: what?, note })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        form.with("material", self.material.to_string())
            .with("what", self.what.words())
            .with("kg", crate::form::shown(self.kg, units))
            .with("on", self.on.to_string())
            .with("note", &self.note)
    }

    fn prepare(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
        let form = form.choices(
            "material",
            snapshot.materials.iter().map(|held| (held.id.to_string(), held.body.name.clone())),
        );
        if ask.body.is_empty() && form.draw("on").text.is_empty() {
            return form.with("on", when::day_of(ask.stamp().at).to_string());
        }
        form
    }

    fn home(&self, _snapshot: &Snapshot) -> String {
        "/shelf".to_owned()
    }
}
