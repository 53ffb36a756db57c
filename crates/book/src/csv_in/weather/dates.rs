//! Dates as tables write them. Day-first and month-first are told apart by the dates themselves or
//! by the person, never guessed.

use jiff::civil::Date;

use crate::model::MONTHS;
use crate::model::weather::DateOrder;

/// What a date is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Parts {
    /// Year first, or the month in letters: one reading only.
    Plain(i16, i8, i8),
    /// Two numbers and a year: day and month in either order.
    Either(i8, i8, i16),
}

/// Why a date could not be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::csv_in) enum DateTrouble {
    /// It is no date.
    NoDate,
    /// The year has two digits.
    ShortYear,
    /// Nobody said whether day or month comes first.
    OrderUnknown,
    /// There is no such day.
    NoSuchDay,
}

impl DateTrouble {
    /// In words.
    pub(in crate::csv_in) fn words(self) -> &'static str {
        match self {
            Self::NoDate => "this is no date",
            Self::ShortYear => "the year has two digits; write it with four",
            Self::OrderUnknown => "day or month may come first here; say which",
            Self::NoSuchDay => "there is no such day",
        }
    }
}

/// Reads a date.
pub(in crate::csv_in) fn read(text: &str, order: DateOrder) -> Result<Date, DateTrouble> {
    let (year, month, day) = match parts(text)? {
        Parts::Plain(year, month, day) => (year, month, day),
        Parts::Either(first, second, year) => match order {
            DateOrder::YearMonthDay => return Err(DateTrouble::OrderUnknown),
            DateOrder::DayMonthYear => (year, second, first),
            DateOrder::MonthDayYear => (year, first, second),
        },
    };
    Date::new(year, month, day).map_err(|_| DateTrouble::NoSuchDay)
}

/// The order that the dates of a table themselves prove; `None` where they leave it open. Dates that
/// cannot be read prove nothing.
pub(in crate::csv_in) fn proven<'a>(texts: impl Iterator<Item = &'a str>) -> Option<DateOrder> {
    let (mut day_first, mut month_first, mut open) = (false, false, false);
    for text in texts {
        if let Ok(Parts::Either(first, second, _)) = parts(text) {
            open = true;
            day_first |= first > 12;
            month_first |= second > 12;
        }
    }
    match (open, day_first, month_first) {
        (false, ..) => Some(DateOrder::YearMonthDay),
        (true, true, false) => Some(DateOrder::DayMonthYear),
        (true, false, true) => Some(DateOrder::MonthDayYear),
        (true, ..) => None,
    }
}

fn parts(text: &str) -> Result<Parts, DateTrouble> {
    let text = without_time(text.trim());
    if text.len() == 8
        && let Ok(number) = text.parse::<i32>()
        && number > 0
    {
        return plain(number / 10_000, number / 100 % 100, number % 100);
    }
    let words: Vec<&str> = text.split(['-', '/', '.', ' ', ',']).filter(|word| !word.is_empty()).collect();
    let [first, second, third] = words[..] else { return Err(DateTrouble::NoDate) };
    if let Some(month) = month(second) {
        return match (number(first)?, number(third)?) {
            (day, year) if third.len() == 4 => plain(year, month, day),
            (year, day) if first.len() == 4 => plain(year, month, day),
            _ => Err(DateTrouble::ShortYear),
        };
    }
    if let Some(month) = month(first) {
        let (day, year) = (number(second)?, number(third)?);
        return if third.len() == 4 { plain(year, month, day) } else { Err(DateTrouble::ShortYear) };
    }
    let (a, b, c) = (number(first)?, number(second)?, number(third)?);
    if first.len() == 4 {
        return plain(a, b, c);
    }
    if third.len() != 4 {
        return Err(DateTrouble::ShortYear);
    }
    let small = |value: i32| i8::try_from(value).map_err(|_| DateTrouble::NoSuchDay);
    Ok(Parts::Either(small(a)?, small(b)?, i16::try_from(c).map_err(|_| DateTrouble::NoDate)?))
}

fn plain(year: i32, month: i32, day: i32) -> Result<Parts, DateTrouble> {
    match (i16::try_from(year), i8::try_from(month), i8::try_from(day)) {
        (Ok(year), Ok(month), Ok(day)) => Ok(Parts::Plain(year, month, day)),
        _ => Err(DateTrouble::NoSuchDay),
    }
}

/// At most four digits.
fn number(word: &str) -> Result<i32, DateTrouble> {
    if word.len() <= 4 && word.bytes().all(|byte| byte.is_ascii_digit()) {
        word.parse().map_err(|_| DateTrouble::NoDate)
    } else {
        Err(DateTrouble::NoDate)
    }
}

/// "Jun", "June", 6.
fn month(word: &str) -> Option<i32> {
    let word = word.to_lowercase();
    let named = |name: &str| word.len() >= 3 && name.to_lowercase().starts_with(&word);
    (1..).zip(MONTHS).find(|(_, name)| named(name)).map(|(number, _)| number)
}

/// A time of day after the date says nothing about the day.
fn without_time(text: &str) -> &str {
    match text.find(':') {
        Some(colon) => {
            let before = text.get(..colon).unwrap_or(text);
            before.rfind([' ', 'T', 't']).and_then(|cut| before.get(..cut)).unwrap_or(text).trim()
        }
        None => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use proptest::prelude::*;

    #[test]
    fn dates_as_tables_write_them() {
        let wanted = Ok(date(2026, 6, 4));
        for text in [
            "2026-06-04",
            "2026/6/4",
            "20260604",
            "4 Jun 2026",
            "Jun 4, 2026",
            "04-Jun-2026",
            "2026-06-04 00:00",
            "2026-06-04T09:00:00Z",
            "June 4 2026",
        ] {
            assert_eq!(read(text, DateOrder::YearMonthDay), wanted, "{text}");
        }
        assert_eq!(read("04/06/2026", DateOrder::DayMonthYear), wanted);
        assert_eq!(read("4.6.2026", DateOrder::DayMonthYear), wanted);
        assert_eq!(read("06/04/2026", DateOrder::MonthDayYear), wanted);
        assert_eq!(read("04/06/2026", DateOrder::YearMonthDay), Err(DateTrouble::OrderUnknown));
        assert_eq!(read("06/04/26", DateOrder::MonthDayYear), Err(DateTrouble::ShortYear));
        assert_eq!(read("31/06/2026", DateOrder::DayMonthYear), Err(DateTrouble::NoSuchDay));
        assert_eq!(read("yesterday", DateOrder::YearMonthDay), Err(DateTrouble::NoDate));
    }

    #[test]
    fn the_order_is_proven_or_left_open() {
        let proven = |texts: &[&str]| proven(texts.iter().copied());
        assert_eq!(proven(&["2026-06-04"]), Some(DateOrder::YearMonthDay));
        assert_eq!(proven(&["04/06/2026", "13/06/2026"]), Some(DateOrder::DayMonthYear));
        assert_eq!(proven(&["06/04/2026", "06/13/2026"]), Some(DateOrder::MonthDayYear));
        assert_eq!(proven(&["04/06/2026", "05/06/2026"]), None);
        assert_eq!(proven(&["13/06/2026", "06/13/2026"]), None);
    }

    proptest! {
        #[test]
        fn no_text_panics(text in "([0-9]{0,5}|[ T:./,-]|Jun|[a-zé]{0,4}){0,8}") {
            for order in DateOrder::ALL {
                let _ = read(&text, order);
            }
        }
    }
}
