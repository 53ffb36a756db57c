//! The covers of the table, in metric units, with how each figure is known.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::kinds::{Animal, Animals, Bands, Endings, Families, Family, GrowsIn, NitrogenFrom, Purpose};
use crate::kit::Provenance;
use crate::water::salts::tolerance::SaltTolerance;

/// A pound per acre in kg/ha: pound / acre of 43 560 ft², exact by definition.
pub const KG_HA_PER_LB_AC: f64 = 0.453_592_37 / 0.404_685_642_24;
/// Least and most.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Range {
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
}

impl Range {
    pub(super) fn times(self, factor: f64) -> Self {
        Self { low: self.low * factor, high: self.high * factor }
    }

    /// The middle.
    #[must_use]
    pub fn middle(self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
}

/// Groups of figures whose origin is told together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Figures {
    /// Rates drilled.
    Drill,
    /// Rates broadcast.
    Broadcast,
    /// Sowing depth.
    Depth,
    /// Least warmth to come up.
    Germination,
    /// Cold that kills it.
    Winterkill,
    /// Days until it serves.
    Days,
    /// Dry matter.
    DryMatter,
    /// Nitrogen in the stand.
    Nitrogen,
    /// Carbon to nitrogen.
    CarbonNitrogen,
    /// Acidity.
    Ph,
    /// Texture.
    Texture,
    /// Ratings of service and tolerance.
    Ratings,
}

/// Ratings, 0 poor, 1 fair, 2 good, 3 very good, 4 excellent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Ratings {
    /// Roots through a hard layer.
    pub breaks_pan: u8,
    /// Crumbs in the topsoil.
    pub loosens_top: u8,
    /// Nitrogen from the air.
    pub feeds_nitrogen: u8,
    /// Nitrogen kept.
    pub holds_nitrogen: u8,
    /// Ground kept from rain and wind.
    pub protects: u8,
    /// Weeds kept down.
    pub smothers: u8,
    /// Covers soon.
    pub covers_quickly: u8,
    /// Much and lasting residue.
    pub builds_organic: u8,
    /// Stands wet ground.
    pub stands_wet: u8,
    /// Stands drought.
    pub stands_dry: u8,
    /// Stands heat.
    pub stands_heat: u8,
    /// Stands shade.
    pub stands_shade: u8,
    /// Stands acid ground.
    pub stands_acid: u8,
    /// Stands poor ground.
    pub stands_poor: u8,
}

/// A cover crop.
#[derive(Debug, Clone, PartialEq)]
pub struct Species {
    /// Key in the table.
    pub key: String,
    /// Its name.
    pub name: String,
    /// Its botanical name.
    pub scientific_name: String,
    /// Its family.
    pub family: Family,
    /// Grass, legume, brassica or other broadleaf.
    pub group: String,
    /// When it grows.
    pub grows_in: GrowsIn,
    /// Annual, biennial or perennial.
    pub life: String,
    /// Seed drilled, kg/ha of pure live seed.
    pub drill_kg_ha: Range,
    /// Seed broadcast, kg/ha.
    pub broadcast_kg_ha: Range,
    /// Sowing depth, cm.
    pub depth_cm: Range,
    /// Soil temperature at which it comes up, °C.
    pub germination_c: f64,
    /// Air temperature that kills an established stand without snow, °C, give or take 3 °C.
    pub winterkill_c: f64,
    /// Days from sowing until it serves.
    pub useful_d: Range,
    /// Dry matter of the tops, kg/ha.
    pub dry_matter_kg_ha: Range,
    /// Where its nitrogen is from.
    pub nitrogen_from: NitrogenFrom,
    /// Nitrogen in the stand at its end, kg/ha.
    pub nitrogen_kg_ha: Range,
    /// Carbon to nitrogen, young to flowering.
    pub carbon_nitrogen: Range,
    /// What it does and stands.
    pub ratings: Ratings,
    /// Acidity it grows in.
    pub ph: Range,
    /// Textures it likes.
    pub best_in: Bands,
    /// Textures it fails in.
    pub poor_in: Bands,
    /// Families that should not stand next to it in the rotation.
    pub avoid: Families,
    /// Does it hold back small seed sown after it?
    pub hinders_small_seed: bool,
    /// What ends it.
    pub ended_by: Endings,
    /// Inoculant group of a legume; may be empty.
    pub inoculant: String,
    /// Salt tolerance, where something is known.
    pub salts: Option<SaltTolerance>,
    /// What it may do.
    pub hazards: Vec<Hazard>,
    /// Animals that it may kill.
    pub deadly_to: Animals,
    /// Animals that it may harm.
    pub harms: Animals,
    /// Groups of figures that were read; the rest is recalled.
    pub read: Vec<Figures>,
    /// Keys of its sources in the bibliography.
    pub sources: Vec<String>,
}

impl Species {
    /// How a group of figures is known.
    #[must_use]
    pub fn provenance(&self, figures: Figures) -> Provenance {
        if self.read.contains(&figures) { Provenance::Read } else { Provenance::Recalled }
    }

    /// How well it serves a purpose, 0 to 4.
    #[must_use]
    pub fn serves(&self, purpose: Purpose) -> u8 {
        let r = &self.ratings;
        match purpose {
            Purpose::BreakPan => r.breaks_pan,
            Purpose::LoosenTop => r.loosens_top,
            Purpose::FeedNitrogen => r.feeds_nitrogen,
            Purpose::HoldNitrogen => r.holds_nitrogen,
            Purpose::Protect => r.protects,
            Purpose::Smother => r.smothers,
            Purpose::CoverQuickly => r.covers_quickly,
            Purpose::BuildOrganic => r.builds_organic,
            Purpose::DryWetSpot => r.stands_wet,
            Purpose::StandHeat => r.stands_heat,
        }
    }
}

/// What kind of harm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum HazardKind {
    /// May kill the animals named.
    Deadly,
    /// May harm the animals named.
    Harmful,
    /// May harm people.
    People,
    /// May become a weed.
    Weed,
    /// What follows it must know.
    NextCrop,
    /// Carries pests and diseases.
    Disease,
}

/// One hazard.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Hazard {
    /// What kind.
    pub kind: HazardKind,
    /// Animals it concerns.
    pub animals: Vec<Animal>,
    /// In a sentence.
    pub words: String,
    /// How it is known.
    pub provenance: Provenance,
}
