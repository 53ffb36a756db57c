//! The shape of the jar: straight, measured across, or filled with known volumes.

use ground::kit::units::{Dimension, UnitSystem};
use ground::kit::{Bounded, Refusal};
use ground::texture::jar::{Fill, JarShape, Width};

use crate::form::{Choice, Field, Form, Reader};
use crate::pages::record::flow::Group;

/// Rows that a form has room for.
const ROWS: usize = 6;

const ACROSS: [(&str, &str); ROWS] = [
    ("width_height_1", "width_across_1"),
    ("width_height_2", "width_across_2"),
    ("width_height_3", "width_across_3"),
    ("width_height_4", "width_across_4"),
    ("width_height_5", "width_across_5"),
    ("width_height_6", "width_across_6"),
];
const POURED: [(&str, &str); ROWS] = [
    ("fill_height_1", "fill_volume_1"),
    ("fill_height_2", "fill_volume_2"),
    ("fill_height_3", "fill_volume_3"),
    ("fill_height_4", "fill_volume_4"),
    ("fill_height_5", "fill_volume_5"),
    ("fill_height_6", "fill_volume_6"),
];

const SHAPE: Field = Field::one_of(
    "shape",
    "Shape of the jar inside",
    "Where the jar widens or narrows beside the soil, the layers alone mislead",
    &[
        Choice::new("straight", "Straight from the floor to above the soil"),
        Choice::new("widths", "It tapers or has shoulders: I measure across at two or three heights"),
        Choice::new("poured", "Any shape: I pour in known volumes of water and read the height"),
    ],
);

const fn height(name: &'static str, label: &'static str) -> Field {
    Field::measure(name, label, "", Dimension::SmallLength).optional()
}

const fn volume(name: &'static str, label: &'static str) -> Field {
    Field::measure(name, label, "", Dimension::Volume).optional()
}

/// Fields of the shape.
pub(super) const FIELDS: &[Field] = &[
    SHAPE,
    height("width_height_1", "First height"),
    height("width_across_1", "Inside width there"),
    height("width_height_2", "Second height"),
    height("width_across_2", "Inside width there"),
    height("width_height_3", "Third height"),
    height("width_across_3", "Inside width there"),
    height("width_height_4", "Fourth height"),
    height("width_across_4", "Inside width there"),
    height("width_height_5", "Fifth height"),
    height("width_across_5", "Inside width there"),
    height("width_height_6", "Sixth height"),
    height("width_across_6", "Inside width there"),
    height("fill_height_1", "First height reached"),
    volume("fill_volume_1", "by this much water in all"),
    height("fill_height_2", "Second height reached"),
    volume("fill_volume_2", "by this much water in all"),
    height("fill_height_3", "Third height reached"),
    volume("fill_volume_3", "by this much water in all"),
    height("fill_height_4", "Fourth height reached"),
    volume("fill_volume_4", "by this much water in all"),
    height("fill_height_5", "Fifth height reached"),
    volume("fill_volume_5", "by this much water in all"),
    height("fill_height_6", "Sixth height reached"),
    volume("fill_volume_6", "by this much water in all"),
];

/// The shape on its form.
pub(super) const GROUPS: [Group; 3] = [
    Group::of("The jar", "", &["shape"]),
    Group::of(
        "Widths inside, from the floor up",
        "Heights are from the jar floor. For the floor itself the height is 0.",
        &[
            "width_height_1",
            "width_across_1",
            "width_height_2",
            "width_across_2",
            "width_height_3",
            "width_across_3",
            "width_height_4",
            "width_across_4",
            "width_height_5",
            "width_across_5",
            "width_height_6",
            "width_across_6",
        ],
    )
    .only("shape", "widths"),
    Group::of(
        "Water poured in, from the floor up",
        "Pour a cup, read the height, pour another: each line gives all the water so far.",
        &[
            "fill_height_1",
            "fill_volume_1",
            "fill_height_2",
            "fill_volume_2",
            "fill_height_3",
            "fill_volume_3",
            "fill_height_4",
            "fill_volume_4",
            "fill_height_5",
            "fill_volume_5",
            "fill_height_6",
            "fill_volume_6",
        ],
    )
    .only("shape", "poured"),
];

/// Reads the shape. Rows of a shape that was not chosen are refused rather than overlooked.
pub(super) fn read(read: &mut Reader<'_>) -> Option<JarShape> {
    let chosen = read.choice("shape")?;
    let widths = rows(read, &ACROSS, |height_mm, diameter_mm| Width { height_mm, diameter_mm });
    let fills = rows(read, &POURED, |height_mm, volume_ml| Fill { height_mm, volume_ml });
    let other = match chosen {
        "widths" => !fills.is_empty(),
        "poured" => !widths.is_empty(),
        _ => !fills.is_empty() || !widths.is_empty(),
    };
    if other {
        read.refuse(
            Refusal::new("shape", "Measurements of another shape were typed than the one that was chosen")
                .given(chosen)
                .accepted("the shape that was measured, or its lines left empty"),
        );
        return None;
    }
    let missing = match chosen {
        "widths" if widths.is_empty() => Some(ACROSS[0].0),
        "poured" if fills.is_empty() => Some(POURED[0].0),
        _ => None,
    };
    if let Some(name) = missing {
        if !read.is_refused_at(name) {
            read.refuse(
                Refusal::new(name, "At least one line of measurements is needed for this shape")
                    .given("nothing")
                    .accepted("two or three heights, from the floor up")
                    .example("0 in and 2 3/4 in across"),
            );
        }
        return None;
    }
    Some(match chosen {
        "widths" => JarShape::Widths { at: widths },
        "poured" => JarShape::Poured { fills },
        _ => JarShape::Straight,
    })
}

/// The rows that are filled in; half a row is refused.
fn rows<A: Bounded, B: Bounded, T>(
    read: &mut Reader<'_>,
    names: &[(&'static str, &'static str); ROWS],
    row: impl Fn(A, B) -> T,
) -> Vec<T> {
    let mut rows = Vec::new();
    for (height, other) in names {
        let given = (read.text(height).is_some(), read.text(other).is_some());
        let values = (read.measure::<A>(height), read.measure::<B>(other));
        let missing = match given {
            (true, false) => Some(other),
            (false, true) => Some(height),
            _ => None,
        };
        if let Some(missing) = missing {
            read.refuse(
                Refusal::new(*missing, "This half of the line is missing")
                    .given("nothing")
                    .accepted("both halves, or neither")
                    .example("2 in"),
            );
        }
        if let (Some(height), Some(other)) = values {
            rows.push(row(height, other));
        }
    }
    rows
}

/// Puts the shape back in the form.
pub(super) fn fill(shape: &JarShape, form: Form, units: UnitSystem) -> Form {
    match shape {
        JarShape::Straight => form.set("shape", "straight"),
        JarShape::Widths { at } => {
            at.iter().zip(ACROSS).fold(form.set("shape", "widths"), |form, (width, (height, across))| {
                form.measure(height, Some(width.height_mm), units).measure(
                    across,
                    Some(width.diameter_mm),
                    units,
                )
            })
        }
        JarShape::Poured { fills } => {
            fills.iter().zip(POURED).fold(form.set("shape", "poured"), |form, (fill, (height, volume))| {
                form.measure(height, Some(fill.height_mm), units).measure(volume, Some(fill.volume_ml), units)
            })
        }
    }
}

/// A shape that came with an import and has more rows than the form keeps those it cannot show, as
/// long as the others are as they were.
pub(super) fn with_hidden_rows(shape: JarShape, before: Option<&JarShape>) -> JarShape {
    match (shape, before) {
        (JarShape::Widths { mut at }, Some(JarShape::Widths { at: had })) if had.len() > ROWS => {
            at.extend(had.iter().skip(ROWS).copied());
            JarShape::Widths { at }
        }
        (JarShape::Poured { mut fills }, Some(JarShape::Poured { fills: had })) if had.len() > ROWS => {
            fills.extend(had.iter().skip(ROWS).copied());
            JarShape::Poured { fills }
        }
        (shape, _) => shape,
    }
}
