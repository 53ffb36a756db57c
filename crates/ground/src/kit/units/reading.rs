//! A measure that may be sharp, a range, or not seen at all.

use serde::{Deserialize, Serialize};

use super::dimension::Dimension;
use super::parse::{MeasureError, amount, finish, parse_in, quoted};
use super::scan;
use super::unit::{Kind, Unit};

/// What was seen, in one unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reading {
    /// One value.
    At(f64),
    /// Somewhere between two values, the lower one first.
    Between(f64, f64),
    /// It could not be seen.
    NotSeen,
}

/// What people write when there was nothing to see.
const NOT_SEEN: &[&str] = &[
    "not seen",
    "unseen",
    "not visible",
    "could not see",
    "could not see it",
    "couldn't see",
    "couldn't see it",
    "cannot see",
    "cannot see it",
    "can't see",
    "can't see it",
    "can not see it",
    "not clear",
    "unclear",
    "unknown",
    "not known",
    "don't know",
    "do not know",
    "no idea",
];

/// Reads a measure, a range ("1 1/8 to 1 1/4 in", "between 5 and 8 mm", "55 ± 2 mm") or "could not see
/// it", in the base unit of its dimension. A number without unit takes the unit of its partner, else
/// `default`.
///
/// # Errors
/// As [`parse`](super::parse), for either end.
pub fn parse_reading(text: &str, dimension: Dimension, default: Unit) -> Result<Reading, MeasureError> {
    parse_reading_in(text, dimension, default, dimension.base())
}

/// Like [`parse_reading`], but gives the values in the unit `to`.
///
/// # Errors
/// As [`parse_reading`].
pub fn parse_reading_in(
    text: &str,
    dimension: Dimension,
    default: Unit,
    to: Unit,
) -> Result<Reading, MeasureError> {
    let tidy = scan::tidy(text);
    let words = tidy.trim_end_matches(['.', '!']);
    if NOT_SEEN.contains(&words) || (!words.is_empty() && words.chars().all(|c| c == '?')) {
        return Ok(Reading::NotSeen);
    }
    if ["about", "roughly", "approx", "circa", "~", "ca."].iter().any(|doubt| words.starts_with(doubt)) {
        let message = format!("{} is doubtful; write how far the doubt goes as a range", quoted(text));
        let mut error = MeasureError::new(text, dimension, default, message);
        error.example = range_example(dimension, default).to_owned();
        return Err(error);
    }
    if let Some((middle, spread)) = words.split_once('±').or_else(|| words.split_once("+/-")) {
        let (middle, spread) = ends(text, middle, spread, dimension, default, to)?;
        let low = if dimension.may_be_negative() { middle - spread } else { (middle - spread).max(0.0) };
        return Ok(ordered(low, middle + spread));
    }
    match range(words) {
        Some((low, high)) => {
            let (low, high) = ends(text, low, high, dimension, default, to)?;
            Ok(ordered(low, high))
        }
        None => parse_in(text, dimension, default, to).map(Reading::At).map_err(|mut error| {
            error.accepted.push_str(", a range, or \"not seen\"");
            error
        }),
    }
}

fn range_example(dimension: Dimension, default: Unit) -> &'static str {
    match (dimension.kind(), default) {
        (Kind::Length, Unit::Inch | Unit::Foot | Unit::Yard) => "1 1/8 to 1 1/4 in",
        (Kind::Length, _) => "28 to 31 mm",
        _ => "5 to 8",
    }
}

fn ordered(low: f64, high: f64) -> Reading {
    if low == high { Reading::At(low) } else { Reading::Between(low.min(high), low.max(high)) }
}

/// Splits a range into its two ends, if the text is one.
fn range(text: &str) -> Option<(&str, &str)> {
    for (before, between) in
        [("between ", " and "), ("from ", " to "), ("", " to "), ("", "\u{2013}"), ("", "..")]
    {
        if let Some(rest) = text.strip_prefix(before)
            && let Some((low, high)) = rest.split_once(between)
        {
            return Some((low, high.trim_start_matches('.')));
        }
    }
    hyphen_range(text)
}

/// A hyphen is a range unless it is a minus sign or joins a whole number to its fraction (`2-3/16`).
fn hyphen_range(text: &str) -> Option<(&str, &str)> {
    text.match_indices('-').find_map(|(at, _)| {
        let (low, high) = (text[..at].trim(), text[at + 1..].trim());
        let in_exponent = low.ends_with('e') && high.starts_with(|c: char| c.is_ascii_digit());
        if low.is_empty() || high.is_empty() || in_exponent {
            return None;
        }
        let spaced = text[..at].ends_with(' ') || text[at + 1..].starts_with(' ');
        (spaced || !joins_a_fraction(low, high)).then_some((low, high))
    })
}

fn joins_a_fraction(low: &str, high: &str) -> bool {
    let before = low.rsplit(|c: char| !c.is_ascii_digit()).next().unwrap_or_default();
    let preceding = low[..low.len() - before.len()].chars().next_back();
    let whole = !before.is_empty() && !matches!(preceding, Some('/' | '.' | ','));
    let after = high.trim_start_matches(|c: char| c.is_ascii_digit());
    whole && after.len() < high.len() && after.starts_with('/')
}

/// Reads both ends of a range; an end without unit takes its partner's.
fn ends(
    text: &str,
    low: &str,
    high: &str,
    dimension: Dimension,
    default: Unit,
    to: Unit,
) -> Result<(f64, f64), MeasureError> {
    let whole = |mut error: MeasureError| {
        error.given = text.to_owned();
        error
    };
    let low = amount(low, dimension, default).map_err(whole)?.terms;
    let high = amount(high, dimension, default).map_err(whole)?.terms;
    let unit_of = |terms: &[(f64, Option<Unit>)]| terms.first().and_then(|term| term.1);
    let value = |terms: &[(f64, Option<Unit>)], partner: Option<Unit>| {
        finish(text, dimension, partner.unwrap_or(default), terms, to)
    };
    Ok((value(&low, unit_of(&high))?, value(&high, unit_of(&low))?))
}
