//! What can be done with any record: correct it, withdraw it, restore it, look at its history.

mod correct;
mod history;
mod withdraw;

use book::model::{EntryId, Kind};
use book::{Book, BookError, Revision, Snapshot};

use crate::problem::Problem;
use crate::route::Route;
use withdraw::FIELDS as REASON;

/// Addresses of records.
pub const ROUTES: &[Route] = &[
    Route::page(
        "/records/{id}/correct",
        "The form of a correction, filled with what was recorded",
        correct::show,
    ),
    Route::save(
        "/records/{id}/correct",
        "Corrects a record; the fields are those of its kind",
        &[],
        correct::save,
    ),
    Route::page("/records/{id}/withdraw", "Asks why a record is withdrawn", withdraw::ask_withdraw),
    Route::save("/records/{id}/withdraw", "Withdraws a record", REASON, withdraw::withdraw),
    Route::page("/records/{id}/restore", "Asks why a withdrawn record is restored", withdraw::ask_restore),
    Route::save("/records/{id}/restore", "Restores a withdrawn record", REASON, withdraw::restore),
    Route::page("/records/{id}/history", "Every revision of a record", history::of_record),
    Route::page("/plots/{plot}/history", "Everything written about a plot", history::of_plot),
    Route::page("/history", "Everything written in the book, latest first", history::of_book),
];

/// The latest revision of a record, withdrawn or not.
fn latest(book: &Book, id: EntryId) -> Result<Revision, BookError> {
    book.history(id)?.pop().ok_or(BookError::NotFound { what: "record", id })
}

/// A kind of record that has no form of its own.
pub(crate) fn without_form(kind: Kind) -> Problem {
    let label = kind.label().to_lowercase();
    crate::problem::Trouble::new(
        axum::http::StatusCode::CONFLICT,
        "Withdrawn and written anew, not changed",
        format!("This {label} has no form to change it by."),
    )
    .hint("Withdraw it, and write it down again as it should be.")
    .hint("Every record can also be changed with `spadework correct`.")
    .into()
}

/// The page on which a record is seen.
fn home(snapshot: &Snapshot, revision: &Revision) -> String {
    let plot = match revision.kind {
        Kind::Plot => Some(revision.id),
        _ => snapshot.plot_of(&revision.body),
    };
    if matches!(revision.kind, Kind::WeatherNormals | Kind::WeatherTable) {
        return "/weather".to_owned();
    }
    match revision.kind {
        Kind::Material | Kind::Stock => return "/shelf".to_owned(),
        Kind::Job => return "/work".to_owned(),
        Kind::Laboratory | Kind::Import => return "/import".to_owned(),
        _ => {}
    }
    plot.filter(|plot| snapshot.plot(*plot).is_some())
        .map_or_else(|| "/".to_owned(), |plot| format!("/plots/{plot}"))
}
