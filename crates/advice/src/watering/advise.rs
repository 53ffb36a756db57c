//! What to do with a bed today, and in the week to come.

use ground::climate::crops::CropDay;
use ground::irrigation::balance::{Amount, BedSoils, RootZone, Rules};
use ground::irrigation::hardware::{SoilIntake, plan_run, round_minutes};
use ground::irrigation::outlook::{
    Ahead, Allowed, BedWatering, ForecastDay, Split, Today, advise_today, look_ahead,
};
use ground::kit::Spread;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use super::hardware::Hardware;
use super::season::Air;
use super::weather::{DaySource, FarmWeather};
use crate::finding::Firmness;

/// Days looked ahead, today first.
pub const OUTLOOK_D: usize = 7;
/// Days between the two runs of a split.
const SPLIT_D: usize = 2;
/// Odds of rain on one of the next two days from which room is left for it.
const ROOM_FOR_RAIN: f64 = 0.5;
/// How far the root zone is then filled (judgement).
const FILL_WITH_ROOM: f64 = 0.9;

/// Water or wait.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Call {
    /// Water today.
    Water,
    /// Not today.
    Wait,
}

/// One day of the week to come, if no water is given until then.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OutlookDay {
    /// The day.
    pub date: Date,
    /// Odds that water is due by its end.
    pub odds_due: f64,
    /// Odds that the crop has gone short by its end.
    pub odds_short: f64,
    /// Water missing at its end, mm.
    pub deficit_mm: Spread,
    /// Water that may be missing, mm; median.
    pub allowable_mm: f64,
    /// Chance of rain on the bed, 0 to 1; absent under cover.
    pub rain_odds: Option<f64>,
    /// Rain on the bed in the mean of all that may come, mm.
    pub rain_mm: Option<f64>,
    /// On what the weather rests.
    pub source: DaySource,
}

/// What a run of water takes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RunAdvice {
    /// Depth that is to reach the roots, mm.
    pub net_mm: Spread,
    /// Depth to put on, mm; median.
    pub gross_mm: f64,
    /// Minutes, not rounded; absent where no flow is known.
    pub minutes: Option<Spread>,
    /// Minutes as the timer is set, all pulses together.
    pub set_min: Option<f64>,
    /// Runs that the ground's intake asks for; 1 where it takes the water in one go.
    pub pulses: u32,
    /// Minutes of each of them.
    pub pulse_min: Option<f64>,
    /// Minutes of rest between two.
    pub rest_min: Option<f64>,
    /// The same water in two equal runs, the second after some days.
    pub split: Option<Split>,
    /// Water for one bed, L.
    pub volume_each_l: f64,
    /// Water for all beds of the record, L.
    pub volume_all_l: f64,
    /// Flow of one bed, L/min.
    pub flow_each_l_min: Option<f64>,
    /// Rate over the bed, mm/h.
    pub rate_mm_h: Option<f64>,
    /// The ground takes less than the hardware gives, and pulses do not help.
    pub outruns_the_ground: bool,
    /// Share of the water meant to pass below the roots, against salts, 0 to 1.
    pub leaching: f64,
    /// The root zone is not filled to the brim, to leave room for rain.
    pub room_for_rain: bool,
}

/// What missing the next days does.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Missed {
    /// Days without water, today counted.
    pub days: usize,
    /// Odds that the crop goes short.
    pub odds_short: f64,
    /// Share of its full water use that it still gets over these days.
    pub use_share: Spread,
}

/// Advice for today.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Advice {
    /// Water or wait.
    pub call: Call,
    /// How surely.
    pub firmness: Firmness,
    /// Odds that the crop would go past its limit by tonight without water.
    pub odds_due: f64,
    /// Day by which water is more likely due than not, if it is within the week.
    pub due_on: Option<Date>,
    /// Day by which it is due in 95 of 100 cases.
    pub surely_due_on: Option<Date>,
    /// What a run today takes; on a day of waiting what it would take when it is due, as far as is known.
    pub run: Option<RunAdvice>,
    /// Missing two days.
    pub missed: Option<Missed>,
}

/// What the advice rests on.
pub(super) struct Standing<'a> {
    pub zone: &'a RootZone,
    pub soils: &'a BedSoils,
    pub rules: &'a Rules,
    pub weather: &'a FarmWeather,
    pub cover: Option<&'a [f64]>,
    pub crop_on: &'a dyn Fn(Date) -> CropDay,
    pub hardware: Option<&'a Hardware>,
    pub efficiency: &'a [f64],
    pub wetted: f64,
    pub intake: SoilIntake,
    pub leaching: f64,
    pub area_m2: f64,
    pub count: u16,
    pub today: Date,
}

/// The week ahead and what to do; `None` where the weather does not reach.
pub(super) fn advise(standing: &Standing<'_>) -> Option<(Advice, Vec<OutlookDay>, Vec<String>)> {
    let weather = standing.weather;
    let place = weather.place(standing.today)?;
    let count = OUTLOOK_D.min(weather.days.len() - place);
    let dates: Vec<Date> = (0..count)
        .filter_map(|ahead| standing.today.checked_add(i64::try_from(ahead).ok()?.days()).ok())
        .collect();
    // Under cover every day needs numbers of its own.
    let et0: Vec<Vec<f64>> = (0..count)
        .map(|ahead| match standing.cover {
            Some(factors) => {
                weather.et0_of(place + ahead).iter().zip(factors).map(|(et0, factor)| et0 * factor).collect()
            }
            None => Vec::new(),
        })
        .collect();
    let mut air = Air::new(weather, None);
    let mut airs = Vec::with_capacity(count);
    for ahead in 0..count {
        airs.push(air.at(place + ahead).air);
    }
    let days: Vec<ForecastDay<'_>> = dates
        .iter()
        .enumerate()
        .map(|(ahead, date)| ForecastDay {
            crop: (standing.crop_on)(*date),
            weather: match standing.cover {
                Some(_) => ground::irrigation::balance::Weather {
                    et0_mm: Amount::Each(&et0[ahead]),
                    rain_mm: Amount::Same(0.0),
                    air: ground::irrigation::balance::evaporation::STANDARD_AIR,
                },
                None => ground::irrigation::balance::Weather {
                    et0_mm: Amount::Each(weather.et0_of(place + ahead)),
                    rain_mm: Amount::Each(weather.rain_of(place + ahead)),
                    air: airs[ahead],
                },
            },
        })
        .collect();
    let ahead = look_ahead(standing.zone, standing.soils, standing.rules, &days, Allowed::Readily)?;
    let mut notes = Vec::new();
    let (outlook, odds_due) = (outlook(standing, &ahead, &dates, place), ahead.days.first()?.odds_due);
    let call = if odds_due >= 0.5 { Call::Water } else { Call::Wait };
    let run = run_of(standing, &days, &ahead, call, &mut notes);
    let missed = ahead.if_missed(SPLIT_D).map(|state| Missed {
        days: SPLIT_D,
        odds_short: state.odds_stressed,
        use_share: state.use_share,
    });
    let day = |due: Option<ground::irrigation::outlook::Due>| due.and_then(|due| dates.get(due.day).copied());
    let advice = Advice {
        call,
        firmness: Firmness::of(odds_due.max(1.0 - odds_due)),
        odds_due,
        due_on: day(ahead.due),
        surely_due_on: day(ahead.surely_due),
        run,
        missed,
    };
    Some((advice, outlook, notes))
}

fn outlook(standing: &Standing<'_>, ahead: &Ahead, dates: &[Date], place: usize) -> Vec<OutlookDay> {
    ahead
        .days
        .iter()
        .zip(dates)
        .enumerate()
        .map(|(at, (day, date))| {
            let weather = standing.weather.days.get(place + at);
            let open = standing.cover.is_none();
            let rain = standing.weather.rain_of(place + at);
            #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
            let mean = rain.iter().sum::<f64>() / rain.len().max(1) as f64;
            OutlookDay {
                date: *date,
                odds_due: day.odds_due,
                odds_short: day.odds_stressed,
                deficit_mm: day.depletion_mm,
                allowable_mm: day.allowed_mm.median,
                rain_odds: weather.filter(|_| open).map(|weather| weather.rain_odds),
                rain_mm: open.then_some(mean),
                source: weather.map_or(DaySource::Usual, |weather| weather.source),
            }
        })
        .collect()
}

fn run_of(
    standing: &Standing<'_>,
    days: &[ForecastDay<'_>],
    ahead: &Ahead,
    call: Call,
    notes: &mut Vec<String>,
) -> Option<RunAdvice> {
    let hardware = standing.hardware?;
    let room_for_rain = standing.cover.is_none() && rain_soon(standing);
    let refill_share = if room_for_rain { FILL_WITH_ROOM } else { 1.0 };
    let Some(system) = hardware.system else {
        return Some(by_volume(standing, call, ahead, room_for_rain));
    };
    let watering = BedWatering {
        system,
        efficiency: Amount::Each(standing.efficiency),
        leaching: standing.leaching,
        wetted_fraction: standing.wetted,
        intake: standing.intake,
        refill_share,
    };
    let waits = (call == Call::Wait).then_some(ahead.due).flatten();
    let today = match waits {
        None => advise_today(standing.zone, standing.soils, standing.rules, days, &watering, SPLIT_D),
        // What it will take on the day it is due, from what is missing then.
        Some(due) => later(standing, &ahead.days[due.day].depletion_mm, &watering),
    };
    match today {
        Ok(today) => Some(of_today(standing, &today, system.flow_l_h() / 60.0, room_for_rain)),
        Err(refusal) => {
            notes.push(format!("No run time can be given: {}.", refusal.message));
            None
        }
    }
}

fn later(
    standing: &Standing<'_>,
    missing: &Spread,
    watering: &BedWatering<'_>,
) -> Result<Today, ground::kit::Refusal> {
    let efficiency = median(standing.efficiency);
    let plan = |net: f64| {
        plan_run(
            &watering.system,
            net,
            efficiency,
            watering.leaching,
            watering.wetted_fraction,
            watering.intake,
        )
    };
    let minutes = |net: f64| plan(net).map(|plan| 60.0 * plan.run_h);
    let net_mm =
        Spread { low: missing.low.max(0.0), median: missing.median.max(0.0), high: missing.high.max(0.0) };
    Ok(Today {
        net_mm,
        run_min: Spread {
            low: minutes(net_mm.low)?,
            median: minutes(net_mm.median)?,
            high: minutes(net_mm.high)?,
        },
        plan: plan(net_mm.median)?,
        split: None,
    })
}

fn of_today(standing: &Standing<'_>, today: &Today, flow_l_min: f64, room_for_rain: bool) -> RunAdvice {
    let plan = &today.plan;
    let pulsed = plan.run.pulses > 1;
    RunAdvice {
        net_mm: today.net_mm,
        gross_mm: plan.gross_mm,
        minutes: Some(today.run_min),
        set_min: Some(if pulsed { f64::from(plan.run.pulses) * plan.run.pulse_min } else { plan.run_min }),
        pulses: plan.run.pulses,
        pulse_min: Some(plan.run.pulse_min),
        rest_min: pulsed.then_some(plan.run.rest_min),
        split: today.split,
        volume_each_l: plan.volume_l,
        volume_all_l: plan.volume_l * f64::from(standing.count),
        flow_each_l_min: Some(flow_l_min),
        rate_mm_h: Some(plan.rate_mm_h),
        outruns_the_ground: plan.outruns_the_ground,
        leaching: standing.leaching,
        room_for_rain,
    }
}

/// A bed watered by hand without a known flow: depth and volume alone.
fn by_volume(standing: &Standing<'_>, call: Call, ahead: &Ahead, room_for_rain: bool) -> RunAdvice {
    let missing = match (call, ahead.due) {
        (Call::Wait, Some(due)) => ahead.days[due.day].depletion_mm,
        _ => standing.zone.depletion().unwrap_or(Spread { low: 0.0, median: 0.0, high: 0.0 }),
    };
    let gross = missing.median.max(0.0) / median(standing.efficiency) / (1.0 - standing.leaching);
    let each = gross * standing.area_m2;
    RunAdvice {
        net_mm: missing,
        gross_mm: gross,
        minutes: None,
        set_min: None,
        pulses: 1,
        pulse_min: None,
        rest_min: None,
        split: None,
        volume_each_l: each,
        volume_all_l: each * f64::from(standing.count),
        flow_each_l_min: None,
        rate_mm_h: None,
        outruns_the_ground: false,
        leaching: standing.leaching,
        room_for_rain,
    }
}

fn median(values: &[f64]) -> f64 {
    Spread::of_equal(&mut values.to_vec()).map_or(1.0, |spread| spread.median)
}

/// Is rain on today or tomorrow more likely than not?
fn rain_soon(standing: &Standing<'_>) -> bool {
    let Some(place) = standing.weather.place(standing.today) else { return false };
    let days = standing.weather.days.iter().skip(place).take(2);
    let dry = days.map(|day| 1.0 - day.rain_odds).product::<f64>();
    1.0 - dry >= ROOM_FOR_RAIN
}

/// Minutes as a timer is set, in words: "50 min", "4 h 30 min".
#[must_use]
pub fn timer(minutes: f64) -> String {
    let rounded = round_minutes(minutes);
    if rounded < 120.0 {
        return format!("{rounded:.0} min");
    }
    let (hours, rest) = ((rounded / 60.0).floor(), rounded % 60.0);
    if rest < 0.5 { format!("{hours:.0} h") } else { format!("{hours:.0} h {rest:.0} min") }
}
