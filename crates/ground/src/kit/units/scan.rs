//! Reads numbers and units off the front of a text, one term at a time.

use super::unit::{Kind, Unit};

/// Why a number could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum NumberTrouble {
    /// There is no number here.
    Missing,
    /// A fraction over zero.
    OverZero,
    /// `1,500` is 1500 to some and 1.5 to others.
    AmbiguousComma,
    /// More digits than a measure has.
    TooLarge,
}

/// Brings the many spaces, dashes and quote marks to one spelling. Letters become lower case.
pub(super) fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            c if c.is_whitespace() || matches!(c, '\u{200b}' | '\u{feff}' | '\u{2060}') => {
                if !out.ends_with(' ') {
                    out.push(' ');
                }
            }
            '\u{2212}' | '\u{2012}' | '\u{2010}' | '\u{2011}' => out.push('-'),
            '\u{2013}' | '\u{2014}' => out.push('\u{2013}'),
            '\u{2044}' | '\u{2215}' => out.push('/'),
            '\u{201c}' | '\u{201d}' | '\u{2033}' | '\u{ff02}' => out.push('"'),
            '\u{2018}' | '\u{2019}' | '\u{2032}' => out.push('\''),
            '\u{03bc}' | '\u{039c}' => out.push('\u{00b5}'),
            '\u{00ba}' | '\u{02da}' => out.push('°'),
            c => out.extend(c.to_lowercase()),
        }
    }
    out.trim().to_owned()
}

/// The vulgar fractions that have a character of their own.
fn one_character_fraction(c: char) -> Option<f64> {
    Some(match c {
        '½' => 1.0 / 2.0,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '¼' => 1.0 / 4.0,
        '¾' => 3.0 / 4.0,
        '⅕' => 1.0 / 5.0,
        '⅖' => 2.0 / 5.0,
        '⅗' => 3.0 / 5.0,
        '⅘' => 4.0 / 5.0,
        '⅙' => 1.0 / 6.0,
        '⅚' => 5.0 / 6.0,
        '⅐' => 1.0 / 7.0,
        '⅛' => 1.0 / 8.0,
        '⅜' => 3.0 / 8.0,
        '⅝' => 5.0 / 8.0,
        '⅞' => 7.0 / 8.0,
        '⅑' => 1.0 / 9.0,
        '⅒' => 1.0 / 10.0,
        _ => return None,
    })
}

/// Reads one number, with a fraction if one follows, and gives what is left of the text.
pub(super) fn number(text: &str) -> Result<(f64, &str), NumberTrouble> {
    let text = text.trim_start();
    if let Some((value, rest)) = bare_fraction(text)? {
        return Ok((value, rest));
    }
    let (whole, is_integer, rest) = decimal(text)?;
    // 2 3/16, 2-3/16, 2½, 2 ½: only after a whole number.
    if is_integer {
        let after = rest.strip_prefix('-').unwrap_or(rest).trim_start();
        let hyphenated_space = rest.starts_with('-') && rest[1..].starts_with(' ');
        if !hyphenated_space && let Some((part, rest)) = bare_fraction(after)? {
            if part < 1.0 {
                return Ok((whole + part, rest));
            }
            return Err(NumberTrouble::Missing);
        }
    }
    Ok((whole, rest))
}

/// `3/16` or `½` at the front of the text, if it stands there.
fn bare_fraction(text: &str) -> Result<Option<(f64, &str)>, NumberTrouble> {
    if let Some(first) = text.chars().next()
        && let Some(value) = one_character_fraction(first)
    {
        return Ok(Some((value, &text[first.len_utf8()..])));
    }
    let (above, rest) = digits(text);
    let rest = rest.trim_start();
    let Some(rest) = rest.strip_prefix('/') else { return Ok(None) };
    let (below, rest) = digits(rest.trim_start());
    if above.is_empty() || below.is_empty() {
        return Ok(None);
    }
    let (above, below) = (finite(above)?, finite(below)?);
    if below == 0.0 {
        return Err(NumberTrouble::OverZero);
    }
    Ok(Some((above / below, rest)))
}

fn digits(text: &str) -> (&str, &str) {
    text.split_at(text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len()))
}

fn finite(text: &str) -> Result<f64, NumberTrouble> {
    match text.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        Ok(_) => Err(NumberTrouble::TooLarge),
        Err(_) => Err(NumberTrouble::Missing),
    }
}

/// A whole number or a decimal, with a point or a comma, thousands grouped or not, an exponent or
/// none. Says whether it was whole.
fn decimal(text: &str) -> Result<(f64, bool, &str), NumberTrouble> {
    let end = text
        .char_indices()
        .find(|&(at, c)| {
            let next_is_digit = || text[at + 1..].starts_with(|next: char| next.is_ascii_digit());
            !(c.is_ascii_digit() || (matches!(c, '.' | ',') && next_is_digit()))
        })
        .map_or(text.len(), |(at, _)| at);
    let (run, mut rest) = text.split_at(end);
    if !run.contains(|c: char| c.is_ascii_digit()) {
        return Err(NumberTrouble::Missing);
    }
    let mut plain = plain_number(run)?;
    let mut whole = !plain.contains('.');
    if let Some((exponent, after)) = exponent(rest) {
        plain.push_str(exponent);
        whole = false;
        rest = after;
    }
    // "2." is how a sentence ends, not a decimal.
    Ok((finite(&plain)?, whole, rest))
}

/// `e3`, `e-3`: only with digits, since an `e` may begin a word.
fn exponent(text: &str) -> Option<(&str, &str)> {
    let after = text.strip_prefix('e')?;
    let unsigned = after.strip_prefix(['-', '+']).unwrap_or(after);
    let (power, rest) = digits(unsigned);
    if power.is_empty() {
        return None;
    }
    Some((&text[..text.len() - rest.len()], rest))
}

/// Takes the thousands marks out and makes the decimal mark a point.
fn plain_number(run: &str) -> Result<String, NumberTrouble> {
    let commas = run.matches(',').count();
    let points = run.matches('.').count();
    match (commas, points) {
        (0, 0 | 1) => Ok(run.to_owned()),
        (1, 0) => {
            let (before, after) = run.split_once(',').unwrap_or((run, ""));
            let may_be_thousands =
                after.len() == 3 && (1..=3).contains(&before.len()) && !before.starts_with('0');
            if may_be_thousands {
                return Err(NumberTrouble::AmbiguousComma);
            }
            Ok(format!("{before}.{after}"))
        }
        // Several commas, or commas before one point, can only be thousands: each group is of three.
        (_, 0 | 1) => {
            let (whole, fraction) = run.split_once('.').unwrap_or((run, ""));
            let mut groups = whole.split(',');
            let first = groups.next().unwrap_or_default();
            if fraction.contains(',')
                || !(1..=3).contains(&first.len())
                || groups.any(|group| group.len() != 3)
            {
                return Err(NumberTrouble::Missing);
            }
            Ok(run.replace(',', ""))
        }
        _ => Err(NumberTrouble::Missing),
    }
}

/// Reads a unit of `kind` off the front of the text: the longest spelling that fits.
pub(super) fn unit(text: &str, kind: Kind) -> Option<(Unit, &str)> {
    let text = text.trim_start();
    let mut best: Option<(Unit, &str)> = None;
    for &unit in Unit::ALL.iter().filter(|unit| unit.kind() == kind) {
        for name in unit.names() {
            let Some(rest) = text.strip_prefix(name) else { continue };
            let ends_in_letter = name.ends_with(char::is_alphabetic);
            let runs_on = rest.starts_with(|c: char| c.is_alphabetic() || matches!(c, '²' | '³'));
            if name.is_empty() || (ends_in_letter && runs_on) {
                continue;
            }
            if best.is_none_or(|(_, kept)| rest.len() < kept.len()) {
                best = Some((unit, rest));
            }
        }
    }
    // "in." and "lb.": the point belongs to the unit unless a digit follows.
    best.map(|(unit, rest)| match rest.strip_prefix('.') {
        Some(after) if !after.starts_with(|c: char| c.is_ascii_digit()) => (unit, after),
        _ => (unit, rest),
    })
}
