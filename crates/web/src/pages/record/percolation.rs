//! A test hole: how fast the water in it falls.

use book::model::Seen;
use book::model::seen::Percolation;
use ground::kit::units::{Dimension, UnitSystem};

use super::about::ABOUT;
use super::flow::{Flow, Group, Had};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// A test hole.
pub(super) struct TestHole;

const OWN: &[Field] = &[
    Field::measure("fall", "How far the water fell", "For example 1 in or 25 mm", Dimension::SmallLength),
    Field::measure("minutes", "In how long", "For example 30 min", Dimension::Duration),
    Field::one_of(
        "soaked",
        "Was the hole soaked first",
        "Filled and left to drain at least once, better overnight",
        &[Choice::new("yes", "Yes"), Choice::new("no", "No, the ground was as it stood")],
    ),
    Field::measure("hole_depth", "Depth of the hole", "For example 24 in or 60 cm", Dimension::Depth)
        .optional(),
    Field::measure("hole_diameter", "Its width across", "For example 10 in or 25 cm", Dimension::SmallLength)
        .optional(),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for TestHole {
    const KIND: &'static Kind = &kinds::PERCOLATION;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of(
            "The water",
            "Roughen the walls, fill the hole, let it drain, fill it again and time the fall from then.",
            &["fall", "minutes", "soaked"],
        ),
        Group::of("The hole", "", &["hole_depth", "hole_diameter"]),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] =
        &[("fall_mm", "fall"), ("hole_depth_cm", "hole_depth"), ("hole_diameter_mm", "hole_diameter")];

    fn looks() -> bool {
        true
    }

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let fall_mm = read.measure("fall");
        let minutes = read.measure("minutes");
        let soaked = read.choice("soaked").map(|answer| answer == "yes");
        let hole_depth_cm = read.measure("hole_depth");
        let hole_diameter_mm = read.measure("hole_diameter");
        Some(Seen::Percolation(Percolation {
            fall_mm: fall_mm?,
            minutes: minutes?,
            soaked: soaked?,
            hole_depth_cm,
            hole_diameter_mm,
        }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Percolation(hole) = seen else { return form };
        form.measure("fall", Some(hole.fall_mm), units)
            .measure("minutes", Some(hole.minutes), units)
            .set("soaked", if hole.soaked { "yes" } else { "no" })
            .measure("hole_depth", hole.hole_depth_cm, units)
            .measure("hole_diameter", hole.hole_diameter_mm, units)
    }
}
