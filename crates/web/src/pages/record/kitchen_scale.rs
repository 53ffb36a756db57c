//! Sieve, settle, weigh.

use book::model::Seen;
use ground::kit::units::{Dimension, UnitSystem};
use ground::texture::kitchen_scale::KitchenScaleReading;

use super::about::ABOUT;
use super::flow::{Flow, Group, Had};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// Sieve, settle, weigh.
pub(super) struct KitchenScale;

const OWN: &[Field] = &[
    Field::measure(
        "total_g",
        "Dry soil before washing",
        "Finer than 2 mm; 100 g (3 1/2 oz) or more for a scale that shows whole grams",
        Dimension::Mass,
    ),
    Field::measure("sand_g", "Dry sand left on the sieve", "For example 45 g or 1.6 oz", Dimension::Mass),
    Field::measure(
        "silt_g",
        "Dry silt left after the clay was poured off",
        "For example 36 g or 1.3 oz",
        Dimension::Mass,
    ),
    Field::one_of(
        "dispersed",
        "Was dishwasher powder or another dispersant used?",
        "Without it, clods of clay are weighed as silt",
        &[Choice::new("yes", "Yes"), Choice::new("no", "No")],
    ),
    Field::measure("scale_step_g", "Finest step of the scale", "For example 1 g or 0.1 oz", Dimension::Mass)
        .optional(),
    Field::measure(
        "sieve_um",
        "Opening of the sieve",
        "In \u{b5}m; a No. 270 sieve has 53 \u{b5}m, a No. 200 has 75 \u{b5}m",
        Dimension::GrainSize,
    )
    .optional(),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for KitchenScale {
    const KIND: &'static Kind = &kinds::KITCHEN_SCALE;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of(
            "What was weighed",
            "All three dry. What is missing from the whole is clay.",
            &["total_g", "sand_g", "silt_g"],
        ),
        Group::of("How", "", &["dispersed", "scale_step_g", "sieve_um"]),
    ];

    fn usual(form: Form, _units: UnitSystem) -> Form {
        form.with("scale_step_g", "1 g").with("sieve_um", "53")
    }

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let total_g = read.measure("total_g");
        let sand_g = read.measure("sand_g");
        let silt_g = read.measure("silt_g");
        let scale_step_g = read.measure("scale_step_g");
        let sieve_um = read.measure("sieve_um");
        let dispersed = read.choice("dispersed");
        Some(Seen::KitchenScale(KitchenScaleReading {
            total_g: total_g?,
            sand_g: sand_g?,
            silt_g: silt_g?,
            scale_step_g,
            sieve_um,
            dispersed: dispersed? == "yes",
        }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::KitchenScale(weighed) = seen else { return form };
        form.measure("total_g", Some(weighed.total_g), units)
            .measure("sand_g", Some(weighed.sand_g), units)
            .measure("silt_g", Some(weighed.silt_g), units)
            .measure("scale_step_g", weighed.scale_step_g, units)
            .measure("sieve_um", weighed.sieve_um, units)
            .set("dispersed", if weighed.dispersed { "yes" } else { "no" })
    }
}
