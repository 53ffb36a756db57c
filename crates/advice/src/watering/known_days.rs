//! Days as the tables of the book tell them, before they are drawn, and what stands in for the others.

use std::collections::BTreeMap;
use std::rc::Rc;

use book::WeatherOn;
use ground::climate::weather::{
    DailyNormals, Et0Basis, FilledSeries, GapRules, Outlook, Scatter, WeatherDay, WeatherEnsemble, YearDay,
    day_water, fill_gaps, outlook,
};
use ground::climate::{Site, vapour::saturation_kpa};
use ground::irrigation::balance::evaporation::{Air, STANDARD_AIR};
use ground::kit::{Bounded, Refusal};
use jiff::civil::Date;

use super::place::{bare_day, day_of};

/// Known days whose mean stands in where there are no normals.
const RECENT_D: usize = 14;

/// One day before it is drawn.
pub(super) struct Told {
    /// Evapotranspiration and its relative error.
    pub et0: Option<(f64, f64)>,
    pub rain: Option<f64>,
    pub forecast: bool,
    pub air: Air,
    pub marks: Vec<String>,
}

/// The same for the ground's arithmetic of days.
pub(super) fn year_day(date: Date) -> Option<YearDay> {
    YearDay::new(date.year(), date.day_of_year().unsigned_abs()).ok()
}

pub(super) fn told(site: &Site, dates: &[Date], days: &BTreeMap<Date, WeatherOn>) -> Vec<Told> {
    let known: Vec<WeatherDay> = dates
        .iter()
        .map(|date| days.get(date).map_or_else(WeatherDay::default, |on| day_of(&on.day, on.wind_height_m)))
        .collect();
    let Some(first) = dates.first().and_then(|date| year_day(*date)) else { return Vec::new() };
    let filled = fill_gaps(first, &known, None, GapRules::default());
    dates
        .iter()
        .enumerate()
        .map(|(at, date)| {
            let on = days.get(date);
            told_day(site, f64::from(date.day_of_year()), at, &filled, on)
        })
        .collect()
}

fn told_day(site: &Site, day_of_year: f64, at: usize, filled: &FilledSeries, on: Option<&WeatherOn>) -> Told {
    let day = &filled.days[at];
    let forecast = on.is_some_and(|on| on.forecast);
    let mut marks = Vec::new();
    if filled.fills.iter().any(|fill| fill.day == at) {
        marks.push("temperature not known: a straight line between the days before and after".to_owned());
    }
    let mut told = Told {
        et0: None,
        rain: day.rain_mm.map(Bounded::get),
        forecast,
        air: STANDARD_AIR,
        marks: Vec::new(),
    };
    if day.mean_c().is_none() && day.et0_mm_d.is_none() {
        return told;
    }
    let answer: Result<_, Refusal> = day_water(site, day_of_year, day).or_else(|refusal| {
        marks.push(format!("left out what cannot be: {}", refusal.message));
        day_water(site, day_of_year, &bare_day(day))
    });
    match answer {
        Ok(water) => {
            let mut error = match water.basis {
                Et0Basis::Given => 0.05,
                Et0Basis::PenmanMonteith(rules) if rules.all_estimated() => {
                    marks.push(
                        "sunlight, humidity and wind not measured: estimated from the temperatures (FAO-56)"
                            .to_owned(),
                    );
                    0.15
                }
                Et0Basis::PenmanMonteith(rules) => {
                    if rules.notes().is_empty() {
                        0.05
                    } else {
                        0.10
                    }
                }
            };
            if forecast || !marks.is_empty() {
                error = f64::max(error, 0.15);
            }
            told.et0 = Some((water.et0_mm_d, error));
            told.air = air_of(day);
        }
        Err(refusal) => marks.push(format!("not used: {}", refusal.message)),
    }
    told.marks = marks;
    told
}

/// Wind and least humidity for the ceiling of a wet surface; the usual ones where they were not measured.
fn air_of(day: &WeatherDay) -> Air {
    let wind = day.wind_m_s.map(|wind| {
        let height = day.wind_height_m.map_or(2.0, Bounded::get);
        wind.get() * ground::climate::et0::equation::wind_factor(height)
    });
    let from_dew =
        || Some(100.0 * saturation_kpa(day.dew_point_c?.get()) / saturation_kpa(day.tmax_c?.get()));
    let humidity = day.rh_min_percent.map(Bounded::get).or_else(from_dew);
    Air {
        wind_m_s: wind.unwrap_or(STANDARD_AIR.wind_m_s),
        rh_min_percent: humidity.unwrap_or(STANDARD_AIR.rh_min_percent),
    }
}

/// For every day that needs it, the ensemble of its run of such days and its place there.
pub(super) fn usual_runs(
    site: &Site,
    normals: Option<&DailyNormals>,
    dates: &[Date],
    told: &[Told],
    draws: usize,
) -> BTreeMap<usize, (Rc<WeatherEnsemble>, usize)> {
    let mut runs = BTreeMap::new();
    let Some(normals) = normals else { return runs };
    let needs = |day: &Told| day.et0.is_none() || day.rain.is_none() || day.forecast;
    let mut at = 0;
    while at < told.len() {
        let end = (at..told.len()).find(|place| !needs(&told[*place])).unwrap_or(told.len());
        if end > at
            && let Some(first) = year_day(dates[at])
        {
            let ask = Outlook {
                site,
                normals,
                first,
                days: end - at,
                members: draws,
                forecast: &[],
                scatter: Scatter::default(),
                salt: 0,
            };
            if let Ok(ensemble) = outlook(&ask) {
                let ensemble = Rc::new(ensemble);
                runs.extend((at..end).map(|place| (place, (Rc::clone(&ensemble), place - at))));
            }
        }
        at = end.max(at + 1);
    }
    runs
}

/// Mean evapotranspiration of the known days nearest before each day, or of the first ones known.
pub(super) fn recent_means(told: &[Told]) -> Vec<Option<f64>> {
    #[expect(clippy::cast_precision_loss, reason = "a fortnight")]
    let mean = |values: &[f64]| {
        let last = &values[values.len().saturating_sub(RECENT_D)..];
        (!last.is_empty()).then(|| last.iter().sum::<f64>() / last.len() as f64)
    };
    let all: Vec<f64> = told.iter().filter_map(|day| day.et0).map(|(et0, _)| et0).collect();
    let first = mean(&all[..all.len().min(RECENT_D)]);
    let mut seen = Vec::new();
    told.iter()
        .map(|day| {
            let before = mean(&seen).or(first);
            seen.extend(day.et0.map(|(et0, _)| et0));
            before
        })
        .collect()
}
