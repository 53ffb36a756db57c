//! Covers: the farm's calendar and gaps, the choice for one gap, and the end of a cover.

mod choose;
mod end;
mod farm;
mod pictures;

use crate::route::Route;

/// Addresses of covers.
pub const ROUTES: &[Route] = &[
    Route::page(
        "/covers",
        "Crops and covers over the year, the gaps between, and the seed to have",
        farm::show,
    ),
    Route::page(
        "/beds/{bed}/covers",
        "A cover for a gap of a bed: ?gap= its number, or ?from= and ?to=; ?purpose= what for, ?winter=, ?wet=, ?dry=",
        choose::show,
    ),
    Route::page("/covers/{cover}/end", "The form of how a cover ended and what stood", end::show),
    Route::save("/covers/{cover}/end", "Writes down how a cover ended", end::FIELDS, end::save),
];
