//! A day of the year as people type it: "12 May", "May 12", "05-12".

use book::model::{MONTHS, MonthDay, month_name};
use ground::kit::Refusal;

/// "12 May".
#[must_use]
pub fn words(day: MonthDay) -> String {
    format!("{} {}", day.day(), month_name(day.month()))
}

/// Reads a day of the year.
///
/// # Errors
/// The text is no day of a year, or does not say which number is the month.
pub fn month_day(field: &str, text: &str) -> Result<MonthDay, Refusal> {
    let refused = || {
        Refusal::new(field, format!("\u{201c}{}\u{201d} is not a day of the year", text.trim()))
            .given(text.trim())
            .accepted("a day and the name of its month, or month-day in figures")
            .example("12 May, or 05-12")
    };
    if let Ok(day) = text.parse() {
        return Ok(day);
    }
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split([' ', ',', '.', '-', '/']).filter(|word| !word.is_empty()).collect();
    let [one, two] = words.as_slice() else { return Err(refused()) };
    let (month, day) = match (month_of(one), month_of(two)) {
        (Some(month), None) => (month, number(two)),
        (None, Some(month)) => (month, number(one)),
        _ => return Err(refused()),
    };
    day.and_then(|day| MonthDay::new(month, day)).ok_or_else(refused)
}

fn month_of(word: &str) -> Option<i8> {
    if word.len() < 3 {
        return None;
    }
    let at = MONTHS.iter().position(|month| month.to_lowercase().starts_with(word))?;
    i8::try_from(at + 1).ok()
}

fn number(word: &str) -> Option<i8> {
    word.trim_end_matches(|c: char| c.is_ascii_alphabetic()).parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn people_write_days_in_several_ways() {
        let may = MonthDay::new(5, 12).unwrap();
        for text in ["05-12", "12 May", "May 12", "may 12th", "12. May", "12-May", " 12 may "] {
            assert_eq!(month_day("last_frost", text), Ok(may), "{text}");
        }
        for text in ["5/12", "12", "", "31 April", "May", "12 Mayday", "ma 12", "0 May", "12 May 2025"] {
            let refused = month_day("last_frost", text).unwrap_err();
            assert_eq!(refused.field, "last_frost", "{text}");
        }
    }

    proptest! {
        #[test]
        fn what_is_shown_is_read_back(month in 1_i8..=12, day in 1_i8..=31) {
            if let Some(date) = MonthDay::new(month, day) {
                prop_assert_eq!(month_day("d", &words(date)), Ok(date));
            }
        }

        #[test]
        fn no_text_panics(text in any::<String>()) {
            let _ = month_day("d", &text);
        }
    }
}
