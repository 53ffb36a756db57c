//! The soil's own supply of nitrogen as an index, from the last crop or from mineral nitrogen measured.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::table::rows as read_table;

crate::quantity! {
    /// Soil nitrogen supply index.
    pub struct SupplyIndex: "soil nitrogen supply index", "", 0.0 ..= 6.0, example 2.0;
}

macro_rules! words {
    ($(#[$meta:meta])* $type:ident { $($(#[$vmeta:meta])* $name:ident $key:literal $words:literal,)+ }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
        pub enum $type {$($(#[$vmeta])* #[serde(rename = $key)] $name,)+}

        impl $type {
            /// Every one.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// In words.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self {$(Self::$name => $words,)+}
            }

            /// Its key.
            #[must_use]
            pub fn key(self) -> &'static str {
                match self {$(Self::$name => $key,)+}
            }
        }
    };
}

words! {
    /// What grew before.
    LastCrop {
        /// Beans.
        Beans "beans" "beans",
        /// Cereals.
        Cereals "cereals" "cereals",
        /// Forage that was cut.
        CutForage "cut_forage" "cut forage",
        /// Oilseed rape.
        OilseedRape "oilseed_rape" "oilseed rape",
        /// Peas.
        Peas "peas" "peas",
        /// Potatoes.
        Potatoes "potatoes" "potatoes",
        /// Sugar beet.
        SugarBeet "sugar_beet" "sugar beet",
        /// Nothing.
        Uncropped "uncropped" "nothing (uncropped)",
        /// Carrot, onion, radish, rutabaga, turnip.
        VegetablesLow "vegetables_low" "vegetables that leave little nitrogen (carrot, onion, radish, turnip)",
        /// Lettuce, leek, long-season cabbage.
        VegetablesMedium "vegetables_medium" "vegetables that leave some nitrogen (lettuce, leek, cabbage)",
        /// Broccoli, Brussels sprouts, some cauliflower.
        VegetablesHigh "vegetables_high" "vegetables that leave much nitrogen (broccoli, Brussels sprouts, cauliflower)",
    }
}

words! {
    /// How wet the winter is.
    RainClass {
        /// Below 600 mm a year, or less than 150 mm of excess winter rain.
        Low "low" "low: below 600 mm a year",
        /// 600 to 700 mm, or 150 to 250 mm of excess.
        Moderate "moderate" "moderate: 600 to 700 mm a year",
        /// More.
        High "high" "high: above 700 mm a year",
    }
}

words! {
    /// How the soil keeps nitrogen.
    SupplySoil {
        /// Light sand, and shallow ground over sandstone.
        LightSand "light_sand" "light sand, or shallow over sandstone",
        /// Medium, and shallow ground over other rock.
        MediumOrShallow "medium_or_shallow" "medium, or shallow over other rock",
        /// Deep clay.
        DeepClay "deep_clay" "deep clay",
        /// Deep silt.
        DeepSilt "deep_silt" "deep silt",
    }
}

words! {
    /// How a grass ley was used.
    LeyUse {
        /// Cut, little manure.
        MostlyCut "mostly_cut" "mostly cut, or short and with little nitrogen",
        /// Grazed.
        Grazed "grazed" "grazed",
        /// Three to five years grazed with much nitrogen.
        GrazedHighN "grazed_high_n" "grazed three to five years with much nitrogen",
    }
}

#[derive(Deserialize)]
struct CropRow {
    last_crop: LastCrop,
    rain: RainClass,
    light_sand: u8,
    medium_or_shallow: u8,
    deep_clay: u8,
    deep_silt: u8,
}

#[derive(Deserialize)]
struct LeyRow {
    ley: LeyUse,
    year: u8,
    rain: RainClass,
    soil: SupplySoil,
    index: u8,
}

static BY_CROP: LazyLock<Vec<CropRow>> =
    LazyLock::new(|| read_table("sns_last_crop.csv", include_str!("data/sns_last_crop.csv")));
static BY_LEY: LazyLock<Vec<LeyRow>> =
    LazyLock::new(|| read_table("sns_ley.csv", include_str!("data/sns_ley.csv")));

/// Index after a crop.
#[must_use]
pub fn after_crop(last: LastCrop, rain: RainClass, soil: SupplySoil) -> u8 {
    let row = BY_CROP.iter().find(|row| row.last_crop == last && row.rain == rain);
    row.map_or_else(
        || unreachable!("a test finds a row for every crop and rain"),
        |row| match soil {
            SupplySoil::LightSand => row.light_sand,
            SupplySoil::MediumOrShallow => row.medium_or_shallow,
            SupplySoil::DeepClay => row.deep_clay,
            SupplySoil::DeepSilt => row.deep_silt,
        },
    )
}

/// Index in year 1, 2 or 3 after a ley was ploughed. `None` for other years.
#[must_use]
pub fn after_ley(ley: LeyUse, year: u8, rain: RainClass, soil: SupplySoil) -> Option<u8> {
    BY_LEY
        .iter()
        .find(|row| row.ley == ley && row.year == year && row.rain == rain && row.soil == soil)
        .map(|row| row.index)
}

/// Upper limits of index 0 to 5, kg N/ha, to 30, 60 and 90 cm (T6.6).
const LIMITS: [(f64, [f64; 6]); 3] = [
    (30.0, [19.0, 27.0, 33.0, 40.0, 53.0, 80.0]),
    (60.0, [40.0, 53.0, 67.0, 80.0, 107.0, 160.0]),
    (90.0, [60.0, 80.0, 100.0, 120.0, 160.0, 240.0]),
];

/// Mineral nitrogen scaled to the table's depth next below the one sampled: that depth, and kg/ha to it.
#[must_use]
pub fn scaled(mineral_n_kg_ha: f64, depth_cm: f64) -> (f64, f64) {
    let depth = LIMITS.iter().map(|row| row.0).find(|depth| depth_cm <= *depth).unwrap_or(90.0);
    (depth, mineral_n_kg_ha * depth / depth_cm)
}

/// Index from mineral nitrogen (nitrate and ammonium) measured to a depth.
#[must_use]
pub fn from_mineral_n(mineral_n_kg_ha: f64, depth_cm: f64) -> u8 {
    let (depth, kg_ha) = scaled(mineral_n_kg_ha, depth_cm);
    let row = LIMITS.iter().find(|row| row.0 == depth).map_or(LIMITS[2].1, |row| row.1);
    // Limits are whole kilograms.
    let kg_ha = libm::round(kg_ha);
    u8::try_from(row.iter().filter(|limit| kg_ha > **limit).count()).unwrap_or(6)
}

/// The middle of an index, kg N/ha to `depth_cm`, by straight line from the 60 cm row. The open index 6 has none.
#[must_use]
pub fn middle_kg_ha(index: u8, depth_cm: f64) -> Option<f64> {
    let row = LIMITS[1].1;
    let place = usize::from(index);
    let high = *row.get(place)?;
    let low = if place == 0 { 0.0 } else { row[place - 1] + 1.0 };
    Some(f64::midpoint(low, high) * depth_cm / 60.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_question_has_a_row() {
        for rain in RainClass::ALL {
            for soil in SupplySoil::ALL {
                for last in LastCrop::ALL {
                    assert!(after_crop(*last, *rain, *soil) <= 6);
                }
                for ley in LeyUse::ALL {
                    for year in 1..=3 {
                        assert!(
                            after_ley(*ley, year, *rain, *soil).is_some(),
                            "{ley:?} {year} {rain:?} {soil:?}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn the_index_rises_with_mineral_nitrogen() {
        let mut last = 0;
        for kg in 0..300 {
            let index = from_mineral_n(f64::from(kg), 60.0);
            assert!(index >= last);
            last = index;
        }
        assert_eq!(last, 6);
        for index in 0..6 {
            assert_eq!(from_mineral_n(middle_kg_ha(index, 60.0).unwrap(), 60.0), index);
        }
    }
}
