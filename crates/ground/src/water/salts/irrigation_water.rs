//! What irrigation water does to ground and crops: plain functions over its analysis.
//!
//! # Method
//! SAR = Na / √((Ca + Mg) / 2) and RSC = (HCO₃ + CO₃) − (Ca + Mg), me/L; hazards by the guideline table of
//! [Fao29]. Sodium seals ground more the fresher the water is, so the infiltration hazard is read on both.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How far water is restricted in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Restriction {
    /// None.
    None,
    /// Slight to moderate.
    SlightToModerate,
    /// Severe.
    Severe,
}

impl Restriction {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::None => "no restriction",
            Self::SlightToModerate => "slight to moderate restriction",
            Self::Severe => "severe restriction",
        }
    }

    /// By rising values: none below the first limit, severe above the second.
    fn rising(value: f64, none_below: f64, severe_above: f64) -> Self {
        if value < none_below {
            Self::None
        } else if value <= severe_above {
            Self::SlightToModerate
        } else {
            Self::Severe
        }
    }
}

/// Sodium adsorption ratio from me/L. `None` without calcium and magnesium, where it has no limit.
#[must_use]
pub fn sodium_adsorption_ratio(sodium_me_l: f64, calcium_me_l: f64, magnesium_me_l: f64) -> Option<f64> {
    let hardness = (calcium_me_l + magnesium_me_l) / 2.0;
    (hardness > 0.0).then(|| sodium_me_l / hardness.sqrt())
}

/// Residual sodium carbonate, me/L.
#[must_use]
pub fn residual_carbonate(
    bicarbonate_me_l: f64,
    carbonate_me_l: f64,
    calcium_me_l: f64,
    magnesium_me_l: f64,
) -> f64 {
    bicarbonate_me_l + carbonate_me_l - calcium_me_l - magnesium_me_l
}

/// Rows of the infiltration table: SAR up to, no restriction above this EC, severe below that, dS/m.
const INFILTRATION: [(f64, f64, f64); 5] =
    [(3.0, 0.7, 0.2), (6.0, 1.2, 0.3), (12.0, 1.9, 0.5), (20.0, 2.9, 1.3), (40.0, 5.0, 2.9)];

/// Hazard that the ground will seal. A SAR on a limit belongs to the stricter row; above 40, where the
/// table ends, the hazard is severe.
#[must_use]
pub fn infiltration_hazard(sar: f64, ec_ds_m: f64) -> Restriction {
    match INFILTRATION.iter().find(|(up_to, ..)| sar < *up_to) {
        Some((_, none_above, _)) if ec_ds_m > *none_above => Restriction::None,
        Some((.., severe_below)) if ec_ds_m >= *severe_below => Restriction::SlightToModerate,
        _ => Restriction::Severe,
    }
}

/// How the water is put on: leaves that are wetted suffer more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WaterReaches {
    /// Furrow, flood or drip: the ground only.
    Ground,
    /// Sprinklers overhead: leaves too.
    Leaves,
}

/// What is rated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Hazard {
    /// The ground seals: SAR and EC together.
    Infiltration,
    /// Salts as a whole: EC.
    Salinity,
    /// Sodium in the plant: SAR for the ground, me/L on leaves.
    Sodium,
    /// Chloride in the plant.
    Chloride,
    /// Boron in the plant.
    Boron,
    /// Nitrate: late or lush growth; and it counts as fertilizer.
    Nitrate,
    /// Bicarbonate: white spots on leaves, clogged emitters.
    Bicarbonate,
    /// Residual sodium carbonate: lime falls out and sodium stays.
    ResidualCarbonate,
    /// pH outside 6.5 to 8.4.
    Acidity,
}

impl Hazard {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Infiltration => "sealing of the ground",
            Self::Salinity => "salts as a whole",
            Self::Sodium => "sodium",
            Self::Chloride => "chloride",
            Self::Boron => "boron",
            Self::Nitrate => "nitrate",
            Self::Bicarbonate => "bicarbonate on leaves",
            Self::ResidualCarbonate => "residual sodium carbonate",
            Self::Acidity => "pH",
        }
    }
}

/// Salinity hazard of an EC, dS/m.
#[must_use]
pub fn salinity_hazard(ec_ds_m: f64) -> Restriction {
    Restriction::rising(ec_ds_m, 0.7, 3.0)
}

/// Sodium hazard to plants of water on the ground, by SAR.
#[must_use]
pub fn sodium_ground_hazard(sar: f64) -> Restriction {
    Restriction::rising(sar, 3.0, 9.0)
}

/// Sodium or chloride hazard of water on leaves, me/L: the table gives no severe limit.
#[must_use]
pub fn on_leaves_hazard(me_l: f64) -> Restriction {
    Restriction::rising(me_l, 3.0, f64::INFINITY)
}

/// Chloride hazard of water on the ground, me/L.
#[must_use]
pub fn chloride_ground_hazard(me_l: f64) -> Restriction {
    Restriction::rising(me_l, 4.0, 10.0)
}

/// Boron hazard, mg/L.
#[must_use]
pub fn boron_hazard(mg_l: f64) -> Restriction {
    Restriction::rising(mg_l, 0.7, 3.0)
}

/// Nitrate hazard, mg/L of nitrate nitrogen.
#[must_use]
pub fn nitrate_hazard(nitrogen_mg_l: f64) -> Restriction {
    Restriction::rising(nitrogen_mg_l, 5.0, 30.0)
}

/// Bicarbonate hazard of water on leaves, me/L.
#[must_use]
pub fn bicarbonate_hazard(me_l: f64) -> Restriction {
    Restriction::rising(me_l, 1.5, 8.5)
}

/// Hazard of residual sodium carbonate, me/L: safe below 1.25, unsuitable above 2.5.
#[must_use]
pub fn residual_carbonate_hazard(me_l: f64) -> Restriction {
    Restriction::rising(me_l, 1.25, 2.5)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fresher_or_more_sodic_water_never_seals_less() {
        let steps: Vec<f64> = (0..80_u32).map(|step| f64::from(step) * 0.1).collect();
        for sar in [1.0, 3.0, 5.0, 9.0, 15.0, 30.0, 41.0] {
            let along: Vec<_> = steps.iter().map(|ec| infiltration_hazard(sar, *ec)).collect();
            assert!(along.windows(2).all(|pair| pair[0] >= pair[1]), "{sar}");
        }
        for ec in steps {
            let along: Vec<_> = (0..45).map(|sar| infiltration_hazard(f64::from(sar), ec)).collect();
            assert!(along.windows(2).all(|pair| pair[0] <= pair[1]), "{ec}");
        }
        assert_eq!(infiltration_hazard(0.0, 0.1), Restriction::Severe);
        assert_eq!(sodium_adsorption_ratio(5.0, 0.0, 0.0), None);
    }
}
