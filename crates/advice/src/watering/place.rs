//! What the farm and its plots tell the weather equations, and what is still wanted.

use book::model::weather::{MonthNormals as BookMonth, WeatherDay as BookDay, WeatherNormals, WindHeight};
use book::model::{Cover, Farm, Plot};
use ground::belief::Known;
use ground::climate::quantities;
use ground::climate::weather::{
    DailyNormals, MonthNormals, TunnelCover, WeatherDay, daily_normals, normals, tunnel_factor,
};
use ground::climate::{Setting, Site, Surroundings};
use ground::kit::{Bounded, Refusal};
use serde::Serialize;

/// Kind of thing that has to be entered first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WantedKind {
    /// Latitude of the farm.
    Latitude,
    /// Weather of any kind.
    Weather,
    /// The usual weather of the months.
    Normals,
    /// What grows in the bed.
    Planting,
    /// Figures of the crop.
    Crop,
    /// How the bed is watered.
    System,
    /// What the hose or the supply gives.
    Flow,
    /// Something that tells what the ground is.
    Ground,
}

/// Something that has to be entered before more can be said.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Wanted {
    /// Its kind.
    pub kind: WantedKind,
    /// What to enter and why, in a sentence.
    pub text: String,
}

impl Wanted {
    pub(super) fn new(kind: WantedKind, text: impl Into<String>) -> Self {
        Self { kind, text: text.into() }
    }
}

/// The place, where the farm says its latitude.
pub(super) fn site_of(farm: &Farm) -> Option<Site> {
    let latitude_degrees = kept(farm.latitude_degrees)?;
    Some(Site {
        latitude_degrees,
        elevation_m: kept(farm.elevation_m),
        setting: if farm.coastal == Some(true) { Setting::Coastal } else { Setting::Interior },
        surroundings: if farm.arid == Some(true) { Surroundings::Arid } else { Surroundings::Watered },
        angstrom_a: None,
        angstrom_b: None,
    })
}

/// A number of the book as the equations take it; `None` also where it is beyond what they take.
fn kept<A: Bounded, B: Bounded>(value: Option<A>) -> Option<B> {
    value.and_then(|value| B::new(value.get()).ok())
}

/// A day of the book as the equations take it.
pub(super) fn day_of(day: &BookDay, wind_height_m: Option<WindHeight>) -> WeatherDay {
    WeatherDay {
        tmax_c: kept(day.tmax_c),
        tmin_c: kept(day.tmin_c),
        rain_mm: kept(day.rain_mm),
        rh_max_percent: kept(day.rh_max_percent),
        rh_min_percent: kept(day.rh_min_percent),
        rh_mean_percent: kept(day.rh_mean_percent),
        dew_point_c: kept(day.dew_point_c),
        wind_m_s: kept(day.wind_m_s),
        wind_height_m: day.wind_m_s.and(kept(wind_height_m)),
        solar_mj_m2_d: kept(day.radiation_mj_m2_d),
        sunshine_h: kept(day.sunshine_h),
        et0_mm_d: kept(day.et0_mm),
        ..WeatherDay::default()
    }
}

/// The day with nothing but its temperatures, its rain and its given evapotranspiration.
pub(super) fn bare_day(day: &WeatherDay) -> WeatherDay {
    WeatherDay {
        tmax_c: day.tmax_c,
        tmin_c: day.tmin_c,
        rain_mm: day.rain_mm,
        et0_mm_d: day.et0_mm_d,
        ..WeatherDay::default()
    }
}

/// The usual weather of each day of a year.
pub(super) fn usual_days(site: &Site, book: &WeatherNormals) -> Result<DailyNormals, Refusal> {
    let months: Vec<MonthNormals> =
        book.months.iter().map(|month| month_of(month, book.wind_height_m)).collect();
    daily_normals(site, &months)
}

fn month_of(month: &BookMonth, wind_height_m: Option<WindHeight>) -> MonthNormals {
    MonthNormals {
        weather: WeatherDay {
            tmax_c: kept(Some(month.tmax_c)),
            tmin_c: kept(Some(month.tmin_c)),
            rh_mean_percent: kept(month.rh_mean_percent),
            wind_m_s: kept(month.wind_m_s),
            wind_height_m: month.wind_m_s.and(kept(wind_height_m)),
            solar_mj_m2_d: kept(month.radiation_mj_m2_d),
            sunshine_h: kept(month.sunshine_h),
            ..WeatherDay::default()
        },
        rain_mm: quantities::MonthlyRain::new(month.rain_mm.get().min(quantities::MonthlyRain::MAX))
            .unwrap_or(quantities::MonthlyRain::literal(0.0)),
        rain_days_d: kept::<_, normals::RainDays>(month.rain_days),
    }
}

/// What a cover does to the weather outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Under {
    /// Factor on evapotranspiration; `None` in the open.
    pub factor: Option<Known>,
    /// Whether the grower gave it.
    pub given: bool,
}

impl Under {
    pub(super) fn of(plot: &Plot) -> Self {
        if !plot.place.under_cover() {
            return Self { factor: None, given: false };
        }
        if let Some(factor) = plot.cover.and_then(|cover| cover.et0_factor) {
            let known = Known { low: factor.low.get(), likely: factor.likely.get(), high: factor.high.get() };
            return Self { factor: Some(known), given: true };
        }
        let shaded = plot.cover.is_some_and(|cover: Cover| cover.shaded);
        let (low, likely, high) =
            tunnel_factor(if shaded { TunnelCover::Shaded } else { TunnelCover::Covered });
        Self { factor: Some(Known { low, likely, high }), given: false }
    }

    /// Does rain fall on the ground?
    pub(super) fn open(&self) -> bool {
        self.factor.is_none()
    }
}
