//! The form of a planting: what grows in a bed, from when to when.

use book::Snapshot;
use book::model::{Mulch, MulchCover, MulchKind, PlantedCrop, PlantedHow, Planting};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};

use super::{Formed, beds};
use crate::ask::Ask;
use crate::crops;
use crate::form::{Choice, Field, Form, Group, Reader, Width};
use crate::when;

pub(super) const FIELDS: &[Field] = &[
    Field::pick("bed", "Bed", "", &[]),
    Field::text("crop", "Crop", "Its plain name, for example tomato, lettuce or sweet corn")
        .width(Width::Middle)
        .optional(),
    Field::pick("farm_crop", "Or a crop of your own", "Added on the farm page, with figures of its own", &[])
        .optional(),
    Field::day(
        "planted_on",
        "Day it was planted",
        "For what stood already, the day its growth began this year",
    ),
    Field::one_of(
        "how",
        "How",
        "",
        &[
            Choice::new("sown", "Sown in the bed"),
            Choice::new("transplanted", "Set out as plants"),
            Choice::new("standing", "It stood already: a perennial or a sward"),
        ],
    ),
    Field::day(
        "harvest_on",
        "Day the harvest is expected to end",
        "Leave open to take the usual length of the crop",
    )
    .optional(),
    Field::day("ended_on", "Last day it stood", "When it is cleared or turned in").optional(),
    Field::pick(
        "mulch",
        "Mulch on the bed",
        "Leave open for none",
        &[Choice::new("plastic", "Plastic film"), Choice::new("organic", "Straw, leaves, compost")],
    )
    .optional(),
    Field::measure("mulch_covered", "Share of the ground it covers", "For example 80 %", Dimension::Percent)
        .optional(),
    Field::measure(
        "yield_goal",
        "Yield hoped for",
        "Fresh, from all beds of the record together; what a crop needs and carries off goes by it",
        Dimension::Load,
    )
    .optional(),
    Field::lines("note", "Note", "").optional(),
];

const HOWS: [(&str, PlantedHow); 3] = [
    ("sown", PlantedHow::Sown),
    ("transplanted", PlantedHow::Transplanted),
    ("standing", PlantedHow::Standing),
];

const MULCHES: [(&str, MulchKind); 2] = [("plastic", MulchKind::Plastic), ("organic", MulchKind::Organic)];

impl Formed for Planting {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Write down a planting";
    const LEAD: &'static str = "What grows in a bed and since when decides how much it drinks, how deep it roots and \
                                how dry the bed may get.";
    const GROUPS: &'static [Group] = &[
        Group::of("", "", &["bed", "crop", "farm_crop", "planted_on", "how"]),
        Group::of("How long it stands", "", &["harvest_on", "ended_on", "yield_goal"]),
        Group::of("Mulch", "", &["mulch", "mulch_covered"]).folded(),
        Group::of("", "", &["note"]),
    ];

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let bed = read.entry("bed");
        let crop = crop(read, before);
        let planted_on = read.day("planted_on");
        let how = read.choice("how");
        let how = HOWS.iter().find(|(key, _)| Some(*key) == how).map(|(_, how)| *how);
        let harvest_on = read.day("harvest_on");
        let ended_on = read.day("ended_on");
        let mulch = mulch(read);
        let yield_goal_kg =
            read.measure_kept("yield_goal", before.and_then(|planting| planting.yield_goal_kg));
        let note = read.lines("note");
        Some(Self {
            bed: bed?,
            crop: crop?,
            planted_on: planted_on?,
            how: how?,
            harvest_on,
            ended_on,
            mulch,
            yield_goal_kg,
            note,
        })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let day = |day: Option<jiff::civil::Date>| day.map(|day| day.to_string()).unwrap_or_default();
        let key = HOWS.iter().find(|(_, how)| *how == self.how).map_or("", |(key, _)| key);
        let mulch = self.mulch.and_then(|mulch| MULCHES.iter().find(|(_, kind)| *kind == mulch.of));
        form.with("bed", self.bed.to_string())
            .with(
                "crop",
                if let PlantedCrop::Catalogue(key) = &self.crop { crops::words(key) } else { String::new() },
            )
            .with(
                "farm_crop",
                if let PlantedCrop::FarmCrop(id) = &self.crop { id.to_string() } else { String::new() },
            )
            .with("planted_on", self.planted_on.to_string())
            .with("how", key)
            .with("harvest_on", day(self.harvest_on))
            .with("ended_on", day(self.ended_on))
            .with("mulch", mulch.map_or("", |(key, _)| key))
            .measure("mulch_covered", self.mulch.map(|mulch| mulch.covered_percent), units)
            .measure("yield_goal", self.yield_goal_kg, units)
            .with("note", &self.note)
    }

    fn placed(&self, refusal: Refusal) -> Refusal {
        match (&self.crop, refusal.field.as_str()) {
            (PlantedCrop::FarmCrop(_), "crop") => Refusal { field: "farm_crop".to_owned(), ..refusal },
            (_, "harvest_on") => Refusal {
                message: format!(
                    "The harvest cannot end before the day it was planted, {}",
                    advice::words::day(self.planted_on)
                ),
                ..refusal
            },
            (_, "ended_on") => Refusal {
                message: format!(
                    "It cannot have ended before the day it was planted, {}",
                    advice::words::day(self.planted_on)
                ),
                ..refusal
            },
            _ => refusal,
        }
    }

    fn prepare(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
        let own = snapshot.crops.iter().map(|crop| (crop.id.to_string(), crop.body.name.clone()));
        let form = beds(form, snapshot, ask).choices("farm_crop", own).suggest("crop", crops::offered());
        if !ask.body.is_empty() || !form.draw("planted_on").text.is_empty() {
            return form;
        }
        form.with("planted_on", when::day_of(ask.stamp().at).to_string())
    }
}

/// A crop by its plain name, or one of the farm's own.
fn crop(read: &mut Reader<'_>, before: Option<&Planting>) -> Option<PlantedCrop> {
    let stood = before.and_then(|planting| match &planting.crop {
        PlantedCrop::Catalogue(key) => Some(key.as_str()),
        PlantedCrop::FarmCrop(_) => None,
    });
    let named = read.text("crop");
    let own = read.entry("farm_crop");
    let told = |field: &str, message: &str, given: &str| {
        Refusal::new(field, message)
            .given(given)
            .accepted("the name of a crop, or one of your own crops")
            .example("tomato")
    };
    match (named, read.text("farm_crop").is_some()) {
        (Some(name), false) => read.take(crops::key("crop", name, stood)).map(PlantedCrop::Catalogue),
        (None, true) => own.map(PlantedCrop::FarmCrop),
        (Some(name), true) => {
            read.refuse(told("crop", "Crop: give its name or choose one of your own, not both", name));
            None
        }
        (None, false) => {
            read.refuse(told("crop", "Crop: say what grows", "nothing"));
            None
        }
    }
}

/// The mulch and how much it covers, both or neither.
fn mulch(read: &mut Reader<'_>) -> Option<Mulch> {
    let of = read.choice("mulch");
    let covered: Option<MulchCover> = read.measure("mulch_covered");
    let given = read.text("mulch_covered").is_some();
    if of.is_some() != given {
        let (field, message) = match given {
            true => ("mulch", "Mulch: a share was given, but not of what"),
            false => ("mulch_covered", "Mulch: say how much of the ground it covers"),
        };
        read.refuse(
            Refusal::new(field, message)
                .given("nothing")
                .accepted("the kind of mulch and the share it covers, or neither")
                .example("plastic film, 80 %"),
        );
    }
    let of = MULCHES.iter().find(|(key, _)| Some(*key) == of).map(|(_, kind)| *kind);
    Some(Mulch { of: of?, covered_percent: covered? })
}
