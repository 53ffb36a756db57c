//! Moments as people say them, on the clock of this computer.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// "14 April 2025, 18:05".
#[must_use]
pub fn moment(at: Timestamp) -> String {
    at.to_zoned_datetime(TimeZone::system()).strftime("%-d %B %Y, %H:%M").to_string()
}

/// "18:05:20 on 14 April".
#[must_use]
pub fn to_the_second(at: Timestamp) -> String {
    at.to_zoned_datetime(TimeZone::system()).strftime("%H:%M:%S on %-d %B").to_string()
}

/// When something is due that was set going at `start`: to the second while seconds matter.
#[must_use]
pub fn due(start: Timestamp, at: Timestamp) -> String {
    let seconds_matter = at.duration_since(start).as_secs() < 1_800;
    let pattern = if seconds_matter { "%H:%M:%S" } else { "%H:%M on %A %-d %B" };
    at.to_zoned_datetime(TimeZone::system()).strftime(pattern).to_string()
}

/// The day it is here.
#[must_use]
pub fn day_of(at: Timestamp) -> Date {
    at.to_zoned_datetime(TimeZone::system()).date()
}

/// "about 3 hours ago", "in about 20 minutes", "due now".
#[must_use]
pub fn from_now(at: Timestamp, now: Timestamp) -> String {
    let seconds = at.duration_since(now).as_secs();
    let (count, unit) = match seconds.unsigned_abs() {
        s if s < 60 => return "due now".to_owned(),
        s if s < 3_600 => (s / 60, "minute"),
        s if s < 86_400 => (s / 3_600, "hour"),
        s => (s / 86_400, "day"),
    };
    let plural = if count == 1 { "" } else { "s" };
    if seconds > 0 { format!("in {count} {unit}{plural}") } else { format!("{count} {unit}{plural} ago") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_moments_are_told_from_now() {
        let at = |s: i64| Timestamp::from_second(1_000_000 + s).unwrap();
        for (s, words) in [
            (0, "due now"),
            (-30, "due now"),
            (150, "in 2 minutes"),
            (3_700, "in 1 hour"),
            (-7_300, "2 hours ago"),
            (200_000, "in 2 days"),
        ] {
            assert_eq!(from_now(at(s), at(0)), words);
        }
    }
}
