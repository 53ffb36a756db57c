//! A day of the year without its year, for frost dates.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use jiff::civil::Date;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// A month and a day, written `04-20`. 29 February is a day like others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MonthDay {
    month: i8,
    day: i8,
}

/// A leap year, so that 29 February is accepted.
const LEAP_YEAR: i16 = 2000;

impl MonthDay {
    /// `month` 1 to 12, `day` 1 to the end of that month; `None` outside.
    #[must_use]
    pub fn new(month: i8, day: i8) -> Option<Self> {
        Date::new(LEAP_YEAR, month, day).ok().map(|_| Self { month, day })
    }

    /// 1 to 12.
    #[must_use]
    pub fn month(self) -> i8 {
        self.month
    }

    /// 1 to 31.
    #[must_use]
    pub fn day(self) -> i8 {
        self.day
    }

    /// The date in a given year; 28 February stands in for the 29th where there is none.
    #[must_use]
    pub fn in_year(self, year: i16) -> Option<Date> {
        Date::new(year, self.month, self.day).or_else(|_| Date::new(year, self.month, 28)).ok()
    }
}

/// Names of the months, January first.
pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Name of a month, 1 to 12; empty outside.
#[must_use]
pub fn month_name(month: i8) -> &'static str {
    usize::try_from(month.saturating_sub(1)).ok().and_then(|at| MONTHS.get(at)).copied().unwrap_or_default()
}

impl From<Date> for MonthDay {
    fn from(date: Date) -> Self {
        Self { month: date.month(), day: date.day() }
    }
}

impl fmt::Display for MonthDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}-{:02}", self.month, self.day)
    }
}

/// A text that is no month and day.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "{0:?} is not a month and a day; write the month, a dash and the day, for example 04-20 for 20 April"
)]
pub struct NotAMonthDay(pub String);

impl FromStr for MonthDay {
    type Err = NotAMonthDay;

    fn from_str(text: &str) -> Result<Self, NotAMonthDay> {
        text.trim()
            .split_once('-')
            .and_then(|(month, day)| Self::new(month.parse().ok()?, day.parse().ok()?))
            .ok_or_else(|| NotAMonthDay(text.to_owned()))
    }
}

impl Serialize for MonthDay {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for MonthDay {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        Cow::<'de, str>::deserialize(from)?.parse().map_err(de::Error::custom)
    }
}

impl JsonSchema for MonthDay {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "MonthDay".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "pattern": "^[0-9]{2}-[0-9]{2}$", "examples": ["04-20"] })
    }
}
