//! What a farm may say of itself, as options: for a new book and for its settings.

use book::model::{Farm, HourWorth, Latitude, Longitude, MonthDay};
use clap::Args;
use ground::kit::units::{Dimension, Unit, parse};
use ground::kit::{Bounded, Refusal, refusal};

/// What may be known of a farm. "none" takes a value away.
#[derive(Debug, Args)]
pub(crate) struct FarmArgs {
    /// Rough latitude in degrees, north positive
    #[arg(long, allow_hyphen_values = true)]
    latitude: Option<String>,
    /// Rough longitude in degrees, east positive
    #[arg(long, allow_hyphen_values = true)]
    longitude: Option<String>,
    /// Usual last frost of spring, such as "12 May" or 05-12
    #[arg(long, value_name = "DAY")]
    last_frost: Option<String>,
    /// Usual first frost of autumn
    #[arg(long, value_name = "DAY")]
    first_frost: Option<String>,
    /// Three-letter code of the currency
    #[arg(long, value_name = "CODE")]
    currency: Option<String>,
    /// What an hour of your time is worth, in that currency
    #[arg(long, value_name = "AMOUNT")]
    hour_worth: Option<String>,
}

impl FarmArgs {
    /// The farm with everything that was said put in; the rest stays.
    pub(crate) fn put(&self, farm: Farm) -> Result<Farm, Refusal> {
        Ok(Farm {
            latitude_degrees: given(&self.latitude, farm.latitude_degrees, |text| {
                number::<Latitude>("latitude", text)
            })?,
            longitude_degrees: given(&self.longitude, farm.longitude_degrees, |text| {
                number::<Longitude>("longitude", text)
            })?,
            last_frost: given(&self.last_frost, farm.last_frost, |text| frost("last-frost", text))?,
            first_frost: given(&self.first_frost, farm.first_frost, |text| frost("first-frost", text))?,
            currency: given(&self.currency, farm.currency, |text| Ok(text.to_uppercase()))?,
            hour_worth: given(&self.hour_worth, farm.hour_worth, |text| {
                number::<HourWorth>("hour-worth", text)
            })?,
            ..farm
        })
    }
}

fn given<T>(
    text: &Option<String>,
    before: Option<T>,
    read: impl FnOnce(&str) -> Result<T, Refusal>,
) -> Result<Option<T>, Refusal> {
    match text.as_deref().map(str::trim) {
        None => Ok(before),
        Some(word) if word.eq_ignore_ascii_case("none") => Ok(None),
        Some(text) => read(text).map(Some),
    }
}

fn number<Q: Bounded>(field: &str, text: &str) -> Result<Q, Refusal> {
    let plain = text.trim_end_matches('°');
    let value = parse(plain, Dimension::Number, Unit::One).map_err(|error| error.at(field))?;
    refusal::bounded(field, value)
}

fn frost(field: &str, text: &str) -> Result<MonthDay, Refusal> {
    web::typed_day::month_day(field, text)
}
