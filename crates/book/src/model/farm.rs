//! The farm itself: one record in every book.

use ground::covers::kinds::{Animal, Ending};
use ground::kit::Refusal;
pub use ground::kit::units::UnitSystem;
use ground::posts::frost_foot::FrostDepth;
use ground::posts::wind_pressure::{Exposure, GustSpeed};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::month_day::MonthDay;
use super::plan::PlanOrigin;
use super::{Kind, Record, text};

ground::quantity! {
    /// Latitude, north positive.
    pub struct Latitude: "latitude", "°", -90.0 ..= 90.0, example 42.5;
    /// Longitude, east positive.
    pub struct Longitude: "longitude", "°", -180.0 ..= 180.0, example -93.5;
    /// Height above the sea.
    pub struct Elevation: "elevation", "m", -430.0 ..= 6000.0, example 250.0;
    /// What an hour of the grower's time is worth, in the farm's currency.
    pub struct HourWorth: "worth of an hour", "an hour", 0.0 ..= 10000.0, example 20.0;
    /// Lowest temperature of a usual winter.
    pub struct WinterLow: "lowest temperature of a usual winter", "°C", -60.0 ..= 25.0, example -20.0;
}

/// The farm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Farm {
    /// What it is called.
    pub name: String,
    /// Rough latitude.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub latitude_degrees: Option<Latitude>,
    /// Rough longitude.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub longitude_degrees: Option<Longitude>,
    /// Height above the sea; thin air dries more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elevation_m: Option<Elevation>,
    /// Does the weather come from a large water nearby? Sunlight worked out from temperatures needs it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coastal: Option<bool>,
    /// Is the country around dry? A dew point taken from the lowest temperature needs it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arid: Option<bool>,
    /// Units that pages show first.
    pub units: UnitSystem,
    /// Usual last frost of spring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_frost: Option<MonthDay>,
    /// Usual first frost of autumn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_frost: Option<MonthDay>,
    /// Lowest temperature of a usual winter, the coldest night of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub winter_low_c: Option<WinterLow>,
    /// Three-letter code of the currency (ISO 4217).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub currency: Option<String>,
    /// What an hour of the grower's time is worth, in that currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hour_worth: Option<HourWorth>,
    /// Is the farm worked under the rules of organic farming?
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub organic: Option<bool>,
    /// The published scheme by which laboratory figures are judged and rates are told, by its key.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nutrient_scheme: Option<String>,
    /// The published method by which lime is reckoned, by its name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lime_method: Option<String>,
    /// Ways at hand to end a cover crop.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cover_endings: Vec<Ending>,
    /// Animals that may get at a cover crop.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub grazing: Vec<Animal>,
    /// Gust speed that the local code asks buildings of this kind to stand (3 s, 10 m up, open ground).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub design_wind_m_s: Option<GustSpeed>,
    /// What stands upwind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_exposure: Option<Exposure>,
    /// Frost depth that the local code gives.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frost_depth_m: Option<FrostDepth>,
    /// The place that metres of the plan are counted from; the first place drawn where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plan_origin: Option<PlanOrigin>,
    /// Where wind and frost were read: the code, its map, the office that was asked.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub code_note: String,
}

impl Farm {
    /// A farm of which only the name is known.
    #[must_use]
    pub fn named(name: impl Into<String>, units: UnitSystem) -> Self {
        Self {
            name: name.into(),
            latitude_degrees: None,
            longitude_degrees: None,
            elevation_m: None,
            coastal: None,
            arid: None,
            units,
            last_frost: None,
            first_frost: None,
            currency: None,
            hour_worth: None,
            organic: None,
            nutrient_scheme: None,
            lime_method: None,
            winter_low_c: None,
            cover_endings: Vec::new(),
            grazing: Vec::new(),
            design_wind_m_s: None,
            wind_exposure: None,
            frost_depth_m: None,
            plan_origin: None,
            code_note: String::new(),
        }
    }
}

impl Record for Farm {
    const KIND: Kind = Kind::Farm;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "Long Furrow Farm")?;
        for (field, key) in [("nutrient_scheme", &self.nutrient_scheme), ("lime_method", &self.lime_method)] {
            if let Some(key) = key {
                text::key(field, key, "the key of a scheme or method in the handbook")?;
            }
        }
        text::note("code_note", &self.code_note)?;
        text::each_once("cover_endings", &self.cover_endings, Ending::words)?;
        text::each_once("grazing", &self.grazing, Animal::words)?;
        match &self.currency {
            Some(code) if code.len() != 3 || !code.bytes().all(|byte| byte.is_ascii_uppercase()) => {
                Err(Refusal::new("currency", format!("{code:?} is not the code of a currency"))
                    .given(code)
                    .accepted("three capital letters (ISO 4217)")
                    .example("USD"))
            }
            _ => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_way_to_end_a_cover_and_an_animal_are_named_once() {
        let farm = Farm::named("Long Furrow Farm", UnitSystem::Metric);
        let twice = Farm { cover_endings: vec![Ending::Mow, Ending::Till, Ending::Mow], ..farm.clone() };
        assert_eq!(twice.check().unwrap_err().field, "cover_endings[2]");
        let twice = Farm { grazing: vec![Animal::Sheep, Animal::Sheep], ..farm.clone() };
        assert_eq!(twice.check().unwrap_err().field, "grazing[1]");
        let all = Farm { cover_endings: Ending::ALL.to_vec(), grazing: Animal::ALL.to_vec(), ..farm };
        assert!(all.check().is_ok());
    }
}
