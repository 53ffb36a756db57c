//! A jar that has settled: thicknesses of the layers, or heights of their tops.

use book::model::Seen;
use book::model::seen::JarSeen;
use ground::kit::units::{Dimension, UnitSystem};
use ground::texture::jar::{Boundary, Clarity, Dispersant, JarReading, JarShape, Marks};

use super::{boundary, put, shape, water};
use crate::form::{Choice, Field, Form, Reader, join};
use crate::pages::record::about::ABOUT;
use crate::pages::record::flow::{Flow, Group, Had};
use crate::pages::record::kinds::{self, Kind};

/// A jar that has settled.
pub(crate) struct Settled;

const LAYER_HINT: &str =
    "For example 2 3/16 in or 55 mm; a range such as 1 1/8 to 1 1/4 in; or \u{201c}not seen\u{201d}";

const OWN: &[Field] = &[
    Field::one_of(
        "read_as",
        "How it was read",
        "",
        &[
            Choice::new("thicknesses", "Thickness of each layer"),
            Choice::new("heights", "Height of each layer\u{2019}s top above the jar floor"),
        ],
    ),
    Field::reading("clay", "Clay, on top", LAYER_HINT, Dimension::SmallLength),
    Field::reading("silt", "Silt, in the middle", LAYER_HINT, Dimension::SmallLength),
    Field::reading("sand", "Sand, at the bottom", LAYER_HINT, Dimension::SmallLength),
    water::CLARITY,
    water::DISPERSANT,
    water::HEIGHT.optional(),
    water::TEMPERATURE,
    water::FLOATING,
    water::RULER,
];

const WITH_SHAPE: &[Field] = &join::<{ OWN.len() + shape::FIELDS.len() }>(OWN, shape::FIELDS);
const FIELDS: &[Field] = &join::<{ WITH_SHAPE.len() + ABOUT.len() }>(WITH_SHAPE, ABOUT);

const GROUPS: &[Group] = &[
    Group::of(
        "The layers",
        "Read at eye level, on two sides if they differ. A boundary you cannot see is a reading too: write \u{201c}not seen\u{201d}.",
        &["read_as", "clay", "silt", "sand"],
    ),
    Group::of(
        "The water",
        "",
        &["water_after_a_day", "dispersant", "water_height", "water_temperature", "floating_organic"],
    ),
    shape::GROUPS[0],
    shape::GROUPS[1],
    shape::GROUPS[2],
    Group::of("", "", &["ruler_step"]),
];

impl Flow for Settled {
    const KIND: &'static Kind = &kinds::JAR;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = GROUPS;
    const ALIASES: &'static [(&'static str, &'static str)] = water::ALIASES;

    fn usual(form: Form, units: UnitSystem) -> Form {
        form.with("read_as", "thicknesses")
            .with("shape", "straight")
            .with("ruler_step", water::usual_ruler(units))
    }

    fn read(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        let read_as = read.choice("read_as");
        let [sand, silt, clay] = ["sand", "silt", "clay"].map(|name| boundary(read, name));
        let (clarity, floating) = water::end(read);
        let jar = water::Water::read(read);
        let shape = shape::read(read);
        let marks = marks(read_as?, sand?, silt?, clay?);
        let before = match had.before {
            Some(Seen::Jar(jar)) => Some(jar),
            _ => None,
        };
        Some(Seen::Jar(JarSeen {
            started_at: before.and_then(|jar| jar.started_at),
            soil_height_mm: before.and_then(|jar| jar.soil_height_mm),
            finished: true,
            reading: JarReading {
                marks,
                ruler_step_mm: jar.ruler,
                shape: shape::with_hidden_rows(shape?, before.map(|jar| &jar.reading.shape)),
                water_height_mm: jar.height,
                water_temperature_c: jar.temperature,
                dispersant: jar.dispersant?,
                water_after_a_day: clarity?,
                floating_organic_mm: floating,
            },
        }))
    }

    /// What is not typed yet counts as not seen, so that the drawing grows with the typing.
    fn read_so_far(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let read_as = read.choice("read_as").unwrap_or("thicknesses");
        let typed = ["sand", "silt", "clay"].map(|name| boundary(read, name));
        if typed.iter().all(Option::is_none) {
            return None;
        }
        let [sand, silt, clay] = typed.map(|boundary| boundary.unwrap_or(Boundary::No));
        let (clarity, floating) = water::end(read);
        let jar = water::Water::read(read);
        Some(Seen::Jar(JarSeen {
            started_at: None,
            soil_height_mm: None,
            finished: true,
            reading: JarReading {
                marks: marks(read_as, sand, silt, clay),
                ruler_step_mm: jar.ruler,
                shape: shape::read(read).unwrap_or(JarShape::Straight),
                water_height_mm: jar.height,
                water_temperature_c: jar.temperature,
                dispersant: jar.dispersant.unwrap_or(Dispersant::Unknown),
                water_after_a_day: clarity.unwrap_or(Clarity::NotLooked),
                floating_organic_mm: floating,
            },
        }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Jar(jar) = seen else { return form };
        let (read_as, layers) = match &jar.reading.marks {
            Marks::Thicknesses { sand, silt, clay } => ("thicknesses", [sand, silt, clay]),
            Marks::Heights { sand_top, silt_top, clay_top } => ("heights", [sand_top, silt_top, clay_top]),
            // Timed marks have a form of their own.
            Marks::Timed { .. } => return form,
        };
        let form = ["sand", "silt", "clay"]
            .into_iter()
            .zip(layers)
            .fold(form.set("read_as", read_as), |form, (name, layer)| put(form, name, layer, units));
        shape::fill(&jar.reading.shape, water::fill(&jar.reading, form, units), units)
    }
}

fn marks(read_as: &str, sand: Boundary, silt: Boundary, clay: Boundary) -> Marks {
    if read_as == "heights" {
        Marks::Heights { sand_top: sand, silt_top: silt, clay_top: clay }
    } else {
        Marks::Thicknesses { sand, silt, clay }
    }
}
