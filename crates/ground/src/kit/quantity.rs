//! Bounded quantities: the one home of a number's name, unit and accepted range.
//!
//! From one declaration come the range check, the wording of the error, the JSON schema and (with
//! the `testing` feature) the generator of valid values for property tests.

use std::fmt;

/// A number with a name, a unit and an accepted range, all known at compile time.
pub trait Bounded: Copy + Sized {
    /// What it is called in a sentence, in lower case: "sand", "water temperature".
    const NAME: &'static str;
    /// Its unit as written after a number: "%", "mm", "°C". Empty for a pure number.
    const UNIT: &'static str;
    /// Least accepted value.
    const MIN: f64;
    /// Greatest accepted value.
    const MAX: f64;
    /// A value a person might give.
    const EXAMPLE: f64;

    /// Checks the range. Not-a-number is refused like any value outside it.
    fn new(value: f64) -> Result<Self, OutOfRange>;

    /// The plain number, in [`Bounded::UNIT`].
    fn get(self) -> f64;

    /// A number written in this program, known to be in range. Never for anything that was typed,
    /// read or computed.
    #[must_use]
    fn literal(value: f64) -> Self {
        match Self::new(value) {
            Ok(quantity) => quantity,
            Err(error) => unreachable!("{error}"),
        }
    }
}

/// A value outside the accepted range of its quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct OutOfRange {
    /// The quantity's name.
    pub name: &'static str,
    /// The quantity's unit.
    pub unit: &'static str,
    /// What was given.
    pub given: f64,
    /// Least accepted value.
    pub min: f64,
    /// Greatest accepted value.
    pub max: f64,
    /// A value that would be accepted.
    pub example: f64,
}

impl OutOfRange {
    /// Builds the error for quantity `Q`.
    #[must_use]
    pub fn of<Q: Bounded>(given: f64) -> Self {
        Self { name: Q::NAME, unit: Q::UNIT, given, min: Q::MIN, max: Q::MAX, example: Q::EXAMPLE }
    }

    /// The accepted range in words: "0 to 100 %".
    #[must_use]
    pub fn accepted(&self) -> String {
        range_words(self.min, self.max, self.unit)
    }
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} must be {}, but {} was given (for example {})",
            self.name,
            self.accepted(),
            with_unit(self.given, self.unit),
            with_unit(self.example, self.unit),
        )
    }
}

impl std::error::Error for OutOfRange {}

/// "0 to 100 %", "0.05 to 4000 µm", "1 to 20".
#[must_use]
pub fn range_words(min: f64, max: f64, unit: &str) -> String {
    format!("{} to {}", number(min), with_unit(max, unit))
}

/// A number followed by its unit, or alone when the unit is empty.
#[must_use]
pub fn with_unit(value: f64, unit: &str) -> String {
    let value = number(value);
    if unit.is_empty() { value } else { format!("{value} {unit}") }
}

/// A number as a person would write it: to twelve digits, so that 3 × 25.4 is not
/// 76.19999999999999, and very large and very small ones in powers of ten.
#[must_use]
pub fn number(value: f64) -> String {
    let value = format!("{value:.11e}").parse().unwrap_or(value);
    let size = f64::abs(value);
    if value != 0.0 && !(1e-9..1e15).contains(&size) { format!("{value:e}") } else { format!("{value}") }
}

/// Declares bounded quantities.
///
/// ```
/// use ground::kit::Bounded;
/// ground::quantity! {
///     /// Sand, share of the fine earth by mass.
///     pub struct Sand: "sand", "%", 0.0 ..= 100.0, example 40.0;
/// }
/// assert_eq!(Sand::new(65.0).unwrap().get(), 65.0);
/// let refused = Sand::new(140.0).unwrap_err();
/// assert_eq!(refused.to_string(), "sand must be 0 to 100 %, but 140 % was given (for example 40 %)");
/// assert!(Sand::new(f64::NAN).is_err());
/// ```
#[macro_export]
macro_rules! quantity {
    ($($(#[$meta:meta])* pub struct $type:ident: $name:literal, $unit:literal, $min:literal ..= $max:literal, example $example:literal;)+) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, ::serde::Serialize)]
        #[serde(transparent)]
        pub struct $type(f64);

        impl $crate::kit::Bounded for $type {
            const NAME: &'static str = $name;
            const UNIT: &'static str = $unit;
            const MIN: f64 = $min;
            const MAX: f64 = $max;
            const EXAMPLE: f64 = $example;

            fn new(value: f64) -> ::core::result::Result<Self, $crate::kit::OutOfRange> {
                if ($min..=$max).contains(&value) {
                    Ok(Self(value))
                } else {
                    Err($crate::kit::OutOfRange::of::<Self>(value))
                }
            }

            fn get(self) -> f64 {
                self.0
            }
        }

        impl<'de> ::serde::Deserialize<'de> for $type {
            fn deserialize<D: ::serde::Deserializer<'de>>(from: D) -> ::core::result::Result<Self, D::Error> {
                let value = <f64 as ::serde::Deserialize>::deserialize(from)?;
                <Self as $crate::kit::Bounded>::new(value).map_err(::serde::de::Error::custom)
            }
        }

        impl ::schemars::JsonSchema for $type {
            fn inline_schema() -> bool {
                true
            }

            fn schema_name() -> ::std::borrow::Cow<'static, str> {
                stringify!($type).into()
            }

            fn json_schema(_: &mut ::schemars::SchemaGenerator) -> ::schemars::Schema {
                ::schemars::json_schema!({
                    "type": "number",
                    "title": $name,
                    "minimum": $min,
                    "maximum": $max,
                    "x-unit": $unit,
                    "examples": [$example],
                })
            }
        }
    )+};
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_as_people_write_them() {
        for (value, text) in [
            (3.0 * 25.4, "76.2"),
            (0.1 + 0.2, "0.3"),
            (-40.0, "-40"),
            (0.0, "0"),
            (31_536_000.0, "31536000"),
            (1e308, "1e308"),
            (-1e-300, "-1e-300"),
        ] {
            assert_eq!(number(value), text);
        }
    }
}
