//! One figure of a printout: as printed, in the farm's units, and its class.

use book::model::UnitSystem;
use ground::fertility::analysis::in_ppm::ppm_factor;
use ground::fertility::analysis::oxides::OxideOf;
use ground::fertility::analysis::report::{Amount, Analyte, LabFigure, LabReport, ReportUnit};
use ground::fertility::analysis::soil_mass::{
    DOUBLE_BASIS_DEPTH_CM, G_M2_PER_LB_1000FT2, G_M2_PER_LB_ACRE, laboratory_mass_kg_m2,
};
use ground::fertility::schemes::{Interpretation, Scheme, interpret_in};
use ground::kit::quantity::number;
use ground::kit::{Bounded, Provenance, Working};
use serde::Serialize;

use crate::words;

/// A figure as it is read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FigureRead {
    /// What was measured.
    pub analyte: Analyte,
    /// In words.
    pub what: &'static str,
    /// How, in words.
    pub procedure: &'static str,
    /// As the report prints it: "< 2 ppm".
    pub printed: String,
    /// The same in the farm's units.
    pub in_farm_units: Vec<String>,
    /// Its class, where the scheme has one.
    pub class: Option<ClassRead>,
    /// Why there is none.
    pub no_class: Option<String>,
    /// What was done to it.
    pub working: Working,
}

/// A class under the farm's scheme.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClassRead {
    /// As the scheme calls it.
    pub class: String,
    /// How it stands, in words.
    pub standing: &'static str,
    /// More would not raise the yield.
    pub enough: bool,
    /// The class and the optimum, in words: "21 to 30 ppm; optimum 31 to 50 ppm".
    pub limits: String,
    /// Source of the limits.
    pub source: String,
    /// Table.
    pub at: String,
    /// How the limits reached this project, where they were not read in the source.
    pub unsure: Option<&'static str>,
    /// What was taken for granted.
    pub said: Vec<String>,
}

/// A figure of a report.
#[must_use]
pub fn read(
    scheme: Option<Scheme>,
    report: &LabReport,
    figure: &LabFigure,
    layer_cm: Option<f64>,
    units: UnitSystem,
) -> FigureRead {
    let printed = with_symbol(figure.amount, figure.unit);
    let mut working = Working::new();
    let in_farm_units = in_units(report, figure, layer_cm, units, &mut working);
    let (class, no_class) = match scheme.map(|scheme| (scheme, interpret_in(scheme, report, figure))) {
        None => (None, None),
        Some((_, Interpretation::NoScheme { why })) => (None, Some(words::capital(&why))),
        Some((scheme, Interpretation::Class(found))) => {
            let symbol = found.unit.symbol();
            working = working.step(
                format!("class of {}", figure.analyte.words()),
                format!("{}: {}", scheme.title(), found.at),
                with_unit(&words::short(found.value), symbol),
                format!("{}, {}", found.class, found.standing.words()),
            );
            let class = ClassRead {
                class: found.class.clone(),
                standing: found.standing.words(),
                enough: found.standing.enough(),
                limits: limits(&found),
                source: found.source.clone(),
                at: found.at.clone(),
                unsure: (found.provenance != Provenance::Read).then(|| found.provenance.words()),
                said: found.said.clone(),
            };
            (Some(class), None)
        }
    };
    FigureRead {
        analyte: figure.analyte,
        what: figure.analyte.words(),
        procedure: figure.procedure.words(),
        printed,
        in_farm_units,
        class,
        no_class,
        working,
    }
}

fn limits(found: &ground::fertility::schemes::ClassFound) -> String {
    let symbol = found.unit.symbol();
    let span = |from: Option<f64>, to: Option<f64>| match (from, to) {
        (None, None) => None,
        (None, Some(to)) => Some(with_unit(&format!("up to {}", number(to)), symbol)),
        (Some(from), None) => Some(with_unit(&format!("above {}", number(from)), symbol)),
        (Some(from), Some(to)) => Some(with_unit(&format!("{} to {}", number(from), number(to)), symbol)),
    };
    let class = span(found.from, found.up_to).map(|span| format!("this class: {span}"));
    let optimum = span(found.optimum_from, found.optimum_up_to).map(|span| format!("optimum: {span}"));
    [class, optimum].into_iter().flatten().collect::<Vec<_>>().join("; ")
}

/// "< 2 ppm", "6.4".
#[must_use]
pub fn with_symbol(amount: Amount, unit: ReportUnit) -> String {
    with_unit(&amount.words(), unit.symbol())
}

fn with_unit(text: &str, symbol: &str) -> String {
    if symbol.is_empty() { text.to_owned() } else { format!("{text} {symbol}") }
}

/// The nutrients that bags state as an oxide.
fn oxide(analyte: Analyte) -> Option<OxideOf> {
    match analyte {
        Analyte::Phosphorus => Some(OxideOf::Phosphorus),
        Analyte::Potassium => Some(OxideOf::Potassium),
        _ => None,
    }
}

/// The figure in the units of the farm that are not its own.
fn in_units(
    report: &LabReport,
    figure: &LabFigure,
    layer_cm: Option<f64>,
    units: UnitSystem,
    working: &mut Working,
) -> Vec<String> {
    let depth = report.basis_depth_cm.map(Bounded::get);
    let density = report.density_g_cm3.map(Bounded::get);
    let Some((factor, said)) = ppm_factor(figure, depth, density) else { return Vec::new() };
    let ppm = figure.amount.map(|value| value * factor);
    let layer = depth.or(layer_cm).unwrap_or(DOUBLE_BASIS_DEPTH_CM);
    let mass = laboratory_mass_kg_m2(layer, density);
    let g_m2 = ppm.map(|ppm| ppm * mass / 1000.0);
    if figure.unit != ReportUnit::Ppm {
        *working = std::mem::take(working).step(
            format!("{} by mass", figure.analyte.words()),
            said.unwrap_or("the printed figure × ppm in one of its unit"),
            format!("{} × {factor:.4}", figure.amount.words()),
            shown(ppm, "ppm"),
        );
    }
    *working = std::mem::take(working).step(
        format!("{} in the layer", figure.analyte.words()),
        format!("ppm × soil of the layer, {} down", words::depth(layer, units)),
        format!("{} × {mass:.0} kg/m² / 1000", round(ppm).words()),
        shown(g_m2, "g/m²"),
    );
    let mut all = Vec::new();
    if figure.unit != ReportUnit::Ppm {
        all.push(shown(ppm, "ppm"));
    }
    let mut told = |unit: ReportUnit, in_one: f64, symbol: &str| {
        if figure.unit != unit {
            all.push(shown(g_m2.map(|g| g / in_one), symbol));
        }
    };
    match units {
        UnitSystem::UsCustomary => {
            told(ReportUnit::LbPerAcre, G_M2_PER_LB_ACRE, "lb/acre");
            told(ReportUnit::LbPer1000Ft2, G_M2_PER_LB_1000FT2, "lb/1000 ft²");
        }
        UnitSystem::Metric => {
            told(ReportUnit::KgPerHa, 0.1, "kg/ha");
            all.push(shown(g_m2, "g/m²"));
        }
    }
    if let Some(oxide) = oxide(figure.analyte) {
        let (in_one, symbol) = match units {
            UnitSystem::UsCustomary => (G_M2_PER_LB_1000FT2, "lb/1000 ft²"),
            UnitSystem::Metric => (1.0, "g/m²"),
        };
        let compound = g_m2.map(|g| g * oxide.per_element() / in_one);
        all.push(format!("{} as {}", shown(compound, symbol), oxide.compound()));
    }
    all
}

fn round(amount: Amount) -> Amount {
    amount.map(|value| words::short(value).parse().unwrap_or(value))
}

fn shown(amount: Amount, symbol: &str) -> String {
    with_unit(&round(amount).words(), symbol)
}
