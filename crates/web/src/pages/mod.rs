//! The pages: one file each, with a template of the same name.

pub mod methods;

use crate::route::Route;

/// Addresses of every page, one list a page.
pub static ROUTES: &[&[Route]] = &[methods::ROUTES];
