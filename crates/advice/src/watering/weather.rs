//! The farm's weather as the balance of its beds needs it: known days with their error, other days as the
//! usual weather has them, each marked with the rule behind it.
//!
//! Errors are judgement: a day's evapotranspiration is taken to be off by 5 % where it was measured in full
//! or given by a station, by 10 % where some of it was, by 15 % where only temperatures were or it is
//! forecast. Rain that is forecast comes in 80 of 100 cases, a day forecast dry is wet in at most 10.

use book::Snapshot;
use ground::climate::Site;
use ground::climate::weather::DailyNormals;
use ground::irrigation::balance::evaporation::{Air, STANDARD_AIR};
use ground::kit::{Note, Spread};
use jiff::civil::Date;
use serde::Serialize;

use super::draws::stream;
use super::known_days::{Told, recent_means, told, usual_runs, year_day};
use super::place::{Wanted, WantedKind, site_of, usual_days};

/// Share of a day's error that the same rule makes day after day.
const CARRIED: f64 = 0.6;
/// Chance that forecast rain comes.
const RAIN_COMES: f64 = 0.8;
/// Chance that a day forecast dry takes the usual chance of rain instead.
const DRY_FAILS: f64 = 0.1;
/// Days of one window at most.
pub(super) const MOST_WINDOW_D: i64 = 390;

/// On what a day's numbers rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum DaySource {
    /// Measured, evapotranspiration and rain.
    Measured,
    /// Some of it was filled in by a rule.
    Filled,
    /// Forecast.
    Forecast,
    /// The usual weather of the day, with all it may be.
    Usual,
}

impl DaySource {
    /// In a word.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Filled => "partly filled in",
            Self::Forecast => "forecast",
            Self::Usual => "the usual of the season",
        }
    }
}

/// A day's weather in the open.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DayWeather {
    /// The day.
    pub date: Date,
    /// Reference evapotranspiration, mm.
    pub et0_mm: Spread,
    /// Rain, mm.
    pub rain_mm: Spread,
    /// Chance of rain, 0 to 1.
    pub rain_odds: f64,
    /// On what it rests.
    pub source: DaySource,
    /// The rules behind what was not measured, in words.
    pub marks: Vec<String>,
}

/// The weather of a farm over a window of days, with its draws.
#[derive(Debug, Clone)]
pub struct FarmWeather {
    /// First day of the window.
    pub first: Date,
    /// Days, without a gap; empty where nothing is known.
    pub days: Vec<DayWeather>,
    /// Draws of each day.
    pub draws: usize,
    /// What is wanted before weather can be told, or to tell it better.
    pub wanted: Vec<Wanted>,
    /// Remarks on the normals.
    pub notes: Vec<Note>,
    /// The usual weather, where it is known.
    pub normals: Option<DailyNormals>,
    air: Vec<Air>,
    et0: Vec<f64>,
    rain: Vec<f64>,
}

impl FarmWeather {
    /// The weather from `first` to `last`, `draws` times. Days before `today` without a table are
    /// the usual weather in all it may have been.
    #[must_use]
    pub fn of(snapshot: &Snapshot, first: Date, last: Date, draws: usize) -> Self {
        let first = first.max(last.saturating_sub(jiff::Span::new().days(MOST_WINDOW_D)));
        let mut weather = Self {
            first,
            days: Vec::new(),
            draws,
            wanted: Vec::new(),
            notes: Vec::new(),
            normals: None,
            air: Vec::new(),
            et0: Vec::new(),
            rain: Vec::new(),
        };
        let Some(site) = site_of(&snapshot.farm.body) else {
            weather.wanted.push(Wanted::new(
                WantedKind::Latitude,
                "Enter the farm's rough latitude in the settings: how much the sun can dry the ground hangs on it.",
            ));
            return weather;
        };
        weather.take_normals(snapshot, &site);
        let days = snapshot.weather_days();
        let dates: Vec<Date> = std::iter::successors(Some(first), |day| day.tomorrow().ok())
            .take_while(|day| *day <= last)
            .collect();
        let told = told(&site, &dates, &days);
        if weather.normals.is_none() && told.iter().all(|day| day.et0.is_none()) {
            weather.wanted.push(Wanted::new(
                WantedKind::Weather,
                "Enter the usual weather of the twelve months, or read in a table of daily weather: without either nothing can be said of what the crops drink.",
            ));
            return weather;
        }
        if weather.normals.is_none() {
            weather.wanted.push(Wanted::new(
                WantedKind::Normals,
                "The usual weather of the months is not entered: days that no table tells are taken like the days before them, and no rain is counted on.",
            ));
        }
        weather.draw(&site, &dates, told);
        weather
    }

    fn take_normals(&mut self, snapshot: &Snapshot, site: &Site) {
        let Some(held) = snapshot.normals() else { return };
        match usual_days(site, &held.body) {
            Ok(normals) => {
                self.notes.extend(normals.notes());
                self.normals = Some(normals);
            }
            Err(refusal) => self.wanted.push(Wanted::new(
                WantedKind::Normals,
                format!("The usual weather cannot be used: {}. Correct it.", refusal.message),
            )),
        }
    }

    /// Is there any weather?
    #[must_use]
    pub fn is_known(&self) -> bool {
        !self.days.is_empty()
    }

    /// Place of a day in the window.
    #[must_use]
    pub fn place(&self, date: Date) -> Option<usize> {
        let days = date.since(self.first).ok()?.get_days();
        usize::try_from(days).ok().filter(|at| *at < self.days.len())
    }

    /// Evapotranspiration of a day in every draw; empty beyond the window.
    #[must_use]
    pub fn et0_of(&self, place: usize) -> &[f64] {
        self.et0.get(place * self.draws..(place + 1) * self.draws).unwrap_or_default()
    }

    /// Rain of a day in every draw; empty beyond the window.
    #[must_use]
    pub fn rain_of(&self, place: usize) -> &[f64] {
        self.rain.get(place * self.draws..(place + 1) * self.draws).unwrap_or_default()
    }

    /// Wind and humidity of a day, the usual ones where they are not known.
    #[must_use]
    pub fn air_of(&self, place: usize) -> Air {
        self.air.get(place).copied().unwrap_or(STANDARD_AIR)
    }

    /// Do the usual rains outweigh evapotranspiration over the weeks before a day? `None` without normals.
    #[must_use]
    pub fn usually_wet_before(&self, date: Date) -> Option<bool> {
        let normals = self.normals.as_ref()?;
        let (mut rain, mut et0) = (0.0, 0.0);
        for back in 1..=60 {
            let day = date.checked_sub(jiff::Span::new().days(back)).ok()?;
            let (use_mm, rain_mm) = normals.on(year_day(day)?);
            rain += rain_mm;
            et0 += use_mm;
        }
        Some(rain > et0)
    }

    fn draw(&mut self, site: &Site, dates: &[Date], mut told: Vec<Told>) {
        let usual = usual_runs(site, self.normals.as_ref(), dates, &told, self.draws);
        let recent = recent_means(&told);
        let seed = dates.first().map_or(0, |day| day.year().unsigned_abs().into());
        let mut chance = stream("weather", seed);
        let shared: Vec<f64> = (0..self.draws).map(|_| chance.normal()).collect();
        let own = (1.0 - CARRIED * CARRIED).sqrt();
        for (at, date) in dates.iter().enumerate() {
            let day = &mut told[at];
            let usual = usual.get(&at);
            let mut source = DaySource::Measured;
            if !day.marks.is_empty() {
                source = DaySource::Filled;
            }
            let et0_known = day.et0.or_else(|| {
                if usual.is_some() {
                    return None;
                }
                day.marks.push(
                    "evapotranspiration not known: taken as the mean of the known days nearest before"
                        .to_owned(),
                );
                Some((recent[at]?, 0.3))
            });
            if day.et0.is_none() && usual.is_some() {
                day.marks.push(
                    "no temperatures: the usual evapotranspiration of the day, with its scatter".to_owned(),
                );
            }
            if day.rain.is_none() {
                day.marks.push(
                    if usual.is_some() {
                        "rain not known: the usual chance and depth of the season"
                    } else {
                        "rain not known: taken as none"
                    }
                    .to_owned(),
                );
            }
            if day.et0.is_none() {
                source = DaySource::Usual;
            } else if day.rain.is_none() && source == DaySource::Measured {
                source = DaySource::Filled;
            }
            if day.forecast {
                source = DaySource::Forecast;
            }
            for (draw, same) in shared.iter().enumerate() {
                let et0 = match (et0_known, usual) {
                    (Some((value, error)), _) => {
                        let normal = CARRIED * same + own * chance.normal();
                        value * libm::exp(error * normal - 0.5 * error * error)
                    }
                    (None, Some((ensemble, place))) => ensemble.member(draw).0[*place],
                    (None, None) => 0.0,
                };
                let usual_rain = usual.map_or(0.0, |(ensemble, place)| ensemble.member(draw).1[*place]);
                let rain = match day.rain {
                    None => usual_rain,
                    Some(rain) if !day.forecast => rain,
                    Some(rain) if rain > 0.0 => {
                        if chance.uniform() < RAIN_COMES {
                            rain
                        } else {
                            0.0
                        }
                    }
                    Some(_) => {
                        if chance.uniform() < DRY_FAILS {
                            usual_rain
                        } else {
                            0.0
                        }
                    }
                };
                self.et0.push(et0);
                self.rain.push(rain);
            }
            self.air.push(day.air);
            let place = at * self.draws;
            let of = |values: &[f64]| {
                Spread::of_equal(&mut values[place..].to_vec()).unwrap_or(Spread {
                    low: 0.0,
                    median: 0.0,
                    high: 0.0,
                })
            };
            #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
            let rain_odds =
                self.rain[place..].iter().filter(|mm| **mm > 0.2).count() as f64 / self.draws as f64;
            self.days.push(DayWeather {
                date: *date,
                et0_mm: of(&self.et0),
                rain_mm: of(&self.rain),
                rain_odds,
                source,
                marks: std::mem::take(&mut day.marks),
            });
        }
    }
}
