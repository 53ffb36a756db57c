//! What is taken off a bed's needs: nitrate, organic matter, what was spread already, earlier years.

use book::model::{EntryId, Planting};
use book::{Held, Snapshot};
use ground::covers::species::KG_HA_PER_LB_AC;
use ground::fertility::analysis::report::{Analyte, ReportUnit};
use ground::fertility::needs::credits::{
    USUAL_DENSITY_G_CM3, organic_matter_kg_ha, soil_nitrate_kg_ha, water_nitrate_kg_ha,
};
use ground::fertility::schemes::{Nutrient, Scheme};
use ground::kit::Bounded;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use crate::covers::nitrogen::for_planting;
use crate::feeding::contents::contents;
use crate::lab_rounds::lab_rounds;
use crate::watering::season_irrigation_mm;

/// Organic matter that the rates take for granted, percent (our judgement: they were drawn up on ground of
/// about that).
const TAKEN_FOR_GRANTED_PERCENT: f64 = 2.0;
/// Nitrate is worth crediting for so long after it was measured.
const NITRATE_GOOD_FOR_DAYS: i64 = 60;
/// What was spread so long before the planting is for it.
const SPREAD_BEFORE_DAYS: i64 = 200;

/// A line taken off a need.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CreditLine {
    /// Of what.
    pub nutrient: Nutrient,
    /// Where it comes from, in words.
    pub from: String,
    /// Low end.
    pub low_g_m2: f64,
    /// What to count with.
    pub g_m2: f64,
    /// High end.
    pub high_g_m2: f64,
}

impl CreditLine {
    fn kg_ha(nutrient: Nutrient, from: impl Into<String>, [low, usual, high]: [f64; 3]) -> Self {
        Self { nutrient, from: from.into(), low_g_m2: 0.1 * low, g_m2: 0.1 * usual, high_g_m2: 0.1 * high }
    }
}

/// The credits of a bed towards a planting.
pub(super) fn credits(
    snapshot: &Snapshot,
    plot: EntryId,
    planting: &Held<Planting>,
    scheme: Option<Scheme>,
) -> Vec<CreditLine> {
    let (bed, planted_on) = (planting.body.bed, planting.body.planted_on);
    let mut found = Vec::new();
    // The United Kingdom's index counts the ground's own supply already.
    if scheme != Some(Scheme::Rb209) {
        found.extend(nitrate(snapshot, plot, planted_on));
        found.extend(organic_matter(snapshot, plot));
    }
    found.extend(covers(snapshot, bed, planted_on));
    found.extend(water_nitrate(snapshot, planting));
    found.extend(spread(snapshot, bed, planted_on));
    found
}

/// Covers that were ended for this planting.
fn covers(snapshot: &Snapshot, bed: EntryId, planted_on: Date) -> Vec<CreditLine> {
    for_planting(snapshot, bed, planted_on)
        .into_iter()
        .filter(|cover| cover.released_kg_ha[2] > 0.0)
        .map(|cover| {
            let known = if cover.measured { "" } else { ", its growth not measured" };
            let words = format!(
                "{} ended on {}{}{known}",
                cover.name,
                cover.ended_on,
                if cover.ties_up { ", which ties nitrogen up at first" } else { "" }
            );
            CreditLine::kg_ha(Nutrient::N, words, cover.released_kg_ha)
        })
        .collect()
}

/// Nitrate in the water that a usual season's irrigation brings. Known within a fifth either way, as the method has it;
/// the season's water within a third (our judgement).
fn water_nitrate(snapshot: &Snapshot, planting: &Held<Planting>) -> Option<CreditLine> {
    let system = snapshot.system_of(planting.body.bed)?;
    let supply = snapshot.supply(system.body.supply?)?;
    let ppm = supply.body.nitrate_n_mg_l?.get();
    let mm = season_irrigation_mm(snapshot, planting)?;
    let kg_ha = water_nitrate_kg_ha(ppm, mm);
    (kg_ha >= 1.0).then(|| {
        CreditLine::kg_ha(
            Nutrient::N,
            format!("nitrate in the water of {} over a usual season", supply.body.name),
            [kg_ha * 0.8 * 2.0 / 3.0, kg_ha, kg_ha * 1.2 * 4.0 / 3.0],
        )
    })
}

fn nitrate(snapshot: &Snapshot, plot: EntryId, planted_on: Date) -> Option<CreditLine> {
    let rounds = lab_rounds(snapshot, plot);
    let round = rounds.iter().rfind(|round| {
        let days = (planted_on - round.held.body.seen_on).get_days();
        i64::from(days.abs()) <= NITRATE_GOOD_FOR_DAYS && round.report.first(Analyte::NitrateN).is_some()
    })?;
    let (held, report) = (round.held, &round.report);
    let figure = report.first(Analyte::NitrateN)?;
    let amount = figure.amount.exactly()?;
    let sample = held.body.sample.and_then(|id| snapshot.sample(id));
    let depth = report
        .basis_depth_cm
        .map(Bounded::get)
        .or_else(|| sample.map(|sample| sample.body.to_cm.get() - sample.body.from_cm.get()))
        .unwrap_or(30.0);
    let kg_ha = match figure.unit {
        ReportUnit::Ppm | ReportUnit::MgPerL => {
            soil_nitrate_kg_ha(amount, depth, report.density_g_cm3.map_or(USUAL_DENSITY_G_CM3, Bounded::get))
        }
        ReportUnit::KgPerHa => amount,
        ReportUnit::LbPerAcre => amount * KG_HA_PER_LB_AC,
        _ => return None,
    };
    Some(CreditLine::kg_ha(
        Nutrient::N,
        format!("nitrate in the ground on {}", held.body.seen_on),
        [0.8 * kg_ha, kg_ha, 1.2 * kg_ha],
    ))
}

/// Organic matter of the latest round of printouts that tell it.
pub(super) fn reported_organic_matter_percent(snapshot: &Snapshot, plot: EntryId) -> Option<f64> {
    let rounds = lab_rounds(snapshot, plot);
    rounds.iter().rev().find_map(|round| round.report.first(Analyte::OrganicMatter)?.amount.exactly())
}

fn organic_matter(snapshot: &Snapshot, plot: EntryId) -> Option<CreditLine> {
    let from_report = reported_organic_matter_percent(snapshot, plot);
    let seen = || {
        snapshot
            .evidence(plot)
            .filter_map(|held| match &held.body.seen {
                book::model::Seen::OrganicMatter(seen) => Some(seen.percent.get()),
                _ => None,
            })
            .last()
    };
    let percent = from_report.or_else(seen)?;
    let above = percent - TAKEN_FOR_GRANTED_PERCENT;
    (above > 0.0).then(|| {
        CreditLine::kg_ha(
            Nutrient::N,
            format!(
                "organic matter of {} % (above the {TAKEN_FOR_GRANTED_PERCENT} % that rates take for granted)",
                crate::words::short(percent)
            ),
            organic_matter_kg_ha(above),
        )
    })
}

/// What was spread for this planting, and what earlier years still give.
fn spread(snapshot: &Snapshot, bed: EntryId, planted_on: Date) -> Vec<CreditLine> {
    let mut found = Vec::new();
    let since = planted_on.saturating_sub(SPREAD_BEFORE_DAYS.days());
    let earlier = snapshot
        .plantings_of(bed)
        .into_iter()
        .filter(|held| held.body.planted_on < planted_on)
        .map(|held| held.body.planted_on)
        .max();
    for back in 0..=2_i16 {
        let year = planted_on.year() - back;
        for one in snapshot.spread_on_bed(bed, year) {
            let Some(holds) = contents(snapshot, &one.material) else { continue };
            let g_m2 = 1000.0 * one.kg_m2();
            let name = holds.name.to_lowercase();
            // What went on before an earlier crop was for that one.
            if one.on >= since && earlier.is_none_or(|last| one.on > last) {
                let shares = holds.available;
                let words = format!("{name} spread on {}", one.on);
                let mut push = |nutrient, share: [f64; 3]| {
                    if share[2] > 0.0 {
                        found.push(CreditLine {
                            nutrient,
                            from: words.clone(),
                            low_g_m2: g_m2 * share[0],
                            g_m2: g_m2 * share[1],
                            high_g_m2: g_m2 * share[2],
                        });
                    }
                };
                push(Nutrient::N, shares.map(|share| share * holds.n));
                push(Nutrient::P2o5, [0.8 * holds.p2o5, holds.p2o5, holds.p2o5]);
                push(Nutrient::K2o, [0.8 * holds.k2o, holds.k2o, holds.k2o]);
            } else if one.on < planted_on && holds.available[1] < 1.0 && holds.n > 0.0 {
                // Organic nitrogen of earlier years: 3 to 12 % of what is left [compost, recalled; manure, Cornell].
                let left = g_m2 * holds.n * (1.0 - holds.available[1]);
                let usual = if back <= 1 { 0.06 } else { 0.04 };
                found.push(CreditLine {
                    nutrient: Nutrient::N,
                    from: format!("{name} of {}, still releasing", one.on.year()),
                    low_g_m2: 0.5 * usual * left,
                    g_m2: usual * left,
                    high_g_m2: 2.0 * usual * left,
                });
            }
        }
    }
    found
}
