//! A laboratory's sand, silt and clay, with the size limit it used and how it measured.

use book::model::Seen;
use ground::kit::units::{Dimension, UnitSystem};
use ground::texture::SiltLimit;
use ground::texture::lab::LabTexture;

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, chosen, word};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// A laboratory's texture.
pub(super) struct Laboratory;

const OWN: &[Field] = &[
    Field::measure("sand_percent", "Sand", "As printed, in percent", Dimension::Percent),
    Field::measure("silt_percent", "Silt", "As printed, in percent", Dimension::Percent),
    Field::measure("clay_percent", "Clay", "As printed, in percent", Dimension::Percent),
    Field::one_of(
        "silt_limit",
        "Where the laboratory parts silt from sand",
        "The report or its notes say; in the United States it is 50 \u{b5}m as a rule",
        &[
            Choice::new("50 um", "50 \u{b5}m (USDA)"),
            Choice::new("63 um", "63 \u{b5}m (ISO, WRB)"),
            Choice::new("20 um", "20 \u{b5}m (international)"),
            Choice::new("75 um", "75 \u{b5}m (engineers, No. 200 sieve)"),
        ],
    ),
    Field::one_of(
        "procedure",
        "How the laboratory measured",
        "",
        &[
            Choice::new("pipette", "Pipette and sieve"),
            Choice::new("hydrometer", "Hydrometer"),
            Choice::new("laser_diffraction", "Laser diffraction"),
            Choice::new("not_stated", "The report does not say"),
        ],
    ),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Laboratory {
    const KIND: &'static Kind = &kinds::LABORATORY;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of(
            "The figures",
            "They should add to 100. Up to 2 points off by rounding is put right and said; more than that is refused, as one of the three must be wrong.",
            &["sand_percent", "silt_percent", "clay_percent"],
        ),
        Group::of("The procedure", "", &["silt_limit", "procedure"]),
    ];

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let sand_percent = read.measure("sand_percent");
        let silt_percent = read.measure("silt_percent");
        let clay_percent = read.measure("clay_percent");
        let silt_limit = chosen::<SiltLimit>(read, "silt_limit");
        let procedure = chosen(read, "procedure");
        Some(Seen::LabTexture(LabTexture {
            sand_percent: sand_percent?,
            silt_percent: silt_percent?,
            clay_percent: clay_percent?,
            silt_limit: silt_limit?,
            procedure: procedure?,
        }))
    }

    fn read_so_far(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let sand_percent = read.measure("sand_percent");
        let silt_percent = read.measure("silt_percent");
        let clay_percent = read.measure("clay_percent");
        Some(Seen::LabTexture(LabTexture {
            sand_percent: sand_percent?,
            silt_percent: silt_percent?,
            clay_percent: clay_percent?,
            silt_limit: chosen(read, "silt_limit").unwrap_or_default(),
            procedure: chosen(read, "procedure").unwrap_or_default(),
        }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::LabTexture(lab) = seen else { return form };
        form.measure("sand_percent", Some(lab.sand_percent), units)
            .measure("silt_percent", Some(lab.silt_percent), units)
            .measure("clay_percent", Some(lab.clay_percent), units)
            .set("silt_limit", word(lab.silt_limit))
            .set("procedure", word(lab.procedure))
    }
}
