//! Signs in the field: a list to tick off, each with its depth or amount where it has one.

use book::model::Seen;
use book::model::seen::{Amount, CrackWidth, CrustThickness, DaysOfWater, Sign, SignDepth, Signs, Smell};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, Unit, UnitSystem};

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, chosen, word};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// Signs in the field.
pub(super) struct Found;

const fn depth(name: &'static str, label: &'static str, hint: &'static str) -> Field {
    Field::measure(name, label, hint, Dimension::Depth).optional()
}

const OWN: &[Field] = &[
    Field::measure(
        "standing_water",
        "Water stood on the surface: for how long",
        "After rain or watering; for example 2 d or 12 h",
        Dimension::Duration,
    )
    .in_unit(Unit::Day)
    .optional(),
    Field::any_of(
        "surface",
        "On the surface",
        "",
        &[
            Choice::new("crust", "A crust"),
            Choice::new("cracks", "Cracks in dry ground"),
            Choice::new("runoff", "Water ran off instead of going in"),
            Choice::new("washing", "Rills, or soil washed downhill"),
            Choice::new("blowing", "Soil blown by the wind"),
            Choice::new("clods", "Clods that do not break in the hand"),
            Choice::new("smeared", "Shiny, smeared faces where it was worked wet"),
        ],
    ),
    Field::measure("crust", "How thick the crust is", "For example 1/8 in or 3 mm", Dimension::SmallLength)
        .optional(),
    Field::measure(
        "cracks",
        "How wide the cracks are",
        "For example 3/8 in or 10 mm",
        Dimension::SmallLength,
    )
    .optional(),
    depth(
        "pan_felt",
        "A hard layer that the spade or a rod felt: at which depth",
        "For example 8 in or 20 cm",
    ),
    depth("roots_turn", "Roots turn sideways: at which depth", ""),
    depth("rock", "Rock, or stones that stop the spade: at which depth", ""),
    depth(
        "mottles",
        "Rusty or grey spots: from which depth down",
        "A sign of ground that is wet for weeks each year",
    ),
    depth("grey_layer", "A layer grey or bluish throughout: from which depth down", ""),
    depth("water_table", "Water in the hole: at which depth", "After it has stood for a while"),
    Field::one_of(
        "wormcasts",
        "Wormcasts and worm holes",
        "",
        &[Choice::new("none", "None were found"), Choice::new("few", "A few"), Choice::new("many", "Many")],
    )
    .optional(),
    Field::one_of(
        "smell",
        "Smell of a fresh spadeful",
        "",
        &[
            Choice::new("earthy", "Earthy"),
            Choice::new("nothing", "Of nothing"),
            Choice::new("sour", "Sour"),
            Choice::new("rotten_eggs", "Of rotten eggs"),
        ],
    )
    .optional(),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Found {
    const KIND: &'static Kind = &kinds::SIGNS;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of(
            "Walk over it",
            "Fill in only what you saw; leave the rest.",
            &["standing_water", "surface", "crust", "cracks"],
        ),
        Group::of(
            "Dig a hole",
            "A spade deep and a hand more, with a tape beside it. Have buried pipes and cables located first.",
            &["pan_felt", "roots_turn", "rock", "mottles", "grey_layer", "water_table"],
        ),
        Group::of("Life and smell", "", &["wormcasts", "smell"]),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] = &[("signs", "surface")];

    fn read(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        let mut signs = Vec::new();
        let days: Option<DaysOfWater> = read.measure("standing_water");
        signs.extend(days.map(|days| Sign::StandingWater { days }));
        surface(read, &mut signs);
        let deep: [(&str, AtDepth); 6] = [
            ("pan_felt", |at_cm| Sign::PanFelt { at_cm }),
            ("roots_turn", |at_cm| Sign::RootsTurn { at_cm }),
            ("rock", |at_cm| Sign::Rock { at_cm }),
            ("mottles", |from_cm| Sign::Mottles { from_cm }),
            ("grey_layer", |from_cm| Sign::GreyLayer { from_cm }),
            ("water_table", |at_cm| Sign::WaterTable { at_cm }),
        ];
        for (name, sign) in deep {
            signs.extend(read.measure(name).map(sign));
        }
        signs.extend(chosen::<Amount>(read, "wormcasts").map(|amount| Sign::Wormcasts { amount }));
        signs.extend(chosen::<Smell>(read, "smell").map(|of| Sign::Smell { of }));
        if let Some(Seen::Signs(before)) = had.before {
            signs.extend(beyond_the_form(before));
            // In the order they were recorded in, what is new last.
            let kind = std::mem::discriminant::<Sign>;
            signs.sort_by_key(|sign| {
                before.signs.iter().position(|other| kind(other) == kind(sign)).unwrap_or(usize::MAX)
            });
        }
        if signs.is_empty() && !read.is_refused() {
            read.refuse(
                Refusal::new("surface", "No sign was filled in")
                    .given("nothing")
                    .accepted("at least one sign")
                    .example("a crust, or water that stood for 2 d"),
            );
        }
        Some(Seen::Signs(Signs { signs }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Signs(found) = seen else { return form };
        let shown = shown(found);
        let form = form.set_all("surface", shown.iter().filter_map(|sign| on_the_surface(**sign)));
        shown.into_iter().fold(form, |form, sign| match *sign {
            Sign::StandingWater { days } => form.measure("standing_water", Some(days), units),
            Sign::Crust { thickness_mm } => form.measure("crust", thickness_mm, units),
            Sign::Cracks { width_mm } => form.measure("cracks", width_mm, units),
            Sign::PanFelt { at_cm } => form.measure("pan_felt", Some(at_cm), units),
            Sign::RootsTurn { at_cm } => form.measure("roots_turn", Some(at_cm), units),
            Sign::Rock { at_cm } => form.measure("rock", Some(at_cm), units),
            Sign::Mottles { from_cm } => form.measure("mottles", Some(from_cm), units),
            Sign::GreyLayer { from_cm } => form.measure("grey_layer", Some(from_cm), units),
            Sign::WaterTable { at_cm } => form.measure("water_table", Some(at_cm), units),
            Sign::Wormcasts { amount } => form.set("wormcasts", word(amount)),
            Sign::Smell { of } => form.set("smell", word(of)),
            Sign::Runoff | Sign::Washing | Sign::Blowing | Sign::Clods | Sign::Smeared => form,
        })
    }
}

/// A sign that has a depth.
type AtDepth = fn(SignDepth) -> Sign;

/// Signs that are ticked; a thickness or a width says that there is a crust or cracks.
fn surface(read: &mut Reader<'_>, signs: &mut Vec<Sign>) {
    let ticked = read.choices("surface");
    let thickness_mm: Option<CrustThickness> = read.measure("crust");
    let width_mm: Option<CrackWidth> = read.measure("cracks");
    if ticked.contains(&"crust") || thickness_mm.is_some() {
        signs.push(Sign::Crust { thickness_mm });
    }
    if ticked.contains(&"cracks") || width_mm.is_some() {
        signs.push(Sign::Cracks { width_mm });
    }
    for (name, sign) in [
        ("runoff", Sign::Runoff),
        ("washing", Sign::Washing),
        ("blowing", Sign::Blowing),
        ("clods", Sign::Clods),
        ("smeared", Sign::Smeared),
    ] {
        if ticked.contains(&name) {
            signs.push(sign);
        }
    }
}

fn on_the_surface(sign: Sign) -> Option<&'static str> {
    Some(match sign {
        Sign::Crust { .. } => "crust",
        Sign::Cracks { .. } => "cracks",
        Sign::Runoff => "runoff",
        Sign::Washing => "washing",
        Sign::Blowing => "blowing",
        Sign::Clods => "clods",
        Sign::Smeared => "smeared",
        _ => return None,
    })
}

/// The first sign of each kind, which the form has a place for.
fn shown(found: &Signs) -> Vec<&Sign> {
    let mut first: Vec<&Sign> = Vec::new();
    for sign in &found.signs {
        if !first.iter().any(|other| std::mem::discriminant(*other) == std::mem::discriminant(sign)) {
            first.push(sign);
        }
    }
    first
}

/// Further signs of a kind, as an import may bring: the form has no place for them and keeps them.
fn beyond_the_form(found: &Signs) -> Vec<Sign> {
    let mut seen = Vec::new();
    let mut rest = Vec::new();
    for sign in &found.signs {
        let kind = std::mem::discriminant(sign);
        if seen.contains(&kind) {
            rest.push(*sign);
        } else {
            seen.push(kind);
        }
    }
    rest
}
