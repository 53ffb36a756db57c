//! What is in hand of a material: counted, bought, lost. What was spread is in the applications.

use ground::kit::Refusal;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// Mass of a material in hand.
    pub struct StockMass: "mass in hand", "kg", 0.0 ..= 1000000.0, example 45.0;
}

/// A count, a purchase or a loss.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// The material.
    pub material: EntryId,
    /// The day.
    #[schemars(with = "String", example = &"2026-04-12")]
    pub on: Date,
    /// How much.
    pub kg: StockMass,
    /// What happened.
    pub what: StockChange,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// What happened to the stock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StockChange {
    /// This much was found at the end of the day.
    Counted,
    /// This much was bought.
    Bought,
    /// This much was lost, given away or spoilt.
    Lost,
}

impl StockChange {
    /// Every change.
    pub const ALL: [Self; 3] = [Self::Counted, Self::Bought, Self::Lost];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Counted => "counted",
            Self::Bought => "bought",
            Self::Lost => "lost",
        }
    }
}

impl Record for Stock {
    const KIND: Kind = Kind::Stock;

    fn check(&self) -> Result<(), Refusal> {
        text::note("note", &self.note)
    }

    fn links(&self) -> Links {
        Links { material: Some(self.material), ..Links::default() }
    }
}
