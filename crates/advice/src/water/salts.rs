//! Salts of a plot: what a reading means, what it costs, where they come from and how to wash them down.

use book::model::seen::{Salinity, SalinityExtract};
use book::model::{Delivery, EntryId, PlantedCrop, Seen, WaterSupply};
use book::{Held, Snapshot};
use ground::climate::crops::find;
use ground::kit::{Bounded, Method, Spread};
use ground::water::salts::irrigation_water::WaterReaches;
use ground::water::salts::irrigation_water_method::{IrrigationWaterHazard, WaterAnalysis};
use ground::water::salts::leaching::{
    LeachingRequirement, WateringManner, leaching_frequent, leaching_surface,
};
use ground::water::salts::reclamation::{WashingManner, washing_water};
use ground::water::salts::tolerance::{CropTolerance, crop_tolerance};
use jiff::civil::Date;
use serde::Serialize;

use super::soils::Soils;
use super::tunnel::{Tunnel, tunnel};
use crate::lab_report::salts_seen;
use crate::salt_reading::{extracts, range};

/// Crops told where none of this plot is in the table.
const USUAL_CROPS: [&str; 5] = ["bean", "carrot", "lettuce", "tomato", "spinach"];
/// Yield that leaching is to keep, percent.
const KEPT_YIELD: f64 = 90.0;

/// A reading of salts.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SaltReading {
    /// Day.
    pub on: Date,
    /// As it was read, dS/m.
    pub ec_ds_m: f64,
    /// In which extract.
    pub extract: SalinityExtract,
    /// The saturation extract, dS/m, over what the ground may be and all published lines.
    pub saturation_ds_m: Spread,
    /// How many published lines there are, and how many of them were recalled.
    pub lines: [u32; 2],
}

/// What salts cost a crop.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CropAtSalts {
    /// The crop.
    pub crop: String,
    /// Does it stand here?
    pub planted_here: bool,
    /// Conductivity from which it yields less, dS/m.
    pub threshold_ds_m: f64,
    /// Yield over that without salts, percent; where the salts were measured.
    pub yield_percent: Option<Spread>,
}

/// A hazard of the water.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WaterHazard {
    /// What.
    pub what: &'static str,
    /// The figure it is rated by.
    pub value: f64,
    /// How far it restricts the use.
    pub words: &'static str,
    /// Is it restricted at all?
    pub restricted: bool,
}

/// A supply of water and its salts.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SupplySalts {
    /// The record.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// Its conductivity.
    pub ec_ds_m: Option<f64>,
    /// Hazards that its analysis allows to rate.
    pub hazards: Vec<WaterHazard>,
    /// The crop the leaching is for.
    pub leaching_for: Option<String>,
    /// Share of the water that must pass below the roots, 0 to 1; nothing where it is not known or none is
    /// enough.
    pub leaching_share: Option<f64>,
    /// No leaching is enough for that crop.
    pub too_salty: bool,
}

/// Water to wash salts down.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Washing {
    /// EC that is wanted, dS/m.
    pub wanted_ds_m: f64,
    /// Depth washed, cm.
    pub depth_cm: f64,
    /// Water that must drain through, mm, put on in pulses or by sprinklers.
    pub water_mm: Spread,
    /// Odds that washing is needed at all.
    pub odds_needed: f64,
}

/// Salts of a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Salts {
    /// The latest reading.
    pub reading: Option<SaltReading>,
    /// What salts cost crops.
    pub crops: Vec<CropAtSalts>,
    /// Where the water comes from.
    pub supplies: Vec<SupplySalts>,
    /// Washing them down, where they are above what the crops bear.
    pub washing: Option<Washing>,
    /// The yearly arithmetic of covered ground.
    pub tunnel: Option<Tunnel>,
    /// Cautions.
    pub cautions: Vec<&'static str>,
}

/// The latest reading of salts on a plot.
#[must_use]
pub fn latest_reading(snapshot: &Snapshot, plot: EntryId) -> Option<(Date, Salinity)> {
    snapshot.evidence(plot).filter_map(|held| Some((held.body.seen_on, salts_seen(&held.body)?))).last()
}

/// Rows of the tolerance table for the crops that stand on a plot or stood there in the last year.
fn planted(snapshot: &Snapshot, plot: EntryId, today: Date) -> Vec<&'static CropTolerance> {
    let beds: Vec<EntryId> =
        snapshot.beds.iter().filter(|bed| bed.body.plot == plot).map(|bed| bed.id).collect();
    let lately = today.saturating_sub(jiff::Span::new().days(365));
    let mut rows: Vec<&'static CropTolerance> = snapshot
        .plantings
        .iter()
        .filter(|held| beds.contains(&held.body.bed))
        .filter(|held| held.body.ended_on.is_none_or(|ended| ended >= lately))
        .filter_map(|held| {
            let key = match &held.body.crop {
                PlantedCrop::Catalogue(key) => Some(key.as_str()),
                PlantedCrop::FarmCrop(_) => snapshot.crop_of(&held.body)?.body.key.as_deref(),
            }?;
            crop_tolerance(find(key).ok()?.salt_key.as_deref()?)
        })
        .filter(|row| row.range().is_some())
        .collect();
    rows.sort_by(|a, b| a.crop.cmp(&b.crop));
    rows.dedup_by(|a, b| a.crop == b.crop);
    rows
}

/// Supplies of a plot's beds; where no bed names one and the farm has a single one, that.
#[must_use]
pub fn supplies(snapshot: &Snapshot, plot: EntryId) -> Vec<(&Held<WaterSupply>, Option<Delivery>)> {
    let mut found: Vec<(&Held<WaterSupply>, Option<Delivery>)> = Vec::new();
    for bed in snapshot.beds.iter().filter(|bed| bed.body.plot == plot) {
        let Some(system) = snapshot.system_of(bed.id) else { continue };
        let Some(supply) = system.body.supply.and_then(|id| snapshot.supply(id)) else { continue };
        if !found.iter().any(|(known, _)| known.id == supply.id) {
            found.push((supply, Some(system.body.delivery)));
        }
    }
    if found.is_empty()
        && let [only] = &snapshot.water_supplies[..]
    {
        found.push((only, None));
    }
    found
}

fn supply(held: &Held<WaterSupply>, delivery: Option<Delivery>, crop: &CropTolerance) -> SupplySalts {
    let body = &held.body;
    let sprinkled = matches!(delivery, Some(Delivery::Sprinkler { .. }));
    let analysis = WaterAnalysis {
        ec_ds_m: body.ec_ds_m.and_then(|ec| Bounded::new(ec.get()).ok()),
        sodium_mg_l: body.sodium_mg_l.and_then(|ion| Bounded::new(ion.get()).ok()),
        calcium_mg_l: body.calcium_mg_l.and_then(|ion| Bounded::new(ion.get()).ok()),
        magnesium_mg_l: body.magnesium_mg_l.and_then(|ion| Bounded::new(ion.get()).ok()),
        bicarbonate_mg_l: body.bicarbonate_mg_l.and_then(|ion| Bounded::new(ion.get()).ok()),
        reaches: Some(if sprinkled { WaterReaches::Leaves } else { WaterReaches::Ground }),
        ..WaterAnalysis::default()
    };
    let hazards = IrrigationWaterHazard::compute(&analysis)
        .map(|answer| {
            answer
                .value
                .rated
                .iter()
                .map(|rated| WaterHazard {
                    what: rated.hazard.words(),
                    value: rated.value,
                    words: rated.restriction.words(),
                    restricted: rated.restriction
                        != ground::water::salts::irrigation_water::Restriction::None,
                })
                .collect()
        })
        .unwrap_or_default();
    let manner = match delivery {
        Some(Delivery::DripTape { .. } | Delivery::Emitters { .. }) => WateringManner::DripOrDaily,
        _ => WateringManner::SurfaceOrSprinkler,
    };
    let ec_ds_m = body.ec_ds_m.map(Bounded::get);
    let share = ec_ds_m.zip(crop.range()).map(|(ec, range)| match manner {
        WateringManner::DripOrDaily => leaching_frequent(ec, range.usual.ec_at_yield(0.0)),
        WateringManner::SurfaceOrSprinkler => leaching_surface(ec, range.usual.ec_at_yield(KEPT_YIELD)),
    });
    SupplySalts {
        id: held.id,
        name: body.name.clone(),
        ec_ds_m,
        hazards,
        leaching_for: share.is_some().then(|| crop.crop.clone()),
        leaching_share: share.flatten(),
        too_salty: share.is_some_and(|share| share.is_none()),
    }
}

pub(super) fn salts(
    snapshot: &Snapshot,
    plot: &Held<book::model::Plot>,
    soils: &Soils,
    root_depth_cm: f64,
    today: Date,
) -> Salts {
    let reading = latest_reading(snapshot, plot.id);
    let each = reading.map(|(_, salts)| extracts(salts, soils.top().soils.iter().map(|soil| soil.class)));
    let saturation = each.as_ref().and_then(|each| Spread::of_equal(&mut each.clone()));
    let here = planted(snapshot, plot.id, today);
    let rows: Vec<&CropTolerance> = if here.is_empty() {
        USUAL_CROPS.iter().filter_map(|crop| crop_tolerance(crop)).collect()
    } else {
        here.clone()
    };
    let crops: Vec<CropAtSalts> = rows
        .iter()
        .filter_map(|row| {
            let usual = row.range()?.usual;
            let yields = each.as_ref().map(|each| each.iter().map(|ec| usual.yield_percent(*ec)));
            Some(CropAtSalts {
                crop: row.crop.clone(),
                planted_here: !here.is_empty(),
                threshold_ds_m: usual.threshold_ds_m,
                yield_percent: yields.and_then(|yields| Spread::of_equal(&mut yields.collect::<Vec<_>>())),
            })
        })
        .collect();
    let tender = rows.iter().copied().filter_map(|row| Some((row, row.range()?.usual.threshold_ds_m)));
    let tender = tender.min_by(|a, b| a.1.total_cmp(&b.1));
    let supplies: Vec<SupplySalts> = supplies(snapshot, plot.id)
        .into_iter()
        .filter_map(|(held, delivery)| Some(supply(held, delivery, tender?.0)))
        .collect();
    let washing =
        each.as_ref().zip(tender).and_then(|(each, (_, wanted))| washing(each, wanted, root_depth_cm));
    let tunnel = plot
        .body
        .place
        .under_cover()
        .then(|| tunnel(snapshot, plot.id, soils, &supplies, saturation, root_depth_cm, today))
        .flatten();
    let speaks =
        washing.is_some() || tunnel.is_some() || supplies.iter().any(|one| one.leaching_share.is_some());
    Salts {
        reading: reading.zip(saturation).map(|((on, salts), saturation_ds_m)| {
            let lines = range(salts, None);
            SaltReading {
                on,
                ec_ds_m: salts.ec_ds_m.get(),
                extract: salts.extract,
                saturation_ds_m,
                lines: [lines.lines, lines.recalled],
            }
        }),
        crops,
        supplies,
        washing,
        tunnel,
        cautions: if speaks { LeachingRequirement::CARD.cautions.to_vec() } else { Vec::new() },
    }
}

/// Washing to what the tenderest of the crops bears.
fn washing(each: &[f64], wanted_ds_m: f64, depth_cm: f64) -> Option<Washing> {
    let mut water: Vec<f64> = each
        .iter()
        .map(|ec| {
            washing_water(WashingManner::SandyOrInPulses, 10.0 * depth_cm, wanted_ds_m / ec).unwrap_or(0.0)
        })
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
    let odds_needed = water.iter().filter(|mm| **mm > 0.0).count() as f64 / water.len().max(1) as f64;
    let water_mm = Spread::of_equal(&mut water)?;
    (odds_needed >= 0.05).then_some(Washing { wanted_ds_m, depth_cm, water_mm, odds_needed })
}
