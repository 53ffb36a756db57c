//! Which rule stood in for which measurement (FAO-56 chapters 3 and 4).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::equation::wind_factor;
use crate::climate::site::{Setting, Site, Surroundings};
use crate::climate::sun::SunDay;
use crate::climate::vapour::{mean_saturation_kpa, saturation_kpa};
use crate::climate::weather::{Psychrometer, WeatherDay};
use crate::kit::{Bounded, Note, NoteKind};

/// By how much the dew point lies below the night's lowest temperature on dry ground: the middle of the
/// 2 to 3 °C that the source gives.
pub const ARID_DEW_POINT_DROP_C: f64 = 2.5;

/// Wind at 2 m where it is unknown, m/s: the mean of many stations (FAO-56 chapter 3).
pub const USUAL_WIND_M_S: f64 = 2.0;

/// Where the vapour pressure came from, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum HumidityRule {
    /// Given as it is.
    VapourPressure,
    /// Dew point (eq. 14).
    DewPoint,
    /// Wet and dry bulb (eq. 15).
    WetAndDryBulb,
    /// Highest and lowest relative humidity (eq. 17).
    HighestAndLowestHumidity,
    /// Highest relative humidity alone (eq. 18).
    HighestHumidity,
    /// Mean relative humidity (eq. 19).
    MeanHumidity,
    /// Not measured: the night's lowest temperature for the dew point (eq. 48).
    LowestTemperature,
    /// Not measured, dry surroundings: 2.5 °C below the night's lowest temperature.
    LowestTemperatureArid,
}

/// Where the solar radiation came from, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RadiationRule {
    /// Measured.
    Measured,
    /// Hours of sunshine (eq. 35).
    Sunshine,
    /// A station near by (eq. 49).
    NearbyStation,
    /// Difference of the temperatures, interior (eq. 50, 0.16).
    TemperaturesInterior,
    /// Difference of the temperatures, coast (eq. 50, 0.19).
    TemperaturesCoastal,
    /// Small island, by month (eq. 51).
    Island,
}

/// Where the wind came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WindRule {
    /// Measured at 2 m.
    AtTwoMetres,
    /// Measured at another height (eq. 47).
    FromOtherHeight,
    /// Measured, height unknown: taken as 2 m.
    HeightUnknown,
    /// Not measured: 2 m/s.
    Usual,
}

/// The rules that one answer rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Rules {
    /// For the vapour pressure.
    pub humidity: HumidityRule,
    /// For the solar radiation.
    pub radiation: RadiationRule,
    /// For the wind.
    pub wind: WindRule,
    /// Height above the sea was unknown and taken as 0.
    pub sea_level_assumed: bool,
    /// Wind below 0.5 m/s was taken as 0.5 m/s.
    pub wind_raised: bool,
    /// Dew would have formed: less than nothing evaporates, and 0 is given.
    pub below_zero: bool,
}

impl Rules {
    /// True when nothing but the two temperatures had to be measured.
    #[must_use]
    pub fn all_estimated(&self) -> bool {
        self.humidity >= HumidityRule::LowestTemperature
            && self.radiation >= RadiationRule::TemperaturesInterior
            && self.wind == WindRule::Usual
    }

    /// What to say beside an answer that rests on them.
    #[must_use]
    pub fn notes(&self) -> Vec<Note> {
        let mut notes = Vec::new();
        let mut say = |kind, text: &str| notes.push(Note::new(kind, text));
        match self.humidity {
            HumidityRule::HighestHumidity => {
                say(NoteKind::Method, "Humidity is taken from its daily maximum alone (FAO-56 eq. 18).");
            }
            HumidityRule::MeanHumidity => say(
                NoteKind::Method,
                "Humidity is taken from its daily mean, the least preferred of the measured ways (FAO-56 eq. 19).",
            ),
            HumidityRule::LowestTemperature => say(
                NoteKind::Adjusted,
                "Humidity was not measured: the dew point is taken as the lowest temperature of the night (FAO-56 eq. 48).",
            ),
            HumidityRule::LowestTemperatureArid => say(
                NoteKind::Adjusted,
                "Humidity was not measured: in dry surroundings the dew point is taken 2.5 °C below the lowest \
                 temperature; FAO-56 says 2 to 3 °C.",
            ),
            _ => {}
        }
        match self.radiation {
            RadiationRule::NearbyStation => say(
                NoteKind::Adjusted,
                "Sunlight is carried over from a station near by in proportion to the sun above both (FAO-56 eq. 49).",
            ),
            RadiationRule::TemperaturesInterior => say(
                NoteKind::Adjusted,
                "Sunlight was not measured: it is estimated from the difference of the temperatures with 0.16, for the \
                 interior (FAO-56 eq. 50). Trust sums and means of several days more than one day.",
            ),
            RadiationRule::TemperaturesCoastal => say(
                NoteKind::Adjusted,
                "Sunlight was not measured: it is estimated from the difference of the temperatures with 0.19, for the \
                 coast (FAO-56 eq. 50). Trust sums and means of several days more than one day.",
            ),
            RadiationRule::Island => say(
                NoteKind::Adjusted,
                "Sunlight was not measured: it is estimated for a small low island by month (FAO-56 eq. 51).",
            ),
            RadiationRule::Measured | RadiationRule::Sunshine => {}
        }
        match self.wind {
            WindRule::Usual => say(
                NoteKind::Adjusted,
                "Wind was not measured: 2 m/s is taken, the mean of many stations (FAO-56 p. 63).",
            ),
            WindRule::HeightUnknown => say(
                NoteKind::Adjusted,
                "The height of the wind measurement is unknown and taken as 2 m. A forecast's wind is that at 10 m, a \
                 third stronger: then say 10 m.",
            ),
            WindRule::AtTwoMetres | WindRule::FromOtherHeight => {}
        }
        if self.wind_raised {
            say(NoteKind::Adjusted, "Wind below 0.5 m/s is taken as 0.5 m/s (FAO-56 p. 63).");
        }
        if self.sea_level_assumed {
            say(NoteKind::Adjusted, "Height above the sea is unknown and taken as 0 m.");
        }
        if self.below_zero {
            say(NoteKind::Adjusted, "The equation gives dew rather than evaporation: 0 is given.");
        }
        notes
    }
}

/// Vapour pressure of the air and the rule that gave it.
pub(super) fn actual_vapour(
    site: &Site,
    day: &WeatherDay,
    tmax: f64,
    tmin: f64,
    pressure_kpa: f64,
) -> (f64, HumidityRule) {
    if let Some(vapour) = day.vapour_pressure_kpa {
        return (vapour.get(), HumidityRule::VapourPressure);
    }
    if let Some(dew) = day.dew_point_c {
        return (saturation_kpa(dew.get()), HumidityRule::DewPoint);
    }
    if let (Some(dry), Some(wet)) = (day.dry_bulb_c, day.wet_bulb_c) {
        let airing = match day.psychrometer.unwrap_or_default() {
            Psychrometer::Ventilated => 0.000_662,
            Psychrometer::NaturallyVentilated => 0.000_800,
            Psychrometer::Indoor => 0.001_200,
        };
        let vapour = saturation_kpa(wet.get()) - airing * pressure_kpa * (dry.get() - wet.get());
        return (vapour.max(0.0), HumidityRule::WetAndDryBulb);
    }
    match (day.rh_max_percent, day.rh_min_percent, day.rh_mean_percent) {
        (Some(high), Some(low), _) => {
            let night = saturation_kpa(tmin) * high.get() / 100.0;
            let noon = saturation_kpa(tmax) * low.get() / 100.0;
            (f64::midpoint(night, noon), HumidityRule::HighestAndLowestHumidity)
        }
        (Some(high), None, _) => (saturation_kpa(tmin) * high.get() / 100.0, HumidityRule::HighestHumidity),
        (None, _, Some(mean)) => {
            (mean.get() / 100.0 * mean_saturation_kpa(tmax, tmin), HumidityRule::MeanHumidity)
        }
        _ => match site.surroundings {
            Surroundings::Watered => (saturation_kpa(tmin), HumidityRule::LowestTemperature),
            Surroundings::Arid => {
                (saturation_kpa(tmin - ARID_DEW_POINT_DROP_C), HumidityRule::LowestTemperatureArid)
            }
        },
    }
}

/// Solar radiation, MJ/m²/d, and the rule that gave it. `clear` is what a clear sky lets through.
pub(super) fn solar_radiation(
    site: &Site,
    day: &WeatherDay,
    sun: &SunDay,
    day_of_year: f64,
    spread_c: f64,
    clear: f64,
    monthly: bool,
) -> (f64, RadiationRule) {
    let above = sun.extraterrestrial_mj_m2_d();
    if let Some(solar) = day.solar_mj_m2_d {
        return (solar.get(), RadiationRule::Measured);
    }
    if let Some(hours) = day.sunshine_h {
        let (a, b, _) = site.angstrom();
        let possible = sun.geometric_hours();
        let share = if possible > 0.0 { (hours.get() / possible).min(1.0) } else { 0.0 };
        return ((a + b * share) * above, RadiationRule::Sunshine);
    }
    if let (Some(solar), Some(latitude)) = (day.station_solar_mj_m2_d, day.station_latitude_degrees) {
        let there = SunDay::new(latitude.get().to_radians(), day_of_year).extraterrestrial_mj_m2_d();
        if there > 0.0 {
            return (solar.get() / there * above, RadiationRule::NearbyStation);
        }
    }
    let by_temperature = |k: f64| (k * spread_c.max(0.0).sqrt() * above).min(clear);
    match site.setting {
        Setting::Interior => (by_temperature(0.16), RadiationRule::TemperaturesInterior),
        Setting::Island if monthly => ((0.7 * above - 4.0).clamp(0.0, clear), RadiationRule::Island),
        // The island rule is for months; a single day there is best taken as the coast's.
        Setting::Coastal | Setting::Island => (by_temperature(0.19), RadiationRule::TemperaturesCoastal),
    }
}

/// Wind at 2 m, m/s, and the rule that gave it.
pub(super) fn wind_2m(day: &WeatherDay) -> (f64, WindRule) {
    match (day.wind_m_s.map(Bounded::get), day.wind_height_m.map(Bounded::get)) {
        (None, _) => (USUAL_WIND_M_S, WindRule::Usual),
        (Some(wind), None) => (wind, WindRule::HeightUnknown),
        (Some(wind), Some(height)) if (height - 2.0).abs() < 1e-9 => (wind, WindRule::AtTwoMetres),
        (Some(wind), Some(height)) => (wind * wind_factor(height), WindRule::FromOtherHeight),
    }
}
