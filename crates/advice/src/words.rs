//! Numbers in sentences, in the units of the farm.

use book::model::{UnitSystem, month_name};
use ground::kit::Spread;
pub use ground::kit::sentence::capital;
use ground::kit::units::{Dimension, show};
use jiff::civil::Date;

/// "82 %"; never "100 %" or "0 %" for odds that are neither.
#[must_use]
pub fn odds(odds: f64) -> String {
    match odds {
        o if o >= 0.995 => "over 99 %".to_owned(),
        o if o < 0.005 => "under 1 %".to_owned(),
        o => format!("{:.0} %", 100.0 * o),
    }
}

/// "3 May 2025".
#[must_use]
pub fn day(date: Date) -> String {
    format!("{} {} {}", date.day(), month_name(date.month()), date.year())
}

/// A number to two significant digits, without needless zeros.
#[must_use]
pub fn short(value: f64) -> String {
    if !value.is_finite() {
        return "no value".to_owned();
    }
    let size = value.abs();
    match size {
        s if s >= 99.5 => format!("{value:.0}"),
        s if s >= 9.95 => format!("{value:.0}"),
        s if !(1e-9..0.995).contains(&s) => trimmed(format!("{value:.1}")),
        s if s >= 0.0995 => trimmed(format!("{value:.2}")),
        _ => trimmed(format!("{value:.3}")),
    }
}

fn trimmed(text: String) -> String {
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

fn us(units: UnitSystem) -> bool {
    units == UnitSystem::UsCustomary
}

/// A water content as water in a depth of ground: "1.6 in per foot", "133 mm per metre".
#[must_use]
pub fn water_held(content: f64, units: UnitSystem) -> String {
    if us(units) {
        format!("{} in per foot", trimmed(format!("{:.2}", 12.0 * content)))
    } else {
        format!("{:.0} mm per metre", 1000.0 * content)
    }
}

/// Several of them, with one unit: "1.6 (90 %: 1.3 to 1.9) in per foot".
#[must_use]
pub fn water_held_spread(spread: Spread, units: UnitSystem) -> String {
    if us(units) {
        format!("{} in per foot", range(spread, 12.0))
    } else {
        format!("{} mm per metre", range(spread, 1000.0))
    }
}

/// "1.6 (90 %: 1.3 to 1.9)" after scaling; "1.6" where the range is too narrow to be told.
#[must_use]
pub fn range(spread: Spread, scale: f64) -> String {
    if short(scale * spread.low) == short(scale * spread.high) {
        return short(scale * spread.median);
    }
    format!(
        "{} (90 %: {} to {})",
        short(scale * spread.median),
        short(scale * spread.low),
        short(scale * spread.high)
    )
}

/// "0.6 in/h" or "15 mm/h" with its range.
#[must_use]
pub fn rate_spread(spread: Spread, units: UnitSystem) -> String {
    if us(units) {
        format!("{} in/h", range(spread, 1.0 / 25.4))
    } else {
        format!("{} mm/h", range(spread, 1.0))
    }
}

/// A rate: "0.6 in/h", "15 mm/h".
#[must_use]
pub fn rate(mm_h: f64, units: UnitSystem) -> String {
    if us(units) { format!("{} in/h", short(mm_h / 25.4)) } else { format!("{} mm/h", short(mm_h)) }
}

/// A depth of water: "0.6 in", "15 mm".
#[must_use]
pub fn water(mm: f64, units: UnitSystem) -> String {
    if us(units) { format!("{} in", short(mm / 25.4)) } else { format!("{} mm", short(mm)) }
}

/// A temperature in whole degrees: "40 °F", "4 °C".
#[must_use]
pub fn temperature(celsius: f64, units: UnitSystem) -> String {
    if us(units) { format!("{:.0} °F", 1.8 * celsius + 32.0) } else { format!("{celsius:.0} °C") }
}

/// A difference of temperatures in whole degrees: "5 °F" for 3 °C, which as a temperature would be 37 °F.
#[must_use]
pub fn warmer(by_c: f64, units: UnitSystem) -> String {
    if us(units) { format!("{:.0} °F", 1.8 * by_c) } else { format!("{by_c:.0} °C") }
}

/// A depth in the ground: "12 in", "30 cm".
#[must_use]
pub fn depth(cm: f64, units: UnitSystem) -> String {
    if us(units) { format!("{:.0} in", cm / 2.54) } else { format!("{cm:.0} cm") }
}

/// Writes every depth of a sentence, "45 cm", in the units of the farm as [`depth`] does.
#[must_use]
pub fn depths(text: &str, units: UnitSystem) -> String {
    if !us(units) {
        return text.to_owned();
    }
    let mut words: Vec<String> = Vec::new();
    for word in text.split(' ') {
        let unit = word.strip_prefix("cm").filter(|rest| !rest.starts_with(char::is_alphanumeric));
        let number = words.last().and_then(|last| last.parse::<f64>().ok());
        match (unit, number) {
            (Some(rest), Some(cm)) => {
                words.pop();
                words.push(format!("{}{rest}", depth(cm, units)));
            }
            _ => words.push(word.to_owned()),
        }
    }
    words.join(" ")
}

/// A small length as on a ruler: "5/8 in", "16 mm".
#[must_use]
pub fn small(mm: f64, units: UnitSystem) -> String {
    show(mm, Dimension::SmallLength, units)
}

/// A range of lengths given in inches by a source: "1/4 to 1 in", "20 to 30 cm".
#[must_use]
pub fn inches(low: f64, high: f64, units: UnitSystem) -> String {
    if us(units) {
        let low = show(25.4 * low, Dimension::SmallLength, units);
        format!("{} to {}", low.trim_end_matches(" in"), show(25.4 * high, Dimension::SmallLength, units))
    } else {
        format!("{} to {} cm", short(2.54 * low), short(2.54 * high))
    }
}

/// "1 day", "2 days".
#[must_use]
pub fn days(count: f64) -> String {
    let text = short(count);
    if text == "1" { "1 day".to_owned() } else { format!("{text} days") }
}

/// "clay 22 % (90 %: 17 to 28)".
#[must_use]
pub fn share(name: &str, spread: Spread) -> String {
    format!("{name} {:.0} % (90 %: {:.0} to {:.0})", spread.median, spread.low, spread.high)
}

/// "1 bed", "12 beds".
#[must_use]
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_two_digits() {
        for (value, text) in [
            (1.0, "1"),
            (1.25, "1.2"),
            (12.6, "13"),
            (0.5, "0.5"),
            (0.057, "0.057"),
            (0.0, "0"),
            (123.4, "123"),
        ] {
            assert_eq!(short(value), text, "{value}");
        }
    }

    #[test]
    fn lengths_are_written_as_on_a_ruler() {
        assert_eq!(inches(0.25, 1.0, UnitSystem::UsCustomary), "1/4 to 1 in");
        assert_eq!(inches(8.0, 12.0, UnitSystem::Metric), "20 to 30 cm");
        assert_eq!(small(15.875, UnitSystem::UsCustomary), "5/8 in");
    }

    #[test]
    fn depths_of_a_sentence_are_told_in_the_farm_s_units() {
        let told = |text| depths(text, UnitSystem::UsCustomary);
        assert_eq!(told("a grey layer from 45 cm: wet"), "a grey layer from 18 in: wet");
        assert_eq!(told("no cm, 3 cmx and 5 d"), "no cm, 3 cmx and 5 d");
        assert_eq!(depths("from 45 cm", UnitSystem::Metric), "from 45 cm");
    }

    #[test]
    fn a_range_that_is_none_is_not_told() {
        let spread = |low, high| Spread { low, median: 1.0, high };
        assert_eq!(range(spread(1.0, 1.001), 1.0), "1");
        assert_eq!(range(spread(0.5, 2.0), 1.0), "1 (90 %: 0.5 to 2)");
    }

    #[test]
    fn odds_never_claim_certainty() {
        assert_eq!(odds(1.0), "over 99 %");
        assert_eq!(odds(0.0), "under 1 %");
        assert_eq!(odds(0.824), "82 %");
    }
}
