//! A sampling plan: where on a plot to take soil, how deep, and how many cores to a bag.

use ground::kit::{Bounded, Refusal};
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::plan::{Frame, Point};
use super::sample::SampleDepth;
use super::{EntryId, Kind, Links, Record, text};

/// A sampling plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SamplingPlan {
    /// The plot it is for.
    pub plot: EntryId,
    /// What it is called.
    pub name: String,
    /// Day it was made.
    #[schemars(with = "String", example = &"2026-04-12")]
    pub made_on: Date,
    /// What the soil is wanted for.
    pub purpose: SamplingPurpose,
    /// How its points were laid out.
    pub design: Design,
    /// What chance was started from: the same seed lays out the same points.
    pub seed: u64,
    /// What the numbers of its places mean.
    pub frame: Frame,
    /// Its points, in the order in which they are walked; none where the plot is not drawn.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<SamplingPoint>,
    /// Top of the layer to take.
    pub from_cm: SampleDepth,
    /// Bottom of that layer.
    pub to_cm: SampleDepth,
    /// Cores that go into one bag.
    pub cores_per_bag: u16,
    /// Bags.
    pub bags: u16,
    /// The plan whose points it takes again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub repeats: Option<EntryId>,
    /// Anything else.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A point of a sampling plan.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SamplingPoint {
    /// Its number, from 1.
    pub number: u16,
    /// Its place.
    pub at: Point,
    /// The part of the plot it stands for, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stratum: Option<u16>,
    /// The bag it goes into, from 1; a bag of its own where nothing is said and there is a bag for each.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bag: Option<u16>,
}

/// What the soil is wanted for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SamplingPurpose {
    /// Acidity and nutrients for the laboratory.
    Fertility,
    /// Nitrate at depth.
    Nitrate,
    /// Sand, silt and clay.
    Texture,
    /// Organic matter.
    OrganicMatter,
    /// Salts, in tunnels above all.
    Salts,
    /// Packing and roots: probe, cores, spade.
    Structure,
}

impl SamplingPurpose {
    /// Every purpose, for lists to choose from.
    pub const ALL: [Self; 6] =
        [Self::Fertility, Self::Nitrate, Self::Texture, Self::OrganicMatter, Self::Salts, Self::Structure];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Fertility => "acidity and nutrients",
            Self::Nitrate => "nitrate",
            Self::Texture => "sand, silt and clay",
            Self::OrganicMatter => "organic matter",
            Self::Salts => "salts",
            Self::Structure => "packing and roots",
        }
    }
}

/// How points are laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Design {
    /// Chance, within compact parts of equal area.
    StratifiedRandom,
    /// A zigzag walk.
    Zigzag,
    /// Spread as evenly as the ground allows.
    SpatialCoverage,
    /// The points of an earlier plan.
    Repeat,
    /// Set by hand.
    ByHand,
}

impl Design {
    /// Every design, for lists to choose from.
    pub const ALL: [Self; 5] =
        [Self::StratifiedRandom, Self::Zigzag, Self::SpatialCoverage, Self::Repeat, Self::ByHand];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::StratifiedRandom => "stratified random",
            Self::Zigzag => "zigzag walk",
            Self::SpatialCoverage => "spatial coverage",
            Self::Repeat => "the points of an earlier plan",
            Self::ByHand => "set by hand",
        }
    }
}

/// Most points of a plan.
const MOST: u16 = 500;

impl Record for SamplingPlan {
    const KIND: Kind = Kind::SamplingPlan;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "Lower field, spring")?;
        text::note("note", &self.note)?;
        if self.to_cm.get() <= self.from_cm.get() {
            return Err(Refusal::new("to_cm", "the bottom of the layer must be deeper than its top")
                .given(self.to_cm.get())
                .accepted(format!("more than {} cm", self.from_cm.get()))
                .example(self.from_cm.get() + 20.0));
        }
        text::count("cores_per_bag", self.cores_per_bag, 1, MOST, 15)?;
        text::count("bags", self.bags, 1, MOST, 1)?;
        if self.points.len() > usize::from(MOST) {
            return Err(Refusal::new("points", "these are more points than anyone walks")
                .given(self.points.len())
                .accepted(format!("at most {MOST}"))
                .example("20"));
        }
        let mut numbers = std::collections::BTreeSet::new();
        for point in &self.points {
            text::count("number", point.number, 1, 10_000, 1).map_err(|refusal| refusal.inside("points"))?;
            if !numbers.insert(point.number) {
                return Err(Refusal::new("points", "two points have the same number")
                    .given(point.number)
                    .accepted("a number of its own for each point")
                    .example("1, 2, 3"));
            }
            if let Some(bag) = point.bag {
                text::count("bag", bag, 1, self.bags, 1).map_err(|refusal| refusal.inside("points"))?;
            }
            self.frame.check(point.at).map_err(|refusal| refusal.inside("points"))?;
        }
        Ok(())
    }

    fn links(&self) -> Links {
        Links { plot: Some(self.plot), sampling_plan: self.repeats, ..Links::default() }
    }
}
