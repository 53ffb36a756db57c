//! Published class averages of the curves. Sets differ by a factor of several: one set in one answer.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{BrooksCorey, Curve, Theory, VanGenuchten};
use crate::texture::Class;

/// A published set of class averages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ClassSet {
    /// Carsel and Parrish 1988: van Genuchten, field data of the United States.
    CarselParrish1988,
    /// Schaap, Leij and van Genuchten 2001: van Genuchten, with the measured Ks and l = 0.5.
    Schaap2001,
    /// The same with the fitted pair (K0, L), which fits unsaturated conductivity better.
    Schaap2001K0,
    /// Rawls, Brakensiek and Saxton 1982: Brooks and Corey. Knows no silt.
    Rawls1982,
}

impl ClassSet {
    /// Every set.
    pub const ALL: [Self; 4] =
        [Self::CarselParrish1988, Self::Schaap2001, Self::Schaap2001K0, Self::Rawls1982];

    /// Its name in a sentence.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::CarselParrish1988 => "Carsel and Parrish 1988",
            Self::Schaap2001 => "Schaap and others 2001",
            Self::Schaap2001K0 => "Schaap and others 2001 (K0 and L)",
            Self::Rawls1982 => "Rawls and others 1982",
        }
    }

    /// The average curve of a class; `None` for silt in the set that has no such row.
    #[must_use]
    pub fn curve(self, class: Class) -> Option<Curve> {
        match self {
            Self::Rawls1982 => brooks_corey(class).map(Curve::BrooksCorey),
            other => other.van_genuchten(class).map(Curve::VanGenuchten),
        }
    }

    /// The same, of the sets that are van Genuchten's.
    #[must_use]
    pub fn van_genuchten(self, class: Class) -> Option<VanGenuchten> {
        match self {
            Self::CarselParrish1988 => {
                CARSEL_PARRISH.iter().find(|row| row.texture == class.name()).map(|row| VanGenuchten {
                    theta_r: row.theta_r,
                    theta_s: row.theta_s,
                    alpha_per_cm: row.alpha_per_cm,
                    n: row.n,
                    ks_cm_h: row.ks_cm_d / 24.0,
                    l: 0.5,
                })
            }
            Self::Schaap2001 | Self::Schaap2001K0 => {
                let row = SCHAAP.iter().find(|row| row.texture == class.name())?;
                let (log_k, l) = match self {
                    Self::Schaap2001 => (row.log10_ks, 0.5),
                    _ => (row.log10_k0, row.l_k0),
                };
                Some(VanGenuchten {
                    theta_r: row.theta_r,
                    theta_s: row.theta_s,
                    alpha_per_cm: libm::exp10(row.log10_alpha),
                    n: libm::exp10(row.log10_n),
                    ks_cm_h: libm::exp10(log_k) / 24.0,
                    l,
                })
            }
            Self::Rawls1982 => None,
        }
    }
}

/// The Brooks-Corey average of a class by Rawls and others 1982; no silt. Its Ks goes with drainage
/// tables and is about double the conductivity of the Green-Ampt tables: never mix the two.
#[must_use]
pub fn brooks_corey(class: Class) -> Option<BrooksCorey> {
    RAWLS.iter().find(|row| row.texture == class.name()).map(|row| BrooksCorey {
        theta_r: row.theta_r,
        theta_s: row.porosity,
        bubbling_cm: row.psi_b_cm,
        lambda: row.lambda,
        ks_cm_h: row.ks_cm_h,
        theory: Theory::Burdine,
    })
}

/// Pores of a class that drain at all, m³/m³, as the table of [`brooks_corey`] prints them: up to 0.002
/// from its porosity less residual water.
#[must_use]
pub fn effective_porosity(class: Class) -> Option<f64> {
    RAWLS.iter().find(|row| row.texture == class.name()).map(|row| row.effective_porosity)
}

#[derive(Deserialize)]
struct CarselParrishRow {
    texture: String,
    theta_r: f64,
    theta_s: f64,
    alpha_per_cm: f64,
    n: f64,
    ks_cm_d: f64,
}

#[derive(Deserialize)]
struct SchaapRow {
    texture: String,
    theta_r: f64,
    theta_s: f64,
    log10_alpha: f64,
    log10_n: f64,
    log10_ks: f64,
    log10_k0: f64,
    l_k0: f64,
}

#[derive(Deserialize)]
struct RawlsRow {
    texture: String,
    porosity: f64,
    effective_porosity: f64,
    theta_r: f64,
    psi_b_cm: f64,
    lambda: f64,
    ks_cm_h: f64,
    #[cfg(test)]
    drive_cm: f64,
}

fn rows<T: serde::de::DeserializeOwned>(file: &str, text: &str) -> Vec<T> {
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The tables are compiled in, and a test reads them for every class.
        Err(error) => unreachable!("{file}: {error}"),
    }
}

static CARSEL_PARRISH: LazyLock<Vec<CarselParrishRow>> =
    LazyLock::new(|| rows("carsel_parrish_1988.csv", include_str!("data/carsel_parrish_1988.csv")));
static SCHAAP: LazyLock<Vec<SchaapRow>> =
    LazyLock::new(|| rows("schaap_2001.csv", include_str!("data/schaap_2001.csv")));
static RAWLS: LazyLock<Vec<RawlsRow>> =
    LazyLock::new(|| rows("rawls_1982.csv", include_str!("data/rawls_1982.csv")));

#[cfg(test)]
mod tests {
    use super::*;
    use crate::water::retention::{CM_PER_KPA, Retention, convert};

    #[test]
    fn every_class_has_its_row() {
        for class in Class::ALL {
            for set in ClassSet::ALL {
                let curve = set.curve(class);
                assert_eq!(curve.is_none(), set == ClassSet::Rawls1982 && class == Class::Silt, "{class:?}");
                if let Some(curve) = curve {
                    assert!(curve.residual() < curve.saturation());
                    assert!(curve.saturated_conductivity_cm_h() > 0.0);
                }
            }
        }
    }

    /// The table prints water at 1500 kPa and the capillary drive beside the parameters they follow from.
    #[test]
    fn rawls_rows_agree_with_what_is_printed_beside_them() {
        for row in RAWLS.iter() {
            let drive = convert::drive_of_brooks_corey(row.psi_b_cm, row.lambda);
            // Silt loam prints 32.96 in the source, which does not follow from its own parameters.
            let within = if row.texture == Class::SiltLoam.name() { 0.06 } else { 0.011 };
            assert!((drive - row.drive_cm).abs() < within, "{}: {drive}", row.texture);
        }
        let loam = brooks_corey(Class::Loam).unwrap();
        let dry = loam.theta(-1500.0 * CM_PER_KPA);
        assert!((dry - 0.117).abs() < 0.03, "{dry}");
    }
}
