//! What on a printout could hurt someone or mislead.

use ground::fertility::analysis::in_ppm::ppm_factor;
use ground::fertility::analysis::manganese::MANGANESE_TOXIC_BELOW_PH;
use ground::fertility::analysis::metals::{
    LEAD_LEVELS, METALS, MetalInGardenSoil, MetalInSoilInput, MetalTotal, NO_SAFE_LEVEL, is_total,
};
use ground::fertility::analysis::report::{Amount, Analyte, LabReport};
use ground::fertility::analysis::soil_mass::{WORTH_A_WARNING, basis_note};
use ground::kit::{Bounded, Method, NoteKind};
use serde::Serialize;

use crate::words;
use book::model::UnitSystem;

/// A caution beside a printout.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Caution {
    /// Of what it speaks.
    pub of: String,
    /// What to do or know, most important first.
    pub lines: Vec<String>,
}

/// Metals that people should be careful of.
#[must_use]
pub fn metals(report: &LabReport) -> Vec<Caution> {
    let mut cautions = Vec::new();
    for figure in report.figures.iter().filter(|figure| METALS.contains(&figure.analyte)) {
        let of = words::capital(figure.analyte.words());
        let printed = super::figure::with_symbol(figure.amount, figure.unit);
        if !is_total(figure.procedure) {
            cautions.push(Caution {
                of,
                lines: vec![
                    format!(
                        "{printed} was found by {}: an extract finds a fifth of the total or less, so it cannot be read \
                         against any level. Ask for the total (acid digest or X-ray fluorescence).",
                        figure.procedure.words()
                    ),
                    NO_SAFE_LEVEL.replace("lead", figure.analyte.words()),
                ],
            });
            continue;
        }
        // "Below 20" is read at its limit: never taken for less than it may be.
        let factor = ppm_factor(figure, None, None).map_or(1.0, |found| found.0);
        let Ok(total_ppm) = MetalTotal::new(factor * figure.amount.printed()) else { continue };
        let input = MetalInSoilInput { metal: figure.analyte, total_ppm, procedure: figure.procedure };
        let Ok(answer) = MetalInGardenSoil::compute(&input) else { continue };
        let mut lines = vec![format!("{printed} in all. {}", answer.value.advice)];
        if matches!(figure.amount, Amount::Above(_)) {
            lines.push("The report tells only that it is more than that.".to_owned());
        }
        if figure.analyte == Analyte::Lead {
            let levels: Vec<String> =
                LEAD_LEVELS.iter().map(|level| format!("{} ppm: {}", level.ppm, level.is)).collect();
            lines.push(format!("Levels for comparison: {}.", levels.join("; ")));
        }
        let safety =
            answer.notes.iter().filter(|note| note.kind == NoteKind::Safety).map(|note| note.text.clone());
        let said = lines[0].clone();
        lines.extend(safety.filter(|text| !said.contains(text.as_str())));
        if figure.analyte == Analyte::Lead {
            lines.push(
                "The bands of what to do are our judgement, drawn cautiously from those levels.".to_owned(),
            );
        }
        cautions.push(Caution { of, lines });
    }
    cautions
}

/// What may mislead in the figures. `sampled_cm`: thickness of the layer the sample came from.
#[must_use]
pub fn remarks(report: &LabReport, sampled_cm: Option<f64>, units: UnitSystem) -> Vec<String> {
    let mut remarks = Vec::new();
    let depth = report.basis_depth_cm.map(Bounded::get);
    let per_area = report.figures.iter().any(|figure| figure.unit.per_area());
    if let (Some(depth), Some(density)) = (depth, report.density_g_cm3.map(Bounded::get))
        && let Some(note) = basis_note(depth, density)
    {
        remarks.push(note.text);
    }
    if let (Some(basis), Some(sampled), true) = (depth, sampled_cm, per_area)
        && (sampled / basis - 1.0).abs() > WORTH_A_WARNING
    {
        remarks.push(format!(
            "The report's amounts per area speak of {} of ground, and the sample came from {}: do not add them up as if they \
             were one layer.",
            words::depth(basis, units),
            words::depth(sampled, units)
        ));
    }
    let ph = report.first(Analyte::PhWater).and_then(|figure| figure.amount.exactly());
    if ph.is_some_and(|ph| ph < MANGANESE_TOXIC_BELOW_PH) {
        remarks
            .push("Below pH 5.2 manganese is likely to poison crops: lime before anything else.".to_owned());
    }
    if report.first(Analyte::PhWater).is_none() && report.first(Analyte::PhSalt).is_some() {
        remarks.push(
            "The pH was read in salt. It is commonly half a unit below the pH in water on acid soil; methods made for water pH \
             do not take it."
                .to_owned(),
        );
    }
    if report.figures.iter().any(|figure| matches!(figure.amount, Amount::Below(_))) {
        remarks.push("\u{201c}<\u{201d} means that less is there than the laboratory can tell; no number is put in its place.".to_owned());
    }
    remarks
}
