//! Every method of the house. Each topic folder lists its own in its `mod.rs`.

use std::sync::LazyLock;

use crate::kit::{self, Registered};
use crate::{
    belief, climate, covers, earthworks, fertility, irrigation, posts, siting, spatial, structure, texture,
    trend, water,
};

/// The folders that list methods, in the order of the handbook.
static FOLDERS: &[&[&dyn Registered]] = &[
    texture::METHODS,
    belief::METHODS,
    water::METHODS,
    water::retention::METHODS,
    water::infiltration::METHODS,
    water::flow::METHODS,
    water::drainage::METHODS,
    water::salts::METHODS,
    climate::et0::METHODS,
    climate::weather::METHODS,
    climate::season::METHODS,
    climate::units::METHODS,
    climate::crops::METHODS,
    irrigation::balance::METHODS,
    irrigation::moisture::METHODS,
    irrigation::hardware::METHODS,
    irrigation::outlook::METHODS,
    structure::METHODS,
    fertility::analysis::METHODS,
    fertility::schemes::METHODS,
    fertility::acidity::METHODS,
    fertility::needs::METHODS,
    fertility::organic::METHODS,
    fertility::blend::METHODS,
    covers::METHODS,
    posts::METHODS,
    earthworks::METHODS,
    siting::METHODS,
    spatial::area::METHODS,
    spatial::sampling::METHODS,
    spatial::METHODS,
    trend::METHODS,
    kit::METHODS,
];

/// All methods in the order of the handbook.
pub static METHODS: LazyLock<Vec<&'static dyn Registered>> = LazyLock::new(|| FOLDERS.concat());

/// The method called `name`.
#[must_use]
pub fn find(name: &str) -> Option<&'static dyn Registered> {
    METHODS.iter().copied().find(|method| method.card().name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    #[test]
    fn names_are_unique_kebab_case() {
        let mut names: Vec<_> = METHODS.iter().map(|method| method.card().name).collect();
        for name in &names {
            assert!(name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'), "{name}");
        }
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), METHODS.len());
    }

    #[test]
    fn every_citation_is_in_the_bibliography() {
        for method in METHODS.iter() {
            let card = method.card();
            assert!(!card.sources.is_empty(), "{} cites nothing", card.name);
            for cite in card.sources {
                assert!(cite.source().is_some(), "{} cites unknown {}", card.name, cite.key);
            }
            let (_, working) = method.answer_with_working(&method.example()).unwrap();
            for step in working.steps {
                if let Some(cite) = step.source {
                    assert!(cite.source().is_some(), "{} cites unknown {}", card.name, cite.key);
                }
            }
        }
    }

    #[test]
    fn every_example_computes_with_working() {
        for method in METHODS.iter() {
            let name = method.card().name;
            let (answer, working) = method
                .answer_with_working(&method.example())
                .unwrap_or_else(|refusal| panic!("{name}: {refusal}"));
            assert!(answer.is_object(), "{name}");
            assert!(!working.steps.is_empty(), "{name} shows no working");
            assert_eq!(method.answer(&method.example()).unwrap(), answer, "{name} is not deterministic");
        }
    }

    #[test]
    fn unknown_fields_are_refused_by_name() {
        for method in METHODS.iter() {
            let mut input = method.example();
            input.as_object_mut().unwrap().insert("no_such_field".into(), Value::from(1));
            let refusal = method.answer(&input).unwrap_err();
            assert_eq!(refusal.field, "no_such_field", "{}", method.card().name);
        }
    }

    #[test]
    fn public_numbers_carry_their_unit_in_the_name() {
        for method in METHODS.iter() {
            let schema = method.input_schema();
            let Some(properties) = schema.get("properties").and_then(Value::as_object) else { continue };
            for (name, property) in properties {
                let Some(unit) = property.get("x-unit").and_then(Value::as_str) else { continue };
                let suffix = match unit {
                    "%" => "_percent",
                    "mm" => "_mm",
                    "cm" => "_cm",
                    "m" => "_m",
                    "µm" => "_um",
                    "s" => "_s",
                    "min" => "_min",
                    "h" => "_h",
                    "°C" => "_c",
                    "g" => "_g",
                    "mL" => "_ml",
                    "g/L" => "_g_l",
                    "kg/m³" => "_kg_m3",
                    "g/cm³" => "_g_cm3",
                    "dS/m" => "_ds_m",
                    "m³/m³" => "_m3_m3",
                    "kPa" => "_kpa",
                    "mm/h" => "_mm_h",
                    "mm/d" => "_mm_d",
                    "cm/h" => "_cm_h",
                    "m/d" => "_m_d",
                    "m/s" => "_m_s",
                    "µm/s" => "_um_s",
                    "1/cm" => "_per_cm",
                    "MJ/m²/d" => "_mj_m2_d",
                    "MJ/m²/h" => "_mj_m2_h",
                    "d" => "_d",
                    "mg/L" => "_mg_l",
                    "me/L" => "_me_l",
                    "L" => "_l",
                    "L/h" => "_l_h",
                    "L/h/m" => "_l_h_m",
                    "L/min" => "_l_min",
                    "m²" => "_m2",
                    "m³" => "_m3",
                    "ha" => "_ha",
                    "kg" => "_kg",
                    "t" => "_t",
                    "mg/kg" => "_mg_kg",
                    "ton/acre" => "_ton_acre",
                    "kg/kg" => "_kg_kg",
                    "ppm" => "_ppm",
                    "meq/100 g" => "_meq_100_g",
                    "cmol/kg" => "_cmol_kg",
                    "g/m²" => "_g_m2",
                    "kg/m²" => "_kg_m2",
                    "kg/ha" => "_kg_ha",
                    "t/ha" => "_t_ha",
                    "kg/t" => "_kg_t",
                    "N" => "_n",
                    "N·m" => "_n_m",
                    "mV" => "_mv",
                    "kPa/m" => "_kpa_m",
                    "1/m" => "_per_m",
                    "kN" => "_kn",
                    "kN/m" => "_kn_m",
                    "kN/m³" => "_kn_m3",
                    "MPa" => "_mpa",
                    "ohm·m" => "_ohm_m",
                    "°" => "_degrees",
                    "" => continue,
                    other => panic!("{}: no suffix agreed for unit {other}", method.card().name),
                };
                assert!(name.ends_with(suffix), "{}: {name} is in {unit}", method.card().name);
            }
        }
    }
}
