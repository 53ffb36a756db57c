//! What a cover that was ended holds, and what of its nitrogen the next crop finds.

use book::model::{CoverBiomass, CoverCrop, CoverEnding, CoverSeed, EntryId, UnitSystem};
use book::{Held, Snapshot};
use ground::covers::catalogue::find;
use ground::covers::expected::{
    DRY_SHARE, FRAMES_MAY_BE_OFF, HEIGHT_MAY_BE_OFF, grown_kg_ha, mix_nitrogen_percent, stand_kind,
};
use ground::covers::gap::Gap;
use ground::covers::kinds::{GrowsIn, NitrogenFrom};
use ground::covers::mix::{Sowing, Thickness, pure_rate_kg_ha};
use ground::covers::nitrogen::{Placed, Stage, TIES_UP_BELOW_PERCENT};
use ground::covers::species::{Range, Species};
use ground::covers::stand::{by_frame_kg_ha, by_height_kg_ha};
use ground::fertility::organic::amendment::residue_kg_t;
use ground::kit::{Bounded, Cite, Working};
use jiff::civil::Date;
use serde::Serialize;

use super::tell::{nitrogen_rate, per_area};
use super::year::{day_of_year, farm_year};

/// Yearly mean from which a place counts as warm for what is left on the ground, °C (our judgement).
const WARM_PLACE_C: f64 = 15.0;
/// Of a cover that winter killed so much may be gone before the next crop takes it up (our judgement).
const LOST_OVER_WINTER: f64 = 0.5;

/// The nitrogen of a cover that was ended.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoverNitrogen {
    /// The record.
    pub record: EntryId,
    /// What it was.
    pub name: String,
    /// Day it was ended.
    #[serde(serialize_with = "super::as_text")]
    pub ended_on: Date,
    /// The same in words.
    pub ended: String,
    /// Dry matter of the tops, kg/ha: low, middle, high.
    pub dry_matter_kg_ha: [f64; 3],
    /// How that is known.
    pub known_by: String,
    /// Was it weighed or judged where it stood?
    pub measured: bool,
    /// Nitrogen of the dry matter.
    pub nitrogen_percent: Range,
    /// Nitrogen in the tops, kg/ha: low, middle, high.
    pub total_kg_ha: [f64; 3],
    /// What the first season frees, kg/ha: low, middle, high.
    pub released_kg_ha: [f64; 3],
    /// Does it tie nitrogen up at first?
    pub ties_up: bool,
    /// Gained from the air, kept from the ground, or both.
    pub origin: &'static str,
    /// In sentences.
    pub lines: Vec<String>,
    /// The working.
    pub working: Working,
}

/// Is it left on the ground or in it?
pub(super) fn is_left(how: CoverEnding) -> bool {
    !matches!(how, CoverEnding::TurnedIn | CoverEnding::CarriedOff)
}

/// The parts of what was sown, each with its share of the pure-stand rate; a part without a rate has an equal share.
pub(super) fn shares(seeds: &[CoverSeed], sown: Sowing) -> Vec<(&'static Species, f64)> {
    seeds
        .iter()
        .filter_map(|seed| {
            let species = find("cover", &seed.cover).ok()?;
            let range = if sown == Sowing::Drilled { species.drill_kg_ha } else { species.broadcast_kg_ha };
            let pure = pure_rate_kg_ha(range, Thickness::Usual);
            Some((species, seed.rate_kg_ha.map_or(1.0, |rate| rate.get() / pure)))
        })
        .collect()
}

/// A weighted mean of a property over the parts.
fn weighed(parts: &[(&Species, f64)], of: impl Fn(&Species) -> f64) -> f64 {
    let total: f64 = parts.iter().map(|part| part.1).sum();
    parts.iter().map(|(species, share)| share * of(species)).sum::<f64>() / total.max(f64::MIN_POSITIVE)
}

/// The nitrogen of a cover; `None` while it stands, where it was carried off, or where none of its parts is known.
#[must_use]
pub fn cover_nitrogen(snapshot: &Snapshot, held: &Held<CoverCrop>) -> Option<CoverNitrogen> {
    let cover = &held.body;
    let end = cover.ended.filter(|end| end.how != CoverEnding::CarriedOff)?;
    let parts = shares(&cover.seeds, cover.sown);
    if parts.is_empty() {
        return None;
    }
    let (dry, known_by, measured) = dry_matter(snapshot, cover, end.on, &parts);
    let stand = cover.stand.as_ref();
    let stage = stand
        .map(|stand| stand.stage)
        .or((end.how == CoverEnding::Winterkilled).then_some(Stage::BeforeBloom));
    let percent = match (stand.and_then(|stand| stand.nitrogen_percent), stage) {
        (Some(lab), _) => Range { low: lab.get(), high: lab.get() },
        (None, Some(stage)) => mix_nitrogen_percent(&parts, stage)?,
        // Nobody said how far it was: anything from in flower to before it.
        (None, None) => Range {
            low: mix_nitrogen_percent(&parts, Stage::InBloom)?.low,
            high: mix_nitrogen_percent(&parts, Stage::BeforeBloom)?.high,
        },
    };
    let placed = match end.how {
        CoverEnding::TurnedIn => Placed::TurnedIn,
        _ if is_warm(snapshot) => Placed::LeftWarm,
        _ => Placed::LeftCool,
    };
    let total =
        [dry[0] * percent.low / 100.0, dry[1] * percent.middle() / 100.0, dry[2] * percent.high / 100.0];
    let (usual, careful) = (placed.first_season(), placed.careful());
    let ties_up = percent.low <= TIES_UP_BELOW_PERCENT;
    let lost = if end.how == CoverEnding::Winterkilled { LOST_OVER_WINTER } else { 1.0 };
    let mut released =
        [total[0] * careful * lost, total[1] * f64::midpoint(usual, careful), total[2] * usual];
    if ties_up {
        released[0] = 0.0;
        released[1] = 0.0;
    }
    let fixes = parts.iter().filter(|(species, _)| species.nitrogen_from == NitrogenFrom::Fixes).count();
    let mut found = CoverNitrogen {
        record: held.id,
        name: super::seeds_words(&cover.seeds),
        ended_on: end.on,
        ended: crate::words::day(end.on),
        dry_matter_kg_ha: dry,
        known_by,
        measured,
        nitrogen_percent: percent,
        total_kg_ha: total,
        released_kg_ha: released,
        ties_up,
        origin: match fixes {
            0 => "kept from the ground",
            all if all == parts.len() => "mostly gained from the air",
            _ => "partly gained from the air, partly kept from the ground",
        },
        lines: Vec::new(),
        working: Working::new(),
    };
    found.working = working(&found, placed, stage);
    found.lines = lines(&found, end.how, stand.is_some(), snapshot.farm.body.units);
    Some(found)
}

fn is_warm(snapshot: &Snapshot) -> bool {
    snapshot.normals().is_some_and(|normals| {
        let months = normals.body.months.iter();
        months.map(|month| f64::midpoint(month.tmax_c.get(), month.tmin_c.get())).sum::<f64>() / 12.0
            >= WARM_PLACE_C
    })
}

/// Dry matter, kg/ha, how it is known, and whether it was looked at where it stood.
fn dry_matter(
    snapshot: &Snapshot,
    cover: &CoverCrop,
    ended_on: Date,
    parts: &[(&'static Species, f64)],
) -> ([f64; 3], String, bool) {
    let within = |kg_ha: f64, share: f64| [kg_ha * (1.0 - share), kg_ha, kg_ha * (1.0 + share)];
    match cover.stand.as_ref().and_then(|stand| stand.biomass) {
        Some(CoverBiomass::Cut { kg, area_m2, dried: true }) => {
            let kg_ha = by_frame_kg_ha(1000.0 * kg.get(), area_m2.get());
            (within(kg_ha, FRAMES_MAY_BE_OFF), "frames that were cut, dried and weighed".to_owned(), true)
        }
        Some(CoverBiomass::Cut { kg, area_m2, dried: false }) => {
            let kg_ha = by_frame_kg_ha(1000.0 * kg.get(), area_m2.get());
            (
                DRY_SHARE.map(|share| share * kg_ha),
                "frames that were cut and weighed fresh, of which about a fifth is dry (common practice)"
                    .to_owned(),
                true,
            )
        }
        Some(CoverBiomass::Height { height_cm, cover_percent }) => {
            let covered = cover_percent.get() / 100.0;
            let by = |species: &Species| by_height_kg_ha(stand_kind(species), height_cm.get(), covered);
            // Below the height at which the rule begins it gives nothing: what a stand that low may hold at most.
            let low = parts.iter().any(|(species, _)| by(species).is_none());
            if low {
                let most = weighed(parts, |species| {
                    by_height_kg_ha(stand_kind(species), 20.4, covered).unwrap_or(0.0)
                });
                ([0.0, 0.5 * most, most], "its height, below that at which the rule begins".to_owned(), true)
            } else {
                let kg_ha = weighed(parts, |species| by(species).unwrap_or(0.0));
                (
                    within(kg_ha, HEIGHT_MAY_BE_OFF),
                    "its height and the ground it covered, a rough rule".to_owned(),
                    true,
                )
            }
        }
        None => {
            let growing = growing_d(snapshot, cover, ended_on);
            let of = |pick: fn(Range) -> f64| {
                weighed(parts, |species| {
                    pick(grown_kg_ha(
                        species,
                        if species.grows_in == GrowsIn::Cool { growing[0] } else { growing[1] },
                    ))
                })
            };
            let (low, high) = (of(|range| range.low), of(|range| range.high));
            (
                [low, f64::midpoint(low, high), high],
                "what such covers usually make in the days it had; nobody weighed it".to_owned(),
                false,
            )
        }
    }
}

/// Days warm and light enough, for cool-season and warm-season covers; the plain days where no weather is known.
fn growing_d(snapshot: &Snapshot, cover: &CoverCrop, ended_on: Date) -> [f64; 2] {
    let days = (ended_on - cover.sown_on).get_days().clamp(1, 730);
    let under_cover = snapshot
        .plot_of_bed(cover.bed)
        .and_then(|plot| snapshot.plot(plot))
        .is_some_and(|plot| plot.body.place.under_cover());
    match farm_year(snapshot, under_cover) {
        Ok(year) => {
            let gap = Gap::new(&year.year, day_of_year(cover.sown_on), u16::try_from(days).unwrap_or(730));
            [gap.cool_growing_d, gap.warm_growing_d]
        }
        Err(_) => [f64::from(days); 2],
    }
}

fn working(found: &CoverNitrogen, placed: Placed, stage: Option<Stage>) -> Working {
    let [low, middle, high] = found.dry_matter_kg_ha;
    let percent = found.nitrogen_percent;
    let stage = match stage {
        Some(Stage::BeforeBloom) => "before flowering",
        Some(Stage::InBloom) => "in flower",
        None => "stage not said",
    };
    let mut working = Working::new()
        .step(
            "nitrogen in the tops",
            "dry matter × nitrogen percent / 100",
            format!("{low:.0}, {middle:.0}, {high:.0} kg/ha × {:.2} to {:.2} % ({stage})", percent.low, percent.high),
            format!("{:.0}, {:.0}, {:.0} kg/ha", found.total_kg_ha[0], found.total_kg_ha[1], found.total_kg_ha[2]),
        )
        .cite(Cite::new("SantaCruzUnit", "nitrogen of dry matter by stage"))
        .step(
            "freed in the first season",
            "turned in or left in a warm place a half, left in a cool place a quarter; carefully a third and a fifth. The middle lies \
             between the two rules; nothing is counted on where the dry matter holds 1.5 % or less",
            format!("{} and {} of it", placed.first_season(), placed.careful()),
            format!(
                "{:.0}, {:.0}, {:.0} kg/ha",
                found.released_kg_ha[0], found.released_kg_ha[1], found.released_kg_ha[2]
            ),
        )
        .cite(Cite::new("SantaCruzUnit", "halves and quarters"));
    if placed == Placed::TurnedIn {
        let line = |percent: f64| middle / 1000.0 * residue_kg_t(percent);
        working = working
            .step(
                "beside it, the line by percent of nitrogen",
                "kilograms a tonne of dry matter, for covers turned in before summer vegetables",
                format!("{middle:.0} kg/ha of dry matter"),
                format!("{:.0} to {:.0} kg/ha", line(percent.low), line(percent.high)),
            )
            .cite(Cite::new("SullivanAndrews2012", "line by percent of nitrogen"));
    }
    working
}

fn lines(found: &CoverNitrogen, how: CoverEnding, looked_at: bool, units: UnitSystem) -> Vec<String> {
    let [low, middle, high] = found.dry_matter_kg_ha;
    let mut lines = vec![format!(
        "It held about {} of dry matter ({} to {}), by {}.",
        per_area(middle, units),
        per_area(low, units),
        per_area(high, units),
        found.known_by
    )];
    let [low, middle, high] = found.total_kg_ha;
    lines.push(format!(
        "In it stood about {} of nitrogen ({} to {}), {}.",
        nitrogen_rate(middle, units),
        nitrogen_rate(low, units),
        nitrogen_rate(high, units),
        found.origin
    ));
    let [low, middle, high] = found.released_kg_ha;
    if found.ties_up {
        lines.push(format!(
            "Count on none of it for the next crop at first: dry matter this poor in nitrogen ties some up for weeks. At best {} comes free in the season.",
            nitrogen_rate(high, units)
        ));
    } else {
        lines.push(format!(
            "The next crop may find about {} of it ({} to {}) in its first season.",
            nitrogen_rate(middle, units),
            nitrogen_rate(low, units),
            nitrogen_rate(high, units)
        ));
    }
    if how == CoverEnding::Winterkilled {
        lines.push("It died before the winter: part of what it held may wash out before spring, so the low end is halved (our judgement).".to_owned());
    }
    if !found.measured {
        lines.push("Cut, weigh and write down a frame before the next one is ended: it narrows this more than anything else.".to_owned());
    } else if !looked_at {
        lines.push("Say whether it was in flower: it tells how rich the dry matter was.".to_owned());
    }
    lines
}

/// The covers whose nitrogen a planting finds: ended before it, with no other planting between, at most eight months ago.
#[must_use]
pub fn for_planting(snapshot: &Snapshot, bed: EntryId, planted_on: Date) -> Vec<CoverNitrogen> {
    let since = planted_on.saturating_sub(jiff::Span::new().days(FREES_FOR_D));
    let earlier = snapshot
        .plantings_of(bed)
        .into_iter()
        .map(|held| held.body.planted_on)
        .filter(|day| *day < planted_on)
        .max();
    snapshot
        .covers_of(bed)
        .into_iter()
        .filter(|held| {
            held.body.ended.is_some_and(|end| {
                end.on <= planted_on && end.on >= since && earlier.is_none_or(|last| end.on > last)
            })
        })
        .filter_map(|held| cover_nitrogen(snapshot, held))
        .collect()
}

/// What was ended longer ago has freed what it would (our judgement).
const FREES_FOR_D: i64 = 240;
