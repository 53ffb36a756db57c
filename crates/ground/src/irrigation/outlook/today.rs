//! What to give today.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::ahead::ForecastDay;
use crate::irrigation::balance::{Amount, BedSoils, Fluxes, RootZone, Rules};
use crate::irrigation::hardware::{BedSystem, RunPlan, SoilIntake, plan_run, round_minutes};
use crate::kit::{Refusal, Spread};

/// A bed's hardware and how water is given with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BedWatering<'a> {
    /// The hardware.
    pub system: BedSystem,
    /// Share of the water that reaches the roots, 0 to 1.
    pub efficiency: Amount<'a>,
    /// Share to pass below the roots on purpose, 0 to 0.5.
    pub leaching: f64,
    /// Share of the ground wetted, 0 to 1.
    pub wetted_fraction: f64,
    /// What the ground takes.
    pub intake: SoilIntake,
    /// How far to fill the root zone: 1 to the brim, less to leave room for rain.
    pub refill_share: f64,
}

/// The same water in two runs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Split {
    /// Days from today to the second run.
    pub days_between_d: usize,
    /// Minutes of each run, rounded for a timer.
    pub each_min: f64,
    /// Net depth of each.
    pub each_net_mm: f64,
}

/// What to give today.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Today {
    /// Net depth that fills the root zone as far as asked.
    pub net_mm: Spread,
    /// Run time for it, not rounded: the high end is enough in 95 of 100 cases.
    pub run_min: Spread,
    /// The run for the median depth.
    pub plan: RunPlan,
    /// Two equal runs instead, the second after some days; absent without forecasts that far.
    pub split: Option<Split>,
}

/// What fills the root zone today, and the same in two runs `split_days` apart.
///
/// # Errors
/// A bed or a share that [`plan_run`] refuses.
///
/// # Panics
/// When `soils`, the efficiency or a forecast belongs to an ensemble of another size.
pub fn advise_today(
    zone: &RootZone,
    soils: &BedSoils,
    rules: &Rules,
    days: &[ForecastDay<'_>],
    watering: &BedWatering<'_>,
    split_days: usize,
) -> Result<Today, Refusal> {
    let draws = zone.draws();
    if !(0.1..=1.0).contains(&watering.refill_share) {
        return Err(Refusal::new(
            "refill_share",
            format!("the share to fill must be 0.1 to 1, but {} was given", watering.refill_share),
        )
        .given(watering.refill_share)
        .accepted("0.1 to 1")
        .example("0.9"));
    }
    let mut net = needs(zone, watering.refill_share);
    let mut efficiency: Vec<f64> = (0..draws).map(|draw| watering.efficiency.at(draw)).collect();
    let typical = Spread::of_equal(&mut efficiency.clone()).map_or(1.0, |spread| spread.median);
    let plan_for = |net_mm: f64| {
        plan_run(
            &watering.system,
            net_mm,
            typical,
            watering.leaching,
            watering.wetted_fraction,
            watering.intake,
        )
    };
    // The bed and its shares are checked before anything is divided by them.
    plan_for(0.0)?;
    let rate = watering.system.rate_mm_h();
    for (share, need) in efficiency.iter_mut().zip(&net) {
        *share = 60.0 * need / share.clamp(0.1, 1.0) / (1.0 - watering.leaching) / rate;
    }
    let nothing = Spread { low: 0.0, median: 0.0, high: 0.0 };
    let run_min = Spread::of_equal(&mut efficiency).unwrap_or(nothing);
    let net_mm = Spread::of_equal(&mut net).unwrap_or(nothing);
    let split = if split_days == 0 || days.len() < split_days {
        None
    } else {
        let mut later = zone.clone();
        let mut fluxes = Fluxes::of(draws);
        for day in &days[..split_days] {
            later.step(soils, rules, &day.crop, &day.weather, None, &mut fluxes);
        }
        let mut needs = needs(&later, watering.refill_share);
        let each = Spread::of_equal(&mut needs).unwrap_or(nothing).median / 2.0;
        let run_h = plan_for(each)?.run_h;
        Some(Split { days_between_d: split_days, each_min: round_minutes(60.0 * run_h), each_net_mm: each })
    };
    Ok(Today { net_mm, run_min, plan: plan_for(net_mm.median)?, split })
}

/// Net depth of each draw, mm.
fn needs(zone: &RootZone, refill_share: f64) -> Vec<f64> {
    let left = |(used, all): (&f64, &f64)| (used - (1.0 - refill_share) * all).max(0.0);
    zone.depletion_mm.iter().zip(&zone.total_available_mm).map(left).collect()
}
