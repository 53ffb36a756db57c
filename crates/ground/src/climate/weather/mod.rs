//! Weather as a farm has it: days with gaps, twelve normals, a forecast, a tunnel.
//!
//! There is no clock here: a day is a year and a day of it ([`YearDay`]); callers keep the calendar.

mod calendar;
mod day;
pub mod gaps;
pub mod gaps_method;
pub mod generator;
pub mod normals;
pub mod outlook_method;
mod smooth;
pub mod tunnel;
pub mod tunnel_method;
pub mod water;

pub use calendar::{MONTH_DAYS, YearDay, YearNumber};
pub use day::{Psychrometer, WeatherDay};
pub use gaps::{Fill, FillRule, FilledSeries, GapRules, Left, RainGap, WeatherField, fill_gaps};
pub use generator::{ForecastDay, Outlook, Scatter, WeatherEnsemble, outlook};
pub use normals::{DailyNormals, MonthNormals, daily_normals};
pub(crate) use smooth::{Mend, daily_keeping_means};
pub use tunnel::{
    TunnelCover, TunnelEt0, TunnelTier, tunnel_factor, tunnel_from_inside, tunnel_from_outside_et0,
    tunnel_from_outside_weather, tunnel_rain_mm,
};
pub use water::{DayWater, Et0Basis, day_water, series_water};

crate::kit::method::methods![
    tunnel_method::TunnelEt0Method,
    gaps_method::FillWeatherGaps,
    outlook_method::WeatherOutlook,
];
