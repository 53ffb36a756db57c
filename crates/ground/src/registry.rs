//! Every method of the house, one line each.

use crate::belief;
use crate::kit::method::Entry;
use crate::kit::{self, Registered};
use crate::{climate, irrigation, structure, texture, water};

/// All methods in the order of the handbook.
pub static METHODS: &[&dyn Registered] = &[
    &Entry::<texture::class::TextureClass>::new(),
    &Entry::<texture::class_census::TextureClassCensus>::new(),
    &Entry::<texture::size_limit::SiltLimitConversion>::new(),
    &Entry::<texture::silt_regression::SiltRegression>::new(),
    &Entry::<texture::feel::by_feel::TextureByFeel>::new(),
    &Entry::<texture::hydrometer::texture::HydrometerTexture>::new(),
    &Entry::<texture::hydrometer::cut::HydrometerCut>::new(),
    &Entry::<texture::hydrometer::clay::HydrometerClay>::new(),
    &Entry::<texture::hydrometer::percent_finer::HydrometerPercentFiner>::new(),
    &Entry::<texture::lab::LabTextureMethod>::new(),
    &Entry::<texture::kitchen_scale::KitchenScaleTexture>::new(),
    &Entry::<texture::fragments::FragmentVolume>::new(),
    &Entry::<texture::fragments::FragmentModifier>::new(),
    &Entry::<texture::settling::water::WaterViscosity>::new(),
    &Entry::<texture::settling::time::SettlingTime>::new(),
    &Entry::<texture::settling::cut::SettlingCut>::new(),
    &Entry::<texture::jar::jar_test::JarTest>::new(),
    &Entry::<texture::jar::calibration::JarCalibration>::new(),
    &Entry::<texture::jar::mark_times::JarMarkTimes>::new(),
    &Entry::<texture::jar::layers::JarLayers>::new(),
    &Entry::<texture::jar::reading_error::JarReadingError>::new(),
    &Entry::<water::nitrate_leaching::NitrateLeached>::new(),
    &Entry::<irrigation::balance::available::TotalAvailableWater>::new(),
    &Entry::<irrigation::balance::stress::StressCoefficient>::new(),
    &Entry::<irrigation::balance::yield_stress::StressBehindYield>::new(),
    &Entry::<irrigation::balance::evaporation_layer::EvaporationLayer>::new(),
    &Entry::<irrigation::balance::root_zone_balance::RootZoneBalance>::new(),
    &Entry::<irrigation::moisture::by_feel::MoistureByFeel>::new(),
    &Entry::<irrigation::moisture::tension_trigger::TensionTrigger>::new(),
    &Entry::<irrigation::moisture::correction::MoistureCorrection>::new(),
    &Entry::<irrigation::hardware::drip_run_time::DripRunTime>::new(),
    &Entry::<irrigation::hardware::wetted_strip::WettedStripMethod>::new(),
    &Entry::<irrigation::hardware::wetted_bulb::WettedBulb>::new(),
    &Entry::<irrigation::hardware::supply_sets::SupplySets>::new(),
    &Entry::<irrigation::outlook::watering_outlook::WateringOutlook>::new(),
    &Entry::<structure::crusting::CrustingIndex>::new(),
    &Entry::<structure::erodibility::SoilErodibility>::new(),
    &Entry::<structure::slope_steepness::SlopeSteepness>::new(),
    &Entry::<structure::root_limits::RootLimitingDensity>::new(),
    &Entry::<kit::units::ConvertMeasure>::new(),
    &Entry::<belief::coordinates::IlrCoordinates>::new(),
    &Entry::<belief::centre::CompositionCentre>::new(),
    &Entry::<belief::combine::CombineEvidence>::new(),
    &Entry::<belief::worth_method::MeasurementWorth>::new(),
    &Entry::<water::soil_water::SoilWaterMethod>::new(),
    &Entry::<water::tension::WaterTension>::new(),
    &Entry::<water::unsaturated::UnsaturatedConductivity>::new(),
    &Entry::<water::retention::of_class::VanGenuchtenMethod>::new(),
    &Entry::<water::retention::of_class::BrooksCoreyMethod>::new(),
    &Entry::<water::retention::retention_convert::RetentionConvert>::new(),
    &Entry::<water::retention::capillary_rise::CapillaryRise>::new(),
    &Entry::<water::flow::richards_profile::RichardsProfile>::new(),
    &Entry::<climate::et0::PenmanMonteith>::new(),
    &Entry::<climate::et0::hourly::HourlyEt0>::new(),
    &Entry::<climate::et0::hargreaves::Hargreaves>::new(),
    &Entry::<climate::et0::extraterrestrial::ExtraterrestrialRadiation>::new(),
    &Entry::<climate::weather::tunnel_method::TunnelEt0Method>::new(),
    &Entry::<climate::weather::gaps_method::FillWeatherGaps>::new(),
    &Entry::<climate::weather::outlook_method::WeatherOutlook>::new(),
    &Entry::<climate::season::day_length::DayLength>::new(),
    &Entry::<climate::season::degree_days::GrowingDegreeDays>::new(),
    &Entry::<climate::season::frost::FrostDateOdds>::new(),
    &Entry::<climate::season::effective_rain::EffectiveRain>::new(),
    &Entry::<climate::crops::CropCoefficient>::new(),
    &Entry::<climate::crops::CropDayMethod>::new(),
    &Entry::<climate::crops::KcInitial>::new(),
    &Entry::<climate::units::RadiationUnits>::new(),
    &Entry::<climate::units::DepthVolume>::new(),
    &Entry::<water::infiltration::green_ampt_method::GreenAmptInfiltration>::new(),
    &Entry::<water::infiltration::ring_method::RingInfiltration>::new(),
    &Entry::<water::infiltration::percolation::PercolationTest>::new(),
    &Entry::<water::infiltration::ksat_class::KsatClassMethod>::new(),
    &Entry::<water::infiltration::hydrologic_group::HydrologicSoilGroup>::new(),
    &Entry::<water::infiltration::curve_number::RunoffCurveNumber>::new(),
    &Entry::<water::infiltration::sprinkler_rate::SprinklerRate>::new(),
    &Entry::<water::infiltration::pulses::IrrigationPulses>::new(),
    &Entry::<water::drainage::water_table::WaterTableLikelihood>::new(),
    &Entry::<water::drainage::equivalent_depth::EquivalentDepth>::new(),
    &Entry::<water::drainage::hooghoudt_method::HooghoudtSpacing>::new(),
    &Entry::<water::drainage::table_height::HooghoudtWaterTable>::new(),
    &Entry::<water::drainage::spacing_guide::DrainSpacingGuide>::new(),
    &Entry::<water::drainage::raised_bed::RaisedBedHeight>::new(),
    &Entry::<water::drainage::field_capacity_days::DaysToFieldCapacity>::new(),
    &Entry::<water::salts::extract_method::EcToSaturationExtract>::new(),
    &Entry::<water::salts::yield_loss::SaltYieldLoss>::new(),
    &Entry::<water::salts::leaching::LeachingRequirement>::new(),
    &Entry::<water::salts::reclamation::ReclamationLeaching>::new(),
    &Entry::<water::salts::irrigation_water_method::IrrigationWaterHazard>::new(),
    &Entry::<water::salts::load::SaltLoad>::new(),
    &Entry::<water::salts::tunnel_method::TunnelSaltBalance>::new(),
];

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
        for method in METHODS {
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
        for method in METHODS {
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
        for method in METHODS {
            let mut input = method.example();
            input.as_object_mut().unwrap().insert("no_such_field".into(), Value::from(1));
            let refusal = method.answer(&input).unwrap_err();
            assert_eq!(refusal.field, "no_such_field", "{}", method.card().name);
        }
    }

    #[test]
    fn public_numbers_carry_their_unit_in_the_name() {
        for method in METHODS {
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
                    "°" => "_degrees",
                    "" => continue,
                    other => panic!("{}: no suffix agreed for unit {other}", method.card().name),
                };
                assert!(name.ends_with(suffix), "{}: {name} is in {unit}", method.card().name);
            }
        }
    }
}
