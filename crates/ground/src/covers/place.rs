//! A place's year and a gap in it as a method is given them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::gap::{Gap, Uncertain, Year};
use crate::climate::quantities::{AirTemperature, DayOfYear, Latitude};
use crate::kit::{Bounded, Refusal};

crate::quantity! {
    /// Standard deviation of a date.
    pub struct DateSpread: "spread of the date", "d", 0.0 ..= 60.0, example 10.0;
    /// Standard deviation of the lowest temperature.
    pub struct LowestSpread: "spread of the lowest temperature", "°C", 0.0 ..= 20.0, example 3.0;
    /// Days from sowing to the next crop.
    pub struct GapDays: "days until the next crop", "d", 7.0 ..= 730.0, example 60.0;
}

/// A frost date: mean day of the year and its spread, from `frost-date-odds`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FrostDate {
    /// Day with even odds, 1 January is 1.
    pub day_of_year: DayOfYear,
    /// Standard deviation.
    pub spread_d: DateSpread,
}

/// The lowest temperature of a winter.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LowestOfWinter {
    /// Its mean over the years.
    pub mean_c: AirTemperature,
    /// Standard deviation over the years.
    pub spread_c: LowestSpread,
}

/// The usual year of a place. In a tunnel or under row cover give what is usual there, not outside.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlaceYear {
    /// Latitude, north positive.
    pub latitude_degrees: Latitude,
    /// Mean highest temperature of the day, twelve months, January first.
    pub monthly_tmax_c: Vec<AirTemperature>,
    /// Mean lowest temperature of the day.
    pub monthly_tmin_c: Vec<AirTemperature>,
    /// Last frost of spring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_spring_frost: Option<FrostDate>,
    /// First frost of autumn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_autumn_frost: Option<FrostDate>,
    /// Lowest temperature of the winter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lowest_of_winter: Option<LowestOfWinter>,
}

impl PlaceYear {
    /// The year as it is reckoned with.
    ///
    /// # Errors
    /// Not twelve months, or a lowest temperature above the highest.
    pub fn year(&self) -> Result<Year, Refusal> {
        let months = |field: &str, list: &[AirTemperature]| -> Result<[f64; 12], Refusal> {
            let plain: Vec<f64> = list.iter().map(|t| t.get()).collect();
            plain.try_into().map_err(|_| {
                Refusal::new(
                    field,
                    format!("{} months were given; a year has twelve, January first", list.len()),
                )
                .given(list.len())
                .accepted("12 temperatures")
                .example("12")
            })
        };
        let tmax = months("monthly_tmax_c", &self.monthly_tmax_c)?;
        let tmin = months("monthly_tmin_c", &self.monthly_tmin_c)?;
        if let Some(at) = (0..12).find(|at| tmin[*at] > tmax[*at]) {
            return Err(Refusal::new(
                format!("monthly_tmin_c[{at}]"),
                "the lowest temperature lies above the highest",
            )
            .given(format!("{} °C", tmin[at]))
            .accepted(format!("-60 to {} °C", tmax[at]))
            .example(tmax[at] - 10.0));
        }
        let date =
            |frost: FrostDate| Uncertain { mean: frost.day_of_year.get(), spread: frost.spread_d.get() };
        let mut year = Year::new(&tmax, &tmin, self.latitude_degrees.get());
        year.last_spring = self.last_spring_frost.map(date);
        year.first_autumn = self.first_autumn_frost.map(date);
        year.lowest_c = self
            .lowest_of_winter
            .map(|lowest| Uncertain { mean: lowest.mean_c.get(), spread: lowest.spread_c.get() });
        Ok(year)
    }

    /// A year for examples: a cool temperate place of no name.
    #[must_use]
    pub fn example() -> Self {
        let temperatures = |list: [f64; 12]| list.iter().map(|t| AirTemperature::literal(*t)).collect();
        Self {
            latitude_degrees: Latitude::literal(43.0),
            monthly_tmax_c: temperatures([
                -1.0, 1.0, 6.0, 13.0, 20.0, 25.0, 28.0, 27.0, 22.0, 15.0, 8.0, 2.0,
            ]),
            monthly_tmin_c: temperatures([
                -11.0, -10.0, -5.0, 1.0, 7.0, 12.0, 15.0, 14.0, 9.0, 3.0, -2.0, -7.0,
            ]),
            last_spring_frost: Some(FrostDate {
                day_of_year: DayOfYear::literal(131.0),
                spread_d: DateSpread::literal(9.0),
            }),
            first_autumn_frost: Some(FrostDate {
                day_of_year: DayOfYear::literal(274.0),
                spread_d: DateSpread::literal(10.0),
            }),
            lowest_of_winter: Some(LowestOfWinter {
                mean_c: AirTemperature::literal(-24.0),
                spread_c: LowestSpread::literal(3.0),
            }),
        }
    }
}

/// The gap of a sowing day and a number of days.
#[must_use]
pub fn gap(year: &Year, sow: DayOfYear, days: GapDays) -> Gap {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded quantities")]
    Gap::new(year, sow.get() as u16, days.get() as u16)
}
