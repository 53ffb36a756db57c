//! A soil test as the laboratory printed it.

use ground::fertility::analysis::report::{LabFigure, LabRecommended, LabReport, Procedure};
use ground::kit::quantity::{number, with_unit};
use ground::kit::units::UnitSystem;

use super::Line;
use super::water::maybe;
use crate::problem::capital;

/// A line a figure.
pub(super) fn report(report: &LabReport, units: UnitSystem) -> Vec<Line> {
    let LabReport {
        laboratory,
        number: called,
        basis_depth_cm,
        density_g_cm3,
        free_lime,
        figures,
        recommended,
    } = report;
    let mut lines = vec![Line::new("Laboratory", laboratory), Line::new("Number", called)];
    lines.extend(figures.iter().map(figure));
    lines.push(maybe("Figures per area speak of", *basis_depth_cm, units));
    lines.push(maybe("Density", *density_g_cm3, units));
    lines.push(Line::new("With acid", free_lime.map_or("", |lime| lime.words())));
    lines.extend(recommended.iter().map(|one| {
        let LabRecommended { what, rate, unit, for_crop } = one;
        let rate = format!("{} {}", number(*rate), unit.symbol());
        let text = if for_crop.is_empty() { rate } else { format!("{rate} for {for_crop}") };
        Line::new(format!("Laboratory recommends {}", what.words()), text)
    }));
    lines
}

/// "Phosphorus: 45 ppm, Mehlich 3 (ICP)".
fn figure(figure: &LabFigure) -> Line {
    let LabFigure { analyte, procedure, unit, amount } = *figure;
    let mut text = match amount.exactly() {
        Some(value) => with_unit(value, unit.symbol()),
        None => format!("{} {}", amount.words(), unit.symbol()).trim_end().to_owned(),
    };
    if procedure != Procedure::NotStated {
        text = format!("{text}, {}", procedure.words());
    }
    Line::new(capital(analyte.words()), text)
}
