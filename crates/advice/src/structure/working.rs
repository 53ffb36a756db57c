//! When the ground may be worked: days after a soaking rain, the handful, and the limits of consistency.

use book::Snapshot;
use book::model::seen::Sign;
use ground::kit::{Bounded, Spread};
use ground::structure::working::ball::by_ball;
use ground::structure::working::limits::{BEST_BREAKUP, Workable};
use ground::structure::working::workable_days::{USUAL_BARE_SHARE, days_by_custom, workable_days};
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use super::readings::{HandfulRead, Readings};
use crate::facts::SeenSign;
use crate::plot_report::PlotReport;
use crate::watering::FarmWeather;

/// Rain of a day that soaks the ground, mm: half an inch (common practice, no source).
pub const SOAKING_MM: f64 = 12.7;
/// Days looked back for it.
const LOOKED_BACK_D: i64 = 21;
/// Days of drainage before air dries the ground (common practice, free drainage).
const DRAINS_D: f64 = 1.5;
/// Depth that is worked, mm: six inches.
const WORKED_MM: f64 = 152.4;
/// Water nearer the surface than this keeps ground wet: 2 ft.
const NEAR_WATER_CM: f64 = 61.0;

/// When the ground may be worked.
#[derive(Debug, Clone, Serialize)]
pub struct WorkingTold {
    /// Days after a soaking rain by custom: least and most, the middle of everything that the ground may be.
    pub custom_days: (f64, f64),
    /// Was it doubled, since water lies near or the plot is under cover?
    pub slow_to_dry: bool,
    /// Under cover days since rain mean nothing.
    pub under_cover: bool,
    /// The last soaking rain of the weather in the book, with its depth.
    pub soaked: Option<Soaked>,
    /// Days by drainage and drying to the plastic limit that was found.
    pub days_by_drying: Option<Spread>,
    /// Water content by mass to work below, where the plastic limit was found.
    pub work_below_percent: Option<f64>,
    /// The latest handful.
    pub latest: Option<HandfulSaid>,
    /// Handfuls with the days since rain, as this ground showed itself.
    pub learnt: Vec<HandfulSaid>,
}

/// A soaking rain, and the days on which the ground may be ready after it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Soaked {
    /// The day.
    pub on: Date,
    /// Rain of that day.
    pub rain_mm: f64,
    /// First day on which it may be ready.
    pub ready_from: Date,
    /// Day by which it should be.
    pub ready_by: Date,
}

/// A handful and what it says on this ground.
#[derive(Debug, Clone, Serialize)]
pub struct HandfulSaid {
    /// The reading.
    #[serde(flatten)]
    pub read: HandfulRead,
    /// What it means for the likeliest class.
    pub workable: Workable,
}

/// From the report and the weather in the book.
#[must_use]
pub fn working(
    snapshot: &Snapshot,
    report: &PlotReport,
    readings: &Readings,
    signs: &[SeenSign],
    today: Date,
) -> WorkingTold {
    let under_cover = report.place.under_cover();
    let slow_to_dry = under_cover
        || signs
            .iter()
            .any(|seen| matches!(seen.sign, Sign::WaterTable { at_cm } if at_cm.get() < NEAR_WATER_CM));
    let weights = &report.ensemble.weights;
    let middle = |of: fn((f64, f64)) -> f64| {
        let each: Vec<f64> =
            report.ensemble.draws.iter().map(|draw| of(days_by_custom(draw.class, slow_to_dry))).collect();
        Spread::of(&each, weights).map_or(0.0, |spread| spread.median)
    };
    let custom_days = (middle(|days| days.0), middle(|days| days.1));
    let class = report.belief.class().0;
    let said =
        |read: &HandfulRead| HandfulSaid { read: read.clone(), workable: by_ball(read.handful, Some(class)) };
    let limits = readings.handfuls.iter().rev().find_map(|read| read.limits.as_ref());
    WorkingTold {
        custom_days,
        slow_to_dry,
        under_cover,
        soaked: (!under_cover).then(|| soaked(snapshot, today, custom_days)).flatten(),
        days_by_drying: limits
            .filter(|_| !under_cover)
            .and_then(|limits| drying(snapshot, report, limits.work_below_percent / BEST_BREAKUP, today)),
        work_below_percent: limits.map(|limits| limits.work_below_percent),
        latest: readings.handfuls.last().map(said),
        learnt: readings.handfuls.iter().filter(|read| read.days_since_rain.is_some()).map(said).collect(),
    }
}

#[expect(clippy::cast_possible_truncation, reason = "days by the dozen")]
fn soaked(snapshot: &Snapshot, today: Date, days: (f64, f64)) -> Option<Soaked> {
    let first = today.saturating_sub(LOOKED_BACK_D.days());
    let (on, rain_mm) =
        snapshot.weather_days().range(first..=today).rev().filter(|(_, known)| !known.forecast).find_map(
            |(on, known)| {
                let rain = known.day.rain_mm?.get();
                (rain >= SOAKING_MM).then_some((*on, rain))
            },
        )?;
    let after = |days: f64| on.saturating_add((days.ceil() as i64).days());
    Some(Soaked { on, rain_mm, ready_from: after(days.0), ready_by: after(days.1) })
}

/// Days by drainage and then drying down to nine tenths of the plastic limit, over the draws.
fn drying(snapshot: &Snapshot, report: &PlotReport, plastic_percent: f64, today: Date) -> Option<Spread> {
    let weather = FarmWeather::of(snapshot, today.saturating_sub(7.days()), today, 1);
    #[expect(clippy::cast_precision_loss, reason = "a week")]
    let days = weather.days.len() as f64;
    let et0 = weather.days.iter().map(|day| day.et0_mm.median).sum::<f64>() / days;
    if !et0.is_finite() || et0 <= 0.0 {
        return None;
    }
    let water = &report.water_draws;
    let each: Vec<f64> = water
        .field_capacity
        .iter()
        .zip(&water.matric_density_g_cm3)
        .map(|(held, density)| {
            let work_at = BEST_BREAKUP * plastic_percent / 100.0 * density;
            workable_days(DRAINS_D, *held, work_at, WORKED_MM, USUAL_BARE_SHARE * et0).unwrap_or(f64::NAN)
        })
        .collect();
    Spread::of(&each, &report.ensemble.weights)
}
