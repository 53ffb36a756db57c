//! A cover crop in a bed: what was sown, how it was ended, and what stood then.

use ground::covers::catalogue::find;
use ground::covers::mix::Sowing;
use ground::covers::nitrogen::{Stage, StandNitrogen};
use ground::covers::stand::{FrameArea, StandCover, StandHeight};
use ground::kit::Refusal;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// Seed of one cover on the bed, as it comes from the bag.
    pub struct SeedRate: "rate of seed", "kg/ha", 0.1 ..= 1000.0, example 90.0;
    /// What was cut from the frame, as it was weighed.
    pub struct CutMass: "mass cut", "kg", 0.0 ..= 10000.0, example 1.2;
}

/// Most covers in one mix.
pub const MOST_COVER_SEEDS: usize = 12;

/// A cover crop: one cover or a mix, in a bed or the equal beds of one record.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoverCrop {
    /// The bed, or the equal beds of one record.
    pub bed: EntryId,
    /// What was sown; of a mix every part.
    pub seeds: Vec<CoverSeed>,
    /// Day it was sown, or is to be sown.
    #[schemars(with = "String", example = &"2026-08-10")]
    pub sown_on: Date,
    /// Drilled in rows, or broadcast.
    pub sown: Sowing,
    /// Day by which it shall be ended.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>", example = &"2027-04-25")]
    pub end_by: Option<Date>,
    /// How it was ended.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ended: Option<CoverEnd>,
    /// What stood when it was ended.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stand: Option<CoverStand>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// One cover of what was sown.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoverSeed {
    /// Its key in the table of covers.
    pub cover: String,
    /// Seed from the bag.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rate_kg_ha: Option<SeedRate>,
}

/// The end of a cover.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoverEnd {
    /// The day.
    #[schemars(with = "String", example = &"2027-04-20")]
    pub on: Date,
    /// How.
    pub how: CoverEnding,
}

/// How a cover was ended, and where it is then.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CoverEnding {
    /// Turned in, with or without mowing first.
    TurnedIn,
    /// Mown and left on the ground.
    Mown,
    /// Rolled or crimped and left on the ground.
    Crimped,
    /// Covered with an opaque sheet and left on the ground.
    CoveredUp,
    /// Killed by frost or winter and left on the ground.
    Winterkilled,
    /// Mown and carried off.
    CarriedOff,
}

impl CoverEnding {
    /// Every way.
    pub const ALL: [Self; 6] =
        [Self::TurnedIn, Self::Mown, Self::Crimped, Self::CoveredUp, Self::Winterkilled, Self::CarriedOff];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::TurnedIn => "turned in",
            Self::Mown => "mown and left",
            Self::Crimped => "rolled or crimped and left",
            Self::CoveredUp => "covered with an opaque sheet and left",
            Self::Winterkilled => "killed by frost or winter and left",
            Self::CarriedOff => "mown and carried off",
        }
    }

    /// Its key, as in the JSON.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::TurnedIn => "turned_in",
            Self::Mown => "mown",
            Self::Crimped => "crimped",
            Self::CoveredUp => "covered_up",
            Self::Winterkilled => "winterkilled",
            Self::CarriedOff => "carried_off",
        }
    }
}

/// What stood when a cover was ended.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoverStand {
    /// Before or in flower.
    pub stage: Stage,
    /// How much stood.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub biomass: Option<CoverBiomass>,
    /// Nitrogen of its dry matter, by a laboratory.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nitrogen_percent: Option<StandNitrogen>,
}

/// How much of a cover stood.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "how", rename_all = "snake_case", deny_unknown_fields)]
pub enum CoverBiomass {
    /// Cut from frames and weighed.
    Cut {
        /// Mass of what was cut.
        kg: CutMass,
        /// Area it was cut from.
        area_m2: FrameArea,
        /// Was it dried before it was weighed?
        #[serde(default)]
        dried: bool,
    },
    /// Judged by height and by the ground it covered.
    Height {
        /// Height.
        height_cm: StandHeight,
        /// Ground covered.
        cover_percent: StandCover,
    },
}

impl CoverCrop {
    /// Did it grow on that day, as far as is known?
    #[must_use]
    pub fn grew_on(&self, date: Date) -> bool {
        self.sown_on <= date && self.ended.is_none_or(|end| date < end.on)
    }

    /// Looks every cover up in the table. Asked once, when a record is written: what stands in the book stays as it was
    /// written when the table changes.
    pub(crate) fn accept(&self) -> Result<(), Refusal> {
        for (at, seed) in self.seeds.iter().enumerate() {
            let field = format!("seeds[{at}].cover");
            let species = find(&field, &seed.cover)?;
            if species.key != seed.cover {
                return Err(Refusal::new(field, format!("the key of {} is {}", species.name, species.key))
                    .given(&seed.cover)
                    .accepted("the key of a cover of the table")
                    .example(&species.key));
            }
        }
        Ok(())
    }
}

impl Record for CoverCrop {
    const KIND: Kind = Kind::Cover;

    fn check(&self) -> Result<(), Refusal> {
        if self.seeds.is_empty() || self.seeds.len() > MOST_COVER_SEEDS {
            return Err(Refusal::new("seeds", format!("{} covers were given", self.seeds.len()))
                .given(self.seeds.len())
                .accepted(format!("1 to {MOST_COVER_SEEDS} covers"))
                .example("oats"));
        }
        for (at, seed) in self.seeds.iter().enumerate() {
            let field = format!("seeds[{at}].cover");
            text::name(&field, &seed.cover, "oats")?;
            if self.seeds[..at].iter().any(|other| other.cover == seed.cover) {
                return Err(Refusal::new(field, format!("{} stands in the mix twice", seed.cover))
                    .given(&seed.cover)
                    .accepted("each cover once, with all of its seed")
                    .example("oats"));
            }
        }
        let dates = [("end_by", self.end_by), ("ended.on", self.ended.map(|end| end.on))];
        for (field, date) in dates {
            if let Some(date) = date
                && date < self.sown_on
            {
                return Err(Refusal::new(
                    field,
                    format!("the end ({date}) cannot come before the sowing ({})", self.sown_on),
                )
                .given(date)
                .accepted(format!("{} or a later day", self.sown_on))
                .example(self.sown_on.saturating_add(jiff::Span::new().days(60))));
            }
        }
        text::note("note", &self.note)
    }

    fn links(&self) -> Links {
        Links { bed: Some(self.bed), ..Links::default() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_those_of_the_json() {
        for ending in CoverEnding::ALL {
            assert_eq!(serde_json::to_value(ending).unwrap(), ending.key());
        }
    }
}
