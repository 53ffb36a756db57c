//! The yearly salt balance of covered ground, and why it gathers salt.
//!
//! # Method
//! Salt comes evenly through the year with water, compost and fertilizer, mixes with the water of the
//! root zone and leaves with what drains: dS/dt = in − (D / W) S, W the water held at field capacity, D
//! the drainage of a year. In the long run the drainage holds in / D: the textbook's ECw / LF where
//! water alone brings salt [Fao29].

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::load::salt_load_kg_ha;
use crate::kit::Provenance;

/// A year of covered ground. Depths in mm, salts in kg/ha.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TunnelYear {
    /// Irrigation.
    pub irrigation_mm: f64,
    /// EC of the irrigation water, dS/m.
    pub water_ec_ds_m: f64,
    /// Rain and flooding that reach the ground, without salt.
    pub fresh_water_mm: f64,
    /// Water that crops and the ground give off.
    pub use_mm: f64,
    /// Salts of compost.
    pub compost_salts_kg_ha: f64,
    /// Salts of fertilizers.
    pub fertilizer_salts_kg_ha: f64,
    /// Salts that the harvest carries off.
    pub carried_off_kg_ha: f64,
    /// Water the root zone holds at field capacity.
    pub held_mm: f64,
    /// Water it holds when full.
    pub full_mm: f64,
}

impl TunnelYear {
    /// Salts of the irrigation water, kg/ha.
    #[must_use]
    pub fn water_salts_kg_ha(&self) -> f64 {
        salt_load_kg_ha(self.irrigation_mm, self.water_ec_ds_m)
    }

    /// All salts that come and are not carried off again, kg/ha.
    #[must_use]
    pub fn salts_in_kg_ha(&self) -> f64 {
        let comes = self.water_salts_kg_ha() + self.compost_salts_kg_ha + self.fertilizer_salts_kg_ha;
        (comes - self.carried_off_kg_ha).max(0.0)
    }

    /// Water that drains below the roots, mm.
    #[must_use]
    pub fn drainage_mm(&self) -> f64 {
        (self.irrigation_mm + self.fresh_water_mm - self.use_mm).max(0.0)
    }

    /// Salts in the root zone after some years, kg/ha, from `start_kg_ha`.
    #[must_use]
    pub fn salts_after_kg_ha(&self, start_kg_ha: f64, years: f64) -> f64 {
        let (incoming, drainage) = (self.salts_in_kg_ha(), self.drainage_mm());
        let washed = drainage / self.held_mm * years;
        if washed < 1e-9 {
            return start_kg_ha + incoming * years;
        }
        let kept = libm::exp(-washed);
        start_kg_ha * kept + incoming * self.held_mm / drainage * (1.0 - kept)
    }

    /// EC of the saturation extract, dS/m, that salts in the root zone make.
    #[must_use]
    pub fn extract_ds_m(&self, salts_kg_ha: f64) -> f64 {
        salts_kg_ha / salt_load_kg_ha(self.full_mm, 1.0)
    }

    /// Salts in the root zone, kg/ha, at an EC of the saturation extract.
    #[must_use]
    pub fn salts_at_kg_ha(&self, extract_ds_m: f64) -> f64 {
        extract_ds_m * salt_load_kg_ha(self.full_mm, 1.0)
    }

    /// EC of the saturation extract in the long run, dS/m; `None` where nothing drains and salts gather
    /// for ever.
    #[must_use]
    pub fn steady_extract_ds_m(&self) -> Option<f64> {
        let drainage = self.drainage_mm();
        (drainage > 0.0).then(|| self.extract_ds_m(self.salts_in_kg_ha() * self.held_mm / drainage))
    }
}

/// One reason why covered ground gathers salt.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SaltReason {
    /// In words.
    pub text: String,
    /// Salt it brings in a year, where that can be told.
    pub salt_kg_ha: Option<f64>,
    /// Where the reason is from.
    pub provenance: Provenance,
}

/// Why this covered ground gathers salt, the greatest source first.
#[must_use]
pub fn why_salts_gather(year: &TunnelYear) -> Vec<SaltReason> {
    let mut reasons: Vec<SaltReason> = [
        ("the irrigation water leaves its salts behind", year.water_salts_kg_ha()),
        ("compost and manure bring salts", year.compost_salts_kg_ha),
        ("fertilizers bring salts that crops do not all take up", year.fertilizer_salts_kg_ha),
    ]
    .into_iter()
    .filter(|(_, salt)| *salt > 0.0)
    .map(|(text, salt)| SaltReason {
        text: format!("{text}: {salt:.0} kg/ha a year"),
        salt_kg_ha: Some(salt),
        provenance: Provenance::Computed,
    })
    .collect();
    reasons.sort_by(|a, b| b.salt_kg_ha.unwrap_or(0.0).total_cmp(&a.salt_kg_ha.unwrap_or(0.0)));
    let drainage = year.drainage_mm();
    let leaves = if drainage <= 0.0 {
        "no water drains below the roots: nothing carries the salts away".to_owned()
    } else if drainage < year.held_mm {
        format!(
            "only {drainage:.0} mm a year drain, less than the {:.0} mm the root zone holds: it is never rinsed through",
            year.held_mm
        )
    } else {
        format!("{drainage:.0} mm a year drain and carry salts away")
    };
    reasons.push(SaltReason { text: leaves, salt_kg_ha: None, provenance: Provenance::Computed });
    if year.fresh_water_mm < year.use_mm {
        reasons.push(SaltReason {
            text: "the cover keeps off rain and snow, which leach open ground".to_owned(),
            salt_kg_ha: None,
            provenance: Provenance::Read,
        });
    }
    reasons.push(SaltReason {
        text: "drip wets small bulbs and pushes salts to their edges, the bed's shoulders and the surface"
            .to_owned(),
        salt_kg_ha: None,
        provenance: Provenance::Read,
    });
    reasons
}

#[cfg(test)]
mod tests {
    use super::*;

    fn year() -> TunnelYear {
        TunnelYear {
            irrigation_mm: 600.0,
            water_ec_ds_m: 0.8,
            fresh_water_mm: 0.0,
            use_mm: 510.0,
            compost_salts_kg_ha: 0.0,
            fertilizer_salts_kg_ha: 0.0,
            carried_off_kg_ha: 0.0,
            held_mm: 84.0,
            full_mm: 138.0,
        }
    }

    /// FAO 29: the drainage's EC is ECw / LF (recalled); the extract holds it thinned from held to full.
    #[test]
    fn the_long_run_is_the_textbooks() {
        let year = year();
        let leaching = year.drainage_mm() / year.irrigation_mm;
        let wanted = year.water_ec_ds_m / leaching * year.held_mm / year.full_mm;
        assert!((year.steady_extract_ds_m().unwrap() - wanted).abs() < 1e-9);
        let late = year.extract_ds_m(year.salts_after_kg_ha(0.0, 500.0));
        assert!((late - wanted).abs() < 1e-9);
    }

    #[test]
    fn without_drainage_salts_add_up_and_with_it_they_level_off() {
        let dry = TunnelYear { use_mm: 600.0, ..year() };
        assert!(dry.steady_extract_ds_m().is_none());
        assert!((dry.salts_after_kg_ha(100.0, 3.0) - 100.0 - 3.0 * dry.salts_in_kg_ha()).abs() < 1e-6);
        // The two forms meet as drainage fades.
        let nearly = TunnelYear { use_mm: 599.999_9, ..year() };
        assert!(
            (nearly.salts_after_kg_ha(100.0, 3.0) / dry.salts_after_kg_ha(100.0, 3.0) - 1.0).abs() < 1e-4
        );
        let mut last = f64::INFINITY;
        for fresh in [0.0, 50.0, 200.0, 800.0] {
            let salts = TunnelYear { fresh_water_mm: fresh, ..year() }.salts_after_kg_ha(3000.0, 1.0);
            assert!(salts < last);
            last = salts;
        }
        assert!(why_salts_gather(&dry).iter().any(|reason| reason.text.contains("no water drains")));
    }
}
