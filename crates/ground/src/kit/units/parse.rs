//! One measure: "2 3/16 in", "1 ft 2 in", "1,5 cm", "68 F", "90 min".

use std::fmt;

use super::dimension::{Dimension, UnitSystem};
use super::scan::{self, NumberTrouble};
use super::unit::{Kind, Unit};
use crate::kit::Refusal;

/// A measure that could not be read, told so that a person can mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MeasureError {
    /// What was written.
    pub given: String,
    /// What is wrong with it, as a sentence without its final stop.
    pub message: String,
    /// What is accepted, in words.
    pub accepted: String,
    /// Something that would be accepted.
    pub example: String,
}

impl fmt::Display for MeasureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}; give {}, for example {}", self.message, self.accepted, self.example)
    }
}

impl std::error::Error for MeasureError {}

impl MeasureError {
    pub(super) fn new(given: &str, dimension: Dimension, default: Unit, message: impl Into<String>) -> Self {
        let metric = dimension.unit(UnitSystem::Metric) == default || dimension.base() == default;
        let system = if metric { UnitSystem::Metric } else { UnitSystem::UsCustomary };
        Self {
            given: given.to_owned(),
            message: message.into(),
            accepted: dimension.accepted().to_owned(),
            example: dimension.example(system).to_owned(),
        }
    }

    /// The refusal of what was written at `field`.
    #[must_use]
    pub fn at(self, field: impl Into<String>) -> Refusal {
        let message = self.to_string();
        Refusal::new(field, message).given(self.given).accepted(self.accepted).example(self.example)
    }
}

/// Larger than anything on a farm, in any base unit.
const TOO_LARGE: f64 = 1e12;

/// Reads one measure, in the base unit of its dimension. A number without unit is in `default`.
///
/// # Errors
/// Text that is empty, is no number, has a unit of another dimension, is negative where that means
/// nothing, or is far too large.
pub fn parse(text: &str, dimension: Dimension, default: Unit) -> Result<f64, MeasureError> {
    parse_in(text, dimension, default, dimension.base())
}

/// Like [`parse`], but gives the value in the unit `to`.
///
/// # Errors
/// As [`parse`].
pub fn parse_in(text: &str, dimension: Dimension, default: Unit, to: Unit) -> Result<f64, MeasureError> {
    let read = amount(text, dimension, default)?;
    finish(text, dimension, default, &read.terms, to)
}

/// The terms of a measure: numbers, each with its unit where one was written.
pub(super) struct Amount {
    pub(super) terms: Vec<(f64, Option<Unit>)>,
}

/// Adds the terms up, in the unit `to`.
pub(super) fn finish(
    text: &str,
    dimension: Dimension,
    default: Unit,
    terms: &[(f64, Option<Unit>)],
    to: Unit,
) -> Result<f64, MeasureError> {
    let value: f64 = terms.iter().map(|(value, unit)| unit.unwrap_or(default).convert(*value, to)).sum();
    if !value.is_finite() || value.abs() > TOO_LARGE {
        return Err(MeasureError::new(
            text,
            dimension,
            default,
            format!("{} is far too large", quoted(text)),
        ));
    }
    Ok(value)
}

/// Reads the terms of one measure, to the end of the text.
pub(super) fn amount(text: &str, dimension: Dimension, default: Unit) -> Result<Amount, MeasureError> {
    let fail = |message: String| MeasureError::new(text, dimension, default, message);
    let tidy = scan::tidy(text);
    if tidy.is_empty() {
        return Err(fail("nothing was written".to_owned()));
    }
    let (negative, mut rest) = match tidy.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, tidy.strip_prefix('+').unwrap_or(&tidy)),
    };
    let mut terms: Vec<(f64, Option<Unit>)> = Vec::new();
    while !rest.is_empty() {
        let (value, after) =
            scan::number(rest).map_err(|trouble| fail(number_words(&trouble, text, rest)))?;
        let (unit, after) = match scan::unit(after, dimension.kind()) {
            Some((unit, after)) => (Some(unit), after),
            None => (None, after),
        };
        let after = after.trim_start();
        let last = terms.last().and_then(|term: &(f64, Option<Unit>)| term.1);
        let unit = match (terms.is_empty(), last, unit) {
            (true, ..) => unit,
            (false, None, _) => {
                return Err(fail(format!("{} has two numbers and no unit between them", quoted(text))));
            }
            (false, Some(last), None) if last.next_smaller().is_some() => last.next_smaller(),
            (false, Some(last), Some(unit)) if unit.is_smaller_than(last) && may_be_compound(dimension) => {
                Some(unit)
            }
            (false, Some(last), _) => {
                return Err(fail(format!(
                    "{} goes on after {}, and a smaller unit was expected there",
                    quoted(text),
                    last.symbol()
                )));
            }
        };
        terms.push((value, unit));
        rest = after.strip_prefix("and ").or_else(|| after.strip_prefix(", ")).unwrap_or(after);
        let starts_a_number = rest.starts_with(|c: char| c.is_numeric() || c == '.');
        if !rest.is_empty() && (!starts_a_number || rest.len() == tidy.len()) {
            return Err(fail(leftover_words(rest, text, dimension)));
        }
    }
    if negative {
        if !dimension.may_be_negative() {
            return Err(fail(format!("{} is below zero", quoted(text))));
        }
        if terms.len() == 1 {
            terms[0].0 = -terms[0].0;
        } else {
            return Err(fail(format!("{} mixes a minus with two units", quoted(text))));
        }
    }
    Ok(Amount { terms })
}

fn may_be_compound(dimension: Dimension) -> bool {
    matches!(dimension.kind(), Kind::Length | Kind::Mass | Kind::Volume | Kind::Time)
}

fn number_words(trouble: &NumberTrouble, text: &str, rest: &str) -> String {
    match trouble {
        NumberTrouble::Missing if rest.starts_with(char::is_numeric) => {
            format!("{} has a number that cannot be read", quoted(text))
        }
        NumberTrouble::Missing => format!("{} does not begin with a number", quoted(text)),
        NumberTrouble::OverZero => format!("{} has a fraction over zero", quoted(text)),
        NumberTrouble::AmbiguousComma => {
            format!("the comma in {} may stand for thousands or for decimals; write it without", quoted(text))
        }
        NumberTrouble::TooLarge => format!("{} is far too large", quoted(text)),
    }
}

/// What follows a number and is no unit of this dimension: perhaps a unit of another one.
fn leftover_words(rest: &str, text: &str, dimension: Dimension) -> String {
    let word: String = rest.chars().take_while(|c| !c.is_whitespace()).collect();
    let other = Dimension::ALL.iter().filter(|other| other.kind() != dimension.kind()).find_map(|other| {
        let (unit, rest) = scan::unit(rest, other.kind())?;
        rest.trim().is_empty().then_some(unit.symbol())
    });
    match other {
        Some(unit) if dimension == Dimension::Number => {
            format!("{} has the unit {unit}, and no unit is expected here", quoted(text))
        }
        Some(unit) => format!("{} is in {unit}, which is another kind of measure", quoted(text)),
        None => format!("{} has {} where a unit was expected", quoted(text), quoted(&word)),
    }
}

/// What was written, cut to a length that fits a message.
pub(super) fn quoted(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut short: String = text.trim().chars().take(LONGEST).filter(|c| !c.is_control()).collect();
    if text.trim().chars().count() > LONGEST {
        short.push('…');
    }
    format!("\"{short}\"")
}
