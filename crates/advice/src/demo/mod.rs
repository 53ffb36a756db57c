//! The demonstration farm: invented ground, three years, evidence of every kind.
//!
//! Some of it is doubtful (a boundary nobody could see, a jar that cleared overnight), contradictory
//! (a jar against a laboratory) or missing (a plot nobody has looked at). The records stand in
//! `demo/*.toml`; the same script makes the same book every time. A season of crops and watering ends on the day
//! the book is made for.

mod covers;
mod feeding;
mod lab;
mod maps;
mod picture;
mod plan;
mod posts;
mod sampling;
mod script;
mod shelf;
mod structure;
mod water;
mod weather;
mod work;
mod years;

use std::path::Path;

use book::model::{Farm, HourWorth, Latitude, MonthDay, UnitSystem};
use book::{Book, Result, Stamp};
use ground::kit::Bounded;
use jiff::Timestamp;
use jiff::civil::{Date, date};

/// Seed of the identities of its records.
const SEED: u64 = 20_240_302;

/// The farm's own record.
#[must_use]
pub fn farm() -> Farm {
    let latitude = Latitude::literal(42.5);
    Farm {
        latitude_degrees: Some(latitude),
        plan_origin: Some(plan::origin(latitude)),
        last_frost: MonthDay::new(5, 12),
        first_frost: MonthDay::new(10, 2),
        currency: Some("USD".to_owned()),
        hour_worth: Some(HourWorth::literal(20.0)),
        // The only complete set of vegetable rates for an American farm; recalled, and pages say so.
        nutrient_scheme: Some("ufifas_m1".to_owned()),
        // The laboratory of its soil tests reads this buffer.
        lime_method: Some("adams-evans".to_owned()),
        ..Farm::named("Nettlewick Farm", UnitSystem::UsCustomary)
    }
}

/// When and by whom the book was begun.
#[must_use]
pub fn beginning() -> Stamp {
    Stamp::new(Timestamp::constant(1_709_370_000, 0), "Mab")
}

/// The day that [`create`] takes for today, so that tests and benches always see the same season.
pub const DAY: Date = date(2026, 5, 21);

/// Makes the demonstration book at `path`, its season ending on [`DAY`].
///
/// # Errors
/// A file is there already, or the folder cannot be written.
pub fn create(path: impl AsRef<Path>) -> Result<Book> {
    create_on(path, DAY)
}

/// Makes the demonstration book at `path`, its growing season ending today: from October to March the
/// invented farm lies in the south.
///
/// # Errors
/// A file is there already, or the folder cannot be written.
pub fn create_on(path: impl AsRef<Path>, today: Date) -> Result<Book> {
    let mut book = Book::create(path, farm(), &beginning())?;
    build_on(&mut book, today)?;
    Ok(book)
}

/// Writes the demonstration records into a book that has only its farm.
///
/// # Errors
/// The book cannot be written, or has a plot of one of these names already.
pub fn build_on(book: &mut Book, today: Date) -> Result<()> {
    book.seed_ids(SEED);
    script::run(book)?;
    water::run(book, today)?;
    lab::run(book, today)?;
    feeding::run(book, today)?;
    shelf::run(book, today)?;
    structure::run(book, today)?;
    posts::run(book, today)?;
    work::run(book, today)?;
    covers::run(book, today)?;
    years::run(book, today)?;
    plan::run(book, today)?;
    maps::run(book, today)?;
    sampling::run(book, today)
}
