//! Reference evapotranspiration of a day or a month from whatever was measured.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::equation::{ALBEDO, Balance, CALMEST_M_S, net_longwave_mj_m2_d, penman_monteith_mm_d};
use super::rules::{self, Rules};
use crate::climate::site::Site;
use crate::climate::sun::SunDay;
use crate::climate::vapour;
use crate::climate::weather::WeatherDay;
use crate::kit::{Bounded, Note, Refusal};

/// Every quantity on the way to the answer.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Et0Parts {
    /// Mean air temperature.
    pub mean_c: f64,
    /// Air pressure.
    pub pressure_kpa: f64,
    /// Psychrometric constant.
    pub psychrometric_kpa_c: f64,
    /// Slope of the saturation curve.
    pub slope_kpa_c: f64,
    /// Saturation vapour pressure at the highest temperature.
    pub saturation_tmax_kpa: f64,
    /// Saturation vapour pressure at the lowest temperature.
    pub saturation_tmin_kpa: f64,
    /// Mean saturation vapour pressure.
    pub saturation_kpa: f64,
    /// Actual vapour pressure.
    pub actual_vapour_kpa: f64,
    /// Vapour pressure deficit.
    pub deficit_kpa: f64,
    /// Wind at 2 m, before it is raised to the least of the equation.
    pub wind_2m_m_s: f64,
    /// Sunlight above the air.
    pub extraterrestrial_mj_m2_d: f64,
    /// Geometric day length.
    pub day_length_h: f64,
    /// Sunlight on the ground.
    pub solar_mj_m2_d: f64,
    /// Sunlight on the ground under a clear sky.
    pub clear_sky_mj_m2_d: f64,
    /// What the sward keeps of the light.
    pub net_shortwave_mj_m2_d: f64,
    /// Heat radiated away, net.
    pub net_longwave_mj_m2_d: f64,
    /// Net radiation.
    pub net_radiation_mj_m2_d: f64,
    /// Heat that goes into the ground.
    pub soil_heat_mj_m2_d: f64,
}

/// Reference evapotranspiration with the rules it rests on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Et0 {
    /// Reference evapotranspiration.
    pub et0_mm_d: f64,
    /// Where each input came from.
    pub rules: Rules,
    /// What was computed on the way.
    pub parts: Et0Parts,
}

impl Et0 {
    /// What to say beside it.
    #[must_use]
    pub fn notes(&self) -> Vec<Note> {
        self.rules.notes()
    }
}

/// Mean temperatures of the months beside this one, for the heat that goes into the ground.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Neighbours {
    /// The month before, °C.
    pub previous_c: Option<f64>,
    /// The month after, °C.
    pub next_c: Option<f64>,
}

/// What is other than on an open field.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circumstances {
    /// Share of the light that a cover lets through; 1 in the open. The cloud ratio is that outside.
    pub transmission: f64,
    /// Least wind, m/s.
    pub calmest_m_s: f64,
    /// The values are means of a month.
    pub monthly: bool,
    /// Heat into the ground, MJ/m²/d.
    pub soil_heat_mj_m2_d: f64,
}

impl Default for Circumstances {
    fn default() -> Self {
        Self { transmission: 1.0, calmest_m_s: CALMEST_M_S, monthly: false, soil_heat_mj_m2_d: 0.0 }
    }
}

/// Reference evapotranspiration of a day (FAO-56 eq. 6), the best rule taken for each missing input.
///
/// # Errors
/// A missing temperature, or values that contradict each other.
pub fn et0_day(site: &Site, day_of_year: f64, day: &WeatherDay) -> Result<Et0, Refusal> {
    et0_under(site, day_of_year, day, Circumstances::default())
}

/// Reference evapotranspiration of a month from its mean values; `middle_day` is the day of the year at its
/// middle. Heat into the ground follows eq. 43 where both neighbours are known, eq. 44 with the month
/// before alone, and is 0 without.
///
/// # Errors
/// As [`et0_day`].
pub fn et0_month(
    site: &Site,
    middle_day: f64,
    mean: &WeatherDay,
    neighbours: Neighbours,
) -> Result<Et0, Refusal> {
    let soil_heat = match (neighbours.previous_c, neighbours.next_c, mean.mean_c()) {
        (Some(before), Some(after), _) => 0.07 * (after - before),
        (Some(before), None, Some(here)) => 0.14 * (here - before),
        _ => 0.0,
    };
    let circumstances =
        Circumstances { monthly: true, soil_heat_mj_m2_d: soil_heat, ..Circumstances::default() };
    et0_under(site, middle_day, mean, circumstances)
}

/// [`et0_day`] under other circumstances.
///
/// # Errors
/// As [`et0_day`].
pub fn et0_under(
    site: &Site,
    day_of_year: f64,
    day: &WeatherDay,
    circumstances: Circumstances,
) -> Result<Et0, Refusal> {
    let sun = SunDay::new(site.latitude_rad(), day_of_year);
    day.check_under(&sun)?;
    let tmax = needed(day.tmax_c, "tmax_c", "highest")?;
    let tmin = needed(day.tmin_c, "tmin_c", "lowest")?;
    let mean_c = f64::midpoint(tmax, tmin);

    let pressure_kpa = vapour::pressure_kpa(site.height_m());
    let psychrometric_kpa_c = vapour::psychrometric_kpa_c(pressure_kpa);
    let slope_kpa_c = vapour::slope_kpa_c(mean_c);
    let (saturation_tmax_kpa, saturation_tmin_kpa) =
        (vapour::saturation_kpa(tmax), vapour::saturation_kpa(tmin));
    let saturation_kpa = f64::midpoint(saturation_tmax_kpa, saturation_tmin_kpa);
    let (actual_vapour_kpa, humidity) = rules::actual_vapour(site, day, tmax, tmin, pressure_kpa);
    let deficit_kpa = (saturation_kpa - actual_vapour_kpa).max(0.0);

    let above = sun.extraterrestrial_mj_m2_d();
    let (a, b, fitted) = site.angstrom();
    let clear = if fitted { (a + b) * above } else { (0.75 + 2e-5 * site.height_m()) * above };
    let (outside, radiation) =
        rules::solar_radiation(site, day, &sun, day_of_year, tmax - tmin, clear, circumstances.monthly);
    // Without any sun there is no ratio: half cloud is taken, as FAO-56 does for humid nights (chapter 4).
    let cloud_ratio = if clear > 0.0 { outside / clear } else { 0.5 };
    let solar_mj_m2_d = outside * circumstances.transmission;
    let net_shortwave_mj_m2_d = (1.0 - ALBEDO) * solar_mj_m2_d;
    let net_longwave = net_longwave_mj_m2_d(tmax, tmin, actual_vapour_kpa, cloud_ratio);
    let net_radiation_mj_m2_d = net_shortwave_mj_m2_d - net_longwave;

    let (wind_2m_m_s, wind) = rules::wind_2m(day);
    let raw = penman_monteith_mm_d(&Balance {
        mean_c,
        slope_kpa_c,
        psychrometric_kpa_c,
        available_mj_m2_d: net_radiation_mj_m2_d - circumstances.soil_heat_mj_m2_d,
        wind_2m_m_s: wind_2m_m_s.max(circumstances.calmest_m_s),
        deficit_kpa,
    });
    Ok(Et0 {
        et0_mm_d: raw.max(0.0),
        rules: Rules {
            humidity,
            radiation,
            wind,
            sea_level_assumed: site.elevation_m.is_none(),
            wind_raised: wind_2m_m_s < circumstances.calmest_m_s,
            below_zero: raw < 0.0,
        },
        parts: Et0Parts {
            mean_c,
            pressure_kpa,
            psychrometric_kpa_c,
            slope_kpa_c,
            saturation_tmax_kpa,
            saturation_tmin_kpa,
            saturation_kpa,
            actual_vapour_kpa,
            deficit_kpa,
            wind_2m_m_s,
            extraterrestrial_mj_m2_d: above,
            day_length_h: sun.geometric_hours(),
            solar_mj_m2_d,
            clear_sky_mj_m2_d: clear,
            net_shortwave_mj_m2_d,
            net_longwave_mj_m2_d: net_longwave,
            net_radiation_mj_m2_d,
            soil_heat_mj_m2_d: circumstances.soil_heat_mj_m2_d,
        },
    })
}

fn needed<Q: Bounded>(value: Option<Q>, field: &str, which: &str) -> Result<f64, Refusal> {
    value.map(Bounded::get).ok_or_else(|| {
        Refusal::new(
            field,
            format!("the {which} temperature of the day is missing; both temperatures are the least the equation needs"),
        )
        .given("nothing")
        .accepted(crate::kit::quantity::range_words(Q::MIN, Q::MAX, Q::UNIT))
        .example(Q::EXAMPLE)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::climate::quantities::{
        AirTemperature, DewPoint, Elevation, Latitude, RelativeHumidity, SolarRadiation, WindHeight,
        WindSpeed,
    };
    use crate::climate::site::{Setting, Surroundings};
    use crate::kit::testing::any_of;
    use proptest::prelude::*;

    fn site() -> Site {
        Site::new(Latitude::literal(45.0), Elevation::literal(200.0))
    }

    fn warm() -> WeatherDay {
        WeatherDay::of_temperatures(AirTemperature::literal(26.6), AirTemperature::literal(14.8))
    }

    #[test]
    fn the_best_rule_for_humidity_wins() {
        use super::super::rules::HumidityRule as R;
        let rh = RelativeHumidity::literal;
        let mut day = warm();
        let rule = |day: &WeatherDay| et0_day(&site(), 187.0, day).unwrap().rules.humidity;
        assert_eq!(rule(&day), R::LowestTemperature);
        let arid = Site { surroundings: Surroundings::Arid, ..site() };
        let dry = et0_day(&arid, 187.0, &day).unwrap();
        assert_eq!(dry.rules.humidity, R::LowestTemperatureArid);
        assert!(dry.et0_mm_d > et0_day(&site(), 187.0, &day).unwrap().et0_mm_d);
        day.rh_mean_percent = Some(rh(60.0));
        assert_eq!(rule(&day), R::MeanHumidity);
        day.rh_max_percent = Some(rh(90.0));
        assert_eq!(rule(&day), R::HighestHumidity);
        day.rh_min_percent = Some(rh(40.0));
        assert_eq!(rule(&day), R::HighestAndLowestHumidity);
        day.dry_bulb_c = Some(AirTemperature::literal(20.0));
        day.wet_bulb_c = Some(AirTemperature::literal(16.0));
        assert_eq!(rule(&day), R::WetAndDryBulb);
        day.dew_point_c = Some(DewPoint::literal(12.0));
        assert_eq!(rule(&day), R::DewPoint);
    }

    #[test]
    fn the_best_rule_for_light_and_wind_wins() {
        use super::super::rules::{RadiationRule as R, WindRule as W};
        let mut day = warm();
        let at = |setting, day: &WeatherDay| et0_day(&Site { setting, ..site() }, 187.0, day).unwrap().rules;
        assert_eq!(at(Setting::Interior, &day).radiation, R::TemperaturesInterior);
        assert_eq!(at(Setting::Coastal, &day).radiation, R::TemperaturesCoastal);
        assert_eq!(at(Setting::Island, &day).radiation, R::TemperaturesCoastal);
        assert!(at(Setting::Interior, &day).all_estimated());
        assert_eq!(at(Setting::Interior, &day).notes().len(), 3);
        let island = Site { setting: Setting::Island, ..site() };
        let month = et0_month(&island, 196.0, &day, Neighbours::default()).unwrap();
        assert_eq!(month.rules.radiation, R::Island);
        day.station_solar_mj_m2_d = Some(SolarRadiation::literal(20.0));
        day.station_latitude_degrees = Some(Latitude::literal(45.0));
        let near = et0_day(&site(), 187.0, &day).unwrap();
        assert_eq!(near.rules.radiation, R::NearbyStation);
        assert!((near.parts.solar_mj_m2_d - 20.0).abs() < 1e-12, "same latitude, same light");
        day.sunshine_h = Some(crate::climate::quantities::Sunshine::literal(8.0));
        assert_eq!(at(Setting::Interior, &day).radiation, R::Sunshine);
        day.solar_mj_m2_d = Some(SolarRadiation::literal(20.0));
        assert_eq!(at(Setting::Interior, &day).radiation, R::Measured);
        assert_eq!(at(Setting::Interior, &day).wind, W::Usual);
        day.wind_m_s = Some(WindSpeed::literal(0.2));
        assert_eq!(at(Setting::Interior, &day).wind, W::HeightUnknown);
        assert!(at(Setting::Interior, &day).wind_raised);
        day.wind_height_m = Some(WindHeight::literal(2.0));
        assert_eq!(at(Setting::Interior, &day).wind, W::AtTwoMetres);
        day.wind_height_m = Some(WindHeight::literal(10.0));
        assert_eq!(at(Setting::Interior, &day).wind, W::FromOtherHeight);
    }

    #[test]
    fn a_day_without_temperature_is_refused_by_field() {
        let refusal = et0_day(&site(), 187.0, &WeatherDay::default()).unwrap_err();
        assert_eq!(refusal.field, "tmax_c");
        assert_eq!(refusal.accepted, "-60 to 60 °C");
    }

    proptest! {
        /// Whatever the place and day: a number, never below zero, and never a panic.
        #[test]
        fn any_place_and_day_has_an_answer(
            latitude in any_of::<Latitude>(),
            elevation in any_of::<Elevation>(),
            day_of_year in 1.0..=366.0_f64,
            tmin in -40.0..35.0_f64,
            spread in 0.0..25.0_f64,
            wind in any_of::<WindSpeed>(),
        ) {
            let mut day = WeatherDay::of_temperatures(
                AirTemperature::literal(tmin + spread),
                AirTemperature::literal(tmin),
            );
            day.wind_m_s = Some(wind);
            day.wind_height_m = Some(WindHeight::literal(10.0));
            let answer = et0_day(&Site::new(latitude, elevation), day_of_year, &day).unwrap();
            prop_assert!(answer.et0_mm_d.is_finite() && answer.et0_mm_d >= 0.0);
        }

        #[test]
        fn a_brighter_day_uses_more(solar in 9.0..40.0_f64, more in 0.1..2.0_f64) {
            let mut day = warm();
            day.solar_mj_m2_d = Some(SolarRadiation::literal(solar));
            let here = et0_day(&site(), 187.0, &day).unwrap().et0_mm_d;
            day.solar_mj_m2_d = Some(SolarRadiation::literal(solar + more));
            prop_assert!(et0_day(&site(), 187.0, &day).unwrap().et0_mm_d > here);
        }
    }
}
