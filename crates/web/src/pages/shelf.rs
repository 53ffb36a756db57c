//! The shelf: what can be spread, how it is sold, and what is in hand.

use advice::feeding::shelf::{ShelfLine, shelf};
use askama::Template;
use ground::fertility::blend::catalogue::{CATALOGUE, GenericMaterial, MaterialKind};
use serde::Serialize;

use crate::ask::Ask;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};

/// Addresses of the shelf.
pub const ROUTES: &[Route] =
    &[Route::page("/shelf", "The shelf: materials, how they are sold, what is in hand", show)];

#[derive(Template, Serialize)]
#[template(path = "shelf.html")]
struct ShelfPage {
    #[serde(skip)]
    shell: Shell,
    materials: Vec<ShelfLine>,
    #[serde(skip)]
    kinds: Vec<Kind>,
    #[serde(skip)]
    currency: String,
}

struct Kind {
    title: String,
    rows: Vec<&'static GenericMaterial>,
}

fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let kinds = MaterialKind::ALL
        .into_iter()
        .map(|kind| Kind {
            title: crate::problem::capital(kind.words()),
            rows: CATALOGUE.iter().filter(|row| row.kind == kind).collect(),
        })
        .collect();
    Shown::page(ShelfPage {
        shell: ask.shell(Section::Work, "The shelf"),
        materials: shelf(&snapshot),
        kinds,
        currency: snapshot.farm.body.currency.clone().unwrap_or_default(),
    })
}
