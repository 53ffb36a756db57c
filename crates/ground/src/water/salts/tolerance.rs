//! What salts cost a crop: threshold and slope, and the table of crops.
//!
//! # Method
//! Yield % = 100 − b (ECe − a) above the threshold a, never below 0 [MaasHoffman1977].

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::table;

/// Threshold and slope.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SaltTolerance {
    /// EC of the saturation extract from which yield falls, dS/m.
    pub threshold_ds_m: f64,
    /// Percent of yield lost per dS/m above it.
    pub slope_percent_per_ds_m: f64,
}

impl SaltTolerance {
    /// Yield, percent of that without salts, at an EC of the saturation extract.
    #[must_use]
    pub fn yield_percent(&self, ec_ds_m: f64) -> f64 {
        (100.0 - self.slope_percent_per_ds_m * (ec_ds_m - self.threshold_ds_m).max(0.0)).max(0.0)
    }

    /// EC of the saturation extract, dS/m, at which this yield is left; the threshold itself for 100.
    #[must_use]
    pub fn ec_at_yield(&self, yield_percent: f64) -> f64 {
        self.threshold_ds_m + (100.0 - yield_percent) / self.slope_percent_per_ds_m
    }
}

/// A crop of the table.
#[derive(Debug, Clone, Deserialize)]
pub struct CropTolerance {
    /// Its name.
    pub crop: String,
    maas_threshold: Option<f64>,
    maas_slope: Option<f64>,
    maas_rating: Option<String>,
    fao_threshold_low: Option<f64>,
    fao_threshold_high: Option<f64>,
    fao_slope_low: Option<f64>,
    fao_slope_high: Option<f64>,
    fao_rating: Option<String>,
}

/// Tolerance as the sources give it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ToleranceRange {
    /// The one to reckon with: Maas 1990 where it has the crop, else the more sensitive of FAO 56.
    pub usual: SaltTolerance,
    /// The most sensitive the sources allow.
    pub most_sensitive: SaltTolerance,
    /// The most tolerant.
    pub most_tolerant: SaltTolerance,
}

impl ToleranceRange {
    /// One tolerance, without a range.
    #[must_use]
    pub fn exactly(usual: SaltTolerance) -> Self {
        Self { usual, most_sensitive: usual, most_tolerant: usual }
    }

    /// Do the sources disagree?
    #[must_use]
    pub fn disagrees(&self) -> bool {
        self.most_sensitive != self.most_tolerant
    }
}

impl CropTolerance {
    /// Its tolerance; `None` for a crop that the sources rate only in words.
    #[must_use]
    pub fn range(&self) -> Option<ToleranceRange> {
        let maas = self.maas_threshold.zip(self.maas_slope);
        let fao = self
            .fao_threshold_low
            .zip(self.fao_threshold_high)
            .zip(self.fao_slope_low.zip(self.fao_slope_high));
        let of = |(threshold_ds_m, slope_percent_per_ds_m)| SaltTolerance {
            threshold_ds_m,
            slope_percent_per_ds_m,
        };
        match (maas, fao) {
            (Some(maas), None) => Some(ToleranceRange::exactly(of(maas))),
            (maas, Some(((low, high), (gentle, steep)))) => {
                let usual = maas.unwrap_or((low, steep));
                Some(ToleranceRange {
                    usual: of(usual),
                    most_sensitive: of((low.min(usual.0), steep.max(usual.1))),
                    most_tolerant: of((high.max(usual.0), gentle.min(usual.1))),
                })
            }
            (None, None) => None,
        }
    }

    /// How the sources rate it: S, MS, MT or T, with a star where it is an estimate.
    #[must_use]
    pub fn rating(&self) -> Option<&str> {
        self.maas_rating.as_deref().or(self.fao_rating.as_deref())
    }
}

static CROPS: LazyLock<Vec<CropTolerance>> =
    LazyLock::new(|| table::rows("salt_tolerance.csv", include_str!("data/salt_tolerance.csv")));

/// The whole table.
#[must_use]
pub fn crops() -> &'static [CropTolerance] {
    &CROPS
}

/// A crop of the table by its name, capitals aside.
#[must_use]
pub fn crop_tolerance(crop: &str) -> Option<&'static CropTolerance> {
    CROPS.iter().find(|row| row.crop.eq_ignore_ascii_case(crop.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_ranges_ordered() {
        for (at, row) in CROPS.iter().enumerate() {
            assert!(CROPS[at + 1..].iter().all(|other| other.crop != row.crop), "{}", row.crop);
            assert!(row.rating().is_some(), "{}", row.crop);
            let Some(range) = row.range() else { continue };
            for ec in [0.5, 1.5, 3.0, 6.0, 12.0] {
                let [low, usual, high] =
                    [range.most_sensitive, range.usual, range.most_tolerant].map(|one| one.yield_percent(ec));
                assert!(low <= usual && usual <= high, "{} at {ec}", row.crop);
            }
        }
        assert!(crops().iter().filter(|row| row.range().is_none()).count() > 3);
        assert!(crop_tolerance("Tomato").is_some() && crop_tolerance("no such crop").is_none());
    }

    #[test]
    fn yield_and_salt_undo_each_other() {
        let tomato = crop_tolerance("tomato").unwrap().range().unwrap().usual;
        for percent in [0.0, 25.0, 50.0, 90.0, 100.0] {
            assert!((tomato.yield_percent(tomato.ec_at_yield(percent)) - percent).abs() < 1e-9);
        }
        assert_eq!(tomato.yield_percent(0.0), 100.0);
        assert_eq!(tomato.yield_percent(80.0), 0.0);
    }
}
