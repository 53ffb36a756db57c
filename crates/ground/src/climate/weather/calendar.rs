//! Days as a year and a day of it; arithmetic only, the calendar belongs to the callers.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::climate::quantities::DayOfYear;
use crate::kit::{Bounded, Refusal};

/// Days of the months of a common year.
pub const MONTH_DAYS: [u16; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

crate::quantity! {
    /// A year of the common era.
    pub struct YearNumber: "year", "", 1.0 ..= 9999.0, example 2025.0;
}

/// A day as it is written, before it is known to exist.
#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct WrittenDay {
    /// Year of the common era.
    year: YearNumber,
    /// Day of the year, 1 January is 1.
    day_of_year: DayOfYear,
}

impl TryFrom<WrittenDay> for YearDay {
    type Error = Refusal;

    fn try_from(written: WrittenDay) -> Result<Self, Refusal> {
        let (year, day) = (written.year.get(), written.day_of_year.get());
        if year.fract() != 0.0 || day.fract() != 0.0 {
            return Err(Refusal::new("", "a year and a day of it are whole numbers"));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded and whole")]
        Self::new(year as i16, day as u16)
    }
}

/// One day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(try_from = "WrittenDay")]
pub struct YearDay {
    /// Year of the common era.
    pub year: i16,
    /// Day of the year, 1 January is 1.
    pub day_of_year: u16,
}

/// Has the year a 29 February?
fn is_leap(year: i16) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

impl YearDay {
    /// A day.
    ///
    /// # Errors
    /// A day that its year has not.
    pub fn new(year: i16, day_of_year: u16) -> Result<Self, Refusal> {
        let day = Self { year, day_of_year };
        day.check()?;
        Ok(day)
    }

    /// Refuses a day that its year has not, and years outside 1 to 9999.
    pub(crate) fn check(self) -> Result<(), Refusal> {
        if !(1..=9999).contains(&self.year) {
            return Err(Refusal::new("year", format!("{} is no year of ours", self.year))
                .given(self.year)
                .accepted("1 to 9999")
                .example("2025"));
        }
        let last = Self::length_of(self.year);
        if (1..=last).contains(&self.day_of_year) {
            return Ok(());
        }
        Err(Refusal::new("day_of_year", format!("{} has {last} days", self.year))
            .given(self.day_of_year)
            .accepted(format!("1 to {last}"))
            .example("187"))
    }

    /// Days of a year.
    #[must_use]
    pub fn length_of(year: i16) -> u16 {
        if is_leap(year) { 366 } else { 365 }
    }

    /// The day that comes next.
    #[must_use]
    pub fn next(self) -> Self {
        if self.day_of_year < Self::length_of(self.year) {
            Self { day_of_year: self.day_of_year + 1, ..self }
        } else {
            Self { year: self.year.saturating_add(1), day_of_year: 1 }
        }
    }

    /// Its place in a year of 365 days, from 0; 29 February shares that of the day before.
    #[must_use]
    pub fn common_index(self) -> usize {
        let before = self.day_of_year.max(1) - 1;
        let shift = u16::from(is_leap(self.year) && before >= 59);
        usize::from((before - shift).min(364))
    }

    /// Its month, 1 to 12.
    #[must_use]
    pub fn month(self) -> u8 {
        let place = self.common_index();
        let mut ended = 0;
        for (month, length) in (1_u8..).zip(MONTH_DAYS) {
            ended += usize::from(length);
            if place < ended {
                return month;
            }
        }
        12
    }

    /// Days from this day to another; below zero where the other comes first.
    #[must_use]
    pub fn days_until(self, other: Self) -> i32 {
        other.count() - self.count()
    }

    /// Days since the beginning of the common era.
    fn count(self) -> i32 {
        let before = i32::from(self.year) - 1;
        365 * before + before.div_euclid(4) - before.div_euclid(100)
            + before.div_euclid(400)
            + i32::from(self.day_of_year)
    }

    /// This day and those that follow, without end.
    pub fn onward(self) -> impl Iterator<Item = Self> {
        std::iter::successors(Some(self), |day| Some(day.next()))
    }
}

/// Day of a common year near the middle of a month counted from 0, as FAO-56 takes it.
pub(crate) fn middle_of(month: usize) -> f64 {
    let before: u16 = MONTH_DAYS[..month].iter().sum();
    f64::from(before + 15)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_end_where_they_should() {
        for (year, days) in [(2023, 365), (2024, 366), (1900, 365), (2000, 366)] {
            assert_eq!(YearDay::length_of(year), days);
            assert!(YearDay::new(year, days + 1).is_err());
            let last = YearDay::new(year, days).unwrap();
            assert_eq!(last.next(), YearDay { year: year + 1, day_of_year: 1 });
            assert_eq!(last.common_index(), 364);
        }
        assert_eq!(YearDay::new(2024, 59).unwrap().common_index(), 58);
        assert_eq!(YearDay::new(2024, 60).unwrap().common_index(), 58, "29 February");
        assert_eq!(YearDay::new(2024, 61).unwrap().common_index(), 59, "1 March");
        assert_eq!(YearDay::new(2023, 60).unwrap().common_index(), 59, "1 March");
        assert_eq!(YearDay::new(2024, 60).unwrap().month(), 2);
        assert_eq!(YearDay::new(2024, 61).unwrap().month(), 3);
        assert_eq!(YearDay::new(2023, 365).unwrap().month(), 12);
        assert_eq!(MONTH_DAYS.iter().sum::<u16>(), 365);
        assert_eq!(YearDay::new(0, 1).unwrap_err().field, "year");
    }

    #[test]
    fn what_is_written_is_answered_in_words() {
        let read = |day: serde_json::Value| crate::kit::method::read::<YearDay>(&day);
        let written = serde_json::json!({"year": 2024, "day_of_year": 366});
        assert_eq!(read(written).unwrap(), YearDay { year: 2024, day_of_year: 366 });
        for (day, words) in [
            (serde_json::json!({"year": 2025, "day_of_year": 366}), "2025 has 365 days"),
            (serde_json::json!({"year": 2025, "day_of_year": -1}), "must be 1 to 366"),
            (serde_json::json!({"year": 2025, "day_of_year": 1.5}), "whole numbers"),
            (serde_json::json!({"year": 2025}), "day_of_year is missing"),
        ] {
            let refusal = read(day).unwrap_err();
            assert!(refusal.message.contains(words), "{refusal}");
        }
    }

    #[test]
    fn counting_agrees_with_walking() {
        let first = YearDay { year: 1899, day_of_year: 360 };
        for (steps, day) in first.onward().take(40_000).enumerate().step_by(97) {
            assert_eq!(first.days_until(day), i32::try_from(steps).unwrap());
            assert_eq!(day.days_until(first), -i32::try_from(steps).unwrap());
        }
    }
}
