//! A source of water: how much it gives and what is dissolved in it.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Kind, Record, text};

ground::quantity! {
    /// Flow of a tap, a pump or a spring.
    pub struct SupplyFlow: "flow", "L/min", 0.01 ..= 100000.0, example 20.0;
    /// Electrical conductivity of the water at 25 °C.
    pub struct WaterConductivity: "electrical conductivity of the water", "dS/m", 0.0 ..= 60.0, example 0.8;
    /// Something dissolved in the water.
    pub struct Dissolved: "dissolved in the water", "mg/L", 0.0 ..= 20000.0, example 40.0;
}

/// A source of water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaterSupply {
    /// What it is called.
    pub name: String,
    /// What it gives, timed with a bucket or read from a meter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flow_l_min: Option<SupplyFlow>,
    /// Electrical conductivity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_ds_m: Option<WaterConductivity>,
    /// Sodium.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sodium_mg_l: Option<Dissolved>,
    /// Calcium.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calcium_mg_l: Option<Dissolved>,
    /// Magnesium.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub magnesium_mg_l: Option<Dissolved>,
    /// Bicarbonate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bicarbonate_mg_l: Option<Dissolved>,
    /// Nitrate, as nitrogen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nitrate_n_mg_l: Option<Dissolved>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

impl Record for WaterSupply {
    const KIND: Kind = Kind::WaterSupply;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "Well")?;
        text::note("note", &self.note)
    }
}
