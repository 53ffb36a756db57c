//! A finished sentence in the reader's own units.
//!
//! Methods speak in the units that their fields carry. A person who typed inches is told in inches.

use super::dimension::{Dimension, UnitSystem};
use super::show::show;

/// Units that a sentence may carry, the longer spelling before its beginning, with what they measure
/// and their size in its base unit.
const UNITS: &[(&str, Dimension, f64)] = &[
    ("mm", Dimension::SmallLength, 1.0),
    ("cm", Dimension::Depth, 1.0),
    ("mL", Dimension::Volume, 1.0),
    ("m²", Dimension::Area, 1.0),
    ("m", Dimension::Length, 1.0),
    ("°C", Dimension::Temperature, 1.0),
];
/// What stands between numbers that share the unit behind the last.
const LINKS: &[&str] = &[" to ", " and ", " or ", " by ", ", "];

/// Writes every metric length, area, volume and temperature of a sentence in the units of `system`:
/// "12.7 to 25.4 mm" as "1/2 in to 1 in". Words, other numbers and other units stay, and so does the
/// whole sentence where `system` is metric.
#[must_use]
pub fn in_units(text: &str, system: UnitSystem) -> String {
    if system == UnitSystem::Metric {
        return text.to_owned();
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(next) = rest.chars().next() {
        let begins = out.chars().next_back().is_none_or(|before| !joined(before));
        match begins.then(|| measures(rest)).flatten() {
            Some((said, length)) => {
                out.push_str(&said.told(system));
                rest = &rest[length..];
            }
            None => {
                out.push(next);
                rest = &rest[next.len_utf8()..];
            }
        }
    }
    out
}

/// A character that a number may not follow: it is part of a word, a number or a tolerance.
fn joined(before: char) -> bool {
    before.is_alphanumeric() || matches!(before, '.' | '-' | '\u{2212}' | '/' | '±' | '_')
}

/// Numbers with what stands between them, and their unit.
struct Said<'a> {
    numbers: Vec<(f64, &'a str)>,
    dimension: Dimension,
    size: f64,
}

impl Said<'_> {
    fn told(&self, system: UnitSystem) -> String {
        let mut text = String::new();
        for (value, link) in &self.numbers {
            text.push_str(&show(value * self.size, self.dimension, system));
            text.push_str(link);
        }
        text
    }
}

/// The measures that `text` begins with, and how many bytes they take.
fn measures(text: &str) -> Option<(Said<'_>, usize)> {
    let mut numbers = Vec::new();
    let mut at = 0;
    loop {
        let length = number(&text[at..])?;
        let value: f64 = text[at..at + length].parse().ok()?;
        at += length;
        if let Some((dimension, size, length)) = unit(&text[at..]) {
            numbers.push((value, ""));
            return Some((Said { numbers, dimension, size }, at + length));
        }
        let link = LINKS.iter().find(|link| text[at..].starts_with(**link))?;
        numbers.push((value, &text[at..at + link.len()]));
        at += link.len();
    }
}

/// Bytes of the plain decimal number that `text` begins with.
fn number(text: &str) -> Option<usize> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let sign = usize::from(text.starts_with('-'));
    let whole = digits(&text[sign..]);
    if whole == 0 {
        return None;
    }
    let end = sign + whole;
    let decimals = if text[end..].starts_with('.') { digits(&text[end + 1..]) } else { 0 };
    Some(if decimals > 0 { end + 1 + decimals } else { end })
}

/// The unit after a number, with the bytes it takes; a part of a longer unit is none.
fn unit(text: &str) -> Option<(Dimension, f64, usize)> {
    let spaces = text.bytes().take_while(|byte| *byte == b' ').count();
    let after = &text[spaces..];
    let (symbol, dimension, size) = UNITS.iter().find(|(symbol, ..)| after.starts_with(symbol))?;
    let ends = after[symbol.len()..]
        .chars()
        .next()
        .is_none_or(|next| !next.is_alphanumeric() && !matches!(next, '/' | '²' | '³' | '·'));
    ends.then_some((*dimension, *size, spaces + symbol.len()))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn us(text: &str) -> String {
        in_units(text, UnitSystem::UsCustomary)
    }

    /// An inch is 25.4 mm, a US fluid ounce 29.5735295625 mL, a foot 0.3048 m [NIST SP 811, app. B.8].
    #[test]
    fn a_person_who_types_inches_reads_inches() {
        assert_eq!(us("this top at 12.7 mm is below 25.4 mm"), "this top at 1/2 in is below 1 in");
        assert_eq!(us("12.7 to 25.4 mm or more"), "1/2 in to 1 in or more");
        assert_eq!(us("34, 24 and 12.7 mm"), "1 5/16 in, 15/16 in and 1/2 in");
        assert_eq!(us("but 20.32 to 0 cm was given"), "but 8 in to 0 in was given");
        assert_eq!(us("59.147059125mL stands at 50.8 mm."), "2 fl oz stands at 2 in.");
        assert_eq!(us("taken as 15 to 25 °C"), "taken as 59 °F to 77 °F");
        assert_eq!(us("1 to 3.048 m"), "39 3/8 in to 10 ft");
    }

    #[test]
    fn other_numbers_and_units_stay() {
        for text in [
            "2 of 3 layers",
            "50 µm",
            "1.5 g/cm³, 12 mm/h, 1.8 Mg/m³",
            "3 marks, 5 min after it was set down",
            "A12 mm-tape",
            "within ±2 mm",
            "two 1/2 in marks",
            "45-50 cmx",
        ] {
            assert_eq!(us(text), text);
        }
        assert_eq!(in_units("12.7 mm", UnitSystem::Metric), "12.7 mm");
    }

    proptest! {
        #[test]
        fn any_text_is_read_without_harm(text in "\\PC*", tail in "[-0-9. ,tomc°CL²/]{0,24}") {
            let _ = us(&text);
            let _ = us(&format!("{text}{tail}"));
        }
    }
}
