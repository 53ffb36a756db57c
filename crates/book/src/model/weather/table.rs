//! A table of daily weather: one import, or one batch that was typed in.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{ColumnRead, DateOrder, WeatherDay, WindHeight};
use crate::model::{Kind, Record, text};

/// Most days in one table: more than fifty years.
pub const MOST_WEATHER_DAYS: usize = 20_000;

/// A table of daily weather. Withdrawn, the whole import no longer counts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WeatherTable {
    /// The station or gauge.
    pub name: String,
    /// Measured or forecast.
    pub what: WeatherWhat,
    /// Height of the wind gauge, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_height_m: Option<WindHeight>,
    /// The days, earliest first, each once.
    pub days: Vec<WeatherDay>,
    /// How the columns of the imported table were read, in their order; empty for one typed in.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub columns: Vec<ColumnRead>,
    /// The order of day, month and year in the imported table.
    #[serde(default)]
    pub date_order: DateOrder,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// Measured or forecast.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WeatherWhat {
    /// Measured.
    Measured,
    /// Forecast; a measured day takes its place.
    Forecast,
}

impl WeatherWhat {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Measured, Self::Forecast];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Forecast => "forecast",
        }
    }
}

impl Record for WeatherTable {
    const KIND: Kind = Kind::WeatherTable;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "Farm gauge")?;
        text::note("note", &self.note)?;
        if self.days.is_empty() || self.days.len() > MOST_WEATHER_DAYS {
            return Err(Refusal::new("days", format!("the table has {} days", self.days.len()))
                .given(self.days.len())
                .accepted(format!("1 to {MOST_WEATHER_DAYS} days"))
                .example("one row a day"));
        }
        for (place, day) in self.days.iter().enumerate() {
            day.check().map_err(|refusal| refusal.inside(&format!("days[{place}]")))?;
        }
        for (place, pair) in self.days.windows(2).enumerate() {
            let (before, after) = (pair[0].date, pair[1].date);
            if before >= after {
                let message = if before == after {
                    format!("{after} stands in the table twice")
                } else {
                    format!("{after} comes after {before}, but days go from the earliest to the latest")
                };
                return Err(Refusal::new(format!("days[{}].date", place + 1), message)
                    .given(after)
                    .accepted(format!("a day after {before}"))
                    .example(before.saturating_add(jiff::Span::new().days(1))));
            }
        }
        for (place, column) in self.columns.iter().enumerate() {
            text::label("heading", &column.heading, "Max temp (F)")
                .map_err(|refusal| refusal.inside(&format!("columns[{place}]")))?;
        }
        Ok(())
    }
}
