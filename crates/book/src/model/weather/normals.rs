//! The usual weather of each month, from a climate table.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{
    AirTemperature, MonthRain, RainDays, RelativeHumidity, SolarRadiation, SunshineHours, WindHeight,
    WindSpeed, not_below,
};
use crate::model::{Kind, Record, month_name, text};

/// Usual weather, month by month. The latest record counts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WeatherNormals {
    /// Where the figures come from: station and years.
    #[serde(default)]
    pub source: String,
    /// Height of the wind gauge, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_height_m: Option<WindHeight>,
    /// January to December.
    pub months: Box<[MonthNormals; 12]>,
}

/// Usual weather of one month: means over its days, and the rain of the whole month.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MonthNormals {
    /// Mean of the highest temperatures.
    pub tmax_c: AirTemperature,
    /// Mean of the lowest temperatures.
    pub tmin_c: AirTemperature,
    /// Rain of the month.
    pub rain_mm: MonthRain,
    /// Days with rain.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_days: Option<RainDays>,
    /// Mean relative humidity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rh_mean_percent: Option<RelativeHumidity>,
    /// Mean wind speed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_m_s: Option<WindSpeed>,
    /// Mean solar radiation.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiation_mj_m2_d: Option<SolarRadiation>,
    /// Mean hours of sunshine in a day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sunshine_h: Option<SunshineHours>,
}

impl Record for WeatherNormals {
    const KIND: Kind = Kind::WeatherNormals;

    fn check(&self) -> Result<(), Refusal> {
        text::note("source", &self.source)?;
        for (month, (place, normals)) in (1_i8..).zip(self.months.iter().enumerate()) {
            let inside = |refusal: Refusal| refusal.inside(&format!("months[{place}]"));
            let of_month = format!(" (in {})", month_name(month));
            not_below("tmax_c", Some(normals.tmax_c), "tmin_c", Some(normals.tmin_c), &of_month)
                .map_err(inside)?;
        }
        Ok(())
    }
}
