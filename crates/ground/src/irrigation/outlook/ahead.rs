//! The days ahead if no water is given.
//!
//! # Method
//! The daily balance is run on from today's state with each draw's own forecast and no watering. A
//! draw is due on the first day that would end with more used than is allowed; odds are shares of the
//! draws. Where rain comes in between, a draw that was due once stays counted.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::climate::crops::CropDay;
use crate::irrigation::balance::{BedSoils, Fluxes, RootZone, Rules, Weather};
use crate::kit::Spread;

/// A day to come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ForecastDay<'a> {
    /// The crop, or bare ground.
    pub crop: CropDay,
    /// The weather, alike for all draws or one for each.
    pub weather: Weather<'a>,
}

/// How dry the root zone may get.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Allowed {
    /// To the end of the readily available water, as the crop and the rules have it.
    Readily,
    /// To a share of the available water, 0 to 1.
    Share(f64),
}

/// One day ahead, if no water is given up to its end.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AheadDay {
    /// Odds that the allowed depletion has been passed by its end.
    pub odds_due: f64,
    /// Odds that the crop has gone short by its end.
    pub odds_stressed: f64,
    /// Depletion at its end.
    pub depletion_mm: Spread,
    /// Depletion that is allowed on the day.
    pub allowed_mm: Spread,
    /// Lowest stress coefficient up to its end: 1 is none.
    pub lowest_stress: Spread,
    /// Share of the full water use got from today to its end.
    pub use_share: Spread,
}

/// A day with its odds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Due {
    /// Place of the day; 0 is today.
    pub day: usize,
    /// Odds that water is due by it.
    pub odds: f64,
}

/// The days ahead.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Ahead {
    /// Odds that the allowed depletion is passed already.
    pub odds_due_now: f64,
    /// The days, today first.
    pub days: Vec<AheadDay>,
    /// First day by which water is more likely due than not; absent beyond the days looked at.
    pub due: Option<Due>,
    /// First day by which it is due in 95 of 100 cases; absent beyond the days looked at.
    pub surely_due: Option<Due>,
}

impl Ahead {
    /// What missing the first `days` days does: the state of the last of them. `None` beyond the days
    /// looked at, or for no day.
    #[must_use]
    pub fn if_missed(&self, days: usize) -> Option<&AheadDay> {
        self.days.get(days.checked_sub(1)?)
    }

    fn by_odds(days: &[AheadDay], least: f64) -> Option<Due> {
        let day = days.iter().position(|day| day.odds_due >= least - 1e-9)?;
        Some(Due { day, odds: days[day].odds_due })
    }
}

/// Looks ahead. `None` without draws.
///
/// # Panics
/// When `soils` or a forecast belongs to an ensemble of another size.
#[must_use]
pub fn look_ahead(
    zone: &RootZone,
    soils: &BedSoils,
    rules: &Rules,
    days: &[ForecastDay<'_>],
    allowed: Allowed,
) -> Option<Ahead> {
    let draws = zone.draws();
    if draws == 0 {
        return None;
    }
    let mut zone = zone.clone();
    let mut fluxes = Fluxes::of(draws);
    let (mut due, mut stressed) = (vec![false; draws], vec![false; draws]);
    let mut lowest = vec![1.0_f64; draws];
    let (mut used, mut wanted) = (vec![0.0; draws], vec![0.0; draws]);
    let mut scratch = vec![0.0; draws];
    let mut ahead = Vec::with_capacity(days.len());
    let mut odds_due_now = 0.0;
    for (place, day) in days.iter().enumerate() {
        let before = (place == 0).then(|| zone.depletion_mm.clone());
        zone.step(soils, rules, &day.crop, &day.weather, None, &mut fluxes);
        for draw in 0..draws {
            let limit = limit(&zone, &fluxes, allowed, draw);
            due[draw] |= zone.depletion_mm[draw] > limit;
            stressed[draw] |= fluxes.stress[draw] < 1.0;
            lowest[draw] = lowest[draw].min(fluxes.stress[draw]);
            used[draw] += fluxes.et_mm[draw];
            wanted[draw] += fluxes.demand_mm[draw];
            scratch[draw] = limit;
        }
        if let Some(before) = before {
            let over: Vec<bool> = before.iter().zip(&scratch).map(|(now, limit)| now > limit).collect();
            odds_due_now = share(&over);
        }
        let allowed_mm = Spread::of_equal(&mut scratch)?;
        scratch.copy_from_slice(&lowest);
        let lowest_stress = Spread::of_equal(&mut scratch)?;
        for draw in 0..draws {
            scratch[draw] = if wanted[draw] > 0.0 { (used[draw] / wanted[draw]).min(1.0) } else { 1.0 };
        }
        ahead.push(AheadDay {
            odds_due: share(&due),
            odds_stressed: share(&stressed),
            depletion_mm: zone.depletion()?,
            allowed_mm,
            lowest_stress,
            use_share: Spread::of_equal(&mut scratch)?,
        });
    }
    Some(Ahead {
        odds_due_now,
        due: Ahead::by_odds(&ahead, 0.5),
        surely_due: Ahead::by_odds(&ahead, 0.95),
        days: ahead,
    })
}

fn limit(zone: &RootZone, fluxes: &Fluxes, allowed: Allowed, draw: usize) -> f64 {
    match allowed {
        Allowed::Readily => fluxes.readily_available_mm[draw],
        Allowed::Share(share) => share * zone.total_available_mm[draw],
    }
}

fn share(flags: &[bool]) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
    let (yes, all) = (flags.iter().filter(|flag| **flag).count() as f64, flags.len() as f64);
    yes / all
}
