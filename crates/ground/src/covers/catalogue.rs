//! Reading the table of covers, and finding one by its key or name.

use std::collections::HashMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::kinds::{Animals, Band, Ending, Family, GrowsIn, NitrogenFrom};
use super::species::{Hazard, HazardKind, KG_HA_PER_LB_AC, Range, Ratings, Species};
use crate::kit::{Provenance, Refusal, table};
use crate::water::salts::tolerance::SaltTolerance;

/// An inch in cm.
const CM_PER_IN: f64 = 2.54;

fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
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
