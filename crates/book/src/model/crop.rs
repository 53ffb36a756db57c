//! A crop of the farm's own, or the farm's figures for a crop of the catalogue.

use ground::covers::species::KG_HA_PER_LB_AC;
use ground::kit::units::{Dimension, Unit, parse};
use ground::kit::{Bounded, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::farm::UnitSystem;
use super::{Kind, Record, text};

ground::quantity! {
    /// Crop coefficient: water use of the crop over that of short grass.
    pub struct CropCoefficient: "crop coefficient", "", 0.05 ..= 2.0, example 1.05;
    /// Depth that the roots reach.
    pub struct CropRootDepth: "root depth", "m", 0.05 ..= 3.0, example 0.5;
    /// Share of the available water that may be used before the crop suffers.
    pub struct DepletionFraction: "depletion fraction", "", 0.05 ..= 0.95, example 0.4;
    /// Height of the grown crop.
    pub struct CropHeight: "height of the crop", "m", 0.01 ..= 20.0, example 0.6;
    /// What the farm gives the crop in a season, of one nutrient.
    pub struct CropRate: "rate for the crop", "kg/ha", 0.0 ..= 1000.0, example 120.0;
}

/// A crop. What is not given is taken from the catalogue entry it is based on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FarmCrop {
    /// The crop of the catalogue it is based on; without one, its coefficients, stages and root depth
    /// must be given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub key: Option<String>,
    /// What it is called.
    pub name: String,
    /// Crop coefficient while it is small.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kc_initial: Option<CropCoefficient>,
    /// Crop coefficient when it covers the ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kc_mid: Option<CropCoefficient>,
    /// Crop coefficient at its end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kc_end: Option<CropCoefficient>,
    /// Days until about a tenth of the ground is covered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub initial_days: Option<u16>,
    /// Days from then until the ground is covered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub development_days: Option<u16>,
    /// Days from then until it begins to ripen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mid_days: Option<u16>,
    /// Days from then until harvest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub late_days: Option<u16>,
    /// Depth that its roots reach.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub root_depth_m: Option<CropRootDepth>,
    /// Share of the available water that may be used before it suffers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depletion_fraction: Option<DepletionFraction>,
    /// Height when grown.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<CropHeight>,
    /// Nitrogen that the farm gives it in a season, before credits; goes before every scheme.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub n_kg_ha: Option<CropRate>,
    /// Phosphate (P2O5), likewise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub p2o5_kg_ha: Option<CropRate>,
    /// Potash (K2O), likewise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub k2o_kg_ha: Option<CropRate>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// Rates as people write them, with kg/ha in one of each; an acre is 43 560 square feet.
const RATE_UNITS: [(&str, f64); 8] = [
    ("lb/1000ft2", 43.56 * KG_HA_PER_LB_AC),
    ("lb/1000ft²", 43.56 * KG_HA_PER_LB_AC),
    ("lb/100ft2", 435.6 * KG_HA_PER_LB_AC),
    ("lb/100ft²", 435.6 * KG_HA_PER_LB_AC),
    ("lb/acre", KG_HA_PER_LB_AC),
    ("kg/ha", 1.0),
    ("g/m2", 10.0),
    ("g/m²", 10.0),
];

/// Reads "120 lb/acre", "2.5 lb/1000 ft2", "134 kg/ha" or "13 g/m2"; a bare number is in lb/acre on a US farm and in
/// kg/ha on a metric one. Numbers are read as everywhere: a comma before three digits is refused. The quantity is kept
/// in kg/ha.
///
/// # Errors
/// Not a rate, or one outside what is accepted.
pub fn area_rate<Q: Bounded>(field: &str, typed: &str, system: UnitSystem) -> Result<Q, Refusal> {
    let own = if system == UnitSystem::UsCustomary { "lb/acre" } else { "kg/ha" };
    let (digits, unit) = typed.split_at(typed.find(char::is_alphabetic).unwrap_or(typed.len()));
    let unit: String = unit.chars().filter(|c| !c.is_whitespace()).collect();
    let unit = if unit.is_empty() { own } else { &unit };
    let refused = |message: String| {
        Refusal::new(field, message)
            .given(typed)
            .accepted("a rate in lb/acre, lb/1000 ft2, kg/ha or g/m2")
            .example(if own == "lb/acre" { "120 lb/acre" } else { "134 kg/ha" })
    };
    let (_, factor) = RATE_UNITS
        .iter()
        .find(|(name, _)| *name == unit)
        .ok_or_else(|| refused(format!("{typed:?} is not a rate")))?;
    let value = parse(digits, Dimension::Number, Unit::One).map_err(|error| refused(error.message))?;
    Q::new(value * factor).map_err(|error| refused(error.to_string()))
}

/// A rate as it is typed: in lb/acre on a US farm, in kg/ha on a metric one.
#[must_use]
pub fn area_rate_words(kg_ha: f64, system: UnitSystem) -> String {
    let round = |value: f64| (100.0 * value).round() / 100.0;
    match system {
        UnitSystem::UsCustomary => format!("{} lb/acre", round(kg_ha / KG_HA_PER_LB_AC)),
        UnitSystem::Metric => format!("{} kg/ha", round(kg_ha)),
    }
}

impl CropRate {
    /// See [`area_rate`].
    ///
    /// # Errors
    /// Not a rate, or one outside what is accepted.
    pub fn typed(field: &str, typed: &str, system: UnitSystem) -> Result<Self, Refusal> {
        area_rate(field, typed, system)
    }

    /// See [`area_rate_words`].
    #[must_use]
    pub fn shown(self, system: UnitSystem) -> String {
        area_rate_words(self.get(), system)
    }
}

impl Record for FarmCrop {
    const KIND: Kind = Kind::Crop;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "Paste tomato")?;
        text::note("note", &self.note)?;
        let stages = [
            ("initial_days", self.initial_days, 30),
            ("development_days", self.development_days, 40),
            ("mid_days", self.mid_days, 45),
            ("late_days", self.late_days, 30),
        ];
        for (field, days, example) in stages {
            if let Some(days) = days {
                text::count(field, days, 0, 1000, example)?;
            }
        }
        if let Some(key) = &self.key {
            return text::name("key", key, "tomato");
        }
        let given = [
            ("kc_initial", self.kc_initial.is_some(), "0.6"),
            ("kc_mid", self.kc_mid.is_some(), "1.15"),
            ("kc_end", self.kc_end.is_some(), "0.8"),
            ("root_depth_m", self.root_depth_m.is_some(), "0.7"),
        ];
        let stages = stages.map(|(field, days, _)| (field, days.is_some(), "30"));
        match given.into_iter().chain(stages).find(|(_, given, _)| !given) {
            Some((field, _, example)) => {
                let plain = field.replace('_', " ");
                Err(Refusal::new(
                    field,
                    format!("a crop that is based on none of the catalogue needs {plain}"),
                )
                .given("nothing")
                .accepted("a value here, or the key of a crop of the catalogue")
                .example(example))
            }
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(typed: &str, system: UnitSystem) -> Result<CropRate, Refusal> {
        area_rate("n", typed, system)
    }

    /// A pound is 0.453 592 37 kg and an acre 4046.856 422 4 m² [NIST SP 811, app. B.8].
    #[test]
    fn rates_are_read_as_people_write_them() {
        use UnitSystem::{Metric, UsCustomary};
        for (typed, system, kg_ha) in [
            ("100", UsCustomary, 112.085_116),
            ("100", Metric, 100.0),
            ("2,5 kg/ha", UsCustomary, 2.5),
            ("2 1/2 lb/acre", Metric, 2.802_127_9),
            ("2.5 lb/1000 ft2", Metric, 122.060_69),
            ("1 lb / 100 ft²", Metric, 488.242_76),
            ("13 g/m2", UsCustomary, 130.0),
        ] {
            let read = read(typed, system).unwrap().get();
            assert!((read - kg_ha).abs() < 1e-4, "{typed}: {read}");
        }
        assert_eq!(area_rate_words(112.085_116, UsCustomary), "100 lb/acre");
    }

    #[test]
    fn a_comma_for_thousands_is_refused_and_not_taken_for_one() {
        for typed in ["1,000 lb/acre", "1,000", "12 stone/acre", "much", "", "-3 kg/ha", "2 kg/ha 3"] {
            let refusal = read(typed, UnitSystem::UsCustomary).unwrap_err();
            assert_eq!((refusal.field.as_str(), refusal.example.as_str()), ("n", "120 lb/acre"), "{typed}");
        }
    }
}
