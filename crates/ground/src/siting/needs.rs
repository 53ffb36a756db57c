//! What a crop asks of a place: roots, air, acidity, salts, warmth and water, each with how it is known.

use std::collections::HashMap;
use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::climate::crops::{Crop, Life, catalogue};
use crate::covers::kinds::{Band, Bands};
use crate::fertility::acidity::target_ph::CropPh;
use crate::kit::units::Unit;
use crate::kit::{Provenance, Refusal, table};
use crate::water::salts::tolerance::{SaltTolerance, ToleranceRange, crop_tolerance};

/// pH that most vegetables do well in, for crops without a range of their own [Mississippi1584].
const USUAL_PH: [f64; 2] = [6.0, 7.0];
/// Roots kept in air: a foot for most, half as much again for those that hate wet feet, eight inches for those that
/// stand them (judgement).
const AIRED_CM: [f64; 3] = [20.0, 30.0, 45.0];

/// How a crop stands frost, in the groups of the handbook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Frost {
    /// Stands frost.
    Hardy,
    /// Stands a light frost.
    HalfHardy,
    /// Frost kills it.
    Tender,
    /// Frost kills it, and cool ground stops it.
    VeryTender,
}

impl Frost {
    /// In words: "frost kills it".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Hardy => "it stands frost",
            Self::HalfHardy => "it stands a light frost",
            Self::Tender => "frost kills it",
            Self::VeryTender => "frost kills it and cool ground stops it",
        }
    }

    /// Must it grow between the frosts?
    #[must_use]
    pub fn is_tender(self) -> bool {
        matches!(self, Self::Tender | Self::VeryTender)
    }
}

/// How a crop stands wet ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WetFeet {
    /// Better than most.
    Stands,
    /// Like most.
    Usual,
    /// Worse than most: it rots.
    Hates,
}

/// Temperatures of a crop, °C.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Temperatures {
    /// Least that it grows in.
    pub min_c: f64,
    /// Low end of what it likes best.
    pub best_low_c: f64,
    /// High end of what it likes best.
    pub best_high_c: f64,
    /// Most that it bears.
    pub max_c: f64,
}

/// What a crop asks of a place.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SiteNeeds {
    /// Key in the catalogue of crops.
    pub key: String,
    /// Its name.
    pub name: String,
    /// One season, or established for years.
    pub life: Life,
    /// Depth of full-grown roots for deciding irrigation, cm.
    pub root_cm: f64,
    /// Depth that carries about seven tenths of its uptake, cm: half the mean depth of full-grown roots.
    pub needed_root_cm: f64,
    /// Roots that must stay in air, cm.
    pub aired_cm: f64,
    /// How it stands wet ground.
    pub wet: WetFeet,
    /// Do its roots fork or bruise on stones?
    pub forks: bool,
    /// Textures it likes.
    pub best_in: Vec<Band>,
    /// Textures it does poorly in.
    pub poor_in: Vec<Band>,
    /// Textures it fails in.
    pub fails_in: Vec<Band>,
    /// pH from which it does well.
    pub ph_low: f64,
    /// pH up to which it does.
    pub ph_high: f64,
    /// How the range of pH is known.
    pub ph_provenance: Provenance,
    /// Salt tolerance.
    pub salts: ToleranceRange,
    /// Is that tolerance its own, and not that of its rating or of most vegetables?
    pub salts_own: bool,
    /// How it stands frost.
    pub frost: Frost,
    /// Monthly means of the air.
    pub air: Temperatures,
    /// How those are known.
    pub air_provenance: Provenance,
    /// Temperatures of the soil for germination, where it is sown and a table has it.
    pub soil: Option<Temperatures>,
    /// How those are known.
    pub soil_provenance: Provenance,
    /// Days from the day it comes into the ground to the end of picking; nothing for perennials.
    pub season_d: Option<f64>,
    /// Days to the start of picking.
    pub picking_d: Option<f64>,
    /// Share of the available water it may use at 5 mm a day.
    pub depletion_fraction: f64,
    /// Crop coefficient when full-grown.
    pub kc_mid: f64,
    #[serde(skip)]
    #[schemars(skip)]
    pub(super) bands: [Bands; 3],
}

#[derive(Deserialize)]
struct Row {
    key: String,
    also: String,
    frost: Frost,
    mean_min_f: f64,
    mean_low_f: f64,
    mean_high_f: f64,
    mean_max_f: f64,
    provenance: Provenance,
    soil_min_f: Option<f64>,
    soil_low_f: Option<f64>,
    soil_high_f: Option<f64>,
    soil_max_f: Option<f64>,
    soil_provenance: Provenance,
    wet: WetFeet,
    forks: bool,
    best_in: String,
    poor_in: String,
    fails_in: String,
}

fn celsius(fahrenheit: f64) -> f64 {
    Unit::Fahrenheit.convert(fahrenheit, Unit::Celsius)
}

fn bands(text: &str) -> Bands {
    text.split(';')
        .filter(|name| !name.is_empty())
        .map(|name| match serde_json::from_value::<Band>(serde_json::Value::from(name)) {
            Ok(band) => band,
            // The table is compiled in, and a test reads it whole.
            Err(error) => unreachable!("needs.csv: {error}"),
        })
        .collect()
}

/// Tolerance of a rating given in words, at the sensitive end of its group: the lines that part the groups reach no
/// yield at 8, 16 and 24 dS/m [MaasHoffman1977, recalled]; for the sensitive the bean, the most sensitive vegetable.
fn of_rating(rating: Option<&str>) -> SaltTolerance {
    let (threshold_ds_m, none_at) = match rating.map(|rating| rating.trim_end_matches('*')) {
        Some("S") => return SaltTolerance { threshold_ds_m: 1.0, slope_percent_per_ds_m: 19.0 },
        Some("MT") => (3.0, 16.0),
        Some("T") => (6.0, 24.0),
        // Most vegetables are moderately sensitive.
        _ => (1.3, 8.0),
    };
    SaltTolerance { threshold_ds_m, slope_percent_per_ds_m: 100.0 / (none_at - threshold_ds_m) }
}

fn needs(crop: &Crop, row: &Row) -> SiteNeeds {
    let bands = [bands(&row.best_in), bands(&row.poor_in), bands(&row.fails_in)];
    let listed = |at: usize| bands[at].iter().collect();
    let ph = CropPh::of(&crop.key);
    let salt_row = crop.salt_key.as_deref().and_then(crop_tolerance);
    let salts = salt_row.and_then(|row| row.range());
    let shortest = crop
        .stages
        .iter()
        .map(|row| row.stages)
        .min_by(|a, b| a.total_d().total_cmp(&b.total_d()))
        .filter(|_| crop.life == Life::Annual);
    let soil = row.soil_min_f.zip(row.soil_low_f).zip(row.soil_high_f.zip(row.soil_max_f));
    SiteNeeds {
        key: crop.key.clone(),
        name: crop.name.clone(),
        life: crop.life,
        root_cm: 100.0 * crop.root_min_m,
        needed_root_cm: 50.0 * f64::midpoint(crop.root_min_m, crop.root_max_m),
        aired_cm: AIRED_CM[row.wet as usize],
        wet: row.wet,
        forks: row.forks,
        best_in: listed(0),
        poor_in: listed(1),
        fails_in: listed(2),
        ph_low: ph.map_or(USUAL_PH[0], |ph| ph.low_ph),
        ph_high: ph.map_or(USUAL_PH[1], |ph| ph.high_ph),
        ph_provenance: ph.map_or(Provenance::Judgement, |ph| ph.provenance),
        salts: salts
            .unwrap_or_else(|| ToleranceRange::exactly(of_rating(salt_row.and_then(|row| row.rating())))),
        salts_own: salts.is_some(),
        frost: row.frost,
        air: Temperatures {
            min_c: celsius(row.mean_min_f),
            best_low_c: celsius(row.mean_low_f),
            best_high_c: celsius(row.mean_high_f),
            max_c: celsius(row.mean_max_f),
        },
        air_provenance: row.provenance,
        soil: soil.map(|((min, low), (high, max))| Temperatures {
            min_c: celsius(min),
            best_low_c: celsius(low),
            best_high_c: celsius(high),
            max_c: celsius(max),
        }),
        soil_provenance: row.soil_provenance,
        season_d: shortest.map(|stages| stages.total_d()),
        picking_d: shortest.map(|stages| stages.total_d() - stages.late_d),
        depletion_fraction: crop.depletion_fraction,
        kc_mid: crop.kc_mid,
        bands,
    }
}

static NEEDS: LazyLock<Vec<SiteNeeds>> = LazyLock::new(|| {
    let rows: Vec<Row> = table::rows("needs.csv", include_str!("data/needs.csv"));
    let row_of =
        |key: &str| rows.iter().find(|row| row.key == key || row.also.split(';').any(|also| also == key));
    catalogue().iter().filter_map(|crop| Some(needs(crop, row_of(&crop.key)?))).collect()
});

static BY_KEY: LazyLock<HashMap<&'static str, &'static SiteNeeds>> =
    LazyLock::new(|| NEEDS.iter().map(|needs| (needs.key.as_str(), needs)).collect());

/// What every crop asks for, in the order of the catalogue. Orchards and grassed paths are left out: rootstock,
/// winter cold and use decide there.
#[must_use]
pub fn all_needs() -> &'static [SiteNeeds] {
    &NEEDS
}

/// What a crop asks for, by its key or name.
///
/// # Errors
/// A crop that is not known, or that has no row here.
pub fn needs_of(crop: &str) -> Result<&'static SiteNeeds, Refusal> {
    let plain = crop.trim().to_lowercase();
    if let Some(needs) = NEEDS.iter().find(|needs| needs.name.to_lowercase() == plain) {
        return Ok(needs);
    }
    let found = crate::climate::crops::find(crop)?;
    BY_KEY.get(found.key.as_str()).copied().ok_or_else(|| {
        Refusal::new("crop", format!("what {} asks of a place is not in the table", found.name))
            .given(crop.chars().take(40).collect::<String>())
            .accepted("a vegetable, herb or berry of the catalogue")
            .example("tomato")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_sound_and_every_crop_has_one() {
        let rows: Vec<Row> = table::rows("needs.csv", include_str!("data/needs.csv"));
        let mut keys: Vec<&str> = rows
            .iter()
            .flat_map(|row| std::iter::once(row.key.as_str()).chain(row.also.split(';')))
            .filter(|key| !key.is_empty())
            .collect();
        let all = keys.len();
        for key in &keys {
            assert!(catalogue().iter().any(|crop| crop.key == *key), "{key}");
        }
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), all, "a crop stands twice");
        let left_out: Vec<&str> =
            catalogue().iter().map(|crop| crop.key.as_str()).filter(|key| !keys.contains(key)).collect();
        assert_eq!(
            left_out,
            ["grass-path", "apple-pear-bare", "apple-pear-sod", "stone-fruit-bare", "stone-fruit-sod"]
        );
        for needs in all_needs() {
            let key = &needs.key;
            let rises = |t: &Temperatures| {
                t.min_c <= t.best_low_c && t.best_low_c <= t.best_high_c && t.best_high_c <= t.max_c
            };
            assert!(rises(&needs.air) && needs.soil.as_ref().is_none_or(rises), "{key}");
            assert!(needs.ph_low < needs.ph_high, "{key}");
            assert!(needs.needed_root_cm < needs.root_cm + 1e-9, "{key}");
            assert!(!needs.best_in.is_empty(), "{key}");
            assert!(!needs.bands[0].meets(needs.bands[1]) && !needs.bands[0].meets(needs.bands[2]), "{key}");
            assert!(!needs.bands[1].meets(needs.bands[2]), "{key}");
            assert_eq!(needs.season_d.is_some(), needs.life == Life::Annual, "{key}");
            assert!(needs.salts.usual.threshold_ds_m >= 0.9, "{key}");
        }
    }

    #[test]
    fn crops_are_found_by_name_and_refused_in_words() {
        assert_eq!(needs_of("Sweet corn").unwrap().key, "sweet-corn");
        assert_eq!(needs_of("tomato, trellised").unwrap().key, "tomato-trellised");
        assert!(needs_of("tomatoe").unwrap_err().message.contains("tomato"));
        assert!(needs_of("grass-path").unwrap_err().message.contains("not in the table"));
    }
}
