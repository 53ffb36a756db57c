//! The covers of the table, in metric units, with how each figure is known.

use std::collections::HashMap;
use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::kinds::{
    Animal, Animals, Band, Bands, Ending, Endings, Families, Family, GrowsIn, NitrogenFrom, Purpose,
};
use crate::kit::{Provenance, Refusal, table};
use crate::water::salts::tolerance::SaltTolerance;

/// A pound per acre in kg/ha: pound / acre of 43 560 ft², exact by definition.
pub const KG_HA_PER_LB_AC: f64 = 0.453_592_37 / 0.404_685_642_24;
/// An inch in cm.
const CM_PER_IN: f64 = 2.54;

fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}

/// Least and most.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Range {
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
}

impl Range {
    fn times(self, factor: f64) -> Self {
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

#[derive(Deserialize)]
struct Row {
    key: String,
    name: String,
    scientific_name: String,
    family: Family,
    group: String,
    season: GrowsIn,
    life: String,
    drill_low_lb_ac: f64,
    drill_high_lb_ac: f64,
    broadcast_low_lb_ac: f64,
    broadcast_high_lb_ac: f64,
    depth_low_in: f64,
    depth_high_in: f64,
    germination_f: f64,
    winterkill_f: f64,
    useful_low_d: f64,
    useful_high_d: f64,
    dry_matter_low_lb_ac: f64,
    dry_matter_high_lb_ac: f64,
    nitrogen: NitrogenFrom,
    n_low_lb_ac: f64,
    n_high_lb_ac: f64,
    carbon_nitrogen_low: f64,
    carbon_nitrogen_high: f64,
    breaks_pan: u8,
    loosens_top: u8,
    feeds_nitrogen: u8,
    holds_nitrogen: u8,
    protects: u8,
    smothers: u8,
    covers_quickly: u8,
    builds_organic: u8,
    stands_wet: u8,
    stands_dry: u8,
    stands_heat: u8,
    stands_shade: u8,
    stands_acid: u8,
    stands_poor: u8,
    ph_low: f64,
    ph_high: f64,
    best_in: String,
    poor_in: String,
    avoid_families: String,
    hinders_small_seed: bool,
    ended_by: String,
    inoculant: String,
    read: String,
    sources: String,
}

#[derive(Deserialize)]
struct HazardRow {
    key: String,
    kind: HazardKind,
    animals: String,
    provenance: Provenance,
    words: String,
}

#[derive(Deserialize)]
struct SaltRow {
    key: String,
    threshold_ds_m: f64,
    slope_percent: f64,
}

/// The kinds of a list with semicolons. The tables are compiled in; a wrong name would fail every test.
fn listed<T: serde::de::DeserializeOwned>(text: &str) -> Vec<T> {
    text.split(';')
        .map(str::trim)
        .filter(|name| !name.is_empty())
        .map(|name| match serde_json::from_value(serde_json::Value::from(name)) {
            Ok(kind) => kind,
            Err(error) => unreachable!("a table of covers: {error}"),
        })
        .collect()
}

static CATALOGUE: LazyLock<Vec<Species>> = LazyLock::new(|| {
    let hazards: Vec<HazardRow> = table::rows("hazards.csv", include_str!("data/hazards.csv"));
    let salts: Vec<SaltRow> = table::rows("salts.csv", include_str!("data/salts.csv"));
    table::rows::<Row>("species.csv", include_str!("data/species.csv"))
        .into_iter()
        .map(|row| {
            let hazards: Vec<Hazard> = hazards
                .iter()
                .filter(|hazard| hazard.key == row.key)
                .map(|hazard| Hazard {
                    kind: hazard.kind,
                    animals: listed(&hazard.animals),
                    words: hazard.words.clone(),
                    provenance: hazard.provenance,
                })
                .collect();
            let salts = salts.iter().find(|salt| salt.key == row.key).map(|salt| SaltTolerance {
                threshold_ds_m: salt.threshold_ds_m,
                slope_percent_per_ds_m: salt.slope_percent,
            });
            species(row, hazards, salts)
        })
        .collect()
});

fn species(row: Row, hazards: Vec<Hazard>, salts: Option<SaltTolerance>) -> Species {
    let of = |kind| -> Animals {
        hazards
            .iter()
            .filter(|hazard| hazard.kind == kind)
            .flat_map(|hazard| hazard.animals.iter().copied())
            .collect()
    };
    let range = |low, high| Range { low, high };
    Species {
        deadly_to: of(HazardKind::Deadly),
        harms: of(HazardKind::Harmful),
        hazards,
        salts,
        drill_kg_ha: range(row.drill_low_lb_ac, row.drill_high_lb_ac).times(KG_HA_PER_LB_AC),
        broadcast_kg_ha: range(row.broadcast_low_lb_ac, row.broadcast_high_lb_ac).times(KG_HA_PER_LB_AC),
        depth_cm: range(row.depth_low_in, row.depth_high_in).times(CM_PER_IN),
        germination_c: celsius(row.germination_f),
        winterkill_c: celsius(row.winterkill_f),
        useful_d: range(row.useful_low_d, row.useful_high_d),
        dry_matter_kg_ha: range(row.dry_matter_low_lb_ac, row.dry_matter_high_lb_ac).times(KG_HA_PER_LB_AC),
        nitrogen_kg_ha: range(row.n_low_lb_ac, row.n_high_lb_ac).times(KG_HA_PER_LB_AC),
        carbon_nitrogen: range(row.carbon_nitrogen_low, row.carbon_nitrogen_high),
        ph: range(row.ph_low, row.ph_high),
        ratings: Ratings {
            breaks_pan: row.breaks_pan,
            loosens_top: row.loosens_top,
            feeds_nitrogen: row.feeds_nitrogen,
            holds_nitrogen: row.holds_nitrogen,
            protects: row.protects,
            smothers: row.smothers,
            covers_quickly: row.covers_quickly,
            builds_organic: row.builds_organic,
            stands_wet: row.stands_wet,
            stands_dry: row.stands_dry,
            stands_heat: row.stands_heat,
            stands_shade: row.stands_shade,
            stands_acid: row.stands_acid,
            stands_poor: row.stands_poor,
        },
        best_in: listed::<Band>(&row.best_in).into_iter().collect(),
        poor_in: listed::<Band>(&row.poor_in).into_iter().collect(),
        avoid: listed::<Family>(&row.avoid_families).into_iter().collect(),
        ended_by: listed::<Ending>(&row.ended_by).into_iter().collect(),
        read: listed(&row.read),
        sources: row.sources.split(';').map(str::to_owned).collect(),
        key: row.key,
        name: row.name,
        scientific_name: row.scientific_name,
        family: row.family,
        group: row.group,
        grows_in: row.season,
        life: row.life,
        nitrogen_from: row.nitrogen,
        hinders_small_seed: row.hinders_small_seed,
        inoculant: row.inoculant,
    }
}

static BY_KEY: LazyLock<HashMap<&'static str, &'static Species>> =
    LazyLock::new(|| CATALOGUE.iter().map(|one| (one.key.as_str(), one)).collect());

/// Every cover, in the order of the table.
#[must_use]
pub fn catalogue() -> &'static [Species] {
    &CATALOGUE
}

/// The cover with a key; capitals, spaces and underscores do not matter, and its name will do.
///
/// # Errors
/// An unknown cover, with the nearest keys.
pub fn find(field: &str, key: &str) -> Result<&'static Species, Refusal> {
    let plain = key.trim().to_lowercase().replace([' ', '_'], "-");
    let named = || CATALOGUE.iter().find(|one| one.name.to_lowercase().replace(' ', "-") == plain);
    if let Some(found) = BY_KEY.get(plain.as_str()).copied().or_else(named) {
        return Ok(found);
    }
    let given: String = key.chars().take(40).collect();
    let parts: Vec<&str> = plain.split('-').filter(|part| part.len() > 2).take(8).collect();
    let near: Vec<&str> = CATALOGUE
        .iter()
        .map(|one| one.key.as_str())
        .filter(|known| parts.iter().any(|part| known.contains(part)))
        .take(4)
        .collect();
    let near = if near.is_empty() { vec!["rye-cereal", "oats", "buckwheat"] } else { near };
    Err(Refusal::new(
        field,
        format!("no cover is called \u{201c}{given}\u{201d}; there are {}", near.join(", ")),
    )
    .given(given)
    .accepted(format!("one of the {} covers of the table", CATALOGUE.len()))
    .example(near[0]))
}
