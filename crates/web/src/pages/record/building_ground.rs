//! Ground to build on: what a hole, a bar and the fingers tell of it.

use book::model::Seen;
use book::model::seen::{BuildingGround, Thread};
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem};

use super::about::ABOUT;
use super::flow::{Flow, Group, Had};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// Ground to build on.
pub(super) struct ToBuildOn;

const OWN: &[Field] = &[
    Field::measure("tilled_to", "Tilled or loosened down to", "For example 10 in or 25 cm", Dimension::Depth)
        .optional(),
    Field::measure("fill_to", "Fill or moved earth down to", "", Dimension::Depth).optional(),
    Field::measure("organic_to", "Peat, muck or black with humus down to", "", Dimension::Depth).optional(),
    Field::measure(
        "stopped_at",
        "A bar or an auger stopped at",
        "Try at three points: one stop may be one boulder",
        Dimension::Depth,
    )
    .optional(),
    Field::measure("water_at", "Water stood in the open hole at", "", Dimension::Depth).optional(),
    Field::measure("dry_to", "An open hole stayed dry down to", "In the wettest season", Dimension::Depth)
        .optional(),
    Field::measure(
        "at",
        "Depth of the soil that was tested",
        "From the foot of the hole, best",
        Dimension::Depth,
    )
    .optional(),
    Field::pick(
        "thread",
        "Rolled into a thread of 1/8 in (3 mm)",
        "Moist, between the palms, until it crumbles; then pressed together and rolled again",
        &[
            Choice::new("none", "No thread can be rolled"),
            Choice::new("weak", "It barely rolls"),
            Choice::new("medium", "It rolls easily, once"),
            Choice::new("tough", "It rolls again and again"),
        ],
    )
    .optional(),
    Field::measure("liquid_limit", "Liquid limit", "From a laboratory", Dimension::Percent).optional(),
    Field::measure("plastic_limit", "Plastic limit", "From the same report", Dimension::Percent).optional(),
    Field::measure(
        "resistivity",
        "Electrical resistivity of the wet ground",
        "In ohm·m; a report in ohm-cm has a hundred times the number",
        Dimension::Number,
    )
    .optional(),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for ToBuildOn {
    const KIND: &'static Kind = &kinds::BUILDING_GROUND;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of(
            "The hole",
            "Posts count from below what is tilled, filled or organic. Fill in what you know.",
            &["tilled_to", "fill_to", "organic_to", "stopped_at", "water_at", "dry_to"],
        ),
        Group::of("How plastic it is", "", &["at", "thread", "liquid_limit", "plastic_limit"]),
        Group::of("For steel in the ground", "", &["resistivity"]),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] = &[
        ("tilled_to_cm", "tilled_to"),
        ("fill_to_cm", "fill_to"),
        ("organic_to_cm", "organic_to"),
        ("stopped_at_cm", "stopped_at"),
        ("water_at_cm", "water_at"),
        ("dry_to_cm", "dry_to"),
        ("at_cm", "at"),
        ("liquid_limit_percent", "liquid_limit"),
        ("plastic_limit_percent", "plastic_limit"),
        ("resistivity_ohm_m", "resistivity"),
    ];

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let chosen = read.choice("thread");
        Some(Seen::BuildingGround(BuildingGround {
            at_cm: read.measure("at"),
            liquid_limit_percent: read.measure("liquid_limit"),
            plastic_limit_percent: read.measure("plastic_limit"),
            thread: Thread::ALL.into_iter().find(|thread| Some(thread.key()) == chosen),
            resistivity_ohm_m: read.measure("resistivity"),
            tilled_to_cm: read.measure("tilled_to"),
            fill_to_cm: read.measure("fill_to"),
            organic_to_cm: read.measure("organic_to"),
            stopped_at_cm: read.measure("stopped_at"),
            water_at_cm: read.measure("water_at"),
            dry_to_cm: read.measure("dry_to"),
        }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::BuildingGround(found) = seen else { return form };
        form.measure("at", found.at_cm, units)
            .measure("liquid_limit", found.liquid_limit_percent, units)
            .measure("plastic_limit", found.plastic_limit_percent, units)
            .set("thread", found.thread.map_or("", Thread::key))
            // Its unit stands in the hint: forms read it as a bare number.
            .set("resistivity", found.resistivity_ohm_m.map(|one| one.get().to_string()).unwrap_or_default())
            .measure("tilled_to", found.tilled_to_cm, units)
            .measure("fill_to", found.fill_to_cm, units)
            .measure("organic_to", found.organic_to_cm, units)
            .measure("stopped_at", found.stopped_at_cm, units)
            .measure("water_at", found.water_at_cm, units)
            .measure("dry_to", found.dry_to_cm, units)
    }
}
