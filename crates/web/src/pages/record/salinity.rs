//! Salts, as the electrical conductivity of an extract.

use book::model::Seen;
use book::model::seen::Salinity;
use ground::kit::units::{Dimension, UnitSystem};

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, chosen, word};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// Salts.
pub(super) struct Salts;

const OWN: &[Field] = &[
    Field::measure(
        "ec_ds_m",
        "Electrical conductivity",
        "At 25 \u{b0}C, in dS/m; mS/cm and mmho/cm are the same number, \u{b5}S/cm is a thousand times as much",
        Dimension::Salinity,
    ),
    Field::one_of(
        "extract",
        "Measured in",
        "The same soil reads several times lower in more water",
        &[
            Choice::new("saturated_paste", "Extract of the saturated paste"),
            Choice::new("one_to_one", "One part soil, one part water"),
            Choice::new("one_to_two", "One part soil, two parts water"),
            Choice::new("one_to_five", "One part soil, five parts water"),
            Choice::new("not_stated", "The report does not say"),
        ],
    ),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Salts {
    const KIND: &'static Kind = &kinds::SALINITY;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[Group::of("What was measured", "", &["ec_ds_m", "extract"])];

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let ec_ds_m = read.measure("ec_ds_m");
        let extract = chosen(read, "extract");
        Some(Seen::Salinity(Salinity { ec_ds_m: ec_ds_m?, extract: extract? }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Salinity(salts) = seen else { return form };
        form.measure("ec_ds_m", Some(salts.ec_ds_m), units).set("extract", word(salts.extract))
    }
}
