//! The demonstration farm: invented ground, three years, evidence of every kind.
//!
//! Some of it is doubtful (a boundary nobody could see, a jar that cleared overnight), contradictory
//! (a jar against a laboratory) or missing (a plot nobody has looked at). The records stand in
//! `demo/*.toml`; the same script makes the same book every time.

mod picture;
mod script;

use std::path::Path;

use book::model::{Farm, HourWorth, Latitude, MonthDay, UnitSystem};
use book::{Book, Result, Stamp};
use ground::kit::Bounded;
use jiff::Timestamp;

/// Seed of the identities of its records.
const SEED: u64 = 20_240_302;

/// The farm's own record.
#[must_use]
pub fn farm() -> Farm {
    Farm {
        latitude_degrees: Some(Latitude::literal(42.5)),
        last_frost: MonthDay::new(5, 12),
        first_frost: MonthDay::new(10, 2),
        currency: Some("USD".to_owned()),
        hour_worth: Some(HourWorth::literal(20.0)),
        ..Farm::named("Nettlewick Farm", UnitSystem::UsCustomary)
    }
}

/// When and by whom the book was begun.
#[must_use]
pub fn beginning() -> Stamp {
    Stamp::new(Timestamp::constant(1_709_370_000, 0), "Mab")
}

/// Makes the demonstration book at `path`.
///
/// # Errors
/// A file is there already, or the folder cannot be written.
pub fn create(path: impl AsRef<Path>) -> Result<Book> {
    let mut book = Book::create(path, farm(), &beginning())?;
    build(&mut book)?;
    Ok(book)
}

/// Writes the demonstration records into a book that has only its farm.
///
/// # Errors
/// The book cannot be written, or has a plot of one of these names already.
pub fn build(book: &mut Book) -> Result<()> {
    book.seed_ids(SEED);
    script::run(book)
}
