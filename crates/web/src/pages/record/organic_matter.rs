//! Organic matter, measured or guessed.

use book::model::Seen;
use book::model::seen::OrganicMatter;
use ground::kit::units::{Dimension, UnitSystem};

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, chosen, word};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// Organic matter.
pub(super) struct Organic;

const OWN: &[Field] = &[
    Field::measure(
        "percent",
        "Organic matter",
        "Percent of the dry soil by mass. A report that gives organic carbon has to be turned into organic matter first (times 1.72, common practice)",
        Dimension::Percent,
    ),
    Field::one_of(
        "method",
        "How it was measured",
        "",
        &[
            Choice::new("loss_on_ignition", "Loss on ignition"),
            Choice::new("wet_oxidation", "Wet oxidation (Walkley-Black)"),
            Choice::new("dry_combustion", "Dry combustion, carbon converted"),
            Choice::new("guess", "A guess from colour and history"),
        ],
    )
    .optional(),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Organic {
    const KIND: &'static Kind = &kinds::ORGANIC_MATTER;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[Group::of("What was found", "", &["percent", "method"])];

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let percent = read.measure("percent");
        let method = chosen(read, "method");
        Some(Seen::OrganicMatter(OrganicMatter { percent: percent?, method }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::OrganicMatter(found) = seen else { return form };
        let form = form.measure("percent", Some(found.percent), units);
        match found.method {
            Some(method) => form.set("method", word(method)),
            None => form,
        }
    }
}
