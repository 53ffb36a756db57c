//! One day's weather, as much of it as is known.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::climate::quantities::{
    AirTemperature, DailyRain, DewPoint, Latitude, ReferenceEt, RelativeHumidity, SolarRadiation, Sunshine,
    VapourPressure, WindHeight, WindSpeed,
};
use crate::climate::site::Site;
use crate::climate::sun::SunDay;
use crate::climate::vapour::saturation_kpa;
use crate::kit::quantity::{number, with_unit};
use crate::kit::{Bounded, Refusal};

/// How the wet and dry bulb thermometers are aired.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Psychrometer {
    /// A fan draws about 5 m/s past the bulbs.
    #[default]
    Ventilated,
    /// In the open, about 1 m/s.
    NaturallyVentilated,
    /// Indoors, air at rest.
    Indoor,
}

/// Weather of one day. Every field may be missing: what is missing is estimated by a stated rule, or the
/// answer says that it cannot be given.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct WeatherDay {
    /// Highest air temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tmax_c: Option<AirTemperature>,
    /// Lowest air temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tmin_c: Option<AirTemperature>,
    /// Vapour pressure, where an instrument gives it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vapour_pressure_kpa: Option<VapourPressure>,
    /// Mean dew point.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dew_point_c: Option<DewPoint>,
    /// Dry bulb, with `wet_bulb_c`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dry_bulb_c: Option<AirTemperature>,
    /// Wet bulb, with `dry_bulb_c`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wet_bulb_c: Option<AirTemperature>,
    /// How the two bulbs are aired.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub psychrometer: Option<Psychrometer>,
    /// Highest relative humidity.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rh_max_percent: Option<RelativeHumidity>,
    /// Lowest relative humidity.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rh_min_percent: Option<RelativeHumidity>,
    /// Mean relative humidity.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rh_mean_percent: Option<RelativeHumidity>,
    /// Mean wind speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wind_m_s: Option<WindSpeed>,
    /// Height at which it is measured; weather services use 10 m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wind_height_m: Option<WindHeight>,
    /// Measured solar radiation.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub solar_mj_m2_d: Option<SolarRadiation>,
    /// Hours of bright sunshine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sunshine_h: Option<Sunshine>,
    /// Solar radiation at a station near by with the same relief and air, with its latitude.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub station_solar_mj_m2_d: Option<SolarRadiation>,
    /// Latitude of that station.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub station_latitude_degrees: Option<Latitude>,
    /// Rain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<DailyRain>,
    /// Reference evapotranspiration, where a service gives it: it is then used as it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub et0_mm_d: Option<ReferenceEt>,
}

impl WeatherDay {
    /// A day with its two temperatures.
    #[must_use]
    pub fn of_temperatures(tmax_c: AirTemperature, tmin_c: AirTemperature) -> Self {
        Self { tmax_c: Some(tmax_c), tmin_c: Some(tmin_c), ..Self::default() }
    }

    /// Mean of the two temperatures (eq. 9), where both are known.
    #[must_use]
    pub fn mean_c(&self) -> Option<f64> {
        Some(f64::midpoint(self.tmax_c?.get(), self.tmin_c?.get()))
    }

    /// Refuses what cannot be: values that contradict each other, or the sun of this place and day.
    /// A number outside its own range never gets into a day.
    ///
    /// # Errors
    /// The first contradiction, with the field, the value and what is accepted.
    pub fn check(&self, site: &Site, day_of_year: f64) -> Result<(), Refusal> {
        let sun = SunDay::new(site.latitude_rad(), day_of_year);
        self.check_under(&sun)
    }

    /// [`check`](Self::check) under a sun already worked out.
    pub(crate) fn check_under(&self, sun: &SunDay) -> Result<(), Refusal> {
        at_most("tmin_c", self.tmin_c, "the highest temperature of the day", self.tmax_c)?;
        at_most("dew_point_c", self.dew_point_c, "the highest temperature of the day", self.tmax_c)?;
        at_most("rh_min_percent", self.rh_min_percent, "the highest humidity", self.rh_max_percent)?;
        at_most("rh_min_percent", self.rh_min_percent, "the mean humidity", self.rh_mean_percent)?;
        at_most("rh_mean_percent", self.rh_mean_percent, "the highest humidity", self.rh_max_percent)?;
        at_most("wet_bulb_c", self.wet_bulb_c, "the dry bulb", self.dry_bulb_c)?;
        if let (Some(vapour), Some(tmax)) = (self.vapour_pressure_kpa, self.tmax_c) {
            let full = saturation_kpa(tmax.get());
            no_more("vapour_pressure_kpa", vapour, full, "the air can hold at the highest temperature")?;
        }
        if let Some(hours) = self.sunshine_h {
            // A quarter of an hour: a station reads the upper edge of the sun, over its own horizon.
            no_more("sunshine_h", hours, sun.almanac_hours() + 0.25, "the sun is up on this day here")?;
        }
        if let Some(solar) = self.solar_mj_m2_d {
            // A twentieth: instruments err by that much.
            let above = 1.05 * sun.extraterrestrial_mj_m2_d() + 0.2;
            no_more("solar_mj_m2_d", solar, above, "reaches the air above this place on this day")?;
        }
        together("wet_bulb_c", self.wet_bulb_c.is_some(), "dry_bulb_c", self.dry_bulb_c.is_some())?;
        together(
            "station_solar_mj_m2_d",
            self.station_solar_mj_m2_d.is_some(),
            "station_latitude_degrees",
            self.station_latitude_degrees.is_some(),
        )
    }
}

fn at_most<A: Bounded, B: Bounded>(
    field: &str,
    low: Option<A>,
    what: &str,
    high: Option<B>,
) -> Result<(), Refusal> {
    let (Some(low), Some(high)) = (low, high) else { return Ok(()) };
    if low.get() <= high.get() {
        return Ok(());
    }
    Err(Refusal::new(
        field,
        format!(
            "{} of {} lies above {what}, {}",
            A::NAME,
            with_unit(low.get(), A::UNIT),
            with_unit(high.get(), B::UNIT)
        ),
    )
    .given(with_unit(low.get(), A::UNIT))
    .accepted(format!("{} to {}", number(A::MIN), with_unit(high.get(), A::UNIT)))
    .example(with_unit(high.get(), A::UNIT)))
}

fn no_more<Q: Bounded>(field: &str, given: Q, most: f64, what: &str) -> Result<(), Refusal> {
    if given.get() <= most {
        return Ok(());
    }
    Err(Refusal::new(
        field,
        format!("{} of {} is more than {what}", Q::NAME, with_unit(given.get(), Q::UNIT)),
    )
    .given(with_unit(given.get(), Q::UNIT))
    .accepted(format!("{} to {most:.1} {}", number(Q::MIN), Q::UNIT))
    .example(format!("{:.1} {}", most * 0.5, Q::UNIT)))
}

fn together(one: &str, has_one: bool, other: &str, has_other: bool) -> Result<(), Refusal> {
    let missing = match (has_one, has_other) {
        (true, false) => other,
        (false, true) => one,
        _ => return Ok(()),
    };
    Err(Refusal::new(
        missing,
        format!("{one} and {other} are of use only together, and {missing} is missing"),
    )
    .given("nothing")
    .accepted(format!("both {one} and {other}, or neither")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::climate::quantities::Elevation;
    use serde_json::json;

    fn refused(day: serde_json::Value) -> Refusal {
        let site = Site::new(Latitude::literal(45.0), Elevation::literal(100.0));
        match crate::kit::method::read::<WeatherDay>(&day) {
            Ok(day) => day.check(&site, 187.0).unwrap_err(),
            Err(refusal) => refusal,
        }
    }

    #[test]
    fn what_cannot_be_is_refused_with_field_value_and_range() {
        for (day, field, given, accepted) in [
            (json!({"tmax_c": 12, "tmin_c": 14.5}), "tmin_c", "14.5 °C", "-60 to 12 °C"),
            (json!({"rh_max_percent": 140}), "rh_max_percent", "140", "0 to 100 %"),
            (json!({"rain_mm": -3}), "rain_mm", "-3", "0 to 1000 mm"),
            (json!({"tmax_c": 95}), "tmax_c", "95", "-60 to 60 °C"),
            (json!({"tmax_c": 20, "dew_point_c": 25}), "dew_point_c", "25 °C", "-70 to 20 °C"),
            (json!({"rh_max_percent": 50, "rh_min_percent": 60}), "rh_min_percent", "60 %", "0 to 50 %"),
            (json!({"wet_bulb_c": 20, "dry_bulb_c": 18}), "wet_bulb_c", "20 °C", "-60 to 18 °C"),
            (json!({"sunshine_h": 17}), "sunshine_h", "17 h", "0 to 15.7 h"),
            (json!({"solar_mj_m2_d": 44.5}), "solar_mj_m2_d", "44.5 MJ/m²/d", "0 to 43.6 MJ/m²/d"),
            (
                json!({"wet_bulb_c": 20}),
                "dry_bulb_c",
                "nothing",
                "both wet_bulb_c and dry_bulb_c, or neither",
            ),
        ] {
            let refusal = refused(day);
            assert_eq!(refusal.field, field);
            assert_eq!(refusal.given, given, "{field}");
            assert_eq!(refusal.accepted, accepted, "{field}");
        }
    }

    #[test]
    fn an_empty_day_contradicts_nothing() {
        let site = Site::new(Latitude::literal(-60.0), Elevation::literal(0.0));
        assert!(WeatherDay::default().check(&site, 1.0).is_ok());
    }
}
