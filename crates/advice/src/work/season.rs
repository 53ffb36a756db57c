//! The season that a plan speaks of, and days in it.

use book::Snapshot;
use book::model::MonthDay;
use ground::kit::Bounded;
use jiff::ToSpan;
use jiff::civil::{Date, date};

/// The days that windows are counted from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Season {
    /// The day of the plan.
    pub today: Date,
    /// Year in which the season begins that the plan works towards.
    pub year: i16,
    /// Usual last frost of its spring.
    pub last_frost: Date,
    /// Usual first frost after it.
    pub first_frost: Date,
    /// First frost of the season before.
    pub frost_before: Date,
    /// Month and day of the last frost of spring.
    spring: (i8, i8),
    /// Month and day of the first frost of autumn.
    autumn: (i8, i8),
    /// Did the farm give both frost dates?
    pub frosts_known: bool,
}

/// The season of a farm on a day: the first whose autumn frost has not come yet. Where the farm gives no
/// frost dates, the middle of spring and of autumn are taken, and said so.
#[must_use]
pub fn season(snapshot: &Snapshot, today: Date) -> Season {
    let farm = &snapshot.farm.body;
    let south = farm.latitude_degrees.is_some_and(|latitude| latitude.get() < 0.0);
    let (spring, autumn) = if south { ((10, 15), (4, 15)) } else { ((4, 15), (10, 15)) };
    let (spring, autumn) = (month_day(farm.last_frost, spring), month_day(farm.first_frost, autumn));
    let of_year = |year: i16| {
        let last = on(spring, year);
        let first = on(autumn, year);
        (last, if first > last { first } else { on(autumn, year.saturating_add(1)) })
    };
    let mut year = today.year().saturating_sub(1);
    while of_year(year).1 < today {
        year = year.saturating_add(1);
    }
    let (last_frost, first_frost) = of_year(year);
    Season {
        today,
        year,
        last_frost,
        first_frost,
        frost_before: of_year(year.saturating_sub(1)).1,
        spring,
        autumn,
        frosts_known: farm.last_frost.is_some() && farm.first_frost.is_some(),
    }
}

fn month_day(given: Option<MonthDay>, usual: (i8, i8)) -> (i8, i8) {
    given.map_or(usual, |day| (day.month(), day.day()))
}

/// That day of a year; 29 February in a common year is the last of the month.
fn on((month, day): (i8, i8), year: i16) -> Date {
    Date::new(year, month, day).unwrap_or_else(|_| date(year, month, 1).last_of_month())
}

/// The first such day of a year on or after a day.
fn next_on(month_day: (i8, i8), day: Date) -> Date {
    let this = on(month_day, day.year());
    if this >= day { this } else { on(month_day, day.year().saturating_add(1)) }
}

impl Season {
    /// Some weeks before or after a day.
    #[must_use]
    pub fn weeks(day: Date, weeks: i64) -> Date {
        day.saturating_add((7 * weeks).days())
    }

    /// The first usual last frost of spring on or after a day.
    #[must_use]
    pub fn last_frost_after(&self, day: Date) -> Date {
        next_on(self.spring, day)
    }

    /// The first usual first frost of autumn after a day.
    #[must_use]
    pub fn first_frost_after(&self, day: Date) -> Date {
        next_on(self.autumn, day.tomorrow().unwrap_or(day))
    }

    /// Early spring: from six weeks before the last frost to the last frost.
    #[must_use]
    pub fn early_spring(&self) -> (Date, Date) {
        (Self::weeks(self.last_frost, -6), self.last_frost)
    }

    /// Late summer, when covers are sown: eight to four weeks before the first frost.
    #[must_use]
    pub fn late_summer(&self) -> (Date, Date) {
        let autumn = self.coming_autumn();
        (Self::weeks(autumn, -8), Self::weeks(autumn, -4))
    }

    /// Autumn work on the ground: from six weeks before to four weeks after the first frost.
    #[must_use]
    pub fn autumn_work(&self) -> (Date, Date) {
        let autumn = self.coming_autumn();
        (Self::weeks(autumn, -6), Self::weeks(autumn, 4))
    }

    /// The first frost whose month of work is not over yet.
    fn coming_autumn(&self) -> Date {
        if self.today <= Self::weeks(self.frost_before, 4) { self.frost_before } else { self.first_frost }
    }

    /// What to say of a window where the farm gives no frost dates.
    pub(super) fn remark(&self) -> &'static str {
        if self.frosts_known {
            ""
        } else {
            " The farm's frost dates are not in the book; the middle of spring and of autumn are taken."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(today: Date, last: (i8, i8), first: (i8, i8)) -> Season {
        let folder = tempfile::tempdir().expect("a folder");
        let farm = book::model::Farm {
            last_frost: MonthDay::new(last.0, last.1),
            first_frost: MonthDay::new(first.0, first.1),
            ..book::model::Farm::named("Long Furrow", book::model::UnitSystem::Metric)
        };
        let stamp = book::Stamp::new(jiff::Timestamp::UNIX_EPOCH, "");
        let book = book::Book::create(folder.path().join("s.farmbook"), farm, &stamp).expect("a book");
        season(&book.snapshot().expect("read"), today)
    }

    #[test]
    fn after_the_first_frost_the_plan_works_towards_the_next_year() {
        let may = on(date(2026, 5, 21), (5, 12), (10, 2));
        assert_eq!((may.year, may.last_frost, may.first_frost), (2026, date(2026, 5, 12), date(2026, 10, 2)));
        let november = on(date(2026, 11, 27), (5, 12), (10, 2));
        assert_eq!((november.year, november.last_frost), (2027, date(2027, 5, 12)));
        assert_eq!(november.early_spring(), (date(2027, 3, 31), date(2027, 5, 12)));
        assert_eq!(november.late_summer().0, date(2027, 8, 7));
        assert!(may.frosts_known);
    }

    #[test]
    fn a_season_may_run_over_the_turn_of_the_year() {
        let january = on(date(2027, 1, 10), (9, 20), (4, 30));
        assert_eq!((january.last_frost, january.first_frost), (date(2026, 9, 20), date(2027, 4, 30)));
        let june = on(date(2027, 6, 10), (9, 20), (4, 30));
        assert_eq!(june.last_frost, date(2027, 9, 20));
    }
}
