//! The question: many beds, what each needs and may have, and the materials that can be had.

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::carried::Carried;
use crate::kit::{Bounded, Refusal};

crate::quantity! {
    /// Mass of something to spread or brought by it.
    pub struct Kilograms: "mass", "kg", 0.0 ..= 10_000_000.0, example 12.5;
    /// A bag, or a load of what is sold loose.
    pub struct PackKg: "weight of a pack", "kg", 0.001 ..= 100_000.0, example 25.0;
    /// Money, in the farm's own.
    pub struct Price: "price", "", 0.0 ..= 1_000_000.0, example 24.5;
    /// Content of a material, kg in each kg of it as it is spread. Burnt lime neutralizes 1.78 times its weight.
    pub struct ContentKgKg: "content", "kg/kg", 0.0 ..= 2.0, example 0.46;
    /// Area of a bed.
    pub struct BedAreaM2: "area", "m²", 0.01 ..= 1_000_000.0, example 28.0;
    /// Gap to the lower bound at which a plan is good enough.
    pub struct GapPercent: "gap to the least possible cost", "%", 0.0 ..= 50.0, example 0.5;
}

/// A material that can be spread.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BlendMaterial {
    /// Its name, once in the list.
    pub name: String,
    /// What a kg of it carries, as it is spread, kg/kg; nitrogen as the share the crop can have.
    pub content_kg_kg: BTreeMap<Carried, ContentKgKg>,
    /// A bag or a load; only whole ones are bought.
    pub pack_kg: PackKg,
    /// Price of one.
    pub price_per_pack: Price,
    /// What lies in the shed already; it costs nothing more.
    #[serde(default = "none_kg")]
    pub in_hand_kg: Kilograms,
    /// Most packs that can be had. Without it as many as wanted, 0 for what is not to be bought.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most_packs: Option<u32>,
    /// Whether organic rules allow it.
    #[serde(default)]
    pub organic: bool,
    /// Price of carrying and spreading a kg: keeps a plan from spreading what is of no use.
    #[serde(default = "no_price")]
    pub spreading_price_per_kg: Price,
}

/// One thing a bed needs or may have only so much of, in kg for the whole bed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BedNeed {
    /// What.
    pub carried: Carried,
    /// What is wanted; 0 for a mere limit.
    pub target_kg: Kilograms,
    /// Less is refused. Without it, the target.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_least_kg: Option<Kilograms>,
    /// More is refused. Without it, there is no upper limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_most_kg: Option<Kilograms>,
    /// What each kg short of the target counts.
    #[serde(default = "no_price")]
    pub price_under_per_kg: Price,
    /// What each kg beyond the target counts.
    #[serde(default = "no_price")]
    pub price_over_per_kg: Price,
}

/// A bed with its needs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BlendBed {
    /// Its name, once in the list.
    pub name: String,
    /// Its area.
    pub area_m2: BedAreaM2,
    /// Needs and limits, each carried thing once.
    pub needs: Vec<BedNeed>,
    /// Whether only materials that organic rules allow may go on it.
    #[serde(default)]
    pub organic_only: bool,
    /// Materials that must not go on it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub never: Vec<String>,
    /// Most materials on this bed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most_materials: Option<u32>,
}

/// The whole question. Beds whose needs for each m² are the same are given the same mixture.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BlendProblem {
    /// Materials, in hand or to be bought.
    pub materials: Vec<BlendMaterial>,
    /// Beds.
    pub beds: Vec<BlendBed>,
}

fn none_kg() -> Kilograms {
    Kilograms::literal(0.0)
}

fn no_price() -> Price {
    Price::literal(0.0)
}

/// More than this in one question is refused: it would not be answered in a person's time.
pub const MOST_BEDS: usize = 1000;
/// Most materials in one question.
pub const MOST_MATERIALS: usize = 120;

impl BedNeed {
    /// Least that is accepted, kg.
    #[must_use]
    pub fn low_kg(&self) -> f64 {
        self.at_least_kg.map_or(self.target_kg.get(), Bounded::get)
    }

    /// Most that is accepted, kg.
    #[must_use]
    pub fn high_kg(&self) -> Option<f64> {
        self.at_most_kg.map(Bounded::get)
    }
}

impl BlendProblem {
    /// Refuses what contradicts itself: a name twice, an unknown name, limits that cross.
    pub fn check(&self) -> Result<(), Refusal> {
        if self.materials.is_empty() || self.materials.len() > MOST_MATERIALS {
            return Err(Refusal::new(
                "materials",
                format!(
                    "a plan takes 1 to {MOST_MATERIALS} materials, but {} were given",
                    self.materials.len()
                ),
            )
            .given(self.materials.len())
            .accepted(format!("1 to {MOST_MATERIALS}"))
            .example("urea and limestone"));
        }
        if self.beds.is_empty() || self.beds.len() > MOST_BEDS {
            return Err(Refusal::new(
                "beds",
                format!("a plan takes 1 to {MOST_BEDS} beds, but {} were given", self.beds.len()),
            )
            .given(self.beds.len())
            .accepted(format!("1 to {MOST_BEDS}"))
            .example("one bed"));
        }
        once("materials", self.materials.iter().map(|material| material.name.as_str()))?;
        once("beds", self.beds.iter().map(|bed| bed.name.as_str()))?;
        for (at, bed) in self.beds.iter().enumerate() {
            bed.check(&self.materials).map_err(|refusal| refusal.inside(&format!("beds[{at}]")))?;
        }
        Ok(())
    }
}

impl BlendBed {
    fn check(&self, materials: &[BlendMaterial]) -> Result<(), Refusal> {
        let mut seen = BTreeSet::new();
        for (at, need) in self.needs.iter().enumerate() {
            let field = format!("needs[{at}]");
            if !seen.insert(need.carried) {
                return Err(Refusal::new(
                    format!("{field}.carried"),
                    format!("{} is asked for twice on {}", need.carried.words(), self.name),
                )
                .given(need.carried.words())
                .accepted("each once")
                .example("one line with target, least and most"));
            }
            let target = need.target_kg.get();
            if need.low_kg() > target {
                return Err(Refusal::new(
                    format!("{field}.at_least_kg"),
                    format!(
                        "the least {} of {} is above what is wanted: {} kg and {target} kg",
                        need.carried.words(),
                        self.name,
                        need.low_kg()
                    ),
                )
                .given(need.low_kg())
                .accepted(format!("0 to {target} kg"))
                .example(target));
            }
            if need.high_kg().is_some_and(|high| high < target) {
                let high = need.high_kg().unwrap_or_default();
                return Err(Refusal::new(
                    format!("{field}.at_most_kg"),
                    format!(
                        "the most {} of {} is below what is wanted: {high} kg and {target} kg",
                        need.carried.words(),
                        self.name
                    ),
                )
                .given(high)
                .accepted(format!("{target} kg or more"))
                .example(target));
            }
        }
        for (at, name) in self.never.iter().enumerate() {
            if !materials.iter().any(|material| material.name == *name) {
                return Err(Refusal::new(
                    format!("never[{at}]"),
                    format!("there is no material called \u{201c}{name}\u{201d}"),
                )
                .given(name)
                .accepted("the name of a material in the list")
                .example(materials.first().map_or("", |material| material.name.as_str())));
            }
        }
        if self.most_materials == Some(0) {
            return Err(Refusal::new(
                "most_materials",
                "a bed that may have no material cannot be planned for",
            )
            .given(0)
            .accepted("1 or more, or left out")
            .example(4));
        }
        Ok(())
    }

    /// Whether `material` may go on this bed.
    #[must_use]
    pub fn takes(&self, material: &BlendMaterial) -> bool {
        (material.organic || !self.organic_only) && !self.never.contains(&material.name)
    }
}

fn once<'a>(list: &str, names: impl Iterator<Item = &'a str>) -> Result<(), Refusal> {
    let mut seen = BTreeSet::new();
    for (at, name) in names.enumerate() {
        if name.trim().is_empty() {
            return Err(Refusal::new(format!("{list}[{at}].name"), "it has no name")
                .given(name)
                .example("North 1"));
        }
        if !seen.insert(name) {
            return Err(Refusal::new(
                format!("{list}[{at}].name"),
                format!("the name \u{201c}{name}\u{201d} stands twice"),
            )
            .given(name)
            .accepted("each name once")
            .example(format!("{name} 2")));
        }
    }
    Ok(())
}
