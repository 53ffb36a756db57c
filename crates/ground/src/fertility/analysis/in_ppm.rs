//! A figure of a report in ppm, whatever unit it was printed in.

use super::oxides::Cation;
use super::report::{Analyte, LabFigure, ReportUnit};
use super::soil_mass::{G_M2_PER_LB_1000FT2, G_M2_PER_LB_ACRE, laboratory_mass_kg_m2};

/// Said where a figure per area stands without a density.
pub const USUAL_MASS_SAID: &str =
    "the layer is taken to weigh two million pounds an acre, as laboratories do";
/// Said where a volume of soil is taken for its mass.
pub const VOLUME_SAID: &str =
    "mg/L and ppm are taken as the same, since the sample's density is not on the report";

fn cation(analyte: Analyte) -> Option<Cation> {
    match analyte {
        Analyte::Potassium => Some(Cation::Potassium),
        Analyte::Calcium => Some(Cation::Calcium),
        Analyte::Magnesium => Some(Cation::Magnesium),
        Analyte::Sodium => Some(Cation::Sodium),
        _ => None,
    }
}

/// ppm in one of the figure's unit, with what was taken for granted; `None` where the unit has no ppm.
#[must_use]
pub fn ppm_factor(
    figure: &LabFigure,
    depth_cm: Option<f64>,
    density_g_cm3: Option<f64>,
) -> Option<(f64, Option<&'static str>)> {
    let per_area = |g_m2: f64| {
        let said = density_g_cm3.is_none().then_some(USUAL_MASS_SAID);
        // The plough layer is meant where the depth was not given.
        let mass = match depth_cm {
            Some(depth) => laboratory_mass_kg_m2(depth, density_g_cm3),
            None => super::soil_mass::double_basis_kg_m2(),
        };
        (1000.0 * g_m2 / mass, said)
    };
    let volume = match density_g_cm3 {
        Some(density) => (1.0 / density, None),
        None => (1.0, Some(VOLUME_SAID)),
    };
    Some(match figure.unit {
        ReportUnit::Ppm => (1.0, None),
        ReportUnit::MgPerL => volume,
        ReportUnit::LbPerAcre => per_area(G_M2_PER_LB_ACRE),
        ReportUnit::KgPerHa => per_area(0.1),
        ReportUnit::LbPer1000Ft2 => per_area(G_M2_PER_LB_1000FT2),
        ReportUnit::MeqPer100G => (cation(figure.analyte)?.ppm_per_meq(), None),
        ReportUnit::MeqPer100Cm3 => (cation(figure.analyte)?.ppm_per_meq() * volume.0, volume.1),
        ReportUnit::None | ReportUnit::Percent | ReportUnit::DsPerM | ReportUnit::Index => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::super::report::{Amount, Procedure};
    use super::*;

    fn figure(analyte: Analyte, unit: ReportUnit) -> LabFigure {
        LabFigure { analyte, procedure: Procedure::NotStated, unit, amount: Amount::Exactly(1.0) }
    }

    /// Clemson University, CEC calculations: lb/acre in one meq/100 g are twice the ppm: K 782, Na 460.
    #[test]
    fn pounds_an_acre_are_twice_the_ppm_of_the_plough_layer() {
        let pounds = figure(Analyte::Potassium, ReportUnit::LbPerAcre);
        assert!((ppm_factor(&pounds, Some(15.24), None).unwrap().0 - 0.5).abs() < 1e-12);
        // A foot at the same density weighs 3.6 million pounds.
        assert!((ppm_factor(&pounds, Some(30.48), None).unwrap().0 - 1.0 / 3.6).abs() < 1e-3);
        let meq = figure(Analyte::Potassium, ReportUnit::MeqPer100G);
        assert_eq!(ppm_factor(&meq, None, None), Some((391.0, None)));
        assert_eq!(ppm_factor(&figure(Analyte::Zinc, ReportUnit::MeqPer100G), None, None), None);
        let volume = figure(Analyte::Zinc, ReportUnit::MgPerL);
        assert_eq!(ppm_factor(&volume, None, Some(1.25)), Some((0.8, None)));
        assert_eq!(ppm_factor(&volume, None, None), Some((1.0, Some(VOLUME_SAID))));
    }
}
