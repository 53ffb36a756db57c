//! Values written back for a person, in the units of the farm.

use super::dimension::{Dimension, UnitSystem};
use super::unit::{Kind, Unit};

/// Writes a value, given in the base unit of its dimension, in the units of the farm: lengths of a US
/// farm to the nearest sixteenth of an inch, other values to a few significant digits.
#[must_use]
pub fn show(value: f64, dimension: Dimension, system: UnitSystem) -> String {
    if !value.is_finite() {
        return "no value".to_owned();
    }
    let base = dimension.base();
    let us = system == UnitSystem::UsCustomary;
    match dimension.kind() {
        Kind::Length if us && dimension == Dimension::WaterDepth => {
            format!("{} in", trimmed(base.convert(value, Unit::Inch), 2))
        }
        Kind::Length if us && dimension == Dimension::Length => feet(base.convert(value, Unit::Inch)),
        Kind::Length if dimension == Dimension::Length => plain(base, value, Unit::Metre),
        Kind::Area if us => {
            let feet = base.convert(value, Unit::SquareFoot);
            if feet.abs() < 21_780.0 {
                plain(base, value, Unit::SquareFoot)
            } else {
                plain(base, value, Unit::Acre)
            }
        }
        Kind::Area if value.abs() >= 10_000.0 => plain(base, value, Unit::Hectare),
        Kind::Mass if us => pounds(base.convert(value, Unit::Ounce)),
        Kind::Mass => {
            let grams = base.convert(value, Unit::Gram);
            plain(base, value, if grams.abs() < 1000.0 { Unit::Gram } else { Unit::Kilogram })
        }
        Kind::Volume if us => {
            let ounces = base.convert(value, Unit::FluidOunce);
            plain(base, value, if ounces.abs() < 128.0 { Unit::FluidOunce } else { Unit::Gallon })
        }
        Kind::Volume => {
            let millilitres = base.convert(value, Unit::Millilitre);
            plain(base, value, if millilitres.abs() < 1000.0 { Unit::Millilitre } else { Unit::Litre })
        }
        Kind::Time => duration(base.convert(value, Unit::Second)),
        _ => plain(base, value, dimension.unit(system)),
    }
}

/// Writes a value given in `from` as a number in the unit `to`, inches as fractions.
#[must_use]
pub fn show_in(value: f64, from: Unit, to: Unit) -> String {
    if value.is_finite() { plain(from, value, to) } else { "no value".to_owned() }
}

/// Like [`show_in`], with one digit that is not zero however small the value is.
pub(super) fn show_small(value: f64, from: Unit, to: Unit) -> String {
    format!("{} {}", significant(from.convert(value, to), 1), to.symbol())
}

/// The unit shown at a field, as it is written after a number.
#[must_use]
pub fn unit_label(dimension: Dimension, system: UnitSystem) -> &'static str {
    dimension.unit(system).symbol()
}

fn plain(from: Unit, value: f64, to: Unit) -> String {
    let value = from.convert(value, to);
    let number = match to {
        Unit::Inch => sixteenths(value),
        Unit::Fahrenheit | Unit::Celsius | Unit::Percent => trimmed(value, 1),
        Unit::Millimetre | Unit::Centimetre => trimmed(value, if value.abs() < 10.0 { 2 } else { 1 }),
        Unit::Metre => trimmed(value, 2),
        _ => significant(value, 4),
    };
    if to.symbol().is_empty() { number } else { format!("{number} {}", to.symbol()) }
}

/// 2.1875 as "2 3/16".
fn sixteenths(inches: f64) -> String {
    if inches.abs() > 1e9 {
        return significant(inches, 4);
    }
    let sign = if inches < 0.0 { "-" } else { "" };
    let parts = (inches.abs() * 16.0).round() as u64;
    let (whole, mut over, mut under) = (parts / 16, parts % 16, 16);
    while over != 0 && over % 2 == 0 {
        (over, under) = (over / 2, under / 2);
    }
    match (whole, over) {
        (0, 0) => "0".to_owned(),
        (whole, 0) => format!("{sign}{whole}"),
        (0, over) => format!("{sign}{over}/{under}"),
        (whole, over) => format!("{sign}{whole} {over}/{under}"),
    }
}

/// Inches up to four feet, then feet and inches: to a sixteenth below ten feet, to an inch above.
fn feet(inches: f64) -> String {
    if inches.abs() < 48.0 {
        return format!("{} in", sixteenths(inches));
    }
    if inches.abs() > 1e9 {
        return format!("{} ft", significant(inches / 12.0, 4));
    }
    let sign = if inches < 0.0 { "-" } else { "" };
    let step = if inches.abs() < 120.0 { 16.0 } else { 1.0 };
    let rounded = (inches.abs() * step).round() / step;
    let (feet, rest) = ((rounded / 12.0).floor(), rounded % 12.0);
    if rest == 0.0 { format!("{sign}{feet} ft") } else { format!("{sign}{feet} ft {} in", sixteenths(rest)) }
}

/// Ounces below a pound, then pounds and ounces, then pounds.
fn pounds(ounces: f64) -> String {
    let sign = if ounces < 0.0 { "-" } else { "" };
    let size = ounces.abs();
    if size < 15.95 {
        return format!("{} oz", significant(ounces, 3));
    }
    if size >= 1600.0 {
        return format!("{} lb", significant(ounces / 16.0, 4));
    }
    let step = if size < 160.0 { 10.0 } else { 1.0 };
    let rounded = (size * step).round() / step;
    let (pounds, rest) = ((rounded / 16.0).floor(), rounded % 16.0);
    if rest < 0.05 {
        format!("{sign}{pounds} lb")
    } else {
        format!("{sign}{pounds} lb {} oz", trimmed(rest, 1))
    }
}

/// The two largest units: "1 d 2 h", "2 min 5 s", "8.5 s".
fn duration(seconds: f64) -> String {
    if seconds.abs() < 60.0 {
        return format!("{} s", significant(seconds, 3));
    }
    if seconds.abs() > 1e11 {
        return format!("{} d", significant(seconds / 86_400.0, 4));
    }
    let sign = if seconds < 0.0 { "-" } else { "" };
    let size = seconds.abs();
    let (large, small, large_symbol, small_symbol) = match size {
        size if size < 3_599.5 => (60.0, 1.0, "min", "s"),
        size if size < 86_370.0 => (3_600.0, 60.0, "h", "min"),
        _ => (86_400.0, 3_600.0, "d", "h"),
    };
    let rounded = (size / small).round() * small;
    let (first, second) = ((rounded / large).floor(), (rounded % large) / small);
    if second == 0.0 {
        format!("{sign}{first} {large_symbol}")
    } else {
        format!("{sign}{first} {large_symbol} {second} {small_symbol}")
    }
}

/// At most so many decimals, without zeros at the end.
fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// So many significant digits, without zeros at the end; whole numbers keep all their digits.
fn significant(value: f64, digits: i32) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let magnitude = libm::floor(libm::log10(value.abs())) as i32;
    trimmed(value, (digits - 1 - magnitude).clamp(0, 15) as usize)
}
