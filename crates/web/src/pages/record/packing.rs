//! How tightly the ground is packed: in words, by a core, or by its density.

use book::model::Seen;
use book::model::seen::{BulkDensity, CoreMass, CoreVolume, DensityFactor, Packing};
use ground::kit::units::{Dimension, Unit, UnitSystem};
use ground::kit::{Bounded, Refusal};

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, chosen, word};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// Packing.
pub(super) struct Packed;

const OWN: &[Field] = &[
    Field::one_of(
        "told",
        "How it was found",
        "",
        &[
            Choice::new("words", "With hand, trowel and fork"),
            Choice::new("core", "A core of known volume, dried and weighed"),
            Choice::new("density", "A bulk density from a report"),
            Choice::new("factor", "Times the density usual for its texture"),
        ],
    ),
    Field::one_of(
        "words",
        "How the moist ground takes it",
        "Moist, not wet and not dry: water changes this more than packing does",
        &[
            Choice::new("loose", "Loose: a hand goes in"),
            Choice::new("normal", "Normal: a trowel goes in"),
            Choice::new("firm", "Firm: a fork takes weight"),
            Choice::new("hard", "Hard: a fork bounces"),
        ],
    )
    .optional(),
    Field::measure("core_mass", "Dry mass of the core", "Dried until it loses no more", Dimension::Mass)
        .in_unit(Unit::Gram)
        .optional(),
    Field::measure(
        "core_volume",
        "Volume of the core",
        "Area of the ring times its height, or the water that fills the hole; in mL, which are cm\u{b3}",
        Dimension::Volume,
    )
    .in_unit(Unit::Millilitre)
    .optional(),
    Field::measure("density", "Bulk density", "Dry mass over volume, in g/cm\u{b3}", Dimension::Density)
        .optional(),
    Field::measure("factor", "Density factor", "0.9 is loose, 1 usual, 1.1 firm", Dimension::Number)
        .optional(),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Packed {
    const KIND: &'static Kind = &kinds::PACKING;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of("Packing", "", &["told"]),
        Group::of("In words", "", &["words"]).only("told", "words"),
        Group::of("The core", "", &["core_mass", "core_volume"]).only("told", "core"),
        Group::of("The density", "", &["density"]).only("told", "density"),
        Group::of("The factor", "", &["factor"]).only("told", "factor"),
    ];

    fn usual(form: Form, _units: UnitSystem) -> Form {
        form.with("told", "words")
    }

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let told = read.choice("told");
        let words = chosen(read, "words");
        let mass = read.measure::<CoreMass>("core_mass");
        let volume = read.measure::<CoreVolume>("core_volume");
        let density = read.measure::<BulkDensity>("density");
        let factor = read.measure::<DensityFactor>("factor");
        let told = told?;
        let given = [
            ("words", read.text("words").is_some()),
            ("core", read.text("core_mass").is_some() || read.text("core_volume").is_some()),
            ("density", read.text("density").is_some()),
            ("factor", read.text("factor").is_some()),
        ];
        if given.iter().any(|(way, given)| *given && *way != told) {
            read.refuse(
                Refusal::new("told", "Another answer was filled in than the one that was chosen")
                    .given(told)
                    .accepted("one way of telling, with the others left empty"),
            );
            return None;
        }
        let needed: &[&str] = match told {
            "words" => &["words"],
            "core" => &["core_mass", "core_volume"],
            "density" => &["density"],
            _ => &["factor"],
        };
        for name in needed {
            if read.text(name).is_none() {
                read.refuse(
                    Refusal::new(*name, "This is needed for the answer that was chosen")
                        .given("nothing")
                        .accepted("the measurement, or another answer above"),
                );
            }
        }
        let packing = match told {
            "words" => words.map(Packing::Words),
            "core" => core(read, mass?, volume?).map(Packing::BulkDensity),
            "density" => density.map(Packing::BulkDensity),
            _ => factor.map(Packing::DensityFactor),
        };
        packing.map(Seen::Packing)
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        match seen {
            Seen::Packing(Packing::Words(words)) => form.set("told", "words").set("words", word(words)),
            Seen::Packing(Packing::BulkDensity(density)) => {
                form.set("told", "density").measure("density", Some(*density), units)
            }
            Seen::Packing(Packing::DensityFactor(factor)) => {
                form.set("told", "factor").measure("factor", Some(*factor), units)
            }
            _ => form,
        }
    }

    /// The book keeps the density; the core it came from is kept in the note.
    fn remark(read: &mut Reader<'_>) -> String {
        match (read.measure::<CoreMass>("core_mass"), read.measure::<CoreVolume>("core_volume")) {
            (Some(mass), Some(volume)) => format!("Core: {} g dry in {} mL.", mass.get(), volume.get()),
            _ => String::new(),
        }
    }
}

fn core(read: &mut Reader<'_>, mass: CoreMass, volume: CoreVolume) -> Option<BulkDensity> {
    let density = mass.get() / volume.get();
    let found = BulkDensity::new(density);
    if found.is_err() {
        read.refuse(
            Refusal::new(
                "core_mass",
                format!(
                    "{} g in {} mL make {density:.2} g/cm\u{b3}, which no soil has",
                    mass.get(),
                    volume.get()
                ),
            )
            .given(format!("{density:.2} g/cm\u{b3}"))
            .accepted("a mass and a volume that make 0.1 to 2.4 g/cm\u{b3}")
            .example("420 g in 300 mL"),
        );
    }
    found.ok()
}
