//! Unified soil group from fines and recorded plasticity, as far as these two tell it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use crate::structure::working::limits::LiquidLimit;

crate::quantity! {
    /// Plasticity index: liquid limit less plastic limit.
    pub struct PlasticityIndex: "plasticity index", "%", 0.0 ..= 150.0, example 12.0;
}

/// Groups of the Unified system that fines, gravel and plasticity tell apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
pub enum UnifiedGroup {
    /// Gravel with less than 5 % fines (well or poorly graded).
    #[serde(rename = "GW or GP")]
    CleanGravel,
    /// Sand with less than 5 % fines.
    #[serde(rename = "SW or SP")]
    CleanSand,
    /// Silty gravel.
    #[serde(rename = "GM")]
    Gm,
    /// Clayey gravel.
    #[serde(rename = "GC")]
    Gc,
    /// Gravel with fines of low plasticity between silt and clay.
    #[serde(rename = "GC-GM")]
    GcGm,
    /// Silty sand.
    #[serde(rename = "SM")]
    Sm,
    /// Clayey sand.
    #[serde(rename = "SC")]
    Sc,
    /// Sand with fines between silt and clay.
    #[serde(rename = "SC-SM")]
    ScSm,
    /// Silt.
    #[serde(rename = "ML")]
    Ml,
    /// Lean clay.
    #[serde(rename = "CL")]
    Cl,
    /// Between lean clay and silt.
    #[serde(rename = "CL-ML")]
    ClMl,
    /// Elastic silt.
    #[serde(rename = "MH")]
    Mh,
    /// Fat clay.
    #[serde(rename = "CH")]
    Ch,
}

impl UnifiedGroup {
    /// Its symbol.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::CleanGravel => "GW or GP",
            Self::CleanSand => "SW or SP",
            Self::Gm => "GM",
            Self::Gc => "GC",
            Self::GcGm => "GC-GM",
            Self::Sm => "SM",
            Self::Sc => "SC",
            Self::ScSm => "SC-SM",
            Self::Ml => "ML",
            Self::Cl => "CL",
            Self::ClMl => "CL-ML",
            Self::Mh => "MH",
            Self::Ch => "CH",
        }
    }
}

/// Whether fines are silt, clay or between.
enum Fines {
    Silt,
    Clay,
    Between,
}

/// Plasticity index on the line that parts clay from silt at a liquid limit, both in percent.
#[must_use]
pub fn a_line(liquid_limit: f64) -> f64 {
    0.73 * (liquid_limit - 20.0)
}

fn fines(liquid_limit: f64, plasticity_index: f64) -> Fines {
    let above = plasticity_index >= a_line(liquid_limit);
    match plasticity_index {
        index if index < 4.0 => Fines::Silt,
        index if above && index <= 7.0 && liquid_limit < 50.0 => Fines::Between,
        _ if above => Fines::Clay,
        _ => Fines::Silt,
    }
}

/// The group of a soil. `fines_percent` passes the 75 µm sieve; `gravelly`: more than half of the rest is
/// gravel. Sands and gravels with 5 to 12 % fines take the name of their fines; their grading is unknown.
#[must_use]
pub fn unified_group(
    fines_percent: f64,
    gravelly: bool,
    liquid_limit: f64,
    plasticity_index: f64,
) -> UnifiedGroup {
    use UnifiedGroup::{Ch, Cl, ClMl, CleanGravel, CleanSand, Gc, GcGm, Gm, Mh, Ml, Sc, ScSm, Sm};
    let kind = fines(liquid_limit, plasticity_index);
    if fines_percent >= 50.0 {
        return match (kind, liquid_limit >= 50.0) {
            (Fines::Clay, true) => Ch,
            (Fines::Clay, false) => Cl,
            (Fines::Between, _) => ClMl,
            (Fines::Silt, true) => Mh,
            (Fines::Silt, false) => Ml,
        };
    }
    match (fines_percent < 5.0, gravelly, kind) {
        (true, true, _) => CleanGravel,
        (true, false, _) => CleanSand,
        (false, true, Fines::Silt) => Gm,
        (false, true, Fines::Clay) => Gc,
        (false, true, Fines::Between) => GcGm,
        (false, false, Fines::Silt) => Sm,
        (false, false, Fines::Clay) => Sc,
        (false, false, Fines::Between) => ScSm,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Regions of the plasticity chart of ASTM D2487, recalled.
    #[test]
    fn the_plasticity_chart_parts_silt_from_clay() {
        for (liquid, index, group) in [
            (60.0, 35.0, UnifiedGroup::Ch),
            (60.0, 20.0, UnifiedGroup::Mh),
            (35.0, 15.0, UnifiedGroup::Cl),
            (35.0, 6.0, UnifiedGroup::Ml),
            (24.0, 6.0, UnifiedGroup::ClMl),
            (20.0, 2.0, UnifiedGroup::Ml),
        ] {
            assert_eq!(unified_group(80.0, false, liquid, index), group, "{liquid} {index}");
        }
        assert_eq!(unified_group(30.0, false, 35.0, 15.0), UnifiedGroup::Sc);
        assert_eq!(unified_group(30.0, true, 20.0, 2.0), UnifiedGroup::Gm);
        assert_eq!(unified_group(3.0, false, 20.0, 0.0), UnifiedGroup::CleanSand);
    }
}
