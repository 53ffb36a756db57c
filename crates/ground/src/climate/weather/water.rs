//! What a recorded day means for the ground: evapotranspiration and rain, and where the number came from.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::calendar::YearDay;
use super::day::WeatherDay;
use crate::climate::et0::{Rules, et0_day};
use crate::climate::site::Site;
use crate::kit::{Bounded, Refusal};

/// Where a day's reference evapotranspiration came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Et0Basis {
    /// Given by a service.
    Given,
    /// FAO-56 Penman-Monteith, by these rules.
    PenmanMonteith(Rules),
}

/// A day as the balance of the root zone needs it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DayWater {
    /// Reference evapotranspiration.
    pub et0_mm_d: f64,
    /// Rain; `None` where it is unknown, which is not the same as dry.
    pub rain_mm: Option<f64>,
    /// Where the first came from.
    pub basis: Et0Basis,
}

/// Evapotranspiration and rain of a day: the first as given, else by FAO-56 Penman-Monteith.
///
/// # Errors
/// A contradiction, or a missing temperature where no evapotranspiration is given.
pub fn day_water(site: &Site, day_of_year: f64, day: &WeatherDay) -> Result<DayWater, Refusal> {
    let rain_mm = day.rain_mm.map(Bounded::get);
    if let Some(et0) = day.et0_mm_d {
        day.check(site, day_of_year)?;
        return Ok(DayWater { et0_mm_d: et0.get(), rain_mm, basis: Et0Basis::Given });
    }
    let et0 = et0_day(site, day_of_year, day)?;
    Ok(DayWater { et0_mm_d: et0.et0_mm_d, rain_mm, basis: Et0Basis::PenmanMonteith(et0.rules) })
}

/// [`day_water`] of days that follow each other.
///
/// # Errors
/// The first day that is refused, as `days[3].tmin_c`.
pub fn series_water(site: &Site, first: YearDay, days: &[WeatherDay]) -> Result<Vec<DayWater>, Refusal> {
    first.check().map_err(|refusal| refusal.inside("first_day"))?;
    first
        .onward()
        .zip(days)
        .enumerate()
        .map(|(at, (date, day))| {
            day_water(site, f64::from(date.day_of_year), day)
                .map_err(|refusal| refusal.inside(&format!("days[{at}]")))
        })
        .collect()
}
