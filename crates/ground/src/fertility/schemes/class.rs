//! From a laboratory's figure to its class under one scheme.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::scheme::{Scheme, Standing};
use super::unit::{SoilBasis, to_ppm, to_scheme};
use crate::fertility::analysis::report::{Amount, Analyte, LabFigure, LabReport, Procedure, ReportUnit};
use crate::kit::Provenance;
use crate::kit::quantity::number;
use crate::kit::table::rows as read_table;

/// One class of one nutrient by one extractant.
#[derive(Debug, Clone, Deserialize)]
struct Row {
    scheme: Scheme,
    analyte: Analyte,
    procedure: Procedure,
    unit: ReportUnit,
    class: String,
    standing: Standing,
    up_to: String,
    source: String,
    at: String,
    provenance: Provenance,
}

impl Row {
    /// Greatest value, its printed decimals, and whether the class ends just before it.
    fn limit(&self) -> Option<(f64, i32, bool)> {
        let digits = self.up_to.strip_prefix('<');
        let text = digits.unwrap_or(&self.up_to);
        let decimals = text.split_once('.').map_or(0, |(_, after)| i32::try_from(after.len()).unwrap_or(0));
        text.parse().ok().map(|value| (value, decimals, digits.is_some()))
    }

    /// Does a value lie in this class or below it?
    fn reaches(&self, value: f64) -> bool {
        match self.limit() {
            None => true,
            Some((limit, _, true)) => value < limit,
            Some((limit, decimals, false)) => {
                // Limits are whole numbers, or as fine as printed: a value is rounded to them.
                let unit = libm::pow(10.0, f64::from(decimals));
                libm::floor(value * unit + 0.5) / unit <= limit + 1e-9
            }
        }
    }
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table("classes.csv", include_str!("data/classes.csv")));

/// A class found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ClassFound {
    /// The scheme.
    pub scheme: Scheme,
    /// What was measured.
    pub analyte: Analyte,
    /// As the scheme calls it.
    pub class: String,
    /// How it stands.
    pub standing: Standing,
    /// The figure in the scheme's unit.
    pub value: f64,
    /// The scheme's unit.
    pub unit: ReportUnit,
    /// Where the class begins.
    pub from: Option<f64>,
    /// Where it ends; `None`: no upper limit.
    pub up_to: Option<f64>,
    /// Where the optimum begins, for this nutrient and extractant.
    pub optimum_from: Option<f64>,
    /// Where the optimum ends.
    pub optimum_up_to: Option<f64>,
    /// Source of the limits in the bibliography.
    pub source: String,
    /// Table.
    pub at: String,
    /// How the limits reached this project.
    pub provenance: Provenance,
    /// What was taken for granted on the way.
    pub said: Vec<String>,
}

/// What a scheme says of a figure.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Interpretation {
    /// Its class.
    Class(Box<ClassFound>),
    /// The scheme has none for it.
    NoScheme {
        /// Why, in words.
        why: String,
    },
}

impl Interpretation {
    /// The class, where there is one.
    #[must_use]
    pub fn class(&self) -> Option<&ClassFound> {
        match self {
            Self::Class(found) => Some(found),
            Self::NoScheme { .. } => None,
        }
    }
}

/// Is the extract the same for this analyte? Plasma and colour read the same potassium out of one
/// Mehlich 3 extract; phosphorus they do not.
fn same_extract(row: Procedure, given: Procedure, analyte: Analyte) -> bool {
    row == given
        || (analyte != Analyte::Phosphorus
            && row == Procedure::Mehlich3Icp
            && given == Procedure::Mehlich3Colorimetric)
}

/// The class of a figure of a report.
#[must_use]
pub fn interpret_in(scheme: Scheme, report: &LabReport, figure: &LabFigure) -> Interpretation {
    if scheme == Scheme::RutgersM3
        && figure.analyte == Analyte::Manganese
        && let Some(found) = manganese(report, figure)
    {
        return Interpretation::Class(Box::new(found));
    }
    interpret(scheme, figure, basis_of(report))
}

/// Depth and density of a report.
#[must_use]
pub fn basis_of(report: &LabReport) -> SoilBasis {
    use crate::kit::Bounded;
    SoilBasis {
        depth_cm: report.basis_depth_cm.map(Bounded::get),
        density_g_cm3: report.density_g_cm3.map(Bounded::get),
    }
}

/// The class of a figure under a scheme: the extractant must be the scheme's own, and a figure given as a
/// limit ("< 20") has a class only where the whole of what it may be lies in one.
#[must_use]
pub fn interpret(scheme: Scheme, figure: &LabFigure, basis: SoilBasis) -> Interpretation {
    let none = |why: String| Interpretation::NoScheme { why };
    let words = figure.analyte.words();
    let of_analyte = || ROWS.iter().filter(|row| row.scheme == scheme && row.analyte == figure.analyte);
    let Some(first) = of_analyte().next() else {
        return none(format!("{} has no classes for {words}", scheme.title()));
    };
    let rows: Vec<&Row> =
        of_analyte().filter(|row| same_extract(row.procedure, figure.procedure, figure.analyte)).collect();
    if rows.is_empty() {
        let wanted = first.procedure.words();
        return none(if figure.procedure == Procedure::NotStated {
            format!(
                "the report does not name the procedure for {words}; {} classes {wanted} only: ask the laboratory",
                scheme.title()
            )
        } else {
            format!(
                "{} classes {words} by {wanted}, and this was measured by {}; one cannot stand for the other",
                scheme.title(),
                figure.procedure.words()
            )
        });
    }
    let unit = rows[0].unit;
    let Some((factor, said)) = to_scheme(figure, basis, unit) else {
        return none(format!(
            "{words} is given as {}, and the limits stand in {}; the one cannot be turned into the other",
            figure.unit.words(),
            unit.symbol()
        ));
    };
    let amount = figure.amount.map(|value| value * factor);
    let at_value = |value: f64| rows.iter().position(|row| row.reaches(value)).unwrap_or(rows.len() - 1);
    let place = match amount {
        Amount::Exactly(value) => at_value(value),
        Amount::Below(value) if at_value(value) == 0 => 0,
        Amount::Above(value) if at_value(value) + 1 == rows.len() => rows.len() - 1,
        Amount::Below(_) | Amount::Above(_) => {
            return none(format!(
                "{} {} may lie in more than one class: ask the laboratory for the figure itself",
                figure.amount.words(),
                figure.unit.symbol()
            ));
        }
    };
    Interpretation::Class(Box::new(found(&rows, place, amount.printed(), said)))
}

fn found(rows: &[&Row], place: usize, value: f64, said: Option<&str>) -> ClassFound {
    let row = rows[place];
    let before = |at: usize| at.checked_sub(1).and_then(|at| rows[at].limit()).map(|limit| limit.0);
    let optimum = rows.iter().position(|row| row.standing == Standing::Optimum);
    ClassFound {
        scheme: row.scheme,
        analyte: row.analyte,
        class: row.class.clone(),
        standing: row.standing,
        value,
        unit: row.unit,
        from: before(place),
        up_to: row.limit().map(|limit| limit.0),
        // Where no class is called the optimum, enough begins where the first class above it does.
        optimum_from: optimum.or_else(|| rows.iter().position(|row| row.standing.enough())).and_then(before),
        optimum_up_to: optimum.and_then(|at| rows[at].limit()).map(|limit| limit.0),
        source: row.source.clone(),
        at: row.at.clone(),
        provenance: row.provenance,
        said: said.map(ToOwned::to_owned).into_iter().collect(),
    }
}

/// The New Jersey manganese activity index, 101.7 + 3.75 Mn − 15.2 pH: below 25 deficient, above 100 a
/// warning. `mn_ppm` by Mehlich 3.
#[must_use]
pub fn manganese_activity(mn_ppm: f64, ph: f64) -> f64 {
    101.7 + 3.75 * mn_ppm - 15.2 * ph
}

fn manganese(report: &LabReport, figure: &LabFigure) -> Option<ClassFound> {
    let ph = report.first(Analyte::PhWater)?.amount.exactly()?;
    if !same_extract(Procedure::Mehlich3Icp, figure.procedure, Analyte::Manganese) {
        return None;
    }
    let mn = figure.amount.exactly()? * to_ppm(figure, basis_of(report))?.0;
    let index = manganese_activity(mn, ph);
    let (class, standing, from, up_to) = match index {
        i if i < 25.0 => ("deficient", Standing::Low, None, Some(25.0)),
        i if i <= 100.0 => ("adequate", Standing::Optimum, Some(25.0), Some(100.0)),
        _ => ("warning: high", Standing::VeryHigh, Some(100.0), None),
    };
    Some(ClassFound {
        scheme: Scheme::RutgersM3,
        analyte: Analyte::Manganese,
        class: class.to_owned(),
        standing,
        value: index,
        unit: ReportUnit::Index,
        from,
        up_to,
        optimum_from: Some(25.0),
        optimum_up_to: Some(100.0),
        source: "RutgersRelativeLevels".to_owned(),
        at: "manganese activity index".to_owned(),
        provenance: Provenance::Read,
        said: vec![format!("the activity index of {} ppm manganese at pH {}", number(mn), number(ph))],
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figure(analyte: Analyte, procedure: Procedure, unit: ReportUnit, amount: Amount) -> LabFigure {
        LabFigure { analyte, procedure, unit, amount }
    }

    #[test]
    fn every_set_of_classes_rises_and_ends_open() {
        for scheme in Scheme::ALL {
            for analyte in Analyte::ALL {
                let rows: Vec<_> =
                    ROWS.iter().filter(|row| row.scheme == *scheme && row.analyte == *analyte).collect();
                let Some(last) = rows.last() else { continue };
                assert!(last.limit().is_none(), "{scheme:?} {analyte:?}");
                for pair in rows.windows(2) {
                    assert!(pair[0].standing <= pair[1].standing, "{scheme:?} {analyte:?}");
                    let (Some(a), b) = (pair[0].limit(), pair[1].limit()) else {
                        panic!("{scheme:?} {analyte:?} has a class after an open one")
                    };
                    assert!(b.is_none_or(|b| b.0 > a.0), "{scheme:?} {analyte:?}");
                    assert_eq!(pair[0].procedure, pair[1].procedure);
                    assert_eq!(pair[0].unit, pair[1].unit);
                }
                assert!(last.procedure.fits(*analyte), "{scheme:?} {analyte:?}");
            }
        }
    }

    #[test]
    fn an_upper_limit_belongs_to_its_class() {
        let class = |value| {
            let olsen =
                figure(Analyte::Phosphorus, Procedure::Olsen, ReportUnit::MgPerL, Amount::Exactly(value));
            interpret(Scheme::Rb209, &olsen, SoilBasis::default()).class().unwrap().class.clone()
        };
        assert_eq!(
            [class(9.0), class(10.0), class(45.0), class(46.0), class(900.0)],
            ["0", "1", "3", "4", "9"]
        );
    }

    #[test]
    fn a_limit_has_a_class_only_where_all_of_it_lies_in_one() {
        let bray = |amount| {
            let olsen = figure(Analyte::Phosphorus, Procedure::Olsen, ReportUnit::Ppm, amount);
            interpret(Scheme::Rb209, &olsen, SoilBasis::default())
        };
        assert_eq!(bray(Amount::Below(5.0)).class().unwrap().class, "0");
        assert!(bray(Amount::Below(20.0)).class().is_none());
        assert_eq!(bray(Amount::Above(300.0)).class().unwrap().class, "9");
        assert!(bray(Amount::Above(50.0)).class().is_none());
    }

    #[test]
    fn another_extractant_is_never_taken_for_the_schemes_own() {
        for procedure in [Procedure::Bray1, Procedure::Mehlich3Colorimetric, Procedure::NotStated] {
            let figure = figure(Analyte::Phosphorus, procedure, ReportUnit::Ppm, Amount::Exactly(30.0));
            let Interpretation::NoScheme { why } =
                interpret(Scheme::RutgersM3, &figure, SoilBasis::default())
            else {
                panic!("{procedure:?}")
            };
            assert!(why.contains("Mehlich 3"), "{why}");
        }
    }

    #[test]
    fn manganese_hangs_on_the_ph() {
        let mut report = LabReport::new("");
        let mn = figure(Analyte::Manganese, Procedure::Mehlich3Icp, ReportUnit::Ppm, Amount::Exactly(8.0));
        let ph = |ph| figure(Analyte::PhWater, Procedure::NotStated, ReportUnit::None, Amount::Exactly(ph));
        report.figures = vec![mn, ph(6.0)];
        assert_eq!(
            interpret_in(Scheme::RutgersM3, &report, &mn).class().unwrap().standing,
            Standing::Optimum
        );
        report.figures = vec![mn, ph(7.5)];
        assert_eq!(interpret_in(Scheme::RutgersM3, &report, &mn).class().unwrap().standing, Standing::Low);
    }
}
