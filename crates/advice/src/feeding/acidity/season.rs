//! When to lime, and when to test again.

use book::Snapshot;
use book::model::EntryId;
use ground::kit::Bounded;
use jiff::Span;
use jiff::civil::Date;
use serde::Serialize;

/// Days before planting within which lime is spread: 2 to 6 months.
const BEFORE_PLANTING_DAYS: [i64; 2] = [180, 60];
/// Days about the first frost that autumn liming runs from and to (judgement).
const ABOUT_FROST_DAYS: [i64; 2] = [45, 45];
/// Months after liming from which a test tells anything.
const TEST_AFTER_MONTHS: i32 = 6;

/// When to lime.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LimeSeason {
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
    /// Why then.
    pub why: String,
    /// Test again from this day on.
    pub retest_on: Date,
}

fn days(date: Date, days: i64) -> Date {
    date.saturating_add(Span::new().days(days))
}

pub(super) fn season(snapshot: &Snapshot, plot: EntryId, today: Date) -> LimeSeason {
    let next = snapshot
        .plantings
        .iter()
        .filter(|held| snapshot.bed(held.body.bed).is_some_and(|bed| bed.body.plot == plot))
        .map(|held| held.body.planted_on)
        .filter(|on| days(*on, -BEFORE_PLANTING_DAYS[1]) > today)
        .min();
    let (from, to, why) = match next {
        Some(on) => (
            days(on, -BEFORE_PLANTING_DAYS[0]).max(today),
            days(on, -BEFORE_PLANTING_DAYS[1]),
            format!(
                "2 to 6 months before what is planted on {}: lime begins to move the pH in 3 to 6 months",
                crate::words::day(on)
            ),
        ),
        None => {
            let (from, to) = autumn(snapshot, today);
            (from.max(today), to, "autumn, so that it has worked by spring".to_owned())
        }
    };
    LimeSeason { from, to, why, retest_on: to.saturating_add(Span::new().months(TEST_AFTER_MONTHS)) }
}

/// The autumn that is on or comes next: about the first frost where it is known, else September to the middle of
/// November, half a year later in the south.
fn autumn(snapshot: &Snapshot, today: Date) -> (Date, Date) {
    let farm = &snapshot.farm.body;
    let south = farm.latitude_degrees.is_some_and(|latitude| latitude.get() < 0.0);
    let of = |year: i16| -> (Date, Date) {
        if let Some(frost) = farm.first_frost.and_then(|day| Date::new(year, day.month(), day.day()).ok()) {
            return (days(frost, -ABOUT_FROST_DAYS[0]), days(frost, ABOUT_FROST_DAYS[1]));
        }
        let (from, to) = if south { (3, 5) } else { (9, 11) };
        (jiff::civil::date(year, from, 1), jiff::civil::date(year, to, 15))
    };
    let year = today.year();
    [year - 1, year, year.saturating_add(1)]
        .into_iter()
        .map(of)
        .find(|(_, to)| *to >= today)
        .unwrap_or_else(|| of(year))
}
