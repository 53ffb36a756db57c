//! What a person carries: pounds and ounces or kilograms and grams, and buckets where the density is known.

use book::Snapshot;
use book::model::{SpreadMaterial, UnitSystem};
use ground::kit::Bounded;

/// A bucket as farms have them: 5 US gallons, and 20 litres.
const BUCKET_US_M3: f64 = 5.0 * 3.785_411_784e-3;
const BUCKET_METRIC_M3: f64 = 0.020;
/// A heaped shovel of loose material, the plan's own until a farm sets another there.
const SHOVEL_M3: f64 = crate::feeding::plan::USUAL_SHOVEL_L / 1000.0;
const LB_KG: f64 = 0.453_592_37;

/// A mass in units a person carries: "4 lb 8 oz", "12 lb", "2.1 kg", "340 g"; tons from a ton on.
#[must_use]
pub fn carried(kg: f64, units: UnitSystem) -> String {
    if units == UnitSystem::Metric {
        return match kg {
            kg if kg >= 1000.0 => format!("{:.1} t", kg / 1000.0),
            kg if kg >= 10.0 => format!("{kg:.0} kg"),
            kg if kg >= 0.995 => format!("{} kg", trimmed(format!("{kg:.1}"))),
            kg => format!("{:.0} g", 1000.0 * kg),
        };
    }
    let pounds = kg / LB_KG;
    if pounds >= 2000.0 {
        return format!("{:.1} tons", pounds / 2000.0);
    }
    if pounds >= 25.0 {
        return format!("{pounds:.0} lb");
    }
    let ounces = (16.0 * pounds).round();
    let (whole, rest) = ((ounces / 16.0).floor(), ounces % 16.0);
    match (whole, rest) {
        (w, 0.0) if w > 0.0 => format!("{w:.0} lb"),
        (0.0, _) if 16.0 * pounds < 1.0 => format!("{} oz", trimmed(format!("{:.2}", 16.0 * pounds))),
        (0.0, rest) => format!("{rest:.0} oz"),
        (w, rest) => format!("{w:.0} lb {rest:.0} oz"),
    }
}

fn trimmed(text: String) -> String {
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// "about 3 buckets of 5 gal", "about 1 shovelful"; empty where the density is not known, or less than half a shovel is
/// meant.
#[must_use]
pub(super) fn buckets(kg: f64, density_kg_m3: Option<f64>, units: UnitSystem) -> String {
    let Some(density) = density_kg_m3.filter(|density| *density > 0.0) else { return String::new() };
    let (each, name) = match units {
        UnitSystem::Metric => (BUCKET_METRIC_M3, "20 L"),
        UnitSystem::UsCustomary => (BUCKET_US_M3, "5 gal"),
    };
    let halves = (2.0 * kg / density / each).round();
    let shovels = kg / density / SHOVEL_M3;
    match halves {
        // Less than half a bucket is counted in shovelfuls.
        h if h < 1.0 && shovels >= 1.5 => format!("about {shovels:.0} shovelfuls"),
        h if h < 1.0 && shovels >= 0.5 => "about 1 shovelful".to_owned(),
        h if !(1.0..=400.0).contains(&h) => String::new(),
        1.0 => format!("about half a bucket of {name}"),
        2.0 => format!("about 1 bucket of {name}"),
        h if h > 20.0 || h % 2.0 == 0.0 => format!("about {:.0} buckets of {name}", (h / 2.0).round()),
        h => format!("about {:.0} ½ buckets of {name}", (h / 2.0).floor()),
    }
}

/// What a material is called: by the farm, or by its key in the catalogue.
#[must_use]
pub fn material_name(snapshot: &Snapshot, material: &SpreadMaterial) -> String {
    match material {
        SpreadMaterial::Shelf(id) => snapshot
            .material(*id)
            .map_or_else(|| "a material no longer on the shelf".to_owned(), |held| held.body.name.clone()),
        SpreadMaterial::Catalogue(key) => key.replace(['_', '-'], " "),
    }
}

/// Bulk density of a material of the shelf, where the farm gave it.
pub(super) fn density(snapshot: &Snapshot, material: &SpreadMaterial) -> Option<f64> {
    snapshot.material(material.shelf()?)?.body.density_kg_m3.map(Bounded::get)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 lb is 0.45359237 kg and 16 oz (NIST SP 811).
    #[test]
    fn masses_are_told_as_they_are_weighed_out() {
        for (lb, text) in [
            (4.5, "4 lb 8 oz"),
            (4.0, "4 lb"),
            (0.25, "4 oz"),
            (15.999, "16 lb"),
            (0.03, "0.48 oz"),
            (40.4, "40 lb"),
            (5000.0, "2.5 tons"),
        ] {
            assert_eq!(carried(lb * LB_KG, UnitSystem::UsCustomary), text, "{lb}");
        }
        for (kg, text) in
            [(2.0, "2 kg"), (2.14, "2.1 kg"), (0.34, "340 g"), (45.2, "45 kg"), (2500.0, "2.5 t")]
        {
            assert_eq!(carried(kg, UnitSystem::Metric), text, "{kg}");
        }
    }

    /// 5 US gallons are 18.927 L: of a compost of 600 kg/m³, 11.36 kg.
    #[test]
    fn buckets_need_a_density() {
        assert_eq!(buckets(11.36, Some(600.0), UnitSystem::UsCustomary), "about 1 bucket of 5 gal");
        assert_eq!(buckets(18.0, Some(600.0), UnitSystem::Metric), "about 1 ½ buckets of 20 L");
        assert_eq!(buckets(120.0, Some(600.0), UnitSystem::Metric), "about 10 buckets of 20 L");
        assert_eq!(buckets(120.0, None, UnitSystem::Metric), "");
        assert_eq!(buckets(0.1, Some(600.0), UnitSystem::Metric), "");
        // A shovel of 5 L holds 3 kg of it; half a bucket begins at a quarter of 12 kg.
        assert_eq!(buckets(2.9, Some(600.0), UnitSystem::Metric), "about 1 shovelful");
    }
}
