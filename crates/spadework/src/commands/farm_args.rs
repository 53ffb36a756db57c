//! What a farm may say of itself, as options: for a new book and for its settings.

use book::model::{Elevation, Farm, HourWorth, Latitude, Longitude, MonthDay, WinterLow};
use clap::Args;
use ground::covers::kinds::{Animal, Ending};
use ground::fertility::acidity::LimeMethod;
use ground::fertility::schemes::Scheme;
use ground::kit::units::{Dimension, Unit, UnitSystem, field_unit, parse, parse_in, typed};
use ground::kit::{Bounded, Refusal, refusal};
use ground::posts::frost_foot::FrostDepth;
use ground::posts::wind_pressure::{Exposure, GustSpeed};

use crate::near::nearest;

/// What may be known of a farm. "none" takes a value away.
#[derive(Debug, Args)]
pub(crate) struct FarmArgs {
    /// Rough latitude in degrees, north positive
    #[arg(long, allow_hyphen_values = true)]
    latitude: Option<String>,
    /// Rough longitude in degrees, east positive
    #[arg(long, allow_hyphen_values = true)]
    longitude: Option<String>,
    /// Height above the sea
    #[arg(long, value_name = "HEIGHT", allow_hyphen_values = true)]
    elevation: Option<String>,
    /// Does the weather come from a large water nearby? yes or no
    #[arg(long, value_name = "YES/NO")]
    coastal: Option<String>,
    /// Is the country around dry? yes or no
    #[arg(long, value_name = "YES/NO")]
    arid: Option<String>,
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
    /// Method that lime is worked out by, such as tri-state-smp; `spadework acidity` lists them
    #[arg(long, value_name = "METHOD")]
    lime_method: Option<String>,
    /// The published scheme by which laboratory figures are read, such as rutgers_m3 or rb209
    #[arg(long, value_name = "SCHEME")]
    nutrient_scheme: Option<String>,
    /// Lowest temperature of a usual winter, such as -10F or "-23 C"
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    winter_low: Option<String>,
    /// Ways at hand to end a cover crop, parted by commas: mow, mow-at-bloom, crimp-at-bloom, till, cover-up
    #[arg(long, value_name = "WAYS")]
    cover_endings: Option<String>,
    /// Animals that may get at a cover crop, parted by commas: cattle, horses, sheep, goats, pigs, poultry
    #[arg(long, value_name = "ANIMALS")]
    grazing: Option<String>,
    /// Gust speed that your local code asks buildings to stand, such as 105mph
    #[arg(long, value_name = "SPEED")]
    design_wind: Option<String>,
    /// What stands upwind of your buildings: b woods or buildings, c open fields, d flat open ground or water
    #[arg(long, value_name = "LETTER")]
    wind_exposure: Option<String>,
    /// Frost depth that your local code gives
    #[arg(long, value_name = "DEPTH")]
    frost_depth: Option<String>,
    /// Where wind and frost were read: the code, its map, the office that was asked
    #[arg(long, value_name = "TEXT")]
    code_note: Option<String>,
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
            elevation_m: given(&self.elevation, farm.elevation_m, |text| elevation(text, farm.units))?,
            coastal: given(&self.coastal, farm.coastal, |text| yes_or_no("coastal", text))?,
            arid: given(&self.arid, farm.arid, |text| yes_or_no("arid", text))?,
            last_frost: given(&self.last_frost, farm.last_frost, |text| frost("last-frost", text))?,
            first_frost: given(&self.first_frost, farm.first_frost, |text| frost("first-frost", text))?,
            currency: given(&self.currency, farm.currency, |text| Ok(text.to_uppercase()))?,
            hour_worth: given(&self.hour_worth, farm.hour_worth, |text| {
                number::<HourWorth>("hour-worth", text)
            })?,
            lime_method: given(&self.lime_method, farm.lime_method, lime_method)?,
            nutrient_scheme: given(&self.nutrient_scheme, farm.nutrient_scheme, scheme)?,
            winter_low_c: given(&self.winter_low, farm.winter_low_c, |text| {
                typed::<WinterLow>("winter-low", text, field_unit(WinterLow::UNIT, farm.units))
            })?,
            cover_endings: given(&self.cover_endings, Some(farm.cover_endings), |text| {
                kinds("cover-endings", text, Ending::ALL)
            })?
            .unwrap_or_default(),
            grazing: given(&self.grazing, Some(farm.grazing), |text| kinds("grazing", text, Animal::ALL))?
                .unwrap_or_default(),
            design_wind_m_s: given(&self.design_wind, farm.design_wind_m_s, |text| {
                typed("design-wind", text, field_unit(GustSpeed::UNIT, farm.units))
            })?,
            wind_exposure: given(&self.wind_exposure, farm.wind_exposure, |text| {
                exposure("wind-exposure", text)
            })?,
            frost_depth_m: given(&self.frost_depth, farm.frost_depth_m, |text| {
                typed("frost-depth", text, field_unit(FrostDepth::UNIT, farm.units))
            })?,
            code_note: match self.code_note.as_deref().map(str::trim) {
                None => farm.code_note,
                Some(word) if word.eq_ignore_ascii_case("none") => String::new(),
                Some(text) => text.to_owned(),
            },
            ..farm
        })
    }
}

/// Kinds by their keys, parted by commas.
pub(crate) fn kinds<T: Copy + serde::Serialize>(
    field: &str,
    text: &str,
    all: &[T],
) -> Result<Vec<T>, Refusal> {
    let key = |kind: &T| match serde_json::to_value(kind) {
        Ok(serde_json::Value::String(key)) => key.replace('_', "-"),
        _ => String::new(),
    };
    let known: Vec<String> = all.iter().map(key).collect();
    text.split(',')
        .map(|word| {
            let plain = word.trim().to_lowercase().replace([' ', '_'], "-");
            known.iter().position(|one| *one == plain).map(|at| all[at]).ok_or_else(|| {
                let near = nearest(&plain, known.iter().map(String::as_str)).unwrap_or(&known[0]);
                Refusal::new(field, format!("{:?} is not known here", word.trim()))
                    .given(word.trim())
                    .accepted(known.join(", "))
                    .example(near)
            })
        })
        .collect()
}

/// What stands upwind, by its letter.
pub(crate) fn exposure(field: &str, text: &str) -> Result<Exposure, Refusal> {
    match text.trim().to_lowercase().as_str() {
        "b" => Ok(Exposure::B),
        "c" => Ok(Exposure::C),
        "d" => Ok(Exposure::D),
        _ => Err(Refusal::new(field, format!("{text:?} is no exposure to wind"))
            .given(text)
            .accepted("b (woods or buildings), c (open fields) or d (flat open ground or water)")
            .example("c")),
    }
}

fn lime_method(text: &str) -> Result<String, Refusal> {
    let key = text.to_lowercase().replace([' ', '_'], "-");
    match LimeMethod::of_key(&key) {
        Some(method) => Ok(method.key().to_owned()),
        None => Err(LimeMethod::unknown("lime-method", text)),
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

/// Below the sea, with a minus: lengths have none, so it is read beside them.
fn elevation(text: &str, system: UnitSystem) -> Result<Elevation, Refusal> {
    let (sign, length) = text.strip_prefix(['-', '\u{2212}']).map_or((1.0, text), |rest| (-1.0, rest));
    let unit = field_unit(Elevation::UNIT, system);
    let metres =
        parse_in(length, Dimension::Length, unit, Unit::Metre).map_err(|error| error.at("elevation"))?;
    refusal::bounded("elevation", sign * metres)
}

fn yes_or_no(field: &str, text: &str) -> Result<bool, Refusal> {
    match text.to_lowercase().as_str() {
        "yes" | "y" | "true" => Ok(true),
        "no" | "n" | "false" => Ok(false),
        _ => Err(Refusal::new(field, format!("{field} is yes or no, but {text:?} was given"))
            .given(text)
            .accepted("yes, no or none")
            .example("yes")),
    }
}

fn scheme(text: &str) -> Result<String, Refusal> {
    let key = text.to_lowercase().replace([' ', '-'], "_");
    if Scheme::of_key(&key).is_some() {
        return Ok(key);
    }
    let known: Vec<&str> = Scheme::ALL.iter().map(|scheme| scheme.key()).collect();
    let near = nearest(&key, known.iter().copied()).unwrap_or("rutgers_m3");
    Err(Refusal::new("nutrient-scheme", format!("{text:?} is no scheme that is known here"))
        .given(text)
        .accepted(format!("{}, or none", known.join(", ")))
        .example(near))
}

fn frost(field: &str, text: &str) -> Result<MonthDay, Refusal> {
    web::typed_day::month_day(field, text)
}
