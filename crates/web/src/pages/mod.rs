//! The pages: one file each, with a template of the same name.

pub mod farm;
pub mod method;
pub mod methods;
pub mod patterns;
pub mod plot;
pub mod sources;

use crate::route::Route;

/// Addresses of every page, one list a page.
pub static ROUTES: &[&[Route]] =
    &[farm::ROUTES, plot::ROUTES, methods::ROUTES, method::ROUTES, sources::ROUTES, patterns::ROUTES];
