//! `record weather` and `record normals`: a day's weather typed in, and the usual weather of a place.

use std::path::PathBuf;

use book::BookError;
use book::model::WeatherWhat;
use book::model::weather::{DateOrder, WeatherDay, WeatherTable};
use clap::Args;

use super::in_bed::{given, store};
use crate::args::Global;
use crate::commands::import::text_of;
use crate::report::Report;
use crate::shelf::{self, Witnessed};
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Options of `record weather`.
#[derive(Debug, Args)]
#[command(
    after_help = "One day, as read from a gauge or a forecast. A whole table: spadework import BOOK --weather FILE.
Of two records of one day the later counts, and a measured one before a forecast.

Example:
  spadework record weather home.farmbook \"Farm gauge\" --on 2026-06-14 --tmax 82F --tmin 58F --rain 0.4in"
)]
pub(crate) struct RecordWeather {
    /// The farm book
    book: PathBuf,
    /// The station or gauge
    station: String,
    /// Highest temperature
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    tmax: Option<String>,
    /// Lowest temperature
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    tmin: Option<String>,
    /// Rain
    #[arg(long, value_name = "DEPTH")]
    rain: Option<String>,
    /// Highest relative humidity
    #[arg(long, value_name = "PERCENT")]
    rh_max: Option<String>,
    /// Lowest relative humidity
    #[arg(long, value_name = "PERCENT")]
    rh_min: Option<String>,
    /// Mean relative humidity
    #[arg(long, value_name = "PERCENT")]
    rh_mean: Option<String>,
    /// Dew point
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    dew_point: Option<String>,
    /// Mean wind speed
    #[arg(long, value_name = "SPEED")]
    wind: Option<String>,
    /// Height of the wind gauge above the ground
    #[arg(long, value_name = "HEIGHT")]
    wind_height: Option<String>,
    /// Solar radiation
    #[arg(long, value_name = "RADIATION")]
    radiation: Option<String>,
    /// Hours of sunshine
    #[arg(long, value_name = "TIME")]
    sunshine: Option<String>,
    /// Reference evapotranspiration, where the station gives it
    #[arg(long, value_name = "DEPTH")]
    et0: Option<String>,
    /// It is forecast, not measured
    #[arg(long)]
    forecast: bool,
    #[command(flatten)]
    witnessed: Witnessed,
}

impl RecordWeather {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let system = global.system_or(book.snapshot()?.farm.body.units);
        let day = WeatherDay {
            tmax_c: given("tmax", self.tmax.as_deref(), system)?,
            tmin_c: given("tmin", self.tmin.as_deref(), system)?,
            rain_mm: given("rain", self.rain.as_deref(), system)?,
            rh_max_percent: given("rh-max", self.rh_max.as_deref(), system)?,
            rh_min_percent: given("rh-min", self.rh_min.as_deref(), system)?,
            rh_mean_percent: given("rh-mean", self.rh_mean.as_deref(), system)?,
            dew_point_c: given("dew-point", self.dew_point.as_deref(), system)?,
            wind_m_s: given("wind", self.wind.as_deref(), system)?,
            radiation_mj_m2_d: given("radiation", self.radiation.as_deref(), system)?,
            sunshine_h: given("sunshine", self.sunshine.as_deref(), system)?,
            et0_mm: given("et0", self.et0.as_deref(), system)?,
            ..WeatherDay::empty(self.witnessed.day()?)
        };
        day.check().map_err(|refusal| in_units(refusal, system))?;
        let table = WeatherTable {
            name: self.station.trim().to_owned(),
            what: if self.forecast { WeatherWhat::Forecast } else { WeatherWhat::Measured },
            wind_height_m: given("wind-height", self.wind_height.as_deref(), system)?,
            days: vec![day],
            columns: Vec::new(),
            date_order: DateOrder::default(),
            note: self.witnessed.note.clone(),
        };
        store(&mut book, table, &self.witnessed.by, global, terminal)
    }
}

/// Options of `record normals`.
#[derive(Debug, Args)]
#[command(
    after_help = "A table of twelve rows, January to December: month (1 to 12, or its name), tmax, tmin and rain, and if known
rain_days, rh_mean_percent, wind, radiation and sunshine. Each heading ends in its unit: tmax_c or \"tmax (F)\",
rain_mm or rain_in, wind_m_s, wind_mph or wind_km_h, radiation_mj_m2_d, sunshine_h. Temperatures are means
over the month, rain is the sum. The latest record counts.

Example:
  spadework record normals home.farmbook normals.csv --source \"County station, 1991 to 2020\""
)]
pub(crate) struct RecordNormals {
    /// The farm book
    book: PathBuf,
    /// The CSV table
    file: PathBuf,
    /// Where the figures come from: station and years
    #[arg(long, value_name = "TEXT", default_value = "")]
    source: String,
    /// Height of the wind gauge above the ground
    #[arg(long, value_name = "HEIGHT")]
    wind_height: Option<String>,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordNormals {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let system = global.system_or(book.snapshot()?.farm.body.units);
        let wind_height = given("wind-height", self.wind_height.as_deref(), system)?;
        let text = text_of(&self.file)?;
        let normals = book::read_normals_csv(&text, &self.source, wind_height).map_err(BookError::Rows)?;
        store(&mut book, normals, &self.by, global, terminal)
    }
}
