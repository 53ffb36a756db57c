//! Beds in a plot: equal ones are one record with a count.

use ground::kit::{Bounded, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// Length of a bed.
    pub struct BedLength: "length of the bed", "m", 0.1 ..= 1000.0, example 15.0;
    /// Width of a bed.
    pub struct BedWidth: "width of the bed", "m", 0.1 ..= 30.0, example 0.75;
}

/// A bed, or several equal ones.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bed {
    /// The plot they lie in.
    pub plot: EntryId,
    /// What they are called.
    pub name: String,
    /// Length of each.
    pub length_m: BedLength,
    /// Width of each.
    pub width_m: BedWidth,
    /// How many of them.
    pub count: u16,
}

impl Bed {
    /// Area of all of them together, in square metres.
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        self.length_m.get() * self.width_m.get() * f64::from(self.count)
    }
}

impl Record for Bed {
    const KIND: Kind = Kind::Bed;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "Beds 1 to 8")?;
        text::count("count", self.count, 1, 10_000, 8)
    }

    fn links(&self) -> Links {
        Links { plot: Some(self.plot), ..Links::default() }
    }
}
