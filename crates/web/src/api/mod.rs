//! Addresses for programs only.

pub mod calc;
pub mod openapi;

use crate::route::Route;

/// Addresses of the API, one list a file.
pub static ROUTES: &[&[Route]] = &[calc::ROUTES, openapi::ROUTES];
