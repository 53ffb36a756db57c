//! `new`: a farm book with its farm.

use std::path::PathBuf;

use book::Book;
use book::model::{Farm, HourWorth, Latitude, Longitude, MonthDay};
use clap::Args;
use ground::kit::units::{Dimension, Unit, parse};
use ground::kit::{Bounded, Refusal, refusal};
use serde_json::json;

use crate::args::Global;
use crate::report::Report;
use crate::shelf;
use crate::trouble::Trouble;

/// Options of `new`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework new home.farmbook --name \"Long Furrow\" --latitude 42.5 --last-frost 05-12 --first-frost 10-02")]
pub(crate) struct New {
    /// The file to make, such as home.farmbook; nothing is ever written over
    book: PathBuf,
    /// What the farm is called
    #[arg(long)]
    name: String,
    /// Rough latitude in degrees, north positive
    #[arg(long, allow_hyphen_values = true)]
    latitude: Option<String>,
    /// Rough longitude in degrees, east positive
    #[arg(long, allow_hyphen_values = true)]
    longitude: Option<String>,
    /// Usual last frost of spring, month-day
    #[arg(long, value_name = "MM-DD")]
    last_frost: Option<String>,
    /// Usual first frost of autumn, month-day
    #[arg(long, value_name = "MM-DD")]
    first_frost: Option<String>,
    /// Three-letter code of the currency
    #[arg(long, value_name = "CODE")]
    currency: Option<String>,
    /// What an hour of your time is worth, in that currency
    #[arg(long)]
    hour_worth: Option<String>,
    /// Who makes the book
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl New {
    /// Makes it.
    pub(crate) fn run(self, global: &Global) -> Result<Report, Trouble> {
        let farm = Farm {
            latitude_degrees: number::<Latitude>("latitude", self.latitude.as_deref())?,
            longitude_degrees: number::<Longitude>("longitude", self.longitude.as_deref())?,
            last_frost: month_day("last-frost", self.last_frost.as_deref())?,
            first_frost: month_day("first-frost", self.first_frost.as_deref())?,
            currency: self.currency.map(|code| code.trim().to_uppercase()),
            hour_worth: number::<HourWorth>("hour-worth", self.hour_worth.as_deref())?,
            ..Farm::named(self.name.trim(), global.system())
        };
        Book::create(&self.book, farm.clone(), &shelf::stamp(&self.by))?;
        let path = self.book.display();
        let text = format!(
            "Made {path} for {}, in {} units.\nNext: spadework record plot {path} \"Lower field\" --area 4000sqft, or spadework serve {path}",
            farm.name,
            farm.units.words()
        );
        Report::new(&json!({ "book": self.book, "farm": farm }), text)
    }
}

fn number<Q: Bounded>(field: &str, text: Option<&str>) -> Result<Option<Q>, Refusal> {
    text.map(|text| {
        let plain = text.trim().trim_end_matches('°');
        let value = parse(plain, Dimension::Number, Unit::One).map_err(|error| error.at(field))?;
        refusal::bounded(field, value)
    })
    .transpose()
}

fn month_day(field: &str, text: Option<&str>) -> Result<Option<MonthDay>, Refusal> {
    text.map(|text| {
        text.parse().map_err(|_| {
            Refusal::new(field, format!("{text:?} is not a day of the year"))
                .given(text)
                .accepted("month-day, two digits each")
                .example("05-12")
        })
    })
    .transpose()
}
