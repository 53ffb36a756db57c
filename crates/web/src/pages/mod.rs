//! The pages: one file each, with a template of the same name.

pub mod again;
pub mod covers;
pub mod export;
pub mod farm;
pub mod field;
pub mod import;
pub mod maps;
pub mod method;
pub mod methods;
pub mod patterns;
pub mod plan;
pub mod plot;
pub mod plot_acidity;
pub mod plot_feeding;
pub mod plot_lab;
pub mod plot_structure;
pub mod plot_water;
pub mod posts;
pub mod record;
pub mod records;
pub mod sampling;
pub mod settings;
pub mod sheets;
pub mod shelf;
pub mod sources;
pub mod spread;
pub mod start;
pub mod suits;
pub mod things;
pub mod watering;
pub mod weather;
pub mod work;

use crate::route::Route;

/// Addresses of every page, one list a page.
pub static ROUTES: &[&[Route]] = &[
    farm::ROUTES,
    start::ROUTES,
    plan::ROUTES,
    plot::ROUTES,
    plot_acidity::ROUTES,
    again::ROUTES,
    plot_structure::ROUTES,
    plot_water::ROUTES,
    plot_lab::ROUTES,
    plot_feeding::ROUTES,
    posts::ROUTES,
    record::ROUTES,
    things::ROUTES,
    things::photo::ROUTES,
    records::ROUTES,
    sampling::ROUTES,
    watering::ROUTES,
    suits::ROUTES,
    maps::ROUTES,
    covers::ROUTES,
    sheets::ROUTES,
    field::ROUTES,
    weather::ROUTES,
    spread::ROUTES,
    shelf::ROUTES,
    work::ROUTES,
    settings::ROUTES,
    export::ROUTES,
    import::ROUTES,
    methods::ROUTES,
    method::ROUTES,
    sources::ROUTES,
    patterns::ROUTES,
];
