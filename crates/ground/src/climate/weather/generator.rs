//! Days that may come: an ensemble of daily rain and evapotranspiration around the normals.
//!
//! * Wet and dry days follow each other as a chain of two states (Richardson 1981) whose odds come from the
//!   share of wet days f alone: wet after dry 0.75 f, wet after wet 0.25 + 0.75 f (Geng et al. 1986).
//! * Depth of a wet day is gamma with scale −2.16 + 1.83 m for a mean depth m (Geng et al. 1986), exponential
//!   where that scale is below m, for means under 2.6 mm.
//! * Evapotranspiration is the normal times a lognormal that carries over from day to day, lower on wet days,
//!   times one factor for the whole season; the means are kept. How wide these are is our judgement.
//! * A forecast takes the place of its days.
//!
//! All three sources are recalled, not read again.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::calendar::YearDay;
use super::day::WeatherDay;
use super::normals::DailyNormals;
use super::water::day_water;
use crate::climate::site::Site;
use crate::kit::chance::{Chance, Fingerprint};
use crate::kit::{Bounded, Refusal, Spread};

crate::quantity! {
    /// Chance that it rains at all on a day of a forecast.
    pub struct RainChance: "chance of rain", "%", 0.0 ..= 100.0, example 60.0;
}

/// Most days of one outlook.
pub const MOST_DAYS: usize = 400;
/// Most members of one ensemble.
pub const MOST_MEMBERS: usize = 5000;

/// One day of a forecast.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct ForecastDay {
    /// What is forecast. Evapotranspiration comes from it where it gives both temperatures or the number
    /// itself, rain where it gives `rain_mm`; the rest stays with the normals.
    pub weather: WeatherDay,
    /// Chance that it rains; `rain_mm` is then the depth if it does. Certain where nothing is said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rain_chance_percent: Option<RainChance>,
}

/// How far days stray from the normals. The defaults are our judgement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// Relative standard deviation of a day's evapotranspiration.
    pub day: f64,
    /// Share of a day's departure that carries over to the next.
    pub carry_over: f64,
    /// Evapotranspiration of a wet day against a dry one.
    pub wet_day_ratio: f64,
    /// Relative standard deviation of a whole season.
    pub season: f64,
    /// Relative standard deviation of a forecast day.
    pub forecast: f64,
}

impl Default for Scatter {
    fn default() -> Self {
        Self { day: 0.25, carry_over: 0.4, wet_day_ratio: 0.7, season: 0.08, forecast: 0.10 }
    }
}

/// What an ensemble is asked for.
#[derive(Debug, Clone, Copy)]
pub struct Outlook<'a> {
    /// Where; needed for the forecast's evapotranspiration.
    pub site: &'a Site,
    /// What is usual.
    pub normals: &'a DailyNormals,
    /// First day.
    pub first: YearDay,
    /// Number of days.
    pub days: usize,
    /// Number of members.
    pub members: usize,
    /// Forecast of the first days, in order.
    pub forecast: &'a [ForecastDay],
    /// How far days stray.
    pub scatter: Scatter,
    /// Added to the seed, which is otherwise a fingerprint of all the above.
    pub salt: u64,
}

/// Daily evapotranspiration and rain of many possible courses, member after member.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherEnsemble {
    /// First day.
    pub first: YearDay,
    /// Days of each member.
    pub days: usize,
    /// Members.
    pub members: usize,
    /// Reference evapotranspiration, mm/d; day `d` of member `m` stands at `m * days + d`.
    pub et0_mm_d: Vec<f64>,
    /// Rain, mm, in the same order.
    pub rain_mm: Vec<f64>,
}

impl WeatherEnsemble {
    /// Evapotranspiration and rain of a member's days. Empty beyond the last member.
    #[must_use]
    pub fn member(&self, member: usize) -> (&[f64], &[f64]) {
        let (from, to) = (member * self.days, (member + 1) * self.days);
        (self.et0_mm_d.get(from..to).unwrap_or_default(), self.rain_mm.get(from..to).unwrap_or_default())
    }

    /// Median and 90 % range of each day's evapotranspiration, mm/d.
    #[must_use]
    pub fn et0_by_day(&self) -> Vec<Spread> {
        self.by_day(&self.et0_mm_d)
    }

    /// Median and 90 % range of each day's rain, mm.
    #[must_use]
    pub fn rain_by_day(&self) -> Vec<Spread> {
        self.by_day(&self.rain_mm)
    }

    /// Share of members with rain on each day.
    #[must_use]
    pub fn wet_share_by_day(&self) -> Vec<f64> {
        #[expect(clippy::cast_precision_loss, reason = "members by the thousand")]
        let share = |day: usize| {
            let wet = (0..self.members).filter(|m| self.rain_mm[m * self.days + day] > 0.0).count();
            wet as f64 / self.members as f64
        };
        (0..self.days).map(share).collect()
    }

    /// Median and 90 % range of the sums of evapotranspiration and of rain over all days, mm.
    #[must_use]
    pub fn totals(&self) -> Option<(Spread, Spread)> {
        let sums = |values: &[f64]| -> Option<Spread> {
            let mut sums: Vec<f64> = values.chunks_exact(self.days).map(|days| days.iter().sum()).collect();
            Spread::of_equal(&mut sums)
        };
        Some((sums(&self.et0_mm_d)?, sums(&self.rain_mm)?))
    }

    fn by_day(&self, values: &[f64]) -> Vec<Spread> {
        (0..self.days)
            .filter_map(|day| {
                let mut of_day: Vec<f64> =
                    values.iter().skip(day).step_by(self.days.max(1)).copied().collect();
                Spread::of_equal(&mut of_day)
            })
            .collect()
    }
}

/// One day of the outlook, worked out before the members are drawn.
struct Ahead {
    et0: f64,
    wet_chance: f64,
    /// Mean depth of a wet day, mm.
    wet_depth: f64,
    /// Evapotranspiration comes from a forecast.
    et0_forecast: bool,
    /// Rain comes from a forecast: its chance (0 to 1), and its depth where one is given.
    rain_forecast: Option<(f64, Option<f64>)>,
}

/// Draws the ensemble.
///
/// # Errors
/// More days or members than it takes, a forecast longer than the outlook or with a contradiction.
pub fn outlook(ask: &Outlook<'_>) -> Result<WeatherEnsemble, Refusal> {
    ask.first.check().map_err(|refusal| refusal.inside("first_day"))?;
    within("days", ask.days, MOST_DAYS)?;
    within("members", ask.members, MOST_MEMBERS)?;
    if ask.forecast.len() > ask.days {
        return Err(Refusal::new("forecast", "the forecast is longer than the outlook")
            .given(ask.forecast.len())
            .accepted(format!("0 to {} days", ask.days))
            .example("5"));
    }
    let ahead = look_ahead(ask)?;
    let mut chance = Chance::new(seed(ask, &ahead));
    let size = ask.days * ask.members;
    let (mut et0, mut rain) = (Vec::with_capacity(size), Vec::with_capacity(size));
    for _ in 0..ask.members {
        draw(&ahead, &ask.scatter, &mut chance, &mut et0, &mut rain);
    }
    Ok(WeatherEnsemble {
        first: ask.first,
        days: ask.days,
        members: ask.members,
        et0_mm_d: et0,
        rain_mm: rain,
    })
}

fn within(field: &str, given: usize, most: usize) -> Result<(), Refusal> {
    if (1..=most).contains(&given) {
        return Ok(());
    }
    Err(Refusal::new(field, format!("{field} must be 1 to {most}, but {given} was given"))
        .given(given)
        .accepted(format!("1 to {most}"))
        .example(most.min(200)))
}

fn look_ahead(ask: &Outlook<'_>) -> Result<Vec<Ahead>, Refusal> {
    ask.first
        .onward()
        .take(ask.days)
        .enumerate()
        .map(|(at, date)| {
            let index = date.common_index();
            let wet_chance = ask.normals.wet_chance[index];
            let rain = ask.normals.rain_mm_d[index];
            let mut ahead = Ahead {
                et0: ask.normals.et0_mm_d[index],
                wet_chance,
                wet_depth: if wet_chance > 0.0 { rain / wet_chance } else { 0.0 },
                et0_forecast: false,
                rain_forecast: None,
            };
            let Some(forecast) = ask.forecast.get(at) else { return Ok(ahead) };
            let inside = |refusal: Refusal| refusal.inside(&format!("forecast[{at}].weather"));
            let day = f64::from(date.day_of_year);
            if forecast.weather.et0_mm_d.is_some() || forecast.weather.mean_c().is_some() {
                ahead.et0 = day_water(ask.site, day, &forecast.weather).map_err(inside)?.et0_mm_d;
                ahead.et0_forecast = true;
            } else {
                forecast.weather.check(ask.site, day).map_err(inside)?;
            }
            let depth = forecast.weather.rain_mm.map(Bounded::get);
            let share = forecast.rain_chance_percent.map(|percent| percent.get() / 100.0);
            ahead.rain_forecast = match (share, depth) {
                (Some(share), depth) => Some((share, depth)),
                (None, Some(depth)) => Some((1.0, Some(depth))),
                (None, None) => None,
            };
            Ok(ahead)
        })
        .collect()
}

fn seed(ask: &Outlook<'_>, ahead: &[Ahead]) -> u64 {
    let mut print = Fingerprint::new();
    print.bytes(b"weather outlook");
    print.whole(ask.salt);
    print.number(f64::from(ask.first.year));
    print.number(f64::from(ask.first.day_of_year));
    for size in [ask.days, ask.members] {
        print.whole(size as u64);
    }
    for day in ahead {
        for value in [day.et0, day.wet_chance, day.wet_depth] {
            print.number(value);
        }
        if let Some((share, depth)) = day.rain_forecast {
            print.number(share);
            print.number(depth.unwrap_or(-1.0));
        }
    }
    print.finish()
}

/// Standard deviation and mean of the logarithm of a lognormal of mean 1.
fn lognormal(relative_sd: f64) -> (f64, f64) {
    let variance = libm::log1p(relative_sd * relative_sd);
    (variance.sqrt(), -0.5 * variance)
}

fn draw(ahead: &[Ahead], scatter: &Scatter, chance: &mut Chance, et0: &mut Vec<f64>, rain: &mut Vec<f64>) {
    let (season_sd, season_mean) = lognormal(scatter.season);
    let season = libm::exp(season_mean + season_sd * chance.normal());
    let (day_sd, day_mean) = lognormal(scatter.day);
    let (forecast_sd, forecast_mean) = lognormal(scatter.forecast);
    let fresh = (1.0 - scatter.carry_over * scatter.carry_over).max(0.0).sqrt();
    let mut departure = chance.normal();
    let mut yesterday_wet: Option<bool> = None;
    for day in ahead {
        let f = day.wet_chance;
        let (odds, depth) = match day.rain_forecast {
            Some((share, depth)) => (share, depth),
            None => (
                match yesterday_wet {
                    None => f,
                    Some(false) => 0.75 * f,
                    // A month that is never wet stays so.
                    Some(true) => {
                        if f > 0.0 {
                            0.25 + 0.75 * f
                        } else {
                            0.0
                        }
                    }
                },
                None,
            ),
        };
        let wet = chance.uniform() < odds;
        // Drawn on dry days too, so that a change of the odds does not shift all that follows.
        let drawn = wet_day_mm(day.wet_depth, chance);
        let fallen = if wet { depth.unwrap_or(drawn) } else { 0.0 };
        departure = scatter.carry_over * departure + fresh * chance.normal();
        et0.push(if day.et0_forecast {
            day.et0 * libm::exp(forecast_mean + forecast_sd * departure)
        } else {
            let dry = 1.0 / (1.0 - (1.0 - scatter.wet_day_ratio) * f);
            let kind = if wet { scatter.wet_day_ratio * dry } else { dry };
            day.et0 * season * kind * libm::exp(day_mean + day_sd * departure)
        });
        rain.push(fallen);
        yesterday_wet = Some(fallen > 0.0);
    }
}

/// Depth of a wet day, gamma by Marsaglia and Tsang (2000) with a shape of at most 1.
fn wet_day_mm(mean: f64, chance: &mut Chance) -> f64 {
    if mean <= 0.0 {
        return 0.0;
    }
    let scale = (-2.16 + 1.83 * mean).max(mean);
    let shape = mean / scale;
    // Drawn with one more degree of shape and brought back by a power of a uniform number.
    let d = shape + 1.0 - 1.0 / 3.0;
    let c = 1.0 / (9.0 * d).sqrt();
    let whole = loop {
        let x = chance.normal();
        let root = 1.0 + c * x;
        let u = chance.uniform();
        if root <= 0.0 {
            continue;
        }
        let v = root * root * root;
        if libm::log(u) < 0.5 * x * x + d - d * v + d * libm::log(v) {
            break d * v;
        }
    };
    scale * whole * libm::pow(chance.uniform(), 1.0 / shape)
}

#[cfg(test)]
#[path = "generator_tests.rs"]
mod tests;
