//! A sum of money, exact to its last digit.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use ground::kit::Refusal;
use rust_decimal::Decimal;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize};

/// Most that one bag or load may cost.
const MOST: Decimal = Decimal::from_parts(10_000_000, 0, 0, false, 0);
/// Most digits after the point.
const MOST_DIGITS: u32 = 4;

/// A sum of money in the farm's currency, never below nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(transparent)]
pub struct Price(Decimal);

impl Price {
    /// Checks the range.
    ///
    /// # Errors
    /// The sum is negative, too large, or has more than four digits after the point.
    pub fn new(sum: Decimal) -> Result<Self, Refusal> {
        if (Decimal::ZERO..=MOST).contains(&sum) && sum.scale() <= MOST_DIGITS {
            Ok(Self(sum))
        } else {
            Err(refused(&sum.to_string()))
        }
    }

    /// The sum.
    #[must_use]
    pub fn get(self) -> Decimal {
        self.0
    }
}

fn refused(given: &str) -> Refusal {
    Refusal::new("price", format!("{given:?} is not a price"))
        .given(given.chars().take(40).collect::<String>())
        .accepted(format!("a sum of 0 to {MOST}, with at most {MOST_DIGITS} digits after the point"))
        .example("28.50")
}

impl FromStr for Price {
    type Err = Refusal;

    /// "28.50", "28,50".
    fn from_str(text: &str) -> Result<Self, Refusal> {
        let plain = text.trim();
        let pointed = if plain.contains('.') { plain.to_owned() } else { plain.replace(',', ".") };
        Decimal::from_str_exact(&pointed)
            .ok()
            .and_then(|sum| Self::new(sum).ok())
            .ok_or_else(|| refused(plain))
    }
}

impl fmt::Display for Price {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl<'de> Deserialize<'de> for Price {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = Cow::<'de, str>::deserialize(from)?;
        text.parse().map_err(|refusal: Refusal| {
            serde::de::Error::custom(format!("{}; accepted: {}", refusal.message, refusal.accepted))
        })
    }
}

impl JsonSchema for Price {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Price".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "title": "price",
            "pattern": r"^[0-9]{1,8}(\.[0-9]{1,4})?$",
            "examples": ["28.50"],
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_keep_every_digit() {
        for (typed, kept) in [("28.50", "28.50"), ("28,5", "28.5"), (" 0 ", "0"), ("10000000", "10000000")] {
            let price: Price = typed.parse().unwrap();
            let json = serde_json::to_string(&price).unwrap();
            assert_eq!(json, format!("{kept:?}"));
            assert_eq!(serde_json::from_str::<Price>(&json).unwrap(), price);
        }
        for typed in ["", "free", "-1", "1.23456", "10000001", "1,234.50", "$4", "nan"] {
            assert_eq!(typed.parse::<Price>().unwrap_err().field, "price", "{typed}");
        }
        assert!(serde_json::from_str::<Price>("28.5").is_err());
    }
}
