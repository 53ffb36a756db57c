//! A probe transect: one point a row, its readings from the top down.

use book::model::Seen;
use book::model::seen::{MoistureFeel, ProbePoint, ProbeSeen};
use ground::kit::units::{Dimension, UnitSystem, typed};
use ground::kit::{Bounded, Refusal};
use ground::structure::probe::line::{read_push, write_push};
use ground::structure::probe::push::ProbeDepth;

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, chosen, word};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// A probe transect.
pub(super) struct Transect;

/// Points that the form has room for.
const ROWS: usize = 20;
/// Between a place and its readings.
const PLACE: char = '=';

const HEAD: &[Field] = &[
    Field::one_of(
        "moisture",
        "Squeeze a handful from the depth of the readings",
        "The limits of roots hold near field capacity alone: one or two days after the whole depth was wetted",
        &[
            Choice::new("dry", "Dry: it falls apart"),
            Choice::new("slightly_moist", "Slightly moist: a weak ball, the hand stays dry"),
            Choice::new("moist", "Moist: a ball with finger marks"),
            Choice::new("wet", "Wet: a ball that leaves the hand damp"),
            Choice::new("field_capacity", "At field capacity or over: water shows for a moment"),
        ],
    ),
    Field::tick(
        "tracks",
        "Pushed in wheel tracks or paths only",
        "Kept apart: what wheels pressed says little of where crops grow",
    ),
    Field::measure(
        "step",
        "Depth between readings",
        "3 in or 7.5 cm is usual; the first reading lies this deep",
        Dimension::Depth,
    ),
];

macro_rules! points {
    ($($number:literal $place:literal),*) => {
        const POINTS: [Field; ROWS] = [$(
            Field::text(concat!("point", $number), concat!("Point ", $number), "").optional()
        ),*];
        const NAMES: [&str; ROWS] = [$(concat!("point", $number)),*];
        const IN_THE_FORM: &[(&str, &str)] = &[$(
            (concat!("points[", $place, "].stuck_at_cm"), concat!("point", $number)),
            (concat!("points[", $place, "].readings"), concat!("point", $number)),
            (concat!("points[", $place, "].place"), concat!("point", $number)),
        )*];
    };
}

points!(
    "1" "0", "2" "1", "3" "2", "4" "3", "5" "4", "6" "5", "7" "6", "8" "7", "9" "8", "10" "9", "11" "10", "12" "11",
    "13" "12", "14" "13", "15" "14", "16" "15", "17" "16", "18" "17", "19" "18", "20" "19"
);

const OWN: &[Field] = &join::<{ HEAD.len() + ROWS }>(HEAD, &POINTS);
const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);
const FIRST: &[&str] = NAMES.split_at(10).0;
const MORE: &[&str] = NAMES.split_at(10).1;

/// The step of a form that nobody has touched, or of readings kept elsewhere.
fn usual_step(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::UsCustomary => "3",
        UnitSystem::Metric => "7.5",
    }
}

impl Flow for Transect {
    const KIND: &'static Kind = &kinds::PROBE;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of("The day", "", &["moisture", "tracks", "step"]),
        Group::of(
            "The points",
            "One point a row, its readings from the top down: numbers of the gauge (psi on a US farm, MPa on a metric one), \
             or slides, leans and stops for a plain rod. Write stuck where it went no further, - for a depth left out. \
             A place may stand in front: gate = 120, 180, 320, stuck.",
            FIRST,
        ),
        Group::of("More points", "", MORE).folded(),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] = IN_THE_FORM;

    fn rows(read: &mut Reader<'_>) -> Option<(&'static str, Vec<usize>)> {
        Some(("points", (0..ROWS).filter(|row| read.text(NAMES[*row]).is_some()).collect()))
    }

    fn usual(form: Form, units: UnitSystem) -> Form {
        form.with("step", usual_step(units))
    }

    fn read(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        let moisture: Option<MoistureFeel> = chosen(read, "moisture");
        let tracks = read.tick("tracks");
        let step: Option<ProbeDepth> = read.measure("step");
        let units = read.system();
        let before: &[ProbePoint] = match had.before {
            Some(Seen::Probe(before)) => &before.points,
            _ => &[],
        };
        let mut points = Vec::new();
        for (at, name) in NAMES.iter().enumerate() {
            let Some(line) = read.text(name) else { continue };
            let Some(step) = step else { continue };
            // What was left as it was shown is kept to the last digit.
            let kept = before.get(at).filter(|point| said(point, step.get(), units) == line.trim());
            let point = match kept {
                Some(point) => Ok(point.clone()),
                None => point(name, line, step.get(), units),
            };
            points.extend(read.take(point));
        }
        points.extend(before.iter().skip(ROWS).cloned());
        if points.is_empty() && !read.is_refused() {
            read.refuse(
                Refusal::new(NAMES[0], "No point was filled in")
                    .given("nothing")
                    .accepted("readings from the top down")
                    .example("120, 180, 320, stuck"),
            );
        }
        Some(Seen::Probe(ProbeSeen { moisture: moisture?, tracks, points })).filter(|_| !read.is_refused())
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Probe(probe) = seen else { return form };
        let step = usual_step(units);
        let step_cm =
            typed::<ProbeDepth>("step", step, Dimension::Depth.unit(units)).map_or(7.5, Bounded::get);
        let form = form
            .set("moisture", word(probe.moisture))
            .set("tracks", if probe.tracks { "true" } else { "" })
            .set("step", step);
        NAMES
            .iter()
            .zip(&probe.points)
            .fold(form, |form, (name, point)| form.set(name, said(point, step_cm, units)))
    }
}

fn point(name: &str, line: &str, step_cm: f64, units: UnitSystem) -> Result<ProbePoint, Refusal> {
    let (place, readings) = line.split_once(PLACE).unwrap_or(("", line));
    let push = read_push(name, readings, step_cm, units)?;
    Ok(ProbePoint { place: place.trim().to_owned(), readings: push.readings, stuck_at_cm: push.stuck_at_cm })
}

/// A point as it is written in its row.
fn said(point: &ProbePoint, step_cm: f64, units: UnitSystem) -> String {
    let readings = write_push(&point.readings, point.stuck_at_cm, step_cm, units);
    if point.place.is_empty() { readings } else { format!("{} {PLACE} {readings}", point.place) }
}
