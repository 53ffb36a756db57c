//! Sheets to print, as PDF: the work plan, what to spread, the buying list.

use advice::feeding::plan::FarmPlan;
use axum::http::StatusCode;
use report::{
    SheetError, SheetOptions, buying_list_pdf, covers_pdf, map_pdf, posts_pdf, spread_pdf, work_plan_pdf,
};

use crate::ask::Ask;
use crate::pages::export::dated;
use crate::pages::spread;
use crate::pages::work::plan;
use crate::plans::Asked;
use crate::problem::{Problem, Trouble};
use crate::route::{Outcome, Route, Shown};
use crate::when;

/// Addresses of the sheets.
pub const ROUTES: &[Route] = &[
    Route::file("/work.pdf", "The work plan to print, as PDF", work),
    Route::file("/spread.pdf", "What to spread on each bed, to print, as PDF", beds),
    Route::file("/buying.pdf", "The buying list to print, as PDF", buying),
    Route::file("/structures/{id}/posts.pdf", "The posts of a structure to print, as PDF", posts),
    Route::file("/covers.pdf", "Crops and covers over the year to print, as PDF", covers),
    Route::file("/maps/{property}/map.pdf", "The map of a property to print, as PDF: ?plot= a plot", map),
];

fn work(ask: &Ask) -> Outcome {
    let plan = plan(ask, &ask.snapshot()?)?;
    sheet(ask, "work", |options| work_plan_pdf(&plan, options))
}

fn beds(ask: &Ask) -> Outcome {
    of_plan(ask, "spread", "What to spread", spread_pdf)
}

fn posts(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let asked = crate::pages::posts::structure_ask(ask, &snapshot)?;
    let report = crate::pages::posts::reported(ask, &snapshot, &asked)?;
    let units = ask.units();
    sheet(ask, "posts", |options| posts_pdf(&report, units, options))
}

fn covers(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let today = when::day_of(ask.stamp().at);
    sheet(ask, "covers", |options| covers_pdf(&snapshot, today, options))
}

fn map(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let report = crate::pages::maps::report_of(ask, &snapshot)?;
    let units = ask.units();
    sheet(ask, "map", |options| map_pdf(&report, &snapshot, units, options))
}

fn buying(ask: &Ask) -> Outcome {
    of_plan(ask, "buying", "What to buy", buying_list_pdf)
}

/// A sheet of the farm's plan. While that is being made, the page says how far it is and asks for the sheet again.
fn of_plan(
    ask: &Ask,
    name: &str,
    title: &str,
    pdf: fn(&FarmPlan, &SheetOptions) -> Result<Vec<u8>, SheetError>,
) -> Outcome {
    match spread::asked(ask)? {
        Asked::Ready(plan) => sheet(ask, name, |options| pdf(&plan, options)),
        Asked::UnderWay(how_far) => spread::under_way(ask, title, how_far),
    }
}

/// A sheet of today, to be kept under a name that says the farm, the day and which sheet it is.
pub(super) fn sheet(
    ask: &Ask,
    name: &str,
    pdf: impl FnOnce(&SheetOptions) -> Result<Vec<u8>, SheetError>,
) -> Outcome {
    let snapshot = ask.snapshot()?;
    let today = when::day_of(ask.stamp().at);
    let options = SheetOptions::of(&snapshot, ask.units(), today);
    let bytes = pdf(&options).map_err(not_made)?;
    let name = dated(ask, "pdf")?.replacen(".pdf", &format!("-{name}.pdf"), 1);
    Ok(Shown::File { media_type: "application/pdf".to_owned(), name: Some(name), bytes })
}

fn not_made(error: SheetError) -> Problem {
    Trouble::new(StatusCode::INTERNAL_SERVER_ERROR, "The sheet could not be made", format!("{error}."))
        .hint("The page itself can be printed from the browser meanwhile.")
        .into()
}
