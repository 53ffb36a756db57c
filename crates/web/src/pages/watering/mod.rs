//! Water: what each bed needs today, and what the whole farm needs, supply by supply.

mod bed;
mod pictures;
mod today;

pub(crate) use today::{TodayLine, lines};

use crate::route::Route;

/// Addresses of the water of beds.
pub const ROUTES: &[Route] = &[
    Route::page("/water", "Water today: every planted bed, and what can run together", today::show),
    Route::page(
        "/beds/{bed}/water",
        "The water of a bed: what to do today, the season and the week ahead",
        bed::show,
    ),
    Route::save("/beds/{bed}/water", "Writes down a watering of the bed", bed::FIELDS, bed::save),
];
