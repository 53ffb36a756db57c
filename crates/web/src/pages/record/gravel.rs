//! Gravel and stones above 2 mm, weighed or judged by eye.

use book::model::Seen;
use book::model::seen::Gravel;
use ground::kit::units::{Dimension, UnitSystem};

use super::about::ABOUT;
use super::flow::{Flow, Group, Had};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// Gravel and stones.
pub(super) struct Stones;

const OWN: &[Field] = &[
    Field::one_of(
        "judged",
        "How it was found",
        "",
        &[
            Choice::new("weighed", "Sieved and weighed: percent of the dry mass"),
            Choice::new("by_eye", "Judged by eye: percent of the volume"),
        ],
    ),
    Field::measure(
        "percent",
        "Gravel and stones above 2 mm",
        "Percent of the whole soil, stones and all",
        Dimension::Percent,
    ),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Stones {
    const KIND: &'static Kind = &kinds::GRAVEL;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[Group::of("What was found", "", &["judged", "percent"])];

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let gravel = match read.choice("judged") {
            Some("weighed") => read.measure("percent").map(Gravel::MassPercent),
            Some(_) => read.measure("percent").map(Gravel::VolumePercent),
            None => {
                // Told in the same round.
                let _ = read.measure::<book::model::seen::GravelMass>("percent");
                None
            }
        };
        gravel.map(Seen::Gravel)
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        match seen {
            Seen::Gravel(Gravel::MassPercent(mass)) => {
                form.set("judged", "weighed").measure("percent", Some(*mass), units)
            }
            Seen::Gravel(Gravel::VolumePercent(volume)) => {
                form.set("judged", "by_eye").measure("percent", Some(*volume), units)
            }
            _ => form,
        }
    }
}
