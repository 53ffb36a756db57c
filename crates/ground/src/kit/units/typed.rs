//! From a typed field straight to a bounded quantity, or to a refusal that names the field.

use super::dimension::{Dimension, UnitSystem};
use super::parse::parse_in;
use super::reading::{Reading, parse_reading_in};
use super::show::{show, show_in, show_small};
use super::unit::Unit;
use crate::kit::{Bounded, Refusal};

/// The unit shown at the field of a quantity, and meant by a number without unit. `symbol` is the
/// quantity's own unit ([`Bounded::UNIT`], or `x-unit` of its schema).
#[must_use]
pub fn field_unit(symbol: &str, system: UnitSystem) -> Unit {
    let own = Unit::of_symbol(symbol).unwrap_or(Unit::One);
    let shown = Dimension::of_unit(own).unit(system);
    // On a metric farm, and for times and grain sizes on any, a field's own unit is the plain one.
    if system == UnitSystem::Metric || shown == Dimension::of_unit(own).unit(UnitSystem::Metric) {
        own
    } else {
        shown
    }
}

/// A reading of a bounded quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TypedReading<Q> {
    /// One value.
    At(Q),
    /// Somewhere between two values, the lower one first.
    Between(Q, Q),
    /// It could not be seen.
    NotSeen,
}

/// Reads what was typed at `field` as quantity `Q`. A number without unit is in `default`
/// (see [`field_unit`]).
///
/// # Errors
/// What [`parse`](super::parse) refuses, and values outside the quantity's range; the refusal gives the
/// range in the field's unit and repeats what was typed.
pub fn typed<Q: Bounded>(field: &str, text: &str, default: Unit) -> Result<Q, Refusal> {
    let own = Unit::of_symbol(Q::UNIT).unwrap_or(Unit::One);
    let value = parse_in(text, Dimension::of_unit(own), default, own).map_err(|error| error.at(field))?;
    within(field, text, value, own, default)
}

/// Reads what was typed at `field` as a reading of quantity `Q`: a value, a range or "not seen".
///
/// # Errors
/// As [`typed`].
pub fn typed_reading<Q: Bounded>(field: &str, text: &str, default: Unit) -> Result<TypedReading<Q>, Refusal> {
    let own = Unit::of_symbol(Q::UNIT).unwrap_or(Unit::One);
    let reading =
        parse_reading_in(text, Dimension::of_unit(own), default, own).map_err(|error| error.at(field))?;
    Ok(match reading {
        Reading::At(value) => TypedReading::At(within(field, text, value, own, default)?),
        Reading::Between(low, high) => TypedReading::Between(
            within(field, text, low, own, default)?,
            within(field, text, high, own, default)?,
        ),
        Reading::NotSeen => TypedReading::NotSeen,
    })
}

fn within<Q: Bounded>(field: &str, text: &str, value: f64, own: Unit, shown: Unit) -> Result<Q, Refusal> {
    Q::new(value).map_err(|error| {
        if own == shown {
            return Refusal::out_of_range(field, &error).given(text.trim());
        }
        let told = |value: f64| bound(value, own, shown);
        let accepted = format!("{} to {}", told(Q::MIN), told(Q::MAX));
        let example = told(Q::EXAMPLE);
        let message =
            format!("{} must be {accepted}, but {} was given (for example {example})", Q::NAME, text.trim(),);
        Refusal::new(field, message).given(text.trim()).accepted(accepted).example(example)
    })
}

/// A bound as it is told: a time in its largest units, and nothing rounded to zero that is not.
fn bound(value: f64, own: Unit, shown: Unit) -> String {
    let dimension = Dimension::of_unit(own);
    if dimension == Dimension::Duration {
        return show(own.convert(value, dimension.base()), dimension, UnitSystem::Metric);
    }
    let text = show_in(value, own, shown);
    if value != 0.0 && text.starts_with("0 ") {
        return show_small(value, own, shown);
    }
    text
}
