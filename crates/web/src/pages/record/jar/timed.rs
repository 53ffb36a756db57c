//! A jar that is being shaken now: what is known before it is set down.

use book::Held;
use book::model::seen::JarSeen;
use book::model::{Observation, Seen};
use ground::kit::units::{Dimension, UnitSystem};
use ground::kit::{Bounded, Refusal};
use ground::texture::jar::reading::SettledFor;
use ground::texture::jar::{Clarity, JarReading, JarShape, Marks};
use jiff::{SignedDuration, Timestamp};

use super::{shape, water};
use crate::form::{Field, Form, Reader, join};
use crate::pages::record::about::ABOUT;
use crate::pages::record::flow::{Flow, Group, Had};
use crate::pages::record::kinds::{self, Kind};

/// A jar that is being shaken now.
pub(crate) struct Timed;

pub(super) const SOIL: Field = Field::measure(
    "soil_height",
    "Height of the loose dry soil, before the water",
    "A quarter of the jar or less. The more soil, the more the grains crowd each other and the later the marks",
    Dimension::SmallLength,
)
.optional();

const OWN: &[Field] = &[
    water::HEIGHT,
    SOIL,
    water::TEMPERATURE,
    water::DISPERSANT,
    Field::measure(
        "ago",
        "How long ago it was set down",
        "Leave empty and press the button as you set the jar down",
        Dimension::Duration,
    )
    .optional(),
    water::RULER,
];

const WITH_SHAPE: &[Field] = &join::<{ OWN.len() + shape::FIELDS.len() }>(OWN, shape::FIELDS);
const FIELDS: &[Field] = &join::<{ WITH_SHAPE.len() + ABOUT.len() }>(WITH_SHAPE, ABOUT);

const GROUPS: &[Group] = &[
    Group::of(
        "Before you shake",
        "Fill in first, shake for several minutes, then set the jar down where it can stay, out of the sun, and press the button.",
        &["water_height", "soil_height", "water_temperature", "dispersant"],
    ),
    shape::GROUPS[0],
    shape::GROUPS[1],
    shape::GROUPS[2],
    Group::of("", "", &["ruler_step", "ago"]),
];

impl Flow for Timed {
    const KIND: &'static Kind = &kinds::TIMED_JAR;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = GROUPS;
    const ALIASES: &'static [(&'static str, &'static str)] = water::ALIASES;

    fn usual(form: Form, units: UnitSystem) -> Form {
        form.with("shape", "straight").with("ruler_step", water::usual_ruler(units))
    }

    fn read(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        let jar = water::Water::read(read);
        let soil_height_mm = read.measure("soil_height");
        let shape = shape::read(read);
        let started_at = set_down(read, had.now);
        Some(seen(jar, soil_height_mm, shape?, started_at?))
    }

    fn read_so_far(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        let jar = water::Water::read(read);
        jar.height?;
        let soil_height_mm = read.measure("soil_height");
        let started_at = set_down(read, had.now)?;
        Some(seen(jar, soil_height_mm, JarShape::Straight, started_at))
    }

    fn fill(_seen: &Seen, form: Form, _units: UnitSystem) -> Form {
        // Once it stands, a jar is corrected with its marks.
        form
    }

    fn onward(held: &Held<Observation>) -> String {
        format!("/records/{}/jar", held.id)
    }
}

fn seen(
    jar: water::Water,
    soil_height_mm: Option<ground::texture::jar::reading::JarHeight>,
    shape: JarShape,
    started_at: Timestamp,
) -> Seen {
    Seen::Jar(JarSeen {
        started_at: Some(started_at),
        soil_height_mm,
        finished: false,
        reading: JarReading {
            marks: Marks::Timed { marks: Vec::new() },
            ruler_step_mm: jar.ruler,
            shape,
            water_height_mm: jar.height,
            water_temperature_c: jar.temperature,
            dispersant: jar.dispersant.unwrap_or_default(),
            water_after_a_day: Clarity::NotLooked,
            floating_organic_mm: None,
        },
    })
}

/// The moment at which it was set down.
fn set_down(read: &mut Reader<'_>, now: Timestamp) -> Option<Timestamp> {
    if read.text("ago").is_none() {
        return Some(now);
    }
    let ago = read.measure::<SettledFor>("ago")?;
    let at = SignedDuration::try_from_secs_f64(ago.get()).ok().and_then(|ago| now.checked_sub(ago).ok());
    if at.is_none() {
        read.refuse(
            Refusal::new("ago", "This is too long ago").accepted("a time in s, min, h or d").example("5 min"),
        );
    }
    at
}
