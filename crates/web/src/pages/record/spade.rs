//! A block dug with the spade: scores of its layers, signs, earthworms.

use book::model::Seen;
use book::model::seen::SpadeBlock;
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};
use ground::structure::spade::look::SpadeSign;
use ground::structure::spade::score::ScoredLayer;
use ground::structure::spade::worms::WormInput;

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, word};
use super::kinds::{self, Kind};
use crate::form::{Choice, Field, Form, Reader, join};

/// A spade block.
pub(super) struct Block;

/// Layers that the form has room for.
const ROWS: usize = 4;

macro_rules! layers {
    ($($number:literal),*) => {
        const LAYERS: [[Field; 2]; ROWS] = [$([
            Field::measure(concat!("layer", $number, "_thickness"), concat!("Layer ", $number, ": how thick"), "",
                Dimension::Depth).optional(),
            Field::measure(concat!("layer", $number, "_score"), concat!("Layer ", $number, ": its score"),
                "1 crumbs smaller than a pea, roots everywhere; 2 rounded pieces; 3 firm, few pores; 4 compact, hard to \
                 break, roots in cracks only; 5 very compact, no pores, perhaps grey. Halves are allowed",
                Dimension::Number).optional(),
        ]),*];
        const NAMES: [[&str; 2]; ROWS] =
            [$([concat!("layer", $number, "_thickness"), concat!("layer", $number, "_score")]),*];
    };
}

layers!("1", "2", "3", "4");

const SIGNS: &[Field] = &[Field::any_of(
    "signs",
    "What the block shows",
    "",
    &[
        Choice::new("roots_turn_aside", "Roots turn aside or thicken at a depth"),
        Choice::new("roots_go_through", "Roots go straight through"),
        Choice::new("plates", "Flat plates that lie on each other"),
        Choice::new("massive", "A massive layer without cracks or pores"),
        Choice::new("worm_channels", "Worm channels go through"),
        Choice::new("crumbs", "Crumbs throughout"),
        Choice::new("mottles", "Grey or rust-coloured mottles"),
        Choice::new("sour_smell", "A sour or foul smell"),
    ],
)];

const WORMS: &[Field] = &[
    Field::measure("worms", "Earthworms in the block", "Young and old", Dimension::Number).optional(),
    Field::measure("block_length", "Length of the block", "", Dimension::Depth).optional(),
    Field::measure("block_width", "Its width", "", Dimension::Depth).optional(),
    Field::measure("block_depth", "Its depth", "", Dimension::Depth).optional(),
];

const CELLS: [Field; 2 * ROWS] = {
    let mut fields = [Field::hidden(""); 2 * ROWS];
    let mut at = 0;
    while at < 2 * ROWS {
        fields[at] = LAYERS[at / 2][at % 2];
        at += 1;
    }
    fields
};

const SEEN: &[Field] = &join::<{ SIGNS.len() + CELLS.len() }>(SIGNS, &CELLS);
const OWN: &[Field] = &join::<{ SEEN.len() + WORMS.len() }>(SEEN, WORMS);
const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Block {
    const KIND: &'static Kind = &kinds::SPADE;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of(
            "Look",
            "Dig below the layer in question where something grows, and break the block by hand.",
            &["signs"],
        ),
        Group::of("Layer 1, from the surface", "A layer is where the pieces change.", &NAMES[0]),
        Group::of("Layer 2", "", &NAMES[1]),
        Group::of("Layer 3", "", &NAMES[2]).folded(),
        Group::of("Layer 4", "", &NAMES[3]).folded(),
        Group::of(
            "Earthworms",
            "Count them where the ground is moist and warmer than 50 °F (10 °C).",
            &["worms", "block_length", "block_width", "block_depth"],
        ),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] = &[
        ("worms.worms", "worms"),
        ("worms.length_cm", "block_length"),
        ("worms.width_cm", "block_width"),
        ("worms.depth_cm", "block_depth"),
        ("layers", "layer1_thickness"),
    ];

    fn read(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        let before = match had.before {
            Some(Seen::Spade(before)) => Some(before),
            _ => None,
        };
        let ticked = read.choices("signs");
        let mut signs: Vec<SpadeSign> =
            SpadeSign::ALL.into_iter().filter(|sign| ticked.contains(&word(sign).as_str())).collect();
        if let Some(before) = before {
            // In the order they were recorded in, what is new last.
            signs.sort_by_key(|sign| {
                before.signs.iter().position(|other| other == sign).unwrap_or(usize::MAX)
            });
        }
        let mut layers: Vec<ScoredLayer> = Vec::new();
        for (at, [thickness, score]) in NAMES.iter().enumerate() {
            let given = [read.text(thickness).is_some(), read.text(score).is_some()];
            let (thickness_cm, scored) = (read.measure(thickness), read.measure(score));
            if given[0] != given[1] {
                let missing = if given[0] { score } else { thickness };
                read.refuse(
                    Refusal::new(*missing, format!("Layer {}: give its thickness and its score", at + 1))
                        .given("nothing")
                        .accepted("a thickness, and a score from 1 to 5")
                        .example("3"),
                );
            }
            if let (Some(thickness_cm), Some(score)) = (thickness_cm, scored) {
                layers.push(ScoredLayer { thickness_cm, score });
            }
        }
        layers.extend(before.iter().flat_map(|before| before.layers.iter().skip(ROWS)).copied());
        let worms = worms(read);
        if signs.is_empty() && layers.is_empty() && worms.is_none() && !read.is_refused() {
            read.refuse(
                Refusal::new("signs", "Nothing was said of the block")
                    .given("nothing")
                    .accepted("a sign, a score or a count of earthworms"),
            );
        }
        Some(Seen::Spade(SpadeBlock { layers, signs, worms })).filter(|_| !read.is_refused())
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Spade(block) = seen else { return form };
        let form = form
            .set_all("signs", block.signs.iter().map(word).collect::<Vec<_>>().iter().map(String::as_str));
        let form = NAMES.iter().zip(&block.layers).fold(form, |form, ([thickness, score], layer)| {
            form.measure(thickness, Some(layer.thickness_cm), units).measure(score, Some(layer.score), units)
        });
        match &block.worms {
            Some(worms) => form
                .measure("worms", Some(worms.worms), units)
                .measure("block_length", Some(worms.length_cm), units)
                .measure("block_width", Some(worms.width_cm), units)
                .measure("block_depth", Some(worms.depth_cm), units),
            None => form,
        }
    }
}

fn worms(read: &mut Reader<'_>) -> Option<WormInput> {
    let sides = ["block_length", "block_width", "block_depth"];
    let counted = read.text("worms").is_some();
    let worms = read.measure("worms");
    for name in sides {
        if counted != read.text(name).is_some() {
            let missing = if counted { name } else { "worms" };
            if !read.is_refused_at(missing) {
                read.refuse(
                    Refusal::new(missing, "Earthworms need their number and the three sides of the block")
                        .given("nothing")
                        .accepted("a number, and a length, width and depth")
                        .example("12"),
                );
            }
        }
    }
    let [length_cm, width_cm, depth_cm] = sides.map(|name| read.measure(name));
    Some(WormInput { worms: worms?, length_cm: length_cm?, width_cm: width_cm?, depth_cm: depth_cm? })
}
