//! The layers of the ground, from the surface down.

use book::model::Seen;
use book::model::seen::{Layer, Layers, Packing, SignDepth};
use ground::kit::units::{Dimension, UnitSystem};
use ground::kit::{Bounded, Refusal};
use ground::texture::Class;

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, chosen, word};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// The layers of the ground.
pub(super) struct Profile;

/// Layers that the form has room for, as in the record.
const ROWS: usize = book::model::seen::MOST_LAYERS;
/// Fields of a layer.
const COLUMNS: usize = 8;

const CLASSES: &[Choice] = &[
    Choice::new("sand", "Sand"),
    Choice::new("loamy sand", "Loamy sand"),
    Choice::new("sandy loam", "Sandy loam"),
    Choice::new("loam", "Loam"),
    Choice::new("silt loam", "Silt loam"),
    Choice::new("silt", "Silt"),
    Choice::new("sandy clay loam", "Sandy clay loam"),
    Choice::new("clay loam", "Clay loam"),
    Choice::new("silty clay loam", "Silty clay loam"),
    Choice::new("sandy clay", "Sandy clay"),
    Choice::new("silty clay", "Silty clay"),
    Choice::new("clay", "Clay"),
];

const PACKINGS: &[Choice] = &[
    Choice::new("loose", "Loose: a hand goes in"),
    Choice::new("normal", "Normal: a trowel goes in"),
    Choice::new("firm", "Firm: a fork takes weight"),
    Choice::new("hard", "Hard: a fork bounces"),
];

macro_rules! layers {
    ($($number:literal $place:literal),*) => {
        const ROWS_OF_FIELDS: [[Field; COLUMNS]; ROWS] = [$([
            Field::measure(concat!("layer", $number, "_to"), concat!("Layer ", $number, ": down to which depth"),
                "From the surface, for example 10 in or 25 cm", Dimension::Depth).optional(),
            Field::pick(concat!("layer", $number, "_class"), concat!("Layer ", $number, ": texture"),
                "By feel, as near as you can tell", CLASSES).optional(),
            Field::measure(concat!("layer", $number, "_sand"), concat!("Layer ", $number, ": or its sand"),
                "From a laboratory; goes with its clay", Dimension::Percent).optional(),
            Field::measure(concat!("layer", $number, "_clay"), concat!("Layer ", $number, ": and its clay"),
                "", Dimension::Percent).optional(),
            Field::measure(concat!("layer", $number, "_organic"), concat!("Layer ", $number, ": organic matter"),
                "", Dimension::Percent).optional(),
            Field::pick(concat!("layer", $number, "_packing"), concat!("Layer ", $number, ": how it is packed"),
                "Moist, not wet and not dry", PACKINGS).optional(),
            Field::measure(concat!("layer", $number, "_stones"), concat!("Layer ", $number, ": stones"),
                "Share of its volume, judged by eye", Dimension::Percent).optional(),
            Field::lines(concat!("layer", $number, "_note"), concat!("Layer ", $number, ": note"),
                "Colour, rusty or grey spots, roots, water").optional(),
        ]),*];
        const NAMES: [[&str; COLUMNS]; ROWS] = [$([
            concat!("layer", $number, "_to"), concat!("layer", $number, "_class"), concat!("layer", $number, "_sand"),
            concat!("layer", $number, "_clay"), concat!("layer", $number, "_organic"), concat!("layer", $number, "_packing"),
            concat!("layer", $number, "_stones"), concat!("layer", $number, "_note"),
        ]),*];
        const IN_THE_FORM: &[(&str, &str)] = &[$(
            (concat!("layers[", $place, "].from_cm"), concat!("layer", $number, "_to")),
            (concat!("layers[", $place, "].to_cm"), concat!("layer", $number, "_to")),
            (concat!("layers[", $place, "].class"), concat!("layer", $number, "_class")),
            (concat!("layers[", $place, "].sand_percent"), concat!("layer", $number, "_sand")),
            (concat!("layers[", $place, "].clay_percent"), concat!("layer", $number, "_clay")),
            (concat!("layers[", $place, "].note"), concat!("layer", $number, "_note")),
        )*];
    };
}

layers!("1" "0", "2" "1", "3" "2", "4" "3", "5" "4", "6" "5");

const OWN: [Field; ROWS * COLUMNS] = {
    let mut fields = [Field::hidden(""); ROWS * COLUMNS];
    let mut at = 0;
    while at < ROWS * COLUMNS {
        fields[at] = ROWS_OF_FIELDS[at / COLUMNS][at % COLUMNS];
        at += 1;
    }
    fields
};

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(&OWN, ABOUT);

impl Flow for Profile {
    const KIND: &'static Kind = &kinds::LAYERS;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of(
            "Layer 1, from the surface",
            "A layer ends where colour, feel, packing or stones change. Its depth is enough; say of it what you know.",
            &NAMES[0],
        ),
        Group::of("Layer 2, below it", "", &NAMES[1]),
        Group::of("Layer 3", "", &NAMES[2]).folded(),
        Group::of("Layer 4", "", &NAMES[3]).folded(),
        Group::of("Layer 5", "", &NAMES[4]).folded(),
        Group::of("Layer 6", "", &NAMES[5]).folded(),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] = IN_THE_FORM;

    fn read(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        let before: &[Layer] = match had.before {
            Some(Seen::Layers(before)) => &before.layers,
            _ => &[],
        };
        let mut layers: Vec<Layer> = Vec::new();
        let mut open: Option<usize> = None;
        let mut above = SignDepth::new(0.0).ok()?;
        for (place, names) in NAMES.iter().enumerate() {
            let filled = names.iter().any(|name| read.text(name).is_some());
            let rest = rest(read, names, before.get(place));
            let to_cm: Option<SignDepth> = read.measure(names[0]);
            if !filled {
                open = open.or(Some(place));
                continue;
            }
            if let Some(open) = open.take() {
                read.refuse(
                    Refusal::new(
                        NAMES[open][0],
                        format!("Layer {}: it is empty, but layer {} below it is not", open + 1, place + 1),
                    )
                    .given("nothing")
                    .accepted("layers filled in from the surface down, without a gap"),
                );
            }
            if read.text(names[0]).is_none() {
                read.refuse(
                    Refusal::new(names[0], format!("Layer {}: say down to which depth it goes", place + 1))
                        .given("nothing")
                        .accepted("a depth in inches or centimetres")
                        .example("10 in"),
                );
            }
            let Some(to_cm) = to_cm else { continue };
            if to_cm.get() <= above.get() {
                let typed = read.text(names[0]).unwrap_or_default();
                read.refuse(
                    Refusal::new(
                        names[0],
                        format!("Layer {}: {typed} is not below the layer above it", place + 1),
                    )
                    .given(typed)
                    .accepted("a depth below that of the layer above"),
                );
            }
            layers.push(Layer { from_cm: above, to_cm, ..rest });
            above = to_cm;
        }
        if layers.is_empty() && !read.is_refused() {
            read.refuse(
                Refusal::new(NAMES[0][0], "No layer was filled in")
                    .given("nothing")
                    .accepted("at least one layer with its depth")
                    .example("10 in"),
            );
        }
        Some(Seen::Layers(Layers { layers })).filter(|_| !read.is_refused())
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Layers(seen) = seen else { return form };
        NAMES.iter().zip(&seen.layers).fold(form, |form, (names, layer)| {
            let [to, class, sand, clay, organic, packing, stones, note] = names;
            let packed =
                if let Some(Packing::Words(words)) = layer.packing { word(words) } else { String::new() };
            form.measure(to, Some(layer.to_cm), units)
                .set(class, layer.class.map(Class::name).unwrap_or_default())
                .measure(sand, layer.sand_percent, units)
                .measure(clay, layer.clay_percent, units)
                .measure(organic, layer.organic_matter_percent, units)
                .set(packing, packed)
                .measure(stones, layer.stones_volume_percent, units)
                .set(note, &layer.note)
        })
    }
}

/// What is known of a layer beside its depth.
fn rest(read: &mut Reader<'_>, names: &[&'static str; COLUMNS], before: Option<&Layer>) -> Layer {
    let [_, class, sand, clay, organic, packing, stones, note] = *names;
    let nowhere = SignDepth::literal(0.0);
    // The form has no place for a density that an import brought; it stays unless words take its place.
    let kept = before.and_then(|layer| layer.packing).filter(|packing| !matches!(packing, Packing::Words(_)));
    Layer {
        class: chosen(read, class),
        sand_percent: read.measure(sand),
        clay_percent: read.measure(clay),
        organic_matter_percent: read.measure(organic),
        packing: chosen(read, packing).map(Packing::Words).or(kept),
        stones_volume_percent: read.measure(stones),
        note: read.lines(note),
        ..Layer::between(nowhere, nowhere)
    }
}
