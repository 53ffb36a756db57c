//! Two hydrometer readings in a litre of suspension.

use book::model::Seen;
use ground::kit::units::{Dimension, Unit, UnitSystem};
use ground::texture::hydrometer::{HydrometerReading, ScaleAt};

use super::about::ABOUT;
use super::flow::{Flow, Group, Had};
use super::kinds::{self, Kind};
use crate::form::{Field, Form, Reader, join};

/// Two hydrometer readings.
pub(super) struct Hydrometer;

const SCALE_HINT: &str = "At the top of the meniscus, in g/L";

const OWN: &[Field] = &[
    Field::measure(
        "dry_mass_g",
        "Dry mass of soil in the litre",
        "Oven-dry, usually 40 or 50 g (100 g for sand)",
        Dimension::Mass,
    )
    .in_unit(Unit::Gram),
    Field::measure(
        "early_after_s",
        "Early reading, after stirring stopped",
        "Usually 40 s",
        Dimension::Duration,
    )
    .in_unit(Unit::Second),
    Field::measure("early_reading_g_l", "Early reading", SCALE_HINT, Dimension::Concentration),
    Field::measure(
        "early_temperature_c",
        "Temperature at the early reading",
        "For example 68 F or 20 C",
        Dimension::Temperature,
    )
    .optional(),
    Field::measure(
        "late_after_s",
        "Late reading, after stirring stopped",
        "2 h or more",
        Dimension::Duration,
    )
    .in_unit(Unit::Hour),
    Field::measure("late_reading_g_l", "Late reading", SCALE_HINT, Dimension::Concentration),
    Field::measure(
        "late_temperature_c",
        "Temperature at the late reading",
        "For example 68 F or 20 C",
        Dimension::Temperature,
    )
    .optional(),
    Field::measure(
        "blank_g_l",
        "Reading in water with the dispersant alone",
        "At the same temperature; it makes the result surer",
        Dimension::Concentration,
    )
    .optional(),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Hydrometer {
    const KIND: &'static Kind = &kinds::HYDROMETER;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of(
            "The cylinder",
            "One litre, stirred and left to stand. The hydrometer is a 152H, marked in g/L from -5 to 60; another scale reads other numbers.",
            &["dry_mass_g", "blank_g_l"],
        ),
        Group::of(
            "Early reading",
            "Sand is down; silt and clay are still up.",
            &["early_after_s", "early_reading_g_l", "early_temperature_c"],
        ),
        Group::of(
            "Late reading",
            "Clay is still up.",
            &["late_after_s", "late_reading_g_l", "late_temperature_c"],
        ),
    ];

    fn usual(form: Form, _units: UnitSystem) -> Form {
        form.with("early_after_s", "40").with("late_after_s", "2")
    }

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let dry_mass_g = read.measure("dry_mass_g");
        let early = at(read, ["early_after_s", "early_reading_g_l", "early_temperature_c"]);
        let late = at(read, ["late_after_s", "late_reading_g_l", "late_temperature_c"]);
        let blank_g_l = read.measure("blank_g_l");
        Some(Seen::Hydrometer(HydrometerReading {
            dry_mass_g: dry_mass_g?,
            early: early?,
            late: late?,
            blank_g_l,
        }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Hydrometer(HydrometerReading { dry_mass_g, early, late, blank_g_l }) = seen else {
            return form;
        };
        let form =
            form.measure("dry_mass_g", Some(*dry_mass_g), units).measure("blank_g_l", *blank_g_l, units);
        [("early", early), ("late", late)].into_iter().fold(form, |form, (name, at)| {
            form.measure(&format!("{name}_after_s"), Some(at.after_s), units)
                .measure(&format!("{name}_reading_g_l"), Some(at.reading_g_l), units)
                .measure(&format!("{name}_temperature_c"), at.temperature_c, units)
        })
    }
}

fn at(read: &mut Reader<'_>, [after, reading, temperature]: [&str; 3]) -> Option<ScaleAt> {
    let after_s = read.measure(after);
    let reading_g_l = read.measure(reading);
    let temperature_c = read.measure(temperature);
    Some(ScaleAt { after_s: after_s?, reading_g_l: reading_g_l?, temperature_c })
}
