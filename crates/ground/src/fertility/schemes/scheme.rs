//! The named published schemes that a farm may choose from.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

macro_rules! schemes {
    ($($(#[$meta:meta])* $name:ident, $key:literal, $title:literal, $region:literal, $says:literal;)+) => {
        /// A published scheme: classes of soil test results and the rates that belong to them. One farm uses
        /// one scheme; nothing is carried from one into another.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
        pub enum Scheme {$($(#[$meta])* #[serde(rename = $key)] $name,)+}

        impl Scheme {
            /// Every scheme.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// Its key in a farm's record.
            #[must_use]
            pub fn key(self) -> &'static str {
                match self {$(Self::$name => $key,)+}
            }

            /// Its title.
            #[must_use]
            pub fn title(self) -> &'static str {
                match self {$(Self::$name => $title,)+}
            }

            /// Where it is meant for.
            #[must_use]
            pub fn region(self) -> &'static str {
                match self {$(Self::$name => $region,)+}
            }

            /// What of it is held here, and its weak points.
            #[must_use]
            pub fn says(self) -> &'static str {
                match self {$(Self::$name => $says,)+}
            }
        }
    };
}

schemes! {
    /// United Kingdom.
    Rb209, "rb209", "United Kingdom nutrient management guide (RB209)", "England, Wales and Northern Ireland; temperate, in the open",
        "Complete for thirty-one field vegetables and potatoes, Olsen phosphorus and ammonium nitrate potassium and magnesium. \
         Nothing for tomato, pepper, cucumber, spinach, chard, kale, garlic or any crop under cover.";
    /// Delaware and its neighbours.
    Midatlantic, "midatlantic", "Mid-Atlantic recommendations", "Delaware, Maryland, New Jersey, Pennsylvania, Virginia",
        "Rates for broccoli, cabbage and cauliflower only. Joining them to the New Jersey Mehlich 3 limits is our inference.";
    /// New England.
    NewEngland, "new_england", "New England recommendations", "New England and eastern New York",
        "Rates for broccoli only; where low ends and very low begins was not read, so that both rows are given as a range.";
    /// New Jersey.
    RutgersM3, "rutgers_m3", "New Jersey Mehlich 3 levels", "New Jersey",
        "Classes only: no crop rates. High is the optimum.";
    /// Florida, before 2015.
    UfifasM1, "ufifas_m1", "Florida Mehlich 1 recommendations (before 2015)", "Florida, irrigated sand",
        "Thirty crops, recalled and not read again: an unverified copy. Check a rate against the issued bulletin before you buy.";
    /// Florida today.
    FloridaM3, "florida_m3", "Florida Mehlich 3 recommendations", "Florida, irrigated sand",
        "Rates for tomato, carrot and potato only; the class limits are recalled.";
    /// Utah.
    Utah, "utah", "Utah recommendations", "Utah and the dry West, calcareous ground",
        "Rates for melon, and for pepper, eggplant and sweet corn in part; the extractant is recalled (Olsen).";
    /// Georgia, plain.
    GeorgiaCoastalPlain, "georgia_coastal_plain", "Georgia, Coastal Plain", "Georgia, Coastal Plain",
        "Rates for cabbage and leafy greens, and nitrogen for pepper plants; the extractant is recalled (Mehlich 1).";
    /// Georgia, uplands.
    GeorgiaPiedmont, "georgia_piedmont", "Georgia, Piedmont, mountains and limestone valleys", "Georgia, uplands",
        "Rates for cabbage and leafy greens, and nitrogen for pepper plants; the extractant is recalled (Mehlich 1).";
    /// Massachusetts.
    UmassModifiedMorgan, "umass_modified_morgan", "Massachusetts modified Morgan ranges", "New England",
        "Optimum ranges only, no rates; the ranges of trace elements are what is usual there and were never calibrated.";
    /// California.
    CaliforniaTomato, "california_tomato", "California levels for tomato", "California",
        "Classes for tomato only, no rates.";
    /// Illinois.
    Illinois, "illinois", "Illinois recommendations for pumpkin", "Illinois",
        "Nitrogen for pumpkin and squash by organic matter only.";
}

impl Scheme {
    /// The scheme of that key.
    #[must_use]
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|scheme| scheme.key() == key)
    }
}

/// How a class stands, whatever its scheme calls it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Far below what crops need.
    VeryLow,
    /// Below it.
    Low,
    /// Somewhat below it.
    Medium,
    /// Where the scheme wants it.
    Optimum,
    /// Above it.
    High,
    /// Far above it.
    VeryHigh,
}

impl Standing {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::VeryLow => "far below the optimum",
            Self::Low => "below the optimum",
            Self::Medium => "a little below the optimum",
            Self::Optimum => "at the optimum",
            Self::High => "above the optimum",
            Self::VeryHigh => "far above the optimum",
        }
    }

    /// More would not raise the yield.
    #[must_use]
    pub fn enough(self) -> bool {
        self >= Self::Optimum
    }
}
