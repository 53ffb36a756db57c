//! The gap between two crops: its days, warmth and light, the frost that ends it, the winter in it.

use crate::climate::season::{BaseRule, degree_days};
use crate::climate::sun::SunDay;
use crate::climate::weather::{Mend, daily_keeping_means};

use super::kinds::GrowsIn;
use super::species::Species;

/// Days of a year as it is reckoned here.
pub const YEAR_D: usize = 365;
/// Light below which growth all but stops, h (common practice).
const STILL_DAY_H: f64 = crate::climate::season::day_length::STILL_DAY_H;
/// Standard deviation of the cold that kills, °C: published figures spread by 3 °C (5 °F) either way, taken as 90 %.
const KILL_SPREAD_C: f64 = 3.0 / 1.644_854;
/// Mean temperature of a gap from which heat decides, °C (our judgement).
pub const HOT_C: f64 = 22.0;

/// A date that differs from year to year: mean and standard deviation in days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncertain {
    /// Mean.
    pub mean: f64,
    /// Standard deviation.
    pub spread: f64,
}

/// Chance that a normal deviate lies below `z`.
#[must_use]
pub fn below(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

impl Uncertain {
    /// Chance that it lies below a value.
    #[must_use]
    pub fn chance_below(&self, value: f64) -> f64 {
        if self.spread > 0.0 {
            below((value - self.mean) / self.spread)
        } else if self.mean < value {
            1.0
        } else {
            0.0
        }
    }
}

/// A place's year.
#[derive(Debug, Clone, PartialEq)]
pub struct Year {
    mean_c: Vec<f64>,
    tmax_c: Vec<f64>,
    tmin_c: Vec<f64>,
    light_h: Vec<f64>,
    coldest: usize,
    /// First frost of autumn, day of the year.
    pub first_autumn: Option<Uncertain>,
    /// Last frost of spring, day of the year.
    pub last_spring: Option<Uncertain>,
    /// Lowest temperature of the winter, °C.
    pub lowest_c: Option<Uncertain>,
}

impl Year {
    /// From monthly means of the highest and lowest temperature of the day, January first, and the latitude. Under
    /// cover all three are those under the cover.
    #[must_use]
    pub fn new(tmax_c: &[f64; 12], tmin_c: &[f64; 12], latitude_degrees: f64) -> Self {
        let daily = |monthly| daily_keeping_means(monthly, Mend::Add);
        let (tmax_c, tmin_c) = (daily(tmax_c), daily(tmin_c));
        let mean_c: Vec<f64> =
            tmax_c.iter().zip(&tmin_c).map(|(high, low)| f64::midpoint(*high, *low)).collect();
        let latitude = latitude_degrees.to_radians();
        #[expect(clippy::cast_precision_loss, reason = "a day of the year")]
        let light_h = (1..=YEAR_D).map(|day| SunDay::new(latitude, day as f64).geometric_hours()).collect();
        let coldest = (0..YEAR_D).min_by(|a, b| mean_c[*a].total_cmp(&mean_c[*b])).unwrap_or(0);
        Self {
            mean_c,
            tmax_c,
            tmin_c,
            light_h,
            coldest,
            first_autumn: None,
            last_spring: None,
            lowest_c: None,
        }
    }
}

/// What one gap offers; made once and then put to every species.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// Days from sowing to the next crop.
    pub days: f64,
    /// Mean temperature of the fortnight about sowing, °C.
    pub sowing_c: f64,
    /// Mean temperature of the gap, °C.
    pub mean_c: f64,
    /// Days warm and light enough to grow, cool-season covers.
    pub cool_growing_d: f64,
    /// The same, warm-season covers.
    pub warm_growing_d: f64,
    /// Degree days above 4.4 °C.
    pub cool_degree_days: f64,
    /// Degree days above 10 °C.
    pub warm_degree_days: f64,
    /// Days from sowing to the first frost of autumn, where it falls in the gap's year.
    pub to_frost: Option<Uncertain>,
    /// Days by which sowing comes before (negative: after) the last frost of spring.
    pub before_spring_frost: Option<Uncertain>,
    /// Does the coldest day of the year lie in it?
    pub over_winter: bool,
    /// Lowest temperature of the winter, °C.
    pub lowest_c: Option<Uncertain>,
}

impl Gap {
    /// Of a sowing on a day of the year (1 to 365) and a number of days (1 to 730).
    #[must_use]
    pub fn new(year: &Year, sow_day: u16, days: u16) -> Self {
        let sow = usize::from(sow_day.clamp(1, 365)) - 1;
        let days_n = usize::from(days.max(1));
        let (mut sum, mut cool_growing, mut warm_growing, mut cool_dd, mut warm_dd) =
            (0.0, 0.0, 0.0, 0.0, 0.0);
        let mut over_winter = false;
        for day in 0..days_n {
            let at = (sow + day) % YEAR_D;
            let mean = year.mean_c[at];
            sum += mean;
            over_winter |= at == year.coldest;
            let light = year.light_h[at] >= STILL_DAY_H;
            cool_growing += f64::from(u8::from(light && mean > GrowsIn::Cool.base_c()));
            warm_growing += f64::from(u8::from(light && mean > GrowsIn::Warm.base_c()));
            let dd = |base| degree_days(year.tmax_c[at], year.tmin_c[at], base, None, BaseRule::Mean);
            cool_dd += dd(GrowsIn::Cool.base_c());
            warm_dd += dd(GrowsIn::Warm.base_c());
        }
        #[expect(clippy::cast_precision_loss, reason = "days")]
        let (days, sow_f) = (days_n as f64, (sow + 1) as f64);
        let sowing_c = (0..14).map(|day| year.mean_c[(sow + YEAR_D - 7 + day) % YEAR_D]).sum::<f64>() / 14.0;
        // The frost after sowing: this year's, or next year's when sowing comes after it.
        let to_frost = year.first_autumn.map(|frost| {
            let ahead = frost.mean - sow_f;
            Uncertain { mean: if ahead < -frost.spread { ahead + 365.0 } else { ahead }, ..frost }
        });
        // The nearer of the spring frosts before and after sowing, so that it holds south of the equator too.
        let before_spring_frost = year.last_spring.map(|frost| {
            let ahead = frost.mean - sow_f;
            let mean = if ahead > 182.5 {
                ahead - 365.0
            } else if ahead < -182.5 {
                ahead + 365.0
            } else {
                ahead
            };
            Uncertain { mean, ..frost }
        });
        Self {
            days,
            sowing_c,
            mean_c: sum / days,
            cool_growing_d: cool_growing,
            warm_growing_d: warm_growing,
            cool_degree_days: cool_dd,
            warm_degree_days: warm_dd,
            to_frost,
            before_spring_frost,
            over_winter,
            lowest_c: year.lowest_c,
        }
    }
}

/// How a species fares in a gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// Warm enough at sowing to come up? The mean of the air stands for the soil.
    pub comes_up: bool,
    /// Chance that it serves before the next crop or the frost, 0 to 1.
    pub serves_chance: f64,
    /// Days warm and light enough for it.
    pub growing_d: f64,
    /// Degree days above its base.
    pub degree_days: f64,
    /// Chance that it lives through the winter in the gap; `None` without winter or without figures.
    pub lives_chance: Option<f64>,
    /// Chance that a spring frost comes after it is up, for a tender one.
    pub spring_frost_chance: f64,
    /// Chance that frost ends it within the gap, for a tender one.
    pub frost_ends_chance: f64,
}

/// Steps over the days that a species needs, which the table gives as a range.
const STEPS: u32 = 8;
/// Days from sowing until a tender seedling stands above the ground (common practice).
const UP_AFTER_D: f64 = 7.0;

/// The fit of a species. Plain arithmetic without a buffer.
#[must_use]
pub fn fit(species: &Species, gap: &Gap) -> Fit {
    let tender = species.grows_in == GrowsIn::Warm;
    let (growing_d, degree_days) = match species.grows_in {
        GrowsIn::Cool => (gap.cool_growing_d, gap.cool_degree_days),
        GrowsIn::Warm => (gap.warm_growing_d, gap.warm_degree_days),
    };
    let frost_after = |days: f64| match gap.to_frost {
        Some(frost) if tender => 1.0 - frost.chance_below(days),
        _ => 1.0,
    };
    let mut serves_chance = 0.0;
    for step in 0..STEPS {
        let share = (f64::from(step) + 0.5) / f64::from(STEPS);
        let needed = species.useful_d.low + share * (species.useful_d.high - species.useful_d.low);
        // A tender cover needs warm days; a hardy one may rest over winter.
        let offered = if tender { gap.warm_growing_d.min(gap.days) } else { gap.days };
        if needed <= offered {
            serves_chance += frost_after(needed) / f64::from(STEPS);
        }
    }
    let lives_chance = (gap.over_winter && !tender)
        .then_some(gap.lowest_c)
        .flatten()
        .map(|lowest| {
            let spread = libm::hypot(lowest.spread, KILL_SPREAD_C);
            below((lowest.mean - species.winterkill_c) / spread)
        })
        .or((gap.over_winter && tender).then_some(0.0));
    Fit {
        comes_up: gap.sowing_c >= species.germination_c,
        serves_chance,
        growing_d,
        degree_days,
        lives_chance,
        spring_frost_chance: match gap.before_spring_frost {
            Some(frost) if tender => 1.0 - frost.chance_below(UP_AFTER_D),
            _ => 0.0,
        },
        frost_ends_chance: if tender { 1.0 - frost_after(gap.days) } else { 0.0 },
    }
}
