//! What was really spread, where and when.

use ground::kit::Refusal;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// Mass of a material spread in all, as it came.
    pub struct SpreadMass: "mass spread", "kg", 0.001 ..= 1000000.0, example 4.5;
}

/// A material spread on a plot or on one of its beds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Application {
    /// The plot.
    pub plot: EntryId,
    /// The bed, or the equal beds of one record; the whole plot where it is left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bed: Option<EntryId>,
    /// What was spread.
    pub spread: SpreadMaterial,
    /// The day.
    #[schemars(with = "String", example = &"2026-04-12")]
    pub on: Date,
    /// How much in all, as it came.
    pub kg: SpreadMass,
    /// How it was placed.
    pub placed: Placed,
    /// The job of the work plan that it answers, by its key.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub job: Option<String>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// Which material was spread.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SpreadMaterial {
    /// One of the farm's shelf.
    Shelf(EntryId),
    /// One of the catalogue, by its key.
    Catalogue(String),
}

impl SpreadMaterial {
    /// The material of the shelf.
    #[must_use]
    pub fn shelf(&self) -> Option<EntryId> {
        match self {
            Self::Shelf(id) => Some(*id),
            Self::Catalogue(_) => None,
        }
    }
}

/// How a material was placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Placed {
    /// Spread and worked in.
    Incorporated,
    /// Left on the surface.
    Surface,
    /// Beside growing plants.
    SideDressed,
    /// In a band in the row.
    Banded,
    /// With the water.
    WateredIn,
}

impl Placed {
    /// Every way.
    pub const ALL: [Self; 5] =
        [Self::Incorporated, Self::Surface, Self::SideDressed, Self::Banded, Self::WateredIn];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Incorporated => "spread and worked in",
            Self::Surface => "left on the surface",
            Self::SideDressed => "side-dressed",
            Self::Banded => "banded in the row",
            Self::WateredIn => "given with the water",
        }
    }
}

impl Record for Application {
    const KIND: Kind = Kind::Application;

    fn check(&self) -> Result<(), Refusal> {
        if let SpreadMaterial::Catalogue(key) = &self.spread {
            text::name("spread.catalogue", key, "feather-meal")?;
        }
        if let Some(job) = &self.job {
            text::key("job", job, "lime.east-tunnel.2026")?;
        }
        text::note("note", &self.note)
    }

    fn links(&self) -> Links {
        Links { plot: Some(self.plot), bed: self.bed, material: self.spread.shelf(), ..Links::default() }
    }
}
