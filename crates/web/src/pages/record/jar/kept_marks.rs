//! Correcting a jar with timed marks: each mark's time and height, the water and the jar.

use book::model::Seen;
use book::model::seen::JarSeen;
use ground::kit::units::{Dimension, UnitSystem};
use ground::kit::{Bounded, Refusal};
use ground::texture::jar::reading::SettledFor;
use ground::texture::jar::{Boundary, JarReading, Marks, TimedMark};

use super::{boundary, put, shape, timed, water};
use crate::form::{Field, Form, Reader, join};
use crate::jars;
use crate::pages::record::about::ABOUT;
use crate::pages::record::flow::{Flow, Group, Had};
use crate::pages::record::kinds::{self, Kind};

/// A jar with timed marks, in a correction.
pub(crate) struct KeptMarks;

/// Marks that the form has room for.
const ROWS: [(&str, &str); 8] = [
    ("after_1", "top_1"),
    ("after_2", "top_2"),
    ("after_3", "top_3"),
    ("after_4", "top_4"),
    ("after_5", "top_5"),
    ("after_6", "top_6"),
    ("after_7", "top_7"),
    ("after_8", "top_8"),
];

const fn after(name: &'static str, label: &'static str) -> Field {
    Field::measure(name, label, "Since the jar was set down, for example 45 s or 2 h", Dimension::Duration)
        .optional()
}

const fn top(name: &'static str) -> Field {
    Field::reading(
        name,
        "Its height",
        "A height, a range, or \u{201c}not seen\u{201d}",
        Dimension::SmallLength,
    )
    .optional()
}

const OWN: &[Field] = &[
    after("after_1", "First mark, made after"),
    top("top_1"),
    after("after_2", "Second mark, made after"),
    top("top_2"),
    after("after_3", "Third mark, made after"),
    top("top_3"),
    after("after_4", "Fourth mark, made after"),
    top("top_4"),
    after("after_5", "Fifth mark, made after"),
    top("top_5"),
    after("after_6", "Sixth mark, made after"),
    top("top_6"),
    after("after_7", "Seventh mark, made after"),
    top("top_7"),
    after("after_8", "Eighth mark, made after"),
    top("top_8"),
    water::CLARITY,
    water::DISPERSANT,
    water::HEIGHT.optional(),
    timed::SOIL,
    water::TEMPERATURE,
    water::FLOATING,
    water::RULER,
];

const WITH_SHAPE: &[Field] = &join::<{ OWN.len() + shape::FIELDS.len() }>(OWN, shape::FIELDS);
const FIELDS: &[Field] = &join::<{ WITH_SHAPE.len() + ABOUT.len() }>(WITH_SHAPE, ABOUT);

const GROUPS: &[Group] = &[
    Group::of(
        "The marks",
        "In the order of time. To take a mark out, empty both its fields.",
        &[
            "after_1", "top_1", "after_2", "top_2", "after_3", "top_3", "after_4", "top_4", "after_5",
            "top_5", "after_6", "top_6", "after_7", "top_7", "after_8", "top_8",
        ],
    ),
    Group::of(
        "The water",
        "",
        &[
            "water_after_a_day",
            "dispersant",
            "water_height",
            "soil_height",
            "water_temperature",
            "floating_organic",
        ],
    ),
    shape::GROUPS[0],
    shape::GROUPS[1],
    shape::GROUPS[2],
    Group::of("", "", &["ruler_step"]),
];

impl Flow for KeptMarks {
    const KIND: &'static Kind = &kinds::TIMED_JAR;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = GROUPS;
    const ALIASES: &'static [(&'static str, &'static str)] = &[
        ("marks.marks[0].top", "top_1"),
        ("marks.marks[1].top", "top_2"),
        ("marks.marks[2].top", "top_3"),
        ("marks.marks[3].top", "top_4"),
        ("marks.marks[4].top", "top_5"),
        ("marks.marks[5].top", "top_6"),
        ("marks.marks[6].top", "top_7"),
        ("marks.marks[7].top", "top_8"),
        ("marks.marks", "top_1"),
        ("water_height_mm", "water_height"),
        ("soil_height_mm", "soil_height"),
        ("shape", "shape"),
    ];

    fn read(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        let Some(Seen::Jar(before)) = had.before else { return None };
        let marks = marks(read, before);
        let (clarity, floating_organic_mm) = water::end(read);
        let jar = water::Water::read(read);
        let soil_height_mm = read.measure("soil_height");
        let shape = shape::read(read);
        Some(Seen::Jar(JarSeen {
            started_at: before.started_at,
            soil_height_mm,
            finished: before.finished,
            reading: JarReading {
                marks: Marks::Timed { marks },
                ruler_step_mm: jar.ruler,
                shape: shape::with_hidden_rows(shape?, Some(&before.reading.shape)),
                water_height_mm: jar.height,
                water_temperature_c: jar.temperature,
                dispersant: jar.dispersant?,
                water_after_a_day: clarity?,
                floating_organic_mm,
            },
        }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Jar(jar) = seen else { return form };
        let form = jars::marks(jar).iter().zip(ROWS).fold(form, |form, (mark, (after, top))| {
            put(form.measure(after, Some(mark.after_s), units), top, &mark.top, units)
        });
        let form = form.measure("soil_height", jar.soil_height_mm, units);
        shape::fill(&jar.reading.shape, water::fill(&jar.reading, form, units), units)
    }
}

/// The marks of the form in the order of time, then those it has no room for.
fn marks(read: &mut Reader<'_>, before: &JarSeen) -> Vec<TimedMark> {
    let mut marks: Vec<TimedMark> = Vec::new();
    for (after, top) in ROWS {
        let typed = read.text(after);
        let after_s = read.measure::<SettledFor>(after);
        let top_given = read.text(top).is_some();
        // A mark whose height was left out is one that could not be measured.
        let top = boundary(read, top).or((!top_given).then_some(Boundary::No));
        if top_given && typed.is_none() {
            read.refuse(
                Refusal::new(after, "This mark has a height and no time")
                    .given("nothing")
                    .accepted("the time since the jar was set down")
                    .example("2 h"),
            );
        }
        let (Some(after_s), Some(top)) = (after_s, top) else { continue };
        if marks.iter().any(|mark| mark.after_s == after_s) {
            read.refuse(
                Refusal::new(after, "Two marks are given the same time")
                    .given(typed.unwrap_or_default())
                    .accepted("a time of its own for each mark"),
            );
        }
        marks.push(TimedMark { after_s, top });
    }
    marks.extend(jars::marks(before).iter().skip(ROWS.len()).cloned());
    marks.sort_by(|a, b| a.after_s.get().total_cmp(&b.after_s.get()));
    marks
}
