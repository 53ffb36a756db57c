//! A laboratory's figure in the unit of a scheme's limits.

use crate::fertility::analysis::in_ppm::ppm_factor;
use crate::fertility::analysis::report::{LabFigure, ReportUnit};

/// Depth and density that figures per area or per volume hang on.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct SoilBasis {
    /// Depth of figures per area.
    pub depth_cm: Option<f64>,
    /// Density of the sample or the ground.
    pub density_g_cm3: Option<f64>,
}

/// Pounds an acre of the element in 1 ppm of the usual two million pounds of soil.
const USUAL_LB_ACRE: f64 = 2.0;
/// kg/ha in one lb/acre (exact pound and acre).
pub(super) const KG_HA: f64 = 0.453_592_37 / 0.404_685_642_24;

/// The factor from a figure's unit to ppm, with what was taken for granted.
pub(super) fn to_ppm(figure: &LabFigure, basis: SoilBasis) -> Option<(f64, Option<&'static str>)> {
    ppm_factor(figure, basis.depth_cm, basis.density_g_cm3)
}

/// The factor from a figure's unit to the unit of a scheme's limits. `None`: they cannot be compared.
pub(super) fn to_scheme(
    figure: &LabFigure,
    basis: SoilBasis,
    to: ReportUnit,
) -> Option<(f64, Option<&'static str>)> {
    if figure.unit == to {
        return Some((1.0, None));
    }
    let (ppm, said) = to_ppm(figure, basis)?;
    let (factor, said_too) = match to {
        ReportUnit::Ppm => (1.0, None),
        ReportUnit::LbPerAcre => (USUAL_LB_ACRE, None),
        ReportUnit::MgPerL => basis.density_g_cm3.map_or(
            (
                1.0,
                Some("ppm and mg/L are taken as the same, since the sample's density is not on the report"),
            ),
            |density| (density, None),
        ),
        _ => return None,
    };
    Some((ppm * factor, said.or(said_too)))
}
