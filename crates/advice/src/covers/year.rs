//! The farm's year as covers meet it: usual warmth, light, frosts and the winter's low, in the open or in a tunnel.

use book::Snapshot;
use book::model::{MonthDay, UnitSystem, WeatherWhat};
use ground::climate::season::frost::{date_odds, frost_days};
use ground::covers::gap::{Uncertain, Year};
use ground::kit::Bounded;
use ground::siting::warmth::{COVER_GAINS_D, COVER_WARMS_HIGH_LOW_C, COVER_WARMS_WINTER_LOW_C};
use jiff::civil::Date;

use crate::words;

/// Spread of a frost date that is given without its odds, days (common practice, no source).
const USUAL_FROST_SPREAD_D: f64 = 10.0;
/// Spread of a winter's low that is given without its odds, °C (our judgement).
const USUAL_LOW_SPREAD_C: f64 = 3.0;
/// The winter's low below the mean low of the coldest month, °C, and its spread, where nothing better is known (our
/// judgement, from continental places).
const LOW_BELOW_COLDEST_MONTH_C: (f64, f64) = (13.0, 5.0);
/// Years of daily weather from which frosts and lows are taken.
const ENOUGH_YEARS: usize = 5;
/// Days of a year that must have a lowest temperature.
const ENOUGH_DAYS: usize = 330;

/// A year with what it rests on.
#[derive(Debug, Clone)]
pub struct FarmYear {
    /// The year.
    pub year: Year,
    /// What it rests on, in sentences in the farm's units.
    pub rests_on: Vec<String>,
    /// Was the winter's low given or measured, and not guessed?
    pub low_known: bool,
    /// Are both frost dates known?
    pub frosts_known: bool,
}

/// The farm's year, in the open or under cover.
///
/// # Errors
/// What must be entered first, in sentences.
pub fn farm_year(snapshot: &Snapshot, under_cover: bool) -> Result<FarmYear, Vec<String>> {
    let farm = &snapshot.farm.body;
    let units = farm.units;
    let mut wanted = Vec::new();
    if farm.latitude_degrees.is_none() {
        wanted.push(
            "Enter the farm's rough latitude in the settings: how long the days are hangs on it.".to_owned(),
        );
    }
    if snapshot.normals().is_none() {
        wanted.push(
            "Enter the usual weather of the twelve months: what comes up and how long it grows hangs on it."
                .to_owned(),
        );
    }
    let (Some(latitude), Some(normals)) = (farm.latitude_degrees, snapshot.normals()) else {
        return Err(wanted);
    };
    let [warms_high, warms_low] = COVER_WARMS_HIGH_LOW_C;
    let lift = |by: f64| if under_cover { by } else { 0.0 };
    let mut tmax = normals.body.months.each_ref().map(|month| month.tmax_c.get() + lift(warms_high));
    let tmin = normals.body.months.each_ref().map(|month| month.tmin_c.get() + lift(warms_low));
    for (high, low) in tmax.iter_mut().zip(&tmin) {
        *high = high.max(*low);
    }
    let mut year = Year::new(&tmax, &tmin, latitude.get());
    let mut rests_on = vec!["The usual weather of the months in the book.".to_owned()];
    let measured = measured(snapshot, latitude.get() < 0.0);
    let (spring, autumn) = match &measured {
        Some(known) => {
            rests_on
                .push(format!("Frost dates and the winter's low of {} years of daily weather.", known.years));
            (Some(known.last_spring), Some(known.first_autumn))
        }
        None => {
            let (spring, autumn) = (farm.last_frost.map(of_day), farm.first_frost.map(of_day));
            if spring.is_some() || autumn.is_some() {
                rests_on.push(
                    "The farm's usual frost dates, which are taken to come ten days earlier or later in one year of three (common practice).".to_owned(),
                );
            }
            (spring, autumn)
        }
    };
    let frosts_known = spring.is_some() && autumn.is_some();
    if !frosts_known {
        rests_on
            .push("No frost dates: enter them in the settings, and the odds of frost are told.".to_owned());
    }
    let shift = |frost: Option<Uncertain>, by: f64| {
        frost
            .map(|frost| Uncertain { mean: (frost.mean + lift(by) + 364.0).rem_euclid(365.0) + 1.0, ..frost })
    };
    year.last_spring = shift(spring, -COVER_GAINS_D);
    year.first_autumn = shift(autumn, COVER_GAINS_D);
    let coldest = normals.body.months.iter().map(|month| month.tmin_c.get()).fold(f64::INFINITY, f64::min);
    let (low, low_known) = match (farm.winter_low_c, &measured) {
        (Some(low), _) => {
            rests_on.push(low_told(low.get(), units));
            (Uncertain { mean: low.get(), spread: USUAL_LOW_SPREAD_C }, true)
        }
        (None, Some(known)) => (known.lowest_c, true),
        (None, None) => {
            let (below, spread) = LOW_BELOW_COLDEST_MONTH_C;
            rests_on.push(format!(
                "A winter's low of {}, guessed from the coldest month: enter the usual one in the settings, since it says which covers live.",
                words::temperature(coldest - below, units)
            ));
            (Uncertain { mean: coldest - below, spread }, false)
        }
    };
    year.lowest_c = Some(Uncertain { mean: low.mean + lift(COVER_WARMS_WINTER_LOW_C), ..low });
    if under_cover {
        rests_on.push(cover_told(units));
    }
    Ok(FarmYear { year, rests_on, low_known, frosts_known })
}

fn low_told(low_c: f64, units: UnitSystem) -> String {
    format!(
        "A usual winter's low of {}, give or take {}.",
        words::temperature(low_c, units),
        words::warmer(USUAL_LOW_SPREAD_C, units)
    )
}

/// What an unheated cover is taken to add.
fn cover_told(units: UnitSystem) -> String {
    let warmer = |by_c: f64| words::warmer(by_c, units);
    let [high, low] = COVER_WARMS_HIGH_LOW_C;
    format!(
        "Under cover without heat: days {} and nights {} warmer than outside (one study of a closed tunnel, its abstract read), the winter's low {} higher and three weeks more at each end of the season (common practice). A thermometer inside is worth more.",
        warmer(high),
        warmer(low),
        warmer(COVER_WARMS_WINTER_LOW_C)
    )
}

fn of_day(day: MonthDay) -> Uncertain {
    Uncertain { mean: day_number(day), spread: USUAL_FROST_SPREAD_D }
}

/// Day of a common year; the last of February stands in for a leap day.
pub(crate) fn day_number(day: MonthDay) -> f64 {
    let date = Date::new(2025, day.month(), day.day()).unwrap_or(jiff::civil::date(2025, 2, 28));
    f64::from(date.day_of_year())
}

/// What years of daily weather tell.
struct Measured {
    years: usize,
    last_spring: Uncertain,
    first_autumn: Uncertain,
    lowest_c: Uncertain,
}

/// Frosts and lows from measured days, where there are years enough of them.
fn measured(snapshot: &Snapshot, south: bool) -> Option<Measured> {
    if snapshot.weather_tables.iter().all(|table| table.body.what != WeatherWhat::Measured) {
        return None;
    }
    // A year begins in the dead of winter: on 1 January, or on 1 July in the south.
    let first_day = if south { 182 } else { 1 };
    let mut years: std::collections::BTreeMap<i16, Vec<Option<f64>>> = std::collections::BTreeMap::new();
    for (date, on) in snapshot.weather_days() {
        let Some(low) = on.day.tmin_c.filter(|_| !on.forecast) else { continue };
        let day = i32::from(date.day_of_year().min(365));
        let (year, at) = if day >= first_day {
            (date.year(), day - first_day)
        } else {
            (date.year() - 1, day + 365 - first_day)
        };
        if let Some(place) = years
            .entry(year)
            .or_insert_with(|| vec![None; 365])
            .get_mut(usize::try_from(at).unwrap_or_default())
        {
            *place = Some(low.get());
        }
    }
    years.retain(|_, days| days.iter().flatten().count() >= ENOUGH_DAYS);
    if years.len() < ENOUGH_YEARS {
        return None;
    }
    let (mut spring, mut autumn, mut lowest) = (Vec::new(), Vec::new(), Vec::new());
    for days in years.values() {
        let (last, first) = frost_days(days, 0.0);
        #[expect(clippy::cast_precision_loss, reason = "a day of the year")]
        let day = |at: usize| at as f64;
        spring.extend(last.map(day));
        autumn.extend(first.map(day));
        lowest.push(days.iter().flatten().copied().fold(f64::INFINITY, f64::min));
    }
    let back = |mean: f64| (mean - 1.0 + f64::from(first_day) - 1.0).rem_euclid(365.0) + 1.0;
    let frost = |days: &[f64]| {
        date_odds(days).map(|odds| Uncertain { mean: back(odds.even_odds), spread: odds.spread_d.max(1.0) })
    };
    // Mean and deviation of the lows, by the same arithmetic.
    let low = date_odds(&lowest)?;
    Some(Measured {
        years: years.len(),
        last_spring: frost(&spring)?,
        first_autumn: frost(&autumn)?,
        lowest_c: Uncertain { mean: low.even_odds, spread: low.spread_d.max(0.5) },
    })
}

/// Day of the year from 1 to 365.
pub(crate) fn day_of_year(date: Date) -> u16 {
    date.day_of_year().unsigned_abs().clamp(1, 365)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A difference of temperatures has no zero: 5 °C warmer is 9 °F warmer, never 41 °F (arithmetic).
    #[test]
    fn differences_of_temperature_are_told_as_differences() {
        let us = UnitSystem::UsCustomary;
        assert_eq!(low_told(-23.0, us), "A usual winter's low of -9 °F, give or take 5 °F.");
        assert_eq!(
            low_told(-23.333_333, UnitSystem::Metric),
            "A usual winter's low of -23 °C, give or take 3 °C."
        );
        // 4.2, 1.3 and 3 °C by 1.8.
        let told = cover_told(us);
        for part in ["days 8 °F", "nights 2 °F", "low 5 °F higher"] {
            assert!(told.contains(part), "no {part}: {told}");
        }
        assert!(cover_told(UnitSystem::Metric).contains("days 4 °C and nights 1 °C"));
    }
}
