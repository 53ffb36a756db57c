//! The United Kingdom's soil nitrogen supply index of a bed, from its last crop, the rain and the belief about
//! its make-up.

use book::Snapshot;
use book::model::{EntryId, PlantedCrop};
use ground::fertility::schemes::supply::{LastCrop, RainClass, SupplySoil, after_crop};
use ground::kit::Bounded;
use ground::texture::Class;
use jiff::civil::Date;

use super::crop_names::CropNames;
use crate::plot_report::PlotReport;

/// An index with its odds and how it was found.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Supply {
    /// Odds of index 0 to 6.
    pub odds: [f64; 7],
    /// In words.
    pub words: String,
}

/// How ground of a class keeps nitrogen. Depth is taken as great where the plot says nothing else.
fn soil_of(class: Class) -> SupplySoil {
    match class {
        Class::Sand | Class::LoamySand | Class::SandyLoam => SupplySoil::LightSand,
        Class::Silt | Class::SiltLoam | Class::SiltyClayLoam => SupplySoil::DeepSilt,
        Class::Clay | Class::SiltyClay | Class::SandyClay | Class::ClayLoam => SupplySoil::DeepClay,
        Class::Loam | Class::SandyClayLoam => SupplySoil::MediumOrShallow,
    }
}

fn rain(snapshot: &Snapshot) -> (RainClass, &'static str) {
    let Some(normals) = snapshot.weather_normals.last() else {
        return (RainClass::Moderate, "rain taken as moderate, since the usual weather is not known");
    };
    match normals.body.months.iter().map(|month| month.rain_mm.get()).sum::<f64>() {
        mm if mm < 600.0 => (RainClass::Low, "below 600 mm of rain a year"),
        mm if mm <= 700.0 => (RainClass::Moderate, "600 to 700 mm of rain a year"),
        _ => (RainClass::High, "above 700 mm of rain a year"),
    }
}

/// What grew in the bed before a planting.
pub(super) fn last_crop(snapshot: &Snapshot, bed: EntryId, before: Date) -> (LastCrop, &'static str) {
    let last = snapshot.plantings_of(bed).into_iter().rfind(|held| held.body.planted_on < before);
    let Some(last) = last else { return (LastCrop::Uncropped, "nothing written down before it") };
    let key = match &last.body.crop {
        PlantedCrop::Catalogue(key) => Some(key.as_str()),
        PlantedCrop::FarmCrop(id) => snapshot.crop(*id).and_then(|crop| crop.body.key.as_deref()),
    };
    let leaves = key.and_then(CropNames::of).map_or(LastCrop::VegetablesMedium, CropNames::leaves);
    (leaves, leaves.words())
}

pub(super) fn supply(snapshot: &Snapshot, bed: EntryId, before: Date, report: Option<&PlotReport>) -> Supply {
    let (last, last_words) = last_crop(snapshot, bed, before);
    let (rain, rain_words) = rain(snapshot);
    let mut odds = [0.0; 7];
    let known = report.filter(|report| report.make_up_known);
    match known {
        Some(report) => {
            for (draw, weight) in report.ensemble.draws.iter().zip(&report.ensemble.weights) {
                odds[usize::from(after_crop(last, rain, soil_of(draw.class)))] += weight;
            }
        }
        None => {
            #[expect(clippy::cast_precision_loss, reason = "four soils")]
            let each = 1.0 / SupplySoil::ALL.len() as f64;
            for soil in SupplySoil::ALL {
                odds[usize::from(after_crop(last, rain, *soil))] += each;
            }
        }
    }
    let soil_words =
        if known.is_some() { "the plot's make-up" } else { "a make-up that nobody has looked at" };
    Supply { odds, words: format!("after {last_words}, {rain_words}, {soil_words}") }
}
