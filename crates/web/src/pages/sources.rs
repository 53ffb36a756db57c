//! The bibliography: every source once, and the methods that lean on it.

use askama::Template;
use ground::kit::sources::BIBLIOGRAPHY;
use ground::kit::{Cite, Source};
use ground::registry;
use serde::Serialize;

use crate::ask::Ask;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};

/// Addresses of this page.
pub const ROUTES: &[Route] =
    &[Route::page("/sources", "Every published source, with the methods that cite it", show)];

/// A citation spelt out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Cited {
    /// Key in the bibliography, and anchor on the page of sources.
    pub(crate) key: &'static str,
    /// "Authors (year)".
    pub(crate) short: String,
    /// Equation, table or page.
    pub(crate) at: &'static str,
    /// How it reached this project.
    pub(crate) provenance: &'static str,
}

impl Cited {
    pub(crate) fn of(cite: &Cite) -> Self {
        let (short, provenance) = cite.source().map_or_else(
            || (cite.key.to_owned(), ""),
            |source| (format!("{} ({})", source.authors, source.year), source.provenance.words()),
        );
        Self { key: cite.key, short, at: cite.at, provenance }
    }
}

/// The bibliography.
#[derive(Template, Serialize)]
#[template(path = "sources.html")]
struct Sources {
    #[serde(skip)]
    shell: Shell,
    sources: Vec<Entry>,
}

/// One source.
#[derive(Serialize)]
struct Entry {
    key: &'static str,
    source: &'static Source,
    provenance_words: &'static str,
    /// Name and title of the methods that cite it.
    cited_by: Vec<(&'static str, &'static str)>,
}

fn show(ask: &Ask) -> Outcome {
    let cards = || registry::METHODS.iter().map(|method| method.card());
    let sources = BIBLIOGRAPHY
        .iter()
        .map(|(key, source)| Entry {
            key,
            source,
            provenance_words: source.provenance.words(),
            cited_by: cards()
                .filter(|card| card.sources.iter().any(|cite| cite.key == key))
                .map(|card| (card.name, card.title))
                .collect(),
        })
        .collect();
    Shown::page(Sources { shell: ask.shell(Section::Handbook, "Sources"), sources })
}
