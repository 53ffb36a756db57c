//! Jobs of the farm's own: one to do, one put off, one done.

use book::model::{EntryId, JobChoice, JobDone, JobWord, PlannedJob};
use book::{Book, Result, Stamp};
use ground::kit::Refusal;
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Writes them down.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    let east = named(book, "East tunnel")?;
    let creek = named(book, "Creek field")?;
    let back = |days: i64| today.saturating_sub(days.days());
    let on = |days: i64| today.saturating_add(days.days());
    let word = |number: u8, plot: EntryId, place: &str, what: &str, to: Date| JobWord {
        key: format!("own.demo-{number}"),
        plot: Some(plot),
        bed: None,
        choice: JobChoice::Accepted,
        until: None,
        changed: None,
        reason: String::new(),
        done: None,
        as_planned: PlannedJob {
            what: what.to_owned(),
            place: place.to_owned(),
            from: None,
            to: Some(to),
            materials: Vec::new(),
        },
    };
    let wall = word(1, east, "East tunnel, north end", "Mend the film at the end wall", on(24));
    book.record(wall, &stamp(back(6), 0)?)?;
    let lines = JobWord {
        done: Some(JobDone {
            on: back(9),
            note: "Two emitters were blocked in the third line; cleaned.".to_owned(),
        }),
        ..word(2, east, "East tunnel", "Walk the drip lines", back(5))
    };
    book.record(lines, &stamp(back(9), 0)?)?;
    let ditch = JobWord {
        choice: JobChoice::Postponed,
        until: Some(on(70)),
        reason: "Too wet to drive on".to_owned(),
        ..word(3, creek, "Creek field, lower end", "Clear the ditch", on(120))
    };
    book.record(ditch, &stamp(back(20), 0)?)?;
    Ok(())
}

fn named(book: &Book, name: &str) -> Result<EntryId> {
    let missing = || Refusal::new("name", format!("the demonstration has nothing called {name}"));
    Ok(book.snapshot()?.plot_named(name).map(|held| held.id).ok_or_else(missing)?)
}

fn stamp(on: Date, minute: i64) -> Result<Stamp> {
    let at = TimeZone::UTC.to_timestamp(on.at(18, 0, 0, 0)).map_err(|error| {
        Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
    })?;
    Ok(Stamp::new(at + minute.minutes(), "Mab"))
}
