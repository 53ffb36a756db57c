//! The form of something on the plan, read into a drawing.

use advice::plan::{Drawing, FarmPlan, typed_corners, typed_holes, typed_place};
use book::Snapshot;
use book::model::{EntryId, Form as Shape, KeepOutWhy, PartKind, PlanPart, Point};
use ground::kit::Refusal;
use ground::kit::quantity::number;
use ground::kit::units::{Unit, UnitSystem};
use ground::spatial::typed::sides_of;

use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, Width};

pub(super) const FIELDS: &[Field] = &[
    Field::pick("kind", "What it is", "", &KINDS),
    Field::text("name", "Name", "For example east ditch; a new plot needs one").width(Width::Middle).optional(),
    Field::pick("plot", "Plot", "The one it shows or lies in; leave open for a plot that is not in the book yet", &[]).optional(),
    Field::text(
        "sides",
        "Sides, for a rectangle",
        "Both sides and the way the long one runs: 30 x 96 ft, long side N20E, or 20 by 60 m, long side 110\u{b0}. Bearings from true north; a compass points a few degrees off",
    )
    .optional(),
    Field::text(
        "first",
        "Where its first corner lies",
        "East and north of the origin, for example 120 ft, 40 ft; or latitude and longitude. Left open, it is put beside what is drawn, to be moved later",
    )
    .optional(),
    Field::lines(
        "corners",
        "Or its corners or places, one a line",
        "East and north of the origin (120 ft, 40 ft), or side by side with bearings (96 ft N20E), or latitude and longitude (42.5012, -93.4987 or 42 30.07 N, 93 29.92 W)",
    )
    .optional(),
    Field::lines(
        "holes",
        "Cut out of it",
        "A pond, a barn or a yard that is no part of it: its corners one a line, as above; an empty line between two of them",
    )
    .optional(),
    Field::pick("form", "Drawn as", "", &FORMS).optional(),
    Field::pick("why", "Why nothing is sampled there", "For a strip to keep out of", &WHY).optional(),
    Field::lines("note", "Note", "").optional(),
    Field::hidden("revision").optional(),
];

const KINDS: [Choice; 13] = [
    Choice::new("plot", "Plot"),
    Choice::new("bed", "Bed"),
    Choice::new("tunnel", "Tunnel"),
    Choice::new("building", "Building"),
    Choice::new("drain", "Drain or ditch"),
    Choice::new("post", "Post"),
    Choice::new("tree", "Tree"),
    Choice::new("standing_water", "Standing water"),
    Choice::new("keep_out", "No sampling here"),
    Choice::new("track", "Track"),
    Choice::new("water_point", "Water point"),
    Choice::new("farm_edge", "Edge of the farm"),
    Choice::new("other", "Something else"),
];

const FORMS: [Choice; 3] =
    [Choice::new("area", "Area"), Choice::new("line", "Line"), Choice::new("point", "One place")];

const WHY: [Choice; 8] = [
    Choice::new("edge", "Field edge"),
    Choice::new("old_fence", "Old fence line"),
    Choice::new("manure_pile", "Manure or compost pile"),
    Choice::new("burn_spot", "Burn spot"),
    Choice::new("spill", "Spilt fertilizer, lime or fuel"),
    Choice::new("wheel_track", "Wheel track"),
    Choice::new("feeding", "Feeding or watering place of animals"),
    Choice::new("other", "Something else"),
];

/// The kind of that key.
pub(super) fn kind_of(key: &str) -> Option<PartKind> {
    serde_json::from_value(serde_json::Value::String(key.to_owned())).ok()
}

/// The key of a kind or a reason, as forms and files carry it.
pub(super) fn key_of<T: serde::Serialize>(value: T) -> String {
    serde_json::json!(value).as_str().unwrap_or_default().to_owned()
}

pub(super) fn why_of(key: &str) -> Option<KeepOutWhy> {
    serde_json::from_value(serde_json::Value::String(key.to_owned())).ok()
}

/// The drawing that a form describes; `before` is what it corrects.
pub(super) fn drawing(
    read: &mut Reader<'_>,
    snapshot: &Snapshot,
    plan: &FarmPlan,
    before: Option<(&PlanPart, &Shape)>,
    system: UnitSystem,
) -> (Option<Drawing>, Vec<String>) {
    let mut remarks = Vec::new();
    let kind = read.choice("kind").and_then(kind_of);
    let plot: Option<EntryId> = read.entry("plot");
    let name = read.text("name").unwrap_or_default().trim().to_owned();
    let why = read.choice("why").and_then(why_of);
    let chosen = read.choice("form");
    let note = read.lines("note");
    let sides_text = read.text("sides");
    let first_text = read.text("first");
    let corners_text = read.lines("corners");
    let holes_text = read.lines("holes");
    let Some(kind) = kind else { return (None, remarks) };
    let place = first_text.map(|text| typed_place("first", text, snapshot, plan, system));
    let place = place.and_then(|place| read.take(place)).map(|(at, said)| {
        remarks.extend(said);
        at
    });
    let mut sides_m = None;
    let shape = if let Some(text) = sides_text {
        read.take(sides_of("sides", text, system)).map(|sides| {
            sides_m = Some([sides.short_m, sides.long_m]);
            if sides.long_bearing_degrees.is_none() {
                remarks.push("No bearing was given, so the long side was drawn north.".to_owned());
            }
            // What is corrected stays where it lies.
            let stays = before.and_then(|(_, shape)| match shape {
                Shape::Area { outer, .. } => outer.first().copied(),
                _ => None,
            });
            let first = place.or(stays).unwrap_or_else(|| beside(plan));
            Shape::Area { outer: sides.corners(first).to_vec(), holes: Vec::new() }
        })
    } else if let Some((_, shape)) =
        before.filter(|(_, shape)| corners_words(shape, system) == corners_text.trim())
    {
        Some(shape.clone())
    } else if corners_text.trim().is_empty() {
        match place {
            Some(at) => Some(Shape::Point { at }),
            // It was said, and has been refused.
            None if first_text.is_some() => None,
            None => {
                read.refuse(
                    Refusal::new("sides", "Say where it lies: type its sides, or its corners, or one place")
                        .given("nothing")
                        .accepted("two sides and a bearing, or one corner a line")
                        .example("30 x 96 ft, long side N20E"),
                );
                None
            }
        }
    } else {
        let start = place.unwrap_or([0.0, 0.0]);
        let typed = typed_corners("corners", &corners_text, start, snapshot, plan, system);
        read.take(typed).and_then(|(corners, said)| {
            remarks.extend(said);
            read.take(shape_of(kind, chosen, corners))
        })
    };
    let Some(form) = shape else { return (None, remarks) };
    let known = before.map_or(&[][..], |(_, shape)| match shape {
        Shape::Area { holes, .. } => holes,
        _ => &[],
    });
    // What was left as it was shown keeps every digit.
    let holes = if holes_words(known, system) == holes_text.trim() {
        Some(known.to_vec())
    } else {
        read.take(typed_holes("holes", &holes_text, snapshot, plan, system)).map(|(holes, said)| {
            remarks.extend(said);
            holes
        })
    };
    let Some(holes) = holes else { return (None, remarks) };
    let form = match form {
        Shape::Area { outer, .. } => Shape::Area { outer, holes },
        other if holes.is_empty() => other,
        _ => {
            read.refuse(
                Refusal::new("holes", "Only an area can have a piece cut out of it")
                    .given("a line or one place")
                    .accepted("an area of three corners or more")
                    .example("leave this field open"),
            );
            return (None, remarks);
        }
    };
    (Some(Drawing { kind, name, plot, why, form, sides_m, note }), remarks)
}

/// Corners as an area, a line or one place: as it was chosen, else as the kind is usually drawn.
fn shape_of(kind: PartKind, chosen: Option<&str>, corners: Vec<Point>) -> Result<Shape, Refusal> {
    let usual = super::forms(kind)[0];
    let form = chosen.unwrap_or(match corners.len() {
        1 => "point",
        2 if usual == "area" => "line",
        _ => usual,
    });
    let refused = |least: usize| {
        Refusal::new("corners", format!("{} places are too few here", corners.len()))
            .given(corners.len())
            .accepted(format!("{least} or more, one a line"))
            .example("0, 0")
    };
    match (form, corners.as_slice()) {
        ("point", [at, ..]) => Ok(Shape::Point { at: *at }),
        ("line", [_, _, ..]) => Ok(Shape::Line { through: corners }),
        ("line", _) => Err(refused(2)),
        (_, [_, _, _, ..]) => Ok(Shape::Area { outer: corners, holes: Vec::new() }),
        _ => Err(refused(3)),
    }
}

/// A free place to the east of all that is drawn.
fn beside(plan: &FarmPlan) -> Point {
    let places = plan.parts.iter().flat_map(|part| match &part.form {
        Shape::Point { at } => vec![*at],
        Shape::Line { through } => through.clone(),
        Shape::Area { outer, .. } => outer.clone(),
    });
    places
        .fold(None, |far: Option<Point>, at| {
            let far = far.unwrap_or([f64::MIN, f64::MAX]);
            Some([far[0].max(at[0]), far[1].min(at[1])])
        })
        .map_or([0.0, 0.0], |far| [far[0] + 5.0, far[1]])
}

/// The places of a form as they are typed, one a line.
pub(super) fn corners_words(form: &Shape, system: UnitSystem) -> String {
    let (unit, sign) = match system {
        UnitSystem::UsCustomary => (Unit::Foot, "ft"),
        UnitSystem::Metric => (Unit::Metre, "m"),
    };
    let line = |at: &Point| {
        let one = |value: f64| number((Unit::Metre.convert(value, unit) * 100.0).round() / 100.0);
        format!("{} {sign}, {} {sign}", one(at[0]), one(at[1]))
    };
    let places: Vec<String> = match form {
        Shape::Point { at } => vec![line(at)],
        Shape::Line { through } => through.iter().map(line).collect(),
        Shape::Area { outer, .. } => outer.iter().map(line).collect(),
    };
    places.join("\n")
}

/// Pieces cut out as they are typed, an empty line between two.
fn holes_words(holes: &[Vec<Point>], system: UnitSystem) -> String {
    let words = |hole: &Vec<Point>| corners_words(&Shape::Line { through: hole.clone() }, system);
    holes.iter().map(words).collect::<Vec<_>>().join("\n\n")
}

/// The form with the plots of the book to choose from.
pub(super) fn with_plots(form: Form, snapshot: &Snapshot) -> Form {
    form.choices("plot", snapshot.plots.iter().map(|plot| (plot.id.to_string(), plot.body.name.clone())))
}

/// The form of a part that stands on the plan.
pub(super) fn filled(ask: &Ask, part: &PlanPart, shape: &Shape, name: &str, number: u32) -> Form {
    let own = if name == part.kind.words() { "" } else { name };
    let chosen = match shape {
        Shape::Point { .. } => "point",
        Shape::Line { .. } => "line",
        Shape::Area { .. } => "area",
    };
    ask.form(FIELDS)
        .set("kind", key_of(part.kind))
        .set("name", own)
        .set("plot", part.plot.map(|plot| plot.to_string()).unwrap_or_default())
        .set("corners", corners_words(shape, ask.units()))
        .set(
            "holes",
            if let Shape::Area { holes, .. } = shape {
                holes_words(holes, ask.units())
            } else {
                String::new()
            },
        )
        .set("form", chosen)
        .set("why", part.why.map(key_of).unwrap_or_default())
        .set("note", &part.note)
        .set("revision", number.to_string())
}
