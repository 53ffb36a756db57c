//! Weather, as measured, forecast or usual: quantities, one day, and checks both tables share.

mod columns;
mod normals;
mod table;

use ground::kit::quantity::with_unit;
use ground::kit::{Bounded, Refusal};
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use columns::{ColumnRead, DateOrder, WeatherColumn, WeatherUnit};
pub use normals::{MonthNormals, WeatherNormals};
pub use table::{MOST_WEATHER_DAYS, WeatherTable, WeatherWhat};

ground::quantity! {
    /// Temperature of the air.
    pub struct AirTemperature: "air temperature", "°C", -60.0 ..= 60.0, example 24.0;
    /// Temperature at which the air would be saturated.
    pub struct DewPoint: "dew point", "°C", -70.0 ..= 40.0, example 12.0;
    /// Rain and melted snow of one day.
    pub struct DayRain: "rain of a day", "mm", 0.0 ..= 2000.0, example 8.0;
    /// Rain and melted snow of one month.
    pub struct MonthRain: "rain of a month", "mm", 0.0 ..= 10000.0, example 75.0;
    /// Days of a month with rain.
    pub struct RainDays: "days with rain", "d", 0.0 ..= 31.0, example 9.0;
    /// Relative humidity.
    pub struct RelativeHumidity: "relative humidity", "%", 0.0 ..= 100.0, example 65.0;
    /// Mean speed of the wind over a day.
    pub struct WindSpeed: "wind speed", "m/s", 0.0 ..= 100.0, example 2.0;
    /// Height of the wind gauge above the ground.
    pub struct WindHeight: "height of the wind gauge", "m", 0.1 ..= 100.0, example 2.0;
    /// Sunlight that reaches the level ground.
    pub struct SolarRadiation: "solar radiation", "MJ/m²/d", 0.0 ..= 50.0, example 20.0;
    /// Hours of bright sunshine in a day.
    pub struct SunshineHours: "hours of sunshine", "h", 0.0 ..= 24.0, example 9.0;
    /// Reference evapotranspiration of short grass, as a station works it out.
    pub struct StationEt0: "reference evapotranspiration", "mm", 0.0 ..= 30.0, example 5.0;
}

/// The weather of one day: whatever is known of it, at least one thing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WeatherDay {
    /// The day.
    #[schemars(with = "String", example = &"2026-06-14")]
    pub date: Date,
    /// Highest temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tmax_c: Option<AirTemperature>,
    /// Lowest temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tmin_c: Option<AirTemperature>,
    /// Rain.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<DayRain>,
    /// Highest relative humidity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rh_max_percent: Option<RelativeHumidity>,
    /// Lowest relative humidity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rh_min_percent: Option<RelativeHumidity>,
    /// Mean relative humidity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rh_mean_percent: Option<RelativeHumidity>,
    /// Dew point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dew_point_c: Option<DewPoint>,
    /// Wind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_m_s: Option<WindSpeed>,
    /// Solar radiation.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiation_mj_m2_d: Option<SolarRadiation>,
    /// Sunshine.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sunshine_h: Option<SunshineHours>,
    /// Reference evapotranspiration, where the station gives it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub et0_mm: Option<StationEt0>,
}

impl WeatherDay {
    /// A day of which nothing is known yet.
    #[must_use]
    pub fn empty(date: Date) -> Self {
        Self {
            date,
            tmax_c: None,
            tmin_c: None,
            rain_mm: None,
            rh_max_percent: None,
            rh_min_percent: None,
            rh_mean_percent: None,
            dew_point_c: None,
            wind_m_s: None,
            radiation_mj_m2_d: None,
            sunshine_h: None,
            et0_mm: None,
        }
    }

    /// Is nothing known of it?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::empty(self.date)
    }

    /// Checks its values against each other.
    ///
    /// # Errors
    /// The field that contradicts another, with the date.
    pub fn check(&self) -> Result<(), Refusal> {
        let date = self.date;
        if self.is_empty() {
            return Err(Refusal::new("", format!("nothing is said of {date}"))
                .given("nothing")
                .accepted("at least one value, or no row for this day")
                .example("rain_mm 0"));
        }
        not_below("tmax_c", self.tmax_c, "tmin_c", self.tmin_c, &on(date))?;
        not_below("rh_max_percent", self.rh_max_percent, "rh_min_percent", self.rh_min_percent, &on(date))?;
        not_below("rh_max_percent", self.rh_max_percent, "rh_mean_percent", self.rh_mean_percent, &on(date))?;
        not_below("rh_mean_percent", self.rh_mean_percent, "rh_min_percent", self.rh_min_percent, &on(date))?;
        match (self.dew_point_c, self.tmax_c) {
            // Air holds no more water than it can; sensors are off by about a degree.
            (Some(dew), Some(tmax)) if dew.get() > tmax.get() + 1.0 => Err(Refusal::new(
                "dew_point_c",
                format!(
                    "the dew point cannot lie above the highest temperature, {} °C{}",
                    tmax.get(),
                    on(date)
                ),
            )
            .given(dew.get())
            .accepted(format!("at most {} °C", tmax.get()))
            .example(tmax.get() - 5.0)),
            _ => Ok(()),
        }
    }
}

fn on(date: Date) -> String {
    format!(" (on {date})")
}

/// The upper of two values of one thing must not lie below the lower.
fn not_below<Q: Bounded>(
    upper_field: &'static str,
    upper: Option<Q>,
    lower_field: &'static str,
    lower: Option<Q>,
    place: &str,
) -> Result<(), Refusal> {
    match (upper, lower) {
        (Some(upper), Some(lower)) if upper.get() < lower.get() => {
            let words = |field| WeatherColumn::of_name(field).map_or(field, WeatherColumn::words);
            // To a hundredth: a value typed in other units need not show all its digits.
            let said = |value: Q| (value.get() * 100.0).round() / 100.0;
            Err(Refusal::new(
                upper_field,
                format!(
                    "the {} must not be below the {}, but {} and {} were given{place}",
                    words(upper_field),
                    words(lower_field),
                    with_unit(said(upper), Q::UNIT),
                    with_unit(said(lower), Q::UNIT)
                ),
            )
            .given(with_unit(said(upper), Q::UNIT))
            .accepted(format!("{} or more", with_unit(said(lower), Q::UNIT)))
            .example(with_unit(said(lower), Q::UNIT)))
        }
        _ => Ok(()),
    }
}
