//! What grows in a bed, from when to when.

use ground::kit::Refusal;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// Share of the ground that a mulch covers.
    pub struct MulchCover: "ground covered by mulch", "%", 0.0 ..= 100.0, example 80.0;
    /// Fresh yield hoped for from all beds of the record.
    pub struct YieldGoal: "yield hoped for", "kg", 0.1 ..= 10000000.0, example 120.0;
}

/// A planting.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Planting {
    /// The bed, or the equal beds of one record.
    pub bed: EntryId,
    /// What grows.
    pub crop: PlantedCrop,
    /// Day it was sown or set out; for a crop that stood already, the day its growth began.
    #[schemars(with = "String", example = &"2026-05-10")]
    pub planted_on: Date,
    /// Sown, transplanted or standing.
    pub how: PlantedHow,
    /// Day the harvest is expected to end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>", example = &"2026-08-20")]
    pub harvest_on: Option<Date>,
    /// Last day it stood.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>", example = &"2026-08-24")]
    pub ended_on: Option<Date>,
    /// Mulch on the bed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mulch: Option<Mulch>,
    /// Fresh yield hoped for from all beds of the record.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub yield_goal_kg: Option<YieldGoal>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// Which crop grows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PlantedCrop {
    /// A crop of the catalogue, by its key.
    Catalogue(String),
    /// A crop of the farm's own.
    FarmCrop(EntryId),
}

/// How a planting began.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PlantedHow {
    /// Sown in the bed.
    Sown,
    /// Set out as plants.
    Transplanted,
    /// It stood already: a perennial, a sward.
    Standing,
}

impl PlantedHow {
    /// Every way.
    pub const ALL: [Self; 3] = [Self::Sown, Self::Transplanted, Self::Standing];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Sown => "sown",
            Self::Transplanted => "transplanted",
            Self::Standing => "standing already",
        }
    }
}

/// A mulch.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Mulch {
    /// Of what.
    pub of: MulchKind,
    /// Share of the ground it covers.
    pub covered_percent: MulchCover,
}

/// What a mulch is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MulchKind {
    /// Plastic film.
    Plastic,
    /// Straw, leaves, compost and the like.
    Organic,
}

impl MulchKind {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Plastic, Self::Organic];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Plastic => "plastic film",
            Self::Organic => "organic mulch",
        }
    }
}

impl Planting {
    /// Did it stand on that day, as far as is known?
    #[must_use]
    pub fn stood_on(&self, date: Date) -> bool {
        self.planted_on <= date && self.ended_on.is_none_or(|ended| date <= ended)
    }
}

impl Record for Planting {
    const KIND: Kind = Kind::Planting;

    fn check(&self) -> Result<(), Refusal> {
        if let PlantedCrop::Catalogue(key) = &self.crop {
            text::name("crop.catalogue", key, "tomato")?;
        }
        for (field, date, what) in
            [("harvest_on", self.harvest_on, "the harvest"), ("ended_on", self.ended_on, "the end")]
        {
            if let Some(date) = date
                && date < self.planted_on
            {
                return Err(Refusal::new(
                    field,
                    format!("{what} ({date}) cannot come before the planting ({})", self.planted_on),
                )
                .given(date)
                .accepted(format!("{} or a later day", self.planted_on))
                .example(self.planted_on.saturating_add(jiff::Span::new().days(90))));
            }
        }
        text::note("note", &self.note)
    }

    fn links(&self) -> Links {
        let crop = match self.crop {
            PlantedCrop::FarmCrop(id) => Some(id),
            PlantedCrop::Catalogue(_) => None,
        };
        Links { bed: Some(self.bed), crop, ..Links::default() }
    }
}
