//! The weather of each day, from every table of the book, and the usual weather.

use std::collections::BTreeMap;

use jiff::civil::Date;
use serde::Serialize;

use super::Snapshot;
use crate::held::Held;
use crate::model::EntryId;
use crate::model::weather::{WeatherDay, WeatherNormals, WeatherTable, WeatherWhat, WindHeight};

/// The weather of a day as all tables together tell it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WeatherOn {
    /// The values.
    pub day: WeatherDay,
    /// Height at which the wind was measured, where the table of the wind says.
    pub wind_height_m: Option<WindHeight>,
    /// Is anything in it forecast?
    pub forecast: bool,
    /// The tables its values come from, each once.
    pub tables: Vec<EntryId>,
}

impl Snapshot {
    /// The weather day by day.
    ///
    /// A measured value beats a forecast one, and of two of a kind the table recorded later counts.
    /// Values that belong together (highest and lowest temperature; humidities and dew point;
    /// radiation and sunshine) come from one table, so that two stations are not mixed in them.
    #[must_use]
    pub fn weather_days(&self) -> BTreeMap<Date, WeatherOn> {
        let mut days: BTreeMap<Date, WeatherOn> = BTreeMap::new();
        for what in [WeatherWhat::Measured, WeatherWhat::Forecast] {
            for table in self.weather_tables.iter().rev().filter(|table| table.body.what == what) {
                for day in &table.body.days {
                    days.entry(day.date).or_insert_with(|| WeatherOn::empty(day.date)).take(day, table);
                }
            }
        }
        days
    }

    /// The usual weather: of several records the one recorded last.
    #[must_use]
    pub fn normals(&self) -> Option<&Held<WeatherNormals>> {
        self.weather_normals.iter().max_by_key(|normals| normals.recorded_at)
    }
}

impl WeatherOn {
    fn empty(date: Date) -> Self {
        Self { day: WeatherDay::empty(date), wind_height_m: None, forecast: false, tables: Vec::new() }
    }

    /// Fills in what is not known yet.
    fn take(&mut self, from: &WeatherDay, table: &Held<WeatherTable>) {
        let day = &mut self.day;
        let mut took = false;
        if day.tmax_c.is_none() && day.tmin_c.is_none() && (from.tmax_c.is_some() || from.tmin_c.is_some()) {
            (day.tmax_c, day.tmin_c) = (from.tmax_c, from.tmin_c);
            took = true;
        }
        if day.rain_mm.is_none() && from.rain_mm.is_some() {
            day.rain_mm = from.rain_mm;
            took = true;
        }
        let says_humidity = |day: &WeatherDay| {
            day.rh_max_percent.is_some()
                || day.rh_min_percent.is_some()
                || day.rh_mean_percent.is_some()
                || day.dew_point_c.is_some()
        };
        if !says_humidity(day) && says_humidity(from) {
            day.rh_max_percent = from.rh_max_percent;
            day.rh_min_percent = from.rh_min_percent;
            day.rh_mean_percent = from.rh_mean_percent;
            day.dew_point_c = from.dew_point_c;
            took = true;
        }
        if day.wind_m_s.is_none() && from.wind_m_s.is_some() {
            day.wind_m_s = from.wind_m_s;
            self.wind_height_m = table.body.wind_height_m;
            took = true;
        }
        let says_sun = |day: &WeatherDay| day.radiation_mj_m2_d.is_some() || day.sunshine_h.is_some();
        if !says_sun(day) && says_sun(from) {
            (day.radiation_mj_m2_d, day.sunshine_h) = (from.radiation_mj_m2_d, from.sunshine_h);
            took = true;
        }
        if day.et0_mm.is_none() && from.et0_mm.is_some() {
            day.et0_mm = from.et0_mm;
            took = true;
        }
        if took {
            self.forecast |= table.body.what == WeatherWhat::Forecast;
            self.tables.push(table.id);
        }
    }
}
