//! The handbook's contents: every method by chapter.

use askama::Template;
use ground::kit::{Card, Topic};
use ground::registry;
use serde::Serialize;

use crate::ask::Ask;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};

/// Addresses of this page.
pub const ROUTES: &[Route] = &[Route::page("/methods", "Every method of the handbook by chapter", show)];

/// The handbook's contents.
#[derive(Template, Serialize)]
#[template(path = "methods.html")]
struct Methods {
    #[serde(skip)]
    shell: Shell,
    chapters: Vec<Chapter>,
}

/// One trade topic.
#[derive(Serialize)]
struct Chapter {
    title: &'static str,
    methods: Vec<&'static Card>,
}

fn show(ask: &Ask) -> Outcome {
    let chapters = Topic::ALL
        .into_iter()
        .map(|topic| Chapter {
            title: topic.title(),
            methods: registry::METHODS
                .iter()
                .map(|method| method.card())
                .filter(|card| card.topic == topic)
                .collect(),
        })
        .filter(|chapter| !chapter.methods.is_empty())
        .collect();
    Shown::page(Methods { shell: ask.shell(Section::Handbook, "Handbook"), chapters })
}
