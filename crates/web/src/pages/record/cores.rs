//! Cores of known volume from one layer, dried and weighed.

use book::model::Seen;
use book::model::seen::{DensityCores, SignDepth};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, Unit, UnitSystem};
use ground::structure::density::core::CoreInput;

use super::about::ABOUT;
use super::flow::{Flow, Group, Had};
use super::kinds::{self, Kind};
use crate::form::{Field, Form, Reader, join};

/// Density cores.
pub(super) struct Rings;

/// Cores that the form has room for.
const ROWS: usize = 5;
const COLUMNS: usize = 4;

const HEAD: &[Field] = &[
    Field::measure("from_depth", "Top of the layer", "For example 8 in or 20 cm", Dimension::Depth),
    Field::measure("to_depth", "Its bottom", "", Dimension::Depth),
];

macro_rules! cores {
    ($($number:literal $place:literal),*) => {
        const ROWS_OF_FIELDS: [[Field; COLUMNS]; ROWS] = [$([
            Field::measure(concat!("core", $number, "_volume"), concat!("Core ", $number, ": inside volume of the ring"),
                "In mL, which are cm³; left open it is that of the core above", Dimension::Volume)
                .in_unit(Unit::Millilitre).optional(),
            Field::measure(concat!("core", $number, "_dry"), concat!("Core ", $number, ": mass after drying"),
                "At 105 °C until it loses no more, the ring taken off", Dimension::Mass).in_unit(Unit::Gram).optional(),
            Field::measure(concat!("core", $number, "_moist"), concat!("Core ", $number, ": mass before drying"),
                "Tells the water and air in it", Dimension::Mass).in_unit(Unit::Gram).optional(),
            Field::measure(concat!("core", $number, "_stones"), concat!("Core ", $number, ": dry stones in it"),
                "Sieved out at 2 mm (1/12 in)", Dimension::Mass).in_unit(Unit::Gram).optional(),
        ]),*];
        const NAMES: [[&str; COLUMNS]; ROWS] = [$([
            concat!("core", $number, "_volume"), concat!("core", $number, "_dry"),
            concat!("core", $number, "_moist"), concat!("core", $number, "_stones"),
        ]),*];
        const IN_THE_FORM: &[(&str, &str)] = &[
            ("from_cm", "from_depth"), ("to_cm", "to_depth"),
            $(
                (concat!("cores[", $place, "].volume_ml"), concat!("core", $number, "_volume")),
                (concat!("cores[", $place, "].dry_mass_g"), concat!("core", $number, "_dry")),
                (concat!("cores[", $place, "].moist_mass_g"), concat!("core", $number, "_moist")),
                (concat!("cores[", $place, "].rock_mass_g"), concat!("core", $number, "_stones")),
            )*
        ];
    };
}

cores!("1" "0", "2" "1", "3" "2", "4" "3", "5" "4");

const CELLS: [Field; ROWS * COLUMNS] = {
    let mut fields = [Field::hidden(""); ROWS * COLUMNS];
    let mut at = 0;
    while at < ROWS * COLUMNS {
        fields[at] = ROWS_OF_FIELDS[at / COLUMNS][at % COLUMNS];
        at += 1;
    }
    fields
};

const OWN: &[Field] = &join::<{ HEAD.len() + CELLS.len() }>(HEAD, &CELLS);
const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Rings {
    const KIND: &'static Kind = &kinds::CORES;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of(
            "The layer",
            "Take them moist, near field capacity, from the layer in question: three or more, which differ.",
            &["from_depth", "to_depth"],
        ),
        Group::of("Core 1", "", &NAMES[0]),
        Group::of("Core 2", "", &NAMES[1]),
        Group::of("Core 3", "", &NAMES[2]),
        Group::of("Core 4", "", &NAMES[3]).folded(),
        Group::of("Core 5", "", &NAMES[4]).folded(),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] = IN_THE_FORM;

    fn rows(read: &mut Reader<'_>) -> Option<(&'static str, Vec<usize>)> {
        let mut filled = |row: &usize| NAMES[*row].iter().any(|name| read.text(name).is_some());
        Some(("cores", (0..ROWS).filter(&mut filled).collect()))
    }

    fn read(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        let from_cm: Option<SignDepth> = read.measure("from_depth");
        let to_cm: Option<SignDepth> = read.measure("to_depth");
        let before: &[CoreInput] = match had.before {
            Some(Seen::Cores(before)) => &before.cores,
            _ => &[],
        };
        let mut cores: Vec<CoreInput> = Vec::new();
        for (at, [volume, dry, moist, stones]) in NAMES.iter().enumerate() {
            let filled = [volume, dry, moist, stones].iter().any(|name| read.text(name).is_some());
            let own_volume = read.measure(volume);
            let dry_mass_g = read.measure(dry);
            let (moist_mass_g, rock_mass_g) = (read.measure(moist), read.measure(stones));
            if !filled {
                continue;
            }
            let volume_ml = own_volume.or_else(|| cores.last().map(|core| core.volume_ml));
            for (name, missing) in [(volume, volume_ml.is_none()), (dry, dry_mass_g.is_none())] {
                if missing && !read.is_refused_at(name) {
                    read.refuse(
                        Refusal::new(
                            *name,
                            format!("Core {}: its volume and its dry mass are needed", at + 1),
                        )
                        .given("nothing")
                        .accepted("a volume in mL and a mass in g")
                        .example("350"),
                    );
                }
            }
            let (Some(volume_ml), Some(dry_mass_g)) = (volume_ml, dry_mass_g) else { continue };
            // The form has no place for densities that an import brought.
            let kept = before.get(at);
            cores.push(CoreInput {
                volume_ml,
                dry_mass_g,
                moist_mass_g,
                rock_mass_g,
                rock_density_g_cm3: kept.and_then(|core| core.rock_density_g_cm3),
                grain_density_g_cm3: kept.and_then(|core| core.grain_density_g_cm3),
            });
        }
        cores.extend(before.iter().skip(ROWS).cloned());
        if cores.is_empty() && !read.is_refused_at(NAMES[0][0]) {
            read.refuse(
                Refusal::new(NAMES[0][0], "No core was filled in")
                    .given("nothing")
                    .accepted("the volume and the dry mass of at least one core")
                    .example("350"),
            );
        }
        Some(Seen::Cores(DensityCores { from_cm: from_cm?, to_cm: to_cm?, cores }))
            .filter(|_| !read.is_refused())
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Cores(seen) = seen else { return form };
        let form = form.measure("from_depth", Some(seen.from_cm), units).measure(
            "to_depth",
            Some(seen.to_cm),
            units,
        );
        NAMES.iter().zip(&seen.cores).fold(form, |form, ([volume, dry, moist, stones], core)| {
            form.measure(volume, Some(core.volume_ml), UnitSystem::Metric)
                .measure(dry, Some(core.dry_mass_g), UnitSystem::Metric)
                .measure(moist, core.moist_mass_g, UnitSystem::Metric)
                .measure(stones, core.rock_mass_g, UnitSystem::Metric)
        })
    }
}
