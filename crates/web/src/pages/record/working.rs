//! The working test: a handful from working depth, and how the ground worked.

use book::model::Seen;
use book::model::seen::WorkingTest;
use ground::kit::Refusal;
use ground::kit::units::{Dimension, Unit, UnitSystem};
use ground::structure::working::limits::LimitsInput;

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, chosen, word};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// A working test.
pub(super) struct Handful;

const OWN: &[Field] = &[
    Field::measure(
        "depth",
        "From which depth the handful came",
        "As deep as you mean to work or as a wheel presses, for example 6 in or 15 cm",
        Dimension::Depth,
    ),
    Field::one_of(
        "handful",
        "Squeeze it, then press the ball with the thumb or drop it from the waist",
        "",
        &[
            Choice::new("no_ball", "It makes no ball"),
            Choice::new("shatters", "The ball shatters into small pieces"),
            Choice::new("dents", "The ball dents and holds together, or lands flat"),
            Choice::new("ribbons", "It smears into a ribbon with a shine"),
            Choice::new("drips", "Water comes out"),
        ],
    ),
    Field::measure(
        "days_since_rain",
        "Days since a soaking rain or watering",
        "With it the days that this ground takes can be learnt",
        Dimension::Duration,
    )
    .in_unit(Unit::Day)
    .optional(),
    Field::pick(
        "worked",
        "What the ground did, if it was worked that day",
        "",
        &[
            Choice::new("crumbled", "It broke into crumbs"),
            Choice::new("clods", "It came up in hard clods"),
            Choice::new("smeared", "It smeared and shone"),
            Choice::new("dust", "It went to dust"),
        ],
    )
    .optional(),
    Field::measure(
        "plastic_limit",
        "Plastic limit",
        "Water by mass at which a rolled thread crumbles at 1/8 in (3 mm)",
        Dimension::Percent,
    )
    .optional(),
    Field::measure("liquid_limit", "Liquid limit", "From a laboratory", Dimension::Percent).optional(),
    Field::measure("water", "Water in the ground by mass", "From a dried handful", Dimension::Percent)
        .optional(),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Handful {
    const KIND: &'static Kind = &kinds::WORKING;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of("The handful", "", &["depth", "handful"]),
        Group::of("The day", "", &["days_since_rain", "worked"]),
        Group::of(
            "Consistency limits",
            "Where they were measured.",
            &["plastic_limit", "liquid_limit", "water"],
        )
        .folded(),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] = &[
        ("depth_cm", "depth"),
        ("limits.liquid_limit_percent", "liquid_limit"),
        ("limits.plastic_limit_percent", "plastic_limit"),
        ("limits.water_percent", "water"),
    ];

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let depth_cm = read.measure("depth");
        let handful = chosen(read, "handful");
        let days_since_rain = read.measure("days_since_rain");
        let worked = chosen(read, "worked");
        let plastic = read.measure("plastic_limit");
        let (liquid_limit_percent, water_percent) = (read.measure("liquid_limit"), read.measure("water"));
        if plastic.is_none()
            && (liquid_limit_percent.is_some() || water_percent.is_some())
            && !read.is_refused_at("plastic_limit")
        {
            read.refuse(
                Refusal::new("plastic_limit", "The other figures need the plastic limit beside them")
                    .given("nothing")
                    .accepted("5 to 100 %")
                    .example("22"),
            );
        }
        let limits = plastic.map(|plastic_limit_percent| LimitsInput {
            liquid_limit_percent,
            plastic_limit_percent,
            water_percent,
        });
        Some(Seen::Working(WorkingTest {
            depth_cm: depth_cm?,
            handful: handful?,
            days_since_rain,
            worked,
            limits,
        }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Working(test) = seen else { return form };
        let form = form
            .measure("depth", Some(test.depth_cm), units)
            .set("handful", word(test.handful))
            .measure("days_since_rain", test.days_since_rain, units)
            .set("worked", test.worked.map(word).unwrap_or_default());
        match &test.limits {
            Some(limits) => form
                .measure("plastic_limit", Some(limits.plastic_limit_percent), units)
                .measure("liquid_limit", limits.liquid_limit_percent, units)
                .measure("water", limits.water_percent, units),
            None => form,
        }
    }
}
