//! Infiltration rings: the same water poured twice into each, and timed.

use book::model::Seen;
use book::model::seen::{IntakeMinutes, Ring, RingInfiltration, RingWater};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};

use super::about::ABOUT;
use super::flow::{Flow, Group, Had};
use super::kinds::{self, Kind};
use crate::form::{Field, Form, Reader, join};

/// Infiltration rings.
pub(super) struct Rings;

/// Rings that the form has room for.
const ROWS: usize = 5;

macro_rules! rings {
    ($($number:literal),*) => {
        const ROWS_OF_FIELDS: [[Field; 3]; ROWS] = [$([
            Field::measure(concat!("ring", $number, "_first"), concat!("Ring ", $number, ": first pouring gone after"),
                "For example 12 min, or 8 min 30 s", Dimension::Duration).optional(),
            Field::measure(concat!("ring", $number, "_second"), concat!("Ring ", $number, ": second pouring gone after"),
                "The same water again, at once. This one tells of the wet ground", Dimension::Duration).optional(),
            Field::tick(concat!("ring", $number, "_stood"),
                concat!("Ring ", $number, ": water still stood when I stopped the clock"), ""),
        ]),*];
        const NAMES: [[&str; 3]; ROWS] = [$([
            concat!("ring", $number, "_first"), concat!("ring", $number, "_second"), concat!("ring", $number, "_stood"),
        ]),*];
    };
}

rings!("1", "2", "3", "4", "5");

const WATER: &[Field] = &[
    Field::measure(
        "inside_diameter",
        "Inside diameter of the rings",
        "For example 6 in or 15 cm",
        Dimension::SmallLength,
    ),
    Field::measure(
        "depth",
        "Water poured each time, as its depth in the ring",
        "1 in or 25 mm is usual",
        Dimension::SmallLength,
    )
    .optional(),
    Field::measure(
        "volume",
        "Or as an amount",
        "For example 444 mL, which is an inch in a ring 6 in wide",
        Dimension::Volume,
    )
    .optional(),
];

const TIMES: [Field; 3 * ROWS] = {
    let mut fields = [Field::hidden(""); 3 * ROWS];
    let mut at = 0;
    while at < 3 * ROWS {
        fields[at] = ROWS_OF_FIELDS[at / 3][at % 3];
        at += 1;
    }
    fields
};

const OWN: &[Field] = &join::<{ WATER.len() + 3 * ROWS }>(WATER, &TIMES);
const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Rings {
    const KIND: &'static Kind = &kinds::RING_INFILTRATION;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of(
            "The rings and the water",
            "Drive each ring a hand's width into bare ground without tearing it, firm the soil along its inner rim, \
             lay a plastic bag in it, pour the water on the bag and draw it away: the clock starts there.",
            &["inside_diameter", "depth", "volume"],
        ),
        Group::of("Ring 1", "", &NAMES[0]),
        Group::of("Ring 2", "", &NAMES[1]).folded(),
        Group::of("Ring 3", "", &NAMES[2]).folded(),
        Group::of("Ring 4", "", &NAMES[3]).folded(),
        Group::of("Ring 5", "", &NAMES[4]).folded(),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] = &[("rings", "ring1_first")];

    fn looks() -> bool {
        true
    }

    fn read(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        let inside_diameter_mm = read.measure("inside_diameter");
        let water = water(read);
        let before: &[Ring] = match had.before {
            Some(Seen::RingInfiltration(before)) => &before.rings,
            _ => &[],
        };
        // Rings may have been given different water elsewhere; the form shows that of the first.
        let unchanged = water.is_some() && before.first().map(|ring| ring.water) == water;
        let mut rings = Vec::new();
        for (place, names) in NAMES.iter().enumerate() {
            if let Some((first_min, second_min, still_stood)) = times(read, place + 1, *names) {
                let own = before.get(place).filter(|_| unchanged).map(|ring| ring.water);
                rings.extend(own.or(water).map(|water| Ring { water, first_min, second_min, still_stood }));
            }
        }
        rings.extend(before.iter().skip(ROWS));
        let missing = NAMES[0][0];
        if NAMES.iter().all(|names| read.text(names[0]).is_none()) && !read.is_refused_at(missing) {
            read.refuse(
                Refusal::new(missing, "Ring 1: give the time until the first pouring was gone")
                    .given("nothing")
                    .accepted("a time in minutes and seconds")
                    .example("12 min"),
            );
        }
        Some(Seen::RingInfiltration(RingInfiltration { inside_diameter_mm: inside_diameter_mm?, rings }))
            .filter(|_| !read.is_refused())
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::RingInfiltration(seen) = seen else { return form };
        let form = form.measure("inside_diameter", Some(seen.inside_diameter_mm), units);
        let form = match seen.rings.first().map(|ring| ring.water) {
            Some(RingWater::DepthMm(depth)) => form.measure("depth", Some(depth), units),
            Some(RingWater::VolumeMl(volume)) => form.measure("volume", Some(volume), units),
            None => form,
        };
        NAMES.iter().zip(&seen.rings).fold(form, |form, ([first, second, stood], ring)| {
            form.measure(first, Some(ring.first_min), units)
                .measure(second, ring.second_min, units)
                .set(stood, if ring.still_stood { "true" } else { "" })
        })
    }
}

/// The water of one pouring, as a depth or an amount.
fn water(read: &mut Reader<'_>) -> Option<RingWater> {
    let given = ["depth", "volume"].map(|name| read.text(name).is_some());
    let depth = read.measure("depth").map(RingWater::DepthMm);
    let volume = read.measure("volume").map(RingWater::VolumeMl);
    let told = |field: &str, message: &str, given: &str| {
        Refusal::new(field, message).given(given).accepted("a depth or an amount").example("1 in")
    };
    match given {
        [false, false] => {
            read.refuse(told("depth", "Water poured: give its depth in the ring, or its amount", "nothing"));
        }
        [true, true] => {
            read.refuse(told("volume", "Water poured: give its depth or its amount, not both", "both"));
        }
        _ => {}
    }
    depth.or(volume)
}

/// The times of one ring; nothing where its row is empty.
fn times(
    read: &mut Reader<'_>,
    number: usize,
    [first, second, stood]: [&'static str; 3],
) -> Option<(IntakeMinutes, Option<IntakeMinutes>, bool)> {
    let first_min: Option<IntakeMinutes> = read.measure(first);
    let second_min = read.measure(second);
    let still_stood = read.tick(stood);
    if read.text(first).is_none() && (read.text(second).is_some() || still_stood) {
        read.refuse(
            Refusal::new(first, format!("Ring {number}: give the time of its first pouring too"))
                .given("nothing")
                .accepted("a time in minutes and seconds")
                .example("12 min"),
        );
    }
    Some((first_min?, second_min, still_stood))
}
