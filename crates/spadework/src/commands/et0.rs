//! `et0`: reference evapotranspiration of one day, without a book.

use clap::Args;
use ground::climate::et0::PenmanMonteith;
use ground::climate::quantities::{
    AirTemperature, DayOfYear, DewPoint, Elevation, Latitude, RelativeHumidity, SolarRadiation, Sunshine,
    WindHeight, WindSpeed,
};
use ground::climate::weather::WeatherDay;
use ground::climate::{Setting, Site, Surroundings};
use ground::kit::units::{Unit, UnitSystem, field_unit, typed};
use ground::kit::{Bounded, Method, Refusal};
use serde_json::json;

use crate::args::Global;
use crate::report::{Report, notes};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `et0`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework et0 --latitude 42.5 --date 2026-07-06 --tmax 84F --tmin 61F
  spadework et0 --latitude 50.8 --elevation 100m --date 2026-07-06 --tmax 21.5C --tmin 12.3C \\
      --rh-max 84 --rh-min 63 --wind 2.78m/s --wind-height 10m --sunshine 9h15min")]
pub(crate) struct ReferenceEt {
    /// Latitude in degrees, north positive
    #[arg(long, allow_hyphen_values = true)]
    latitude: String,
    /// The day, such as 2026-07-06
    #[arg(long, value_name = "DATE")]
    date: String,
    /// Highest temperature of the day
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    tmax: String,
    /// Lowest temperature of the day
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    tmin: String,
    /// Height above the sea; sea level where nothing is said
    #[arg(long, value_name = "HEIGHT", allow_hyphen_values = true)]
    elevation: Option<String>,
    /// The farm lies on or near the coast of a large land mass
    #[arg(long)]
    coastal: bool,
    /// Dry ground surrounds the thermometer
    #[arg(long)]
    arid: bool,
    /// Mean dew point
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    dew_point: Option<String>,
    /// Highest relative humidity, percent
    #[arg(long, value_name = "PERCENT")]
    rh_max: Option<String>,
    /// Lowest relative humidity, percent
    #[arg(long, value_name = "PERCENT")]
    rh_min: Option<String>,
    /// Mean relative humidity, percent
    #[arg(long, value_name = "PERCENT")]
    rh_mean: Option<String>,
    /// Mean wind speed
    #[arg(long, value_name = "SPEED")]
    wind: Option<String>,
    /// Height of the wind gauge; 2 m where nothing is said
    #[arg(long, value_name = "HEIGHT")]
    wind_height: Option<String>,
    /// Solar radiation of the day
    #[arg(long, value_name = "RADIATION")]
    radiation: Option<String>,
    /// Hours of bright sunshine
    #[arg(long, value_name = "TIME")]
    sunshine: Option<String>,
    /// Add the steps
    #[arg(long)]
    working: bool,
}

impl ReferenceEt {
    /// Works it out.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let system = global.system();
        let site = Site {
            latitude_degrees: read::<Latitude>("latitude", self.latitude.trim_end_matches('°'), system)?,
            elevation_m: maybe::<Elevation>("elevation", self.elevation.as_ref(), system)?,
            setting: if self.coastal { Setting::Coastal } else { Setting::Interior },
            surroundings: if self.arid { Surroundings::Arid } else { Surroundings::Watered },
            angstrom_a: None,
            angstrom_b: None,
        };
        let date = shelf::day("date", &self.date)?;
        let day = WeatherDay {
            tmax_c: Some(read::<AirTemperature>("tmax", &self.tmax, system)?),
            tmin_c: Some(read::<AirTemperature>("tmin", &self.tmin, system)?),
            dew_point_c: maybe::<DewPoint>("dew-point", self.dew_point.as_ref(), system)?,
            rh_max_percent: maybe::<RelativeHumidity>("rh-max", self.rh_max.as_ref(), system)?,
            rh_min_percent: maybe::<RelativeHumidity>("rh-min", self.rh_min.as_ref(), system)?,
            rh_mean_percent: maybe::<RelativeHumidity>("rh-mean", self.rh_mean.as_ref(), system)?,
            wind_m_s: maybe::<WindSpeed>("wind", self.wind.as_ref(), system)?,
            wind_height_m: maybe::<WindHeight>("wind-height", self.wind_height.as_ref(), system)?,
            solar_mj_m2_d: maybe::<SolarRadiation>("radiation", self.radiation.as_ref(), system)?,
            sunshine_h: maybe::<Sunshine>("sunshine", self.sunshine.as_ref(), system)?,
            ..WeatherDay::default()
        };
        let day_of_year = DayOfYear::new(f64::from(date.day_of_year()))
            .map_err(|_| Refusal::new("date", "this day is not one of a year"))?;
        let input = Question {
            site,
            day_of_year,
            weather: day,
            period: Default::default(),
            previous_month_mean_c: None,
            next_month_mean_c: None,
        };
        let answer = PenmanMonteith::compute(&input)?;
        let mm = answer.value.et0_mm_d;
        let mut text =
            format!("Short, well watered grass would use {} on {date}.", advice::words::water(mm, system));
        if system == UnitSystem::UsCustomary {
            text.push_str(&format!(" That is {mm:.1} mm."));
        }
        let mut json = json!(answer);
        if self.working {
            let working = PenmanMonteith::working(&input, &answer);
            json["working"] = json!(working);
            text.push_str(&super::steps(&working));
        }
        if !answer.notes.is_empty() {
            text.push_str("\n\n");
            text.push_str(&notes(&answer.notes, terminal.width));
        }
        Report::new(&json, text)
    }
}

/// What the method is asked.
type Question = <PenmanMonteith as Method>::Input;

fn read<Q: Bounded>(field: &str, text: &str, system: UnitSystem) -> Result<Q, Refusal> {
    // Degrees of a circle stand behind the number already.
    let unit = if Q::UNIT == "°" { Unit::One } else { field_unit(Q::UNIT, system) };
    typed::<Q>(field, text, unit)
}

fn maybe<Q: Bounded>(field: &str, text: Option<&String>, system: UnitSystem) -> Result<Option<Q>, Refusal> {
    text.map(|text| read::<Q>(field, text, system)).transpose()
}
