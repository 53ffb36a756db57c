//! Seed: of one cover, of mixes that fit, and of all that is to be sown on the farm.

use book::Snapshot;
use book::model::UnitSystem;
use ground::covers::choice::{Asked, Reason, SERVES_FROM, Standing};
use ground::covers::mix::{
    CoverMix, MixInput, MixPart, MixShare, Sowing, SownArea, Thickness, known_mixes, pure_rate_kg_ha, seed_g,
};
use ground::covers::species::{Figures, Range, Species};
use ground::kit::{Bounded, Method, Provenance};
use jiff::civil::Date;
use serde::Serialize;

use super::gaps::BedYear;
use super::tell::per_area;
use crate::feeding::mass;
use crate::words;

/// Seed of one cover for a bed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeedLine {
    /// Key of the cover.
    pub cover: String,
    /// Its name.
    pub name: String,
    /// Live seed, kg/ha.
    pub rate_kg_ha: f64,
    /// The same in the farm's measures.
    pub rate: String,
    /// For each bed of the record, kg.
    pub each_kg: f64,
    /// For all of them, kg.
    pub all_kg: f64,
    /// In units that are weighed out: "6 oz a bed, 3 lb in all".
    pub carried: String,
    /// Sowing depth, cm.
    pub depth_cm: Range,
    /// The same in the farm's measures.
    pub depth: String,
    /// Inoculant to buy; may be empty.
    pub inoculant: String,
    /// Is the rate recalled and not read?
    pub recalled: bool,
}

/// Seed of a cover at a share of its pure-stand rate.
pub(super) fn seed(
    species: &Species,
    share: f64,
    area_m2: f64,
    beds: u16,
    sowing: Sowing,
    thickness: Thickness,
    units: UnitSystem,
) -> SeedLine {
    let (range, figures) = match sowing {
        Sowing::Drilled => (species.drill_kg_ha, Figures::Drill),
        Sowing::Broadcast => (species.broadcast_kg_ha, Figures::Broadcast),
    };
    let rate = pure_rate_kg_ha(range, thickness);
    let all_kg = seed_g(rate, share, area_m2, 1.0, 0.0) / 1000.0;
    let each_kg = all_kg / f64::from(beds.max(1));
    let carried = if beds > 1 {
        format!("{} a bed, {} in all", mass(each_kg, units), mass(all_kg, units))
    } else {
        mass(all_kg, units)
    };
    SeedLine {
        cover: species.key.clone(),
        name: species.name.clone(),
        rate_kg_ha: rate * share,
        rate: per_area(rate * share, units),
        each_kg,
        all_kg,
        carried,
        depth_cm: species.depth_cm,
        depth: depth(species.depth_cm, units),
        inoculant: species.inoculant.clone(),
        recalled: species.provenance(figures) != Provenance::Read,
    }
}

fn depth(range: Range, units: UnitSystem) -> String {
    words::inches(range.low / 2.54, range.high / 2.54, units)
}

/// A mix that fits.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MixLine {
    /// Its key.
    pub key: String,
    /// Its name.
    pub name: String,
    /// What it is for.
    pub purpose: String,
    /// What to know; may be empty.
    pub note: String,
    /// Seed by cover.
    pub seeds: Vec<SeedLine>,
    /// Depth at which all come up, in the farm's measures; what to do where there is none.
    pub depth: String,
    /// Inoculants to buy.
    pub inoculants: Vec<String>,
}

/// Known mixes of which no part is ruled out and which together serve every purpose.
pub(super) fn mixes(
    order: &[Standing],
    asked: &Asked,
    bed: &BedYear,
    sowing: Sowing,
    thickness: Thickness,
    units: UnitSystem,
) -> Vec<MixLine> {
    let standing = |key: &str| order.iter().find(|standing| standing.species().key == key);
    let grows = |key: &str| {
        // A part may be in the mix for what it does before the other takes over.
        standing(key)
            .is_some_and(|found| !found.reasons.rules_out() && !found.reasons.has(Reason::MayBeShort))
    };
    known_mixes()
        .iter()
        .filter(|mix| mix.parts.iter().all(|(key, _)| grows(key)))
        .filter(|mix| {
            asked.purposes.iter().all(|purpose| {
                mix.parts
                    .iter()
                    .filter_map(|(key, _)| standing(key))
                    .any(|part| part.species().serves(purpose) >= SERVES_FROM)
            })
        })
        .filter_map(|mix| {
            let input = MixInput {
                parts: mix
                    .parts
                    .iter()
                    .map(|(cover, share)| {
                        Some(MixPart {
                            cover: cover.clone(),
                            share: MixShare::new(*share).ok()?,
                            pure_rate_kg_ha: None,
                            germination_percent: None,
                            purity_percent: None,
                        })
                    })
                    .collect::<Option<_>>()?,
                area_m2: SownArea::new(bed.area_m2.max(SownArea::MIN)).ok()?,
                sowing,
                thickness,
                extra_percent: None,
            };
            let whole = CoverMix::compute(&input).ok()?.value;
            Some(MixLine {
                key: mix.key.clone(),
                name: mix.name.clone(),
                purpose: mix.purpose.clone(),
                note: mix.note.clone(),
                seeds: mix
                    .parts
                    .iter()
                    .filter_map(|(key, share)| {
                        let species = standing(key)?.species();
                        Some(seed(species, *share, bed.area_m2, bed.beds, sowing, thickness, units))
                    })
                    .collect(),
                depth: whole.depth_cm.map_or_else(
                    || {
                        "no depth suits all: sow the big seed first and deeper, then the small on top"
                            .to_owned()
                    },
                    |range| depth(range, units),
                ),
                inoculants: whole.inoculants,
            })
        })
        .collect()
}

/// Seed to have for all covers that are written down to be sown.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeedToHave {
    /// The cover's name.
    pub name: String,
    /// In all, kg.
    pub kg: f64,
    /// The same as it is weighed.
    pub carried: String,
    /// Where: "40 lb on Beds 1 to 8, Lower field (10 August 2026)".
    pub lines: Vec<String>,
    /// Inoculant to buy; may be empty.
    pub inoculant: String,
    /// Some of it at the usual rate, since the record says none.
    pub at_usual_rate: bool,
}

/// The seed for covers whose sowing is still to come.
#[must_use]
pub fn seed_list(snapshot: &Snapshot, today: Date) -> Vec<SeedToHave> {
    let units = snapshot.farm.body.units;
    let mut list: Vec<SeedToHave> = Vec::new();
    for held in snapshot.covers.iter().filter(|held| held.body.sown_on > today) {
        let cover = &held.body;
        let Some(bed) = snapshot.bed(cover.bed) else { continue };
        let area_m2 = bed.body.area_m2();
        let alone = 1.0 / f64::from(u16::try_from(cover.seeds.len()).unwrap_or(1).max(1)).sqrt();
        for part in &cover.seeds {
            let Ok(species) = ground::covers::catalogue::find("cover", &part.cover) else { continue };
            let kg = match part.rate_kg_ha {
                Some(rate) => rate.get() * area_m2 / 10_000.0,
                None => {
                    seed(species, alone, area_m2, bed.body.count, cover.sown, Thickness::Usual, units).all_kg
                }
            };
            let place = snapshot.plot(bed.body.plot).map_or("", |plot| plot.body.name.as_str());
            let line =
                format!("{} on {}, {place} ({})", mass(kg, units), bed.body.name, words::day(cover.sown_on));
            let at = list.iter().position(|one| one.name == species.name).unwrap_or_else(|| {
                list.push(SeedToHave {
                    name: species.name.clone(),
                    kg: 0.0,
                    carried: String::new(),
                    lines: Vec::new(),
                    inoculant: species.inoculant.clone(),
                    at_usual_rate: false,
                });
                list.len() - 1
            });
            list[at].kg += kg;
            list[at].lines.push(line);
            list[at].at_usual_rate |= part.rate_kg_ha.is_none();
        }
    }
    for one in &mut list {
        one.carried = mass(one.kg, units);
    }
    list
}
