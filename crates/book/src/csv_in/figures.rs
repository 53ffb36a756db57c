//! The figures of one row: a printout of one sample.

use ground::fertility::analysis::report::{
    Amount, FreeLime, LabFigure, LabRecommended, LabReport, RateUnit, ReportDensity, ReportUnit,
};
use ground::kit::units::{UnitSystem, field_unit, typed};
use ground::kit::{Bounded, Refusal};

use super::guess::{Guess, guess, unit_of_name};
use super::rows::Cells;
use super::table::short;
use crate::model::{HeadingMeans, LabHeading};

/// A figure or a rate, told by a heading and what stands under it.
#[derive(Debug, Clone, PartialEq)]
pub enum LabCell {
    /// A figure.
    Figure(LabFigure),
    /// A rate that the laboratory recommends.
    Recommended(LabRecommended),
}

/// Checks that the heading of a column names a figure of a laboratory with its unit.
///
/// # Errors
/// It is not understood, or does not say its unit.
pub fn check_lab_heading(heading: &str) -> Result<(), Refusal> {
    match guess(heading) {
        Guess::Sure(HeadingMeans::Figure { .. } | HeadingMeans::Recommended { .. }) => Ok(()),
        Guess::UnitOpen(_) => Err(heading_refused(heading, "does not say in which unit the figure is")),
        Guess::Sure(_) | Guess::Unknown => Err(heading_refused(heading, "names no figure of a laboratory")),
    }
}

fn heading_refused(heading: &str, what: &str) -> Refusal {
    Refusal::new(heading, format!("{:?} {what}", short(heading)))
        .given(short(heading))
        .accepted("what was measured, the method where it matters, and the unit")
        .example("P (Mehlich-3) ppm")
}

/// Reads one figure by its heading, as a column of a table would have it: "P (Mehlich-3) ppm" and "< 2".
///
/// # Errors
/// The heading is not understood or does not say its unit, or the figure is refused.
pub fn read_lab_cell(heading: &str, text: &str) -> Result<LabCell, Refusal> {
    match guess(heading) {
        Guess::Sure(HeadingMeans::Figure { analyte, procedure, unit }) => {
            let figure = LabFigure { analyte, procedure, unit, amount: amount(heading, text, unit, b';')? };
            figure.check().map_err(|refusal| Refusal {
                field: heading.to_owned(),
                given: short(text),
                ..refusal
            })?;
            Ok(LabCell::Figure(figure))
        }
        Guess::Sure(HeadingMeans::Recommended { what, unit }) => {
            let rate = rate(heading, text, unit, b';')?;
            Ok(LabCell::Recommended(LabRecommended { what, rate, unit, for_crop: String::new() }))
        }
        Guess::UnitOpen(_) => Err(heading_refused(heading, "does not say in which unit the figure is")),
        Guess::Sure(_) | Guess::Unknown => Err(heading_refused(heading, "names no figure of a laboratory")),
    }
}

fn rate(heading: &str, text: &str, unit: RateUnit, delimiter: u8) -> Result<f64, Refusal> {
    let amount = amount(heading, text, ReportUnit::None, delimiter)?;
    amount.exactly().filter(|rate| (0.0..=1e6).contains(rate)).ok_or_else(|| {
        Refusal::new(heading, format!("{:?} is no rate", short(text)))
            .given(short(text))
            .accepted(format!("0 or more {}", unit.symbol()))
            .example("40")
    })
}

/// Cells that say nothing was measured.
const NOT_MEASURED: &[&str] = &["-", "--", "n/a", "na", "nr", "not tested", "not requested", "."];

/// The printout of a row, with every cell that was refused; `None` where it holds no figure.
pub(super) fn report(cells: &Cells<'_>) -> (Option<LabReport>, Vec<Refusal>) {
    let mut report = LabReport::new(cells.import.laboratory.trim());
    report.basis_depth_cm = cells.import.basis_depth_cm;
    cells.of(HeadingMeans::Number).unwrap_or_default().clone_into(&mut report.number);
    let mut refusals = Vec::new();
    let crop = cells.of(HeadingMeans::Crop).unwrap_or_default();
    for (place, LabHeading { heading, means }) in cells.import.columns.iter().enumerate() {
        let Some(text) = cells.cell(place).filter(|text| measured(text)) else { continue };
        let told = match *means {
            HeadingMeans::Figure { analyte, procedure, unit } => amount(heading, text, unit, cells.delimiter)
                .and_then(|amount| {
                    let figure = LabFigure { analyte, procedure, unit, amount };
                    figure.check().map_err(|refusal| Refusal {
                        field: heading.clone(),
                        given: short(text),
                        ..refusal
                    })?;
                    report.figures.push(figure);
                    Ok(())
                }),
            HeadingMeans::Recommended { what, unit } => {
                rate(heading, text, unit, cells.delimiter).map(|rate| {
                    report.recommended.push(LabRecommended { what, rate, unit, for_crop: crop.to_owned() });
                })
            }
            HeadingMeans::FreeLime => fizz(heading, text).map(|found| report.free_lime = Some(found)),
            HeadingMeans::Density => {
                typed::<ReportDensity>(heading, text, field_unit(ReportDensity::UNIT, UnitSystem::Metric))
                    .map(|found| report.density_g_cm3 = Some(found))
            }
            _ => Ok(()),
        };
        if let Err(refusal) = told {
            refusals.push(refusal);
        }
    }
    if !refusals.is_empty() {
        return (None, refusals);
    }
    if report.figures.is_empty() {
        return (None, Vec::new());
    }
    match report.check() {
        Ok(()) => (Some(report), Vec::new()),
        Err(refusal) => (None, vec![refusal]),
    }
}

fn measured(text: &str) -> bool {
    !NOT_MEASURED.contains(&text.to_lowercase().as_str())
}

/// "35", "< 2", "35 ppm": a unit in a cell must be that of its column.
fn amount(heading: &str, text: &str, unit: ReportUnit, delimiter: u8) -> Result<Amount, Refusal> {
    // The number ends where something else begins: "35 lb/1000 ft2" holds more digits than its own.
    let end = text
        .char_indices()
        .skip_while(|(_, c)| !c.is_ascii_digit())
        .find(|(_, c)| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .map_or(text.len(), |(at, _)| at);
    let (number, tail) = text.split_at(end);
    let tail = tail.trim();
    if !tail.is_empty() {
        match unit_of_name(tail) {
            Some(named) if named == unit => {}
            Some(named) => {
                return Err(Refusal::new(
                    heading,
                    format!(
                        "this cell is in {}, and its column in {}: two units in one column are not mixed",
                        named.symbol(),
                        if unit == ReportUnit::None { "plain numbers" } else { unit.symbol() }
                    ),
                )
                .given(short(text))
                .accepted("every cell of a column in its one unit")
                .example(number.trim()));
            }
            None if tail.eq_ignore_ascii_case("e") || tail.starts_with(['e', 'E']) => {
                return Amount::read(heading, text);
            }
            None => {
                return Err(Refusal::new(heading, format!("{:?} is not a figure", short(text)))
                    .given(short(text))
                    .accepted("a number, or one after < or >; nothing where it was not measured")
                    .example("< 2"));
            }
        }
    }
    let number = number.trim();
    if thousands(number) && delimiter != b';' {
        return Err(Refusal::new(
            heading,
            format!(
                "{number:?} may be a number of thousands or have a decimal comma, and which cannot be told"
            ),
        )
        .given(short(text))
        .accepted("the number without a comma, or with a decimal point")
        .example(number.replace(',', "")));
    }
    Amount::read(heading, number).map_err(|refusal| Refusal { given: short(text), ..refusal })
}

/// "1,234": a comma before exactly three digits.
fn thousands(number: &str) -> bool {
    number.split_once(',').is_some_and(|(whole, rest)| {
        rest.len() == 3
            && rest.bytes().all(|byte| byte.is_ascii_digit())
            && !whole.trim_start_matches(['<', '>', ' ']).starts_with('0')
    })
}

fn fizz(heading: &str, text: &str) -> Result<FreeLime, Refusal> {
    match text.to_lowercase().as_str() {
        "none" | "no" | "n" | "0" | "no fizz" | "low" | "l" => Ok(FreeLime::None),
        "slight" | "medium" | "m" | "1" | "slight fizz" | "weak" => Ok(FreeLime::Slight),
        "strong" | "high" | "h" | "yes" | "y" | "2" | "3" | "strong fizz" => Ok(FreeLime::Strong),
        _ => Err(Refusal::new(heading, format!("{:?} is no degree of fizz", short(text)))
            .given(short(text))
            .accepted("none, slight or strong")
            .example("none")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str, unit: ReportUnit) -> Result<Amount, Refusal> {
        amount("P", text, unit, b',')
    }

    #[test]
    fn cells_as_laboratories_write_them() {
        for (text, unit, wanted) in [
            ("35", ReportUnit::Ppm, Amount::Exactly(35.0)),
            ("35 ppm", ReportUnit::Ppm, Amount::Exactly(35.0)),
            ("<2", ReportUnit::Ppm, Amount::Below(2.0)),
            ("< 2 mg/kg", ReportUnit::Ppm, Amount::Below(2.0)),
            ("> 200", ReportUnit::Ppm, Amount::Above(200.0)),
            ("6,4", ReportUnit::None, Amount::Exactly(6.4)),
            ("0,125", ReportUnit::Ppm, Amount::Exactly(0.125)),
            ("3.1%", ReportUnit::Percent, Amount::Exactly(3.1)),
            ("12 lb/1000 ft2", ReportUnit::LbPer1000Ft2, Amount::Exactly(12.0)),
            ("1e2", ReportUnit::Ppm, Amount::Exactly(100.0)),
        ] {
            assert_eq!(read(text, unit), Ok(wanted), "{text}");
        }
    }

    #[test]
    fn mixed_units_and_doubtful_commas_are_named() {
        let refusal = read("70 lb/ac", ReportUnit::Ppm).unwrap_err();
        assert!(refusal.message.contains("two units in one column"), "{}", refusal.message);
        let refusal = read("1,234", ReportUnit::Ppm).unwrap_err();
        assert_eq!(refusal.example, "1234");
        assert!(amount("Ca", "1,234", ReportUnit::Ppm, b';').is_ok());
        for text in ["trace", "ND", "12 bananas", "1.2.3", "12 13"] {
            assert_eq!(read(text, ReportUnit::Ppm).unwrap_err().field, "P", "{text}");
        }
    }
}
