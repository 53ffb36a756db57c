//! Paper for the field, and the way back: sheets to print, results typed at once, a code looked up.

mod columns;
mod enter;
mod find;
mod grid;
mod sheets;

use book::model::SamplingPlan;
use book::{Held, Snapshot};

use crate::ask::Ask;
use crate::problem::Problem;
use crate::route::Route;

/// Addresses of the sheets, of the fast entry and of the look-up.
pub const ROUTES: &[Route] = &[
    Route::page("/sheets", "Sheets to print for the field", sheets::show),
    Route::file(
        "/sheets/jar-strip.pdf",
        "A paper scale to tape on a jar, with the times to mark, as PDF",
        sheets::jar,
    ),
    Route::file("/sheets/feel-card.pdf", "The feel test on a card, as PDF", sheets::feel),
    Route::file("/sheets/probe-form.pdf", "A form for a probe, as PDF", sheets::probe),
    Route::file("/sampling/{id}/sheet.pdf", "The field sheet of a sampling plan, as PDF", sheets::field),
    Route::file(
        "/sampling/{id}/labels.pdf",
        "Labels for the bags of a sampling plan, as PDF",
        sheets::labels_of_plan,
    ),
    Route::file(
        "/plots/{plot}/labels.pdf",
        "Labels for the bags of a plot that are in the book, as PDF: ?day= or ?sample=, else those of the last day",
        sheets::labels_of_plot,
    ),
    Route::file(
        "/sheets/labels.pdf",
        "Labels for bags, as PDF: ?of= a sampling plan or a plot, on the sheet of ?stock=, from label ?start= on",
        sheets::labels,
    ),
    Route::page("/find", "The record that a label's code names", find::show),
    Route::page("/sampling/{id}/enter", "Results of a sampling plan, all on one screen", enter::of_plan),
    Route::save(
        "/sampling/{id}/enter",
        "Keeps the results of a sampling plan",
        enter::FIELDS,
        enter::save_plan,
    ),
    Route::page("/plots/{plot}/enter", "Results of many bags of a plot, all on one screen", enter::of_plot),
    Route::save(
        "/plots/{plot}/enter",
        "Keeps the results of many bags of a plot",
        enter::FIELDS,
        enter::save_plot,
    ),
];

/// The sampling plan that the part `{id}` of the path names.
fn plan_of<'a>(ask: &Ask, snapshot: &'a Snapshot) -> Result<&'a Held<SamplingPlan>, Problem> {
    snapshot.sampling_plan(ask.entry("id")?).ok_or_else(|| {
        Problem::not_found(
            "This book has no such sampling plan. It may have been withdrawn, or belong to another book.",
        )
    })
}
