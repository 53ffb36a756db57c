//! Every component of the pages on one page, to look at and to scan.

use askama::Template;
use ground::kit::units::Dimension;
use ground::kit::{Refusal, Spread};
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Choice, Field, Form};
use crate::parts::{Firmness, OddsLine, SpreadView};
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};

/// Addresses of this page.
pub const ROUTES: &[Route] = &[Route::page("/patterns", "Every component of the pages", show)];

const FIELDS: &[Field] = &[
    Field::text("name", "Name", "As people on the farm call it"),
    Field::measure(
        "height",
        "Height of the water",
        "From the jar floor, in inches or millimetres, for example 7 1/4 in or 185 mm",
        Dimension::SmallLength,
    ),
    Field::reading(
        "sand_top",
        "Top of the sand",
        "A height, a range such as 1 1/8 to 1 1/4 in, or \u{201c}not seen\u{201d}",
        Dimension::SmallLength,
    )
    .optional(),
    Field::one_of(
        "water",
        "How does the water look after a day",
        "",
        &[
            Choice::new("clear", "Clear"),
            Choice::new("cloudy", "Still cloudy"),
            Choice::new("not_seen", "Nobody looked"),
        ],
    ),
    Field::any_of(
        "signs",
        "What else was seen",
        "",
        &[Choice::new("crust", "A crust after rain"), Choice::new("pan", "A hard layer under the spade")],
    ),
    Field::pick(
        "place",
        "Place",
        "",
        &[Choice::new("open_field", "Open field"), Choice::new("high_tunnel", "High tunnel")],
    ),
    Field::day("day", "Day", "The day it was seen"),
    Field::lines("note", "Note", "Anything worth remembering").optional(),
    Field::picture("photo", "Photo", "A picture of the jar at eye level"),
    Field::tick("dispersant", "Dish-washing powder was added", "About a teaspoon to a quart of water"),
];

/// Every component.
#[derive(Template, Serialize)]
#[template(path = "patterns.html")]
struct Patterns {
    #[serde(skip)]
    shell: Shell,
    #[serde(skip)]
    form: Form,
    #[serde(skip)]
    refused: Form,
    firmness: [Firmness; 3],
    odds: Vec<OddsLine>,
    spread: SpreadView,
}

fn show(ask: &Ask) -> Outcome {
    let form = ask.form(FIELDS).with("water", "cloudy").with("sand_top", "1 1/8 to 1 1/4 in");
    // The same form once more would repeat its ids, so the refused field goes by another name.
    const REFUSED: &[Field] = &[Field::measure(
        "ring_width",
        "Width of the ring",
        "Inside, in inches or millimetres, for example 6 in",
        Dimension::SmallLength,
    )];
    let mut refused = ask.form(REFUSED).with("ring_width", "about six");
    refused.refuse(
        Refusal::new("ring_width", "\u{201c}about six\u{201d} could not be read as a length")
            .given("about six")
            .accepted("a length in inches or millimetres")
            .example("6 in"),
    );
    let odds = [("sandy loam", 0.62), ("loam", 0.27), ("sandy clay loam", 0.08), ("clay loam", 0.03)]
        .map(|(name, share)| OddsLine::new(name, share));
    Shown::page(Patterns {
        shell: ask.shell(Section::Handbook, "Patterns"),
        form,
        refused,
        firmness: Firmness::ALL,
        odds: odds.into(),
        spread: SpreadView::new("Clay", Spread { low: 14.2, median: 18.6, high: 24.9 }, "%", 1),
    })
}
