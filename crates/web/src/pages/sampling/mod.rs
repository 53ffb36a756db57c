//! Where to pull cores on a plot, and the sampling plans that were kept.

mod asked;
mod kept;

use crate::route::Route;

/// Addresses of sampling.
pub const ROUTES: &[Route] = &[
    Route::page(
        "/plots/{plot}/sampling",
        "How many cores to pull on a plot, where and how deep: ?purpose=, ?property=, ?error=, ?design=, ?margin=, ?seed= and more",
        asked::show,
    ),
    Route::save("/plots/{plot}/sampling", "Keeps a sampling plan", asked::FIELDS, asked::keep),
    Route::page("/sampling/{id}", "A sampling plan that was kept: its points in walking order", kept::show),
    Route::file("/sampling/{id}/points.gpx", "The points of a sampling plan for a phone, as GPX", kept::gpx),
    Route::file("/sampling/{id}/points.geojson", "The points of a sampling plan, as GeoJSON", kept::geojson),
];
