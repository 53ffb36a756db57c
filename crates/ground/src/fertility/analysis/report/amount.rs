//! How much a laboratory found: a value, or only that it lies below or above a limit.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::Refusal;
use crate::kit::quantity::number;

/// How much was found.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// This much.
    Exactly(f64),
    /// Less than this, the least that can be told.
    Below(f64),
    /// More than this, the most that can be told.
    Above(f64),
}

impl Amount {
    /// The number that stands on the report, whatever it limits.
    #[must_use]
    pub fn printed(self) -> f64 {
        match self {
            Self::Exactly(value) | Self::Below(value) | Self::Above(value) => value,
        }
    }

    /// The value, where one was found.
    #[must_use]
    pub fn exactly(self) -> Option<f64> {
        match self {
            Self::Exactly(value) => Some(value),
            Self::Below(_) | Self::Above(_) => None,
        }
    }

    /// The same statement in another unit.
    #[must_use]
    pub fn map(self, turn: impl FnOnce(f64) -> f64) -> Self {
        match self {
            Self::Exactly(value) => Self::Exactly(turn(value)),
            Self::Below(value) => Self::Below(turn(value)),
            Self::Above(value) => Self::Above(turn(value)),
        }
    }

    /// As reports print it: "23", "< 2".
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Exactly(value) => number(value),
            Self::Below(value) => format!("< {}", number(value)),
            Self::Above(value) => format!("> {}", number(value)),
        }
    }

    /// Reads "23", "<2", "< 2", "> 200", "2,5"; a comma and a point in one number are refused, since it
    /// cannot be told which of them parts the decimals.
    ///
    /// # Errors
    /// `field` does not hold a number.
    pub fn read(field: &str, text: &str) -> Result<Self, Refusal> {
        let refused = |message: String| {
            Refusal::new(field, message).given(text).accepted("a number, or one after < or >").example("< 2")
        };
        let plain = text.trim();
        let (turn, digits): (fn(f64) -> Self, &str) =
            if let Some(rest) = plain.strip_prefix(['<', '\u{2264}']) {
                (Self::Below, rest.strip_prefix('=').unwrap_or(rest))
            } else if let Some(rest) = plain.strip_prefix(['>', '\u{2265}']) {
                (Self::Above, rest.strip_prefix('=').unwrap_or(rest))
            } else {
                (Self::Exactly, plain)
            };
        let digits = digits.trim();
        if digits.is_empty() {
            return Err(refused("a number is missing".to_owned()));
        }
        let commas = digits.matches(',').count();
        if commas > 1 || (commas == 1 && digits.contains('.')) {
            return Err(refused(format!(
                "{digits:?} holds commas and points, and which of them parts the decimals cannot be told"
            )));
        }
        let value: f64 =
            digits.replace(',', ".").parse().map_err(|_| refused(format!("{digits:?} is not a number")))?;
        if value.is_finite() { Ok(turn(value)) } else { Err(refused(format!("{digits:?} is not a number"))) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_kept_as_limits() {
        for (text, amount) in [
            ("23", Amount::Exactly(23.0)),
            (" 7,1 ", Amount::Exactly(7.1)),
            ("<2", Amount::Below(2.0)),
            ("< 0,5", Amount::Below(0.5)),
            ("<= 2", Amount::Below(2.0)),
            (">200", Amount::Above(200.0)),
            ("\u{2265} 200", Amount::Above(200.0)),
            ("-1", Amount::Exactly(-1.0)),
        ] {
            assert_eq!(Amount::read("amount", text), Ok(amount), "{text}");
        }
        for text in ["", "<", "trace", "1,234.5", "1,234,5", "inf", "nan", "2 3"] {
            let refusal = Amount::read("amount", text).unwrap_err();
            assert_eq!((refusal.field.as_str(), refusal.given.as_str()), ("amount", text));
        }
    }

    #[test]
    fn printed_as_reports_print_it() {
        assert_eq!(Amount::Below(2.0).words(), "< 2");
        assert_eq!(Amount::Above(200.0).map(|value| 2.0 * value).words(), "> 400");
        assert_eq!((Amount::Exactly(3.5).exactly(), Amount::Below(2.0).exactly()), (Some(3.5), None));
    }
}
