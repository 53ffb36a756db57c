//! Particle-size analysis by a laboratory.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::composition::{ClayPercent, SandPercent, SiltPercent};
use super::measured::{ClassOdds, PercentError, StandardError};
pub use super::size_limit::SiltLimit;
use super::size_limit::to_usda;
use super::{Class, Composition};
use crate::belief::Witness;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// A laboratory's sand, silt and clay, as kept in the farm book.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LabTexture {
    /// Sand as printed.
    pub sand_percent: SandPercent,
    /// Silt as printed.
    pub silt_percent: SiltPercent,
    /// Clay as printed.
    pub clay_percent: ClayPercent,
    /// Where the laboratory parts silt from sand.
    #[serde(default)]
    pub silt_limit: SiltLimit,
    /// How the laboratory measured it.
    #[serde(default)]
    pub procedure: LabProcedure,
}

/// How a laboratory measures particle size.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LabProcedure {
    /// Pipette and sieve.
    Pipette,
    /// Hydrometer.
    Hydrometer,
    /// Laser diffraction.
    LaserDiffraction,
    /// The report does not say.
    #[default]
    NotStated,
}

#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
struct ProcedureError {
    sand_for_silt_points: f64,
    silt_for_clay_points: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ProcedureErrors {
    pipette: ProcedureError,
    hydrometer: ProcedureError,
    laser_diffraction: ProcedureError,
    not_stated: ProcedureError,
}

static PROCEDURES: LazyLock<ProcedureErrors> =
    LazyLock::new(|| match toml::from_str(include_str!("lab_procedure.toml")) {
        Ok(table) => table,
        // Compiled in, and every witness of a test reads it.
        Err(error) => unreachable!("lab_procedure.toml: {error}"),
    });

impl LabProcedure {
    fn error(self) -> ProcedureError {
        match self {
            Self::Pipette => PROCEDURES.pipette,
            Self::Hydrometer => PROCEDURES.hydrometer,
            Self::LaserDiffraction => PROCEDURES.laser_diffraction,
            Self::NotStated => PROCEDURES.not_stated,
        }
    }
}

/// A laboratory result brought to the USDA limits, with its error.
#[derive(Debug, Clone, PartialEq)]
pub struct LabFinding {
    /// As printed, closed to 100.
    pub printed: Composition,
    /// With silt from 2 to 50 µm.
    pub soil: Composition,
    /// Rounding, procedure and conversion together.
    pub error: PercentError,
    /// What should be known beside it.
    pub notes: Vec<Note>,
}

/// Reads a laboratory result.
///
/// # Errors
/// Shares that do not add to 100 within rounding, named by `sand_percent`.
pub fn assess(lab: &LabTexture) -> Result<LabFinding, Refusal> {
    let (printed, closed) = Composition::from_percent(lab.sand_percent, lab.silt_percent, lab.clay_percent)?;
    let (soil, conversion) = to_usda(printed, lab.silt_limit);
    let procedure = lab.procedure.error();
    let rounding = rounding_points(lab);
    let error = conversion
        .and(rounding, 0.0)
        .and(0.0, rounding)
        .and_sand_for_silt(procedure.sand_for_silt_points)
        .and_silt_for_clay(procedure.silt_for_clay_points);
    let mut notes: Vec<Note> = closed.into_iter().collect();
    if lab.silt_limit != SiltLimit::Usda50 {
        notes.push(Note::new(
            NoteKind::Adjusted,
            format!(
                "The laboratory parts silt from sand at {}; by a straight line on the log of the size that is {:.1} % sand and {:.1} % silt at 50 µm.",
                lab.silt_limit.words(),
                soil.sand,
                soil.silt
            ),
        ));
        if Class::of(soil) != Class::of(printed) {
            notes.push(Note::new(
                NoteKind::Method,
                format!("Overlooking the limit one would call it {}.", Class::of(printed).name()),
            ));
        }
    }
    if lab.procedure == LabProcedure::LaserDiffraction {
        notes.push(Note::new(
            NoteKind::Method,
            "Laser diffraction tends to report clay as silt. Nothing is corrected, but clay is taken as less certain.",
        ));
    }
    Ok(LabFinding { printed, soil, error, notes })
}

/// Standard error of figures rounded to the finest digit that the report prints.
fn rounding_points(lab: &LabTexture) -> f64 {
    let figures = [lab.sand_percent.get(), lab.silt_percent.get(), lab.clay_percent.get()];
    let whole_in =
        |step: f64| figures.iter().all(|figure| (figure / step - (figure / step).round()).abs() < 1e-6);
    let step = [1.0, 0.1].into_iter().find(|step| whole_in(*step)).unwrap_or(0.01);
    step / 12.0_f64.sqrt()
}

/// What a laboratory result says, for belief.
///
/// # Errors
/// As [`assess`].
pub fn witness(lab: &LabTexture, id: &str, label: &str) -> Result<Witness, Refusal> {
    let finding = assess(lab)?;
    Ok(Witness { id: id.to_owned(), label: label.to_owned(), account: finding.error.account(finding.soil) })
}

/// Output of `lab-texture`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct LabTextureOutput {
    /// Sand, silt and clay with silt from 2 to 50 µm, in percent.
    pub mass_percent: Composition,
    /// One standard deviation of rounding, procedure and conversion together, in points.
    pub standard_error_points: StandardError,
    /// Texture class.
    pub class: Class,
    /// Odds of each class within the error, likeliest first.
    pub class_odds: Vec<ClassOdds>,
}

/// A laboratory result read with its error.
pub struct LabTextureMethod;

impl Method for LabTextureMethod {
    type Input = LabTexture;
    type Output = LabTextureOutput;

    const CARD: Card = Card {
        name: "lab-texture",
        title: "Texture from a laboratory",
        topic: Topic::Texture,
        computes: "Reads a laboratory's sand, silt and clay: brings them to the USDA size limits and says how \
                   surely the class is known after rounding, the laboratory's own error and the conversion.",
        validity: &[
            "Figures are percent of the fine earth below 2 mm.",
            "The error of one result by procedure is our judgement: no comparison between laboratories could be read.",
        ],
        sources: &[
            Cite::new("SoilSurveyManual2017", "ch. 3"),
            Cite::new("Nemes1999", "log-linear procedure"),
            Cite::new("WesternStates2003", "method S-14.10"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        LabTexture {
            sand_percent: SandPercent::literal(44.0),
            silt_percent: SiltPercent::literal(38.0),
            clay_percent: ClayPercent::literal(18.0),
            silt_limit: SiltLimit::Iso63,
            procedure: LabProcedure::Pipette,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let finding = assess(input)?;
        let mut notes = finding.notes;
        notes.push(Note::new(
            NoteKind::Provenance,
            "The error of one laboratory result is our judgement; no comparison between laboratories could be read.",
        ));
        let value = LabTextureOutput {
            mass_percent: finding.soil,
            standard_error_points: finding.error.standard(),
            class: Class::of(finding.soil),
            class_odds: finding.error.class_odds(finding.soil),
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok(finding) = assess(input) else { return Working::new() };
        let (soil, error) = (finding.soil, finding.error.standard());
        let procedure = input.procedure.error();
        Working::new()
            .step(
                "sand, silt and clay with silt up to 50 µm",
                "straight line on ln(size) from the laboratory's limit; nothing to do at 50 µm",
                format!(
                    "from {}: sand {:.2}, silt {:.2}, clay {:.2}",
                    input.silt_limit.words(),
                    finding.printed.sand,
                    finding.printed.silt,
                    finding.printed.clay
                ),
                format!("sand {:.2}, silt {:.2}, clay {:.2} %", soil.sand, soil.silt, soil.clay),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "standard error",
                "rounding, procedure and conversion, each squared and added",
                format!(
                    "rounding {:.2}; procedure {} between sand and silt, {} between silt and clay",
                    rounding_points(input),
                    procedure.sand_for_silt_points,
                    procedure.silt_for_clay_points
                ),
                format!("sand {:.1}, silt {:.1}, clay {:.1} points", error.sand, error.silt, error.clay),
            )
            .step(
                "the class",
                "the USDA definitions, over the spread of the error",
                answer
                    .value
                    .class_odds
                    .iter()
                    .map(|odds| format!("{} {:.0} %", odds.class.name(), odds.odds_percent))
                    .collect::<Vec<_>>()
                    .join(", "),
                answer.value.class.name(),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::belief::{Account, ilr};

    fn lab(figures: [f64; 3], silt_limit: SiltLimit, procedure: LabProcedure) -> LabTexture {
        LabTexture {
            sand_percent: SandPercent::new(figures[0]).unwrap(),
            silt_percent: SiltPercent::new(figures[1]).unwrap(),
            clay_percent: ClayPercent::new(figures[2]).unwrap(),
            silt_limit,
            procedure,
        }
    }

    #[test]
    fn the_finest_digit_printed_sets_the_rounding() {
        let points = |figures| {
            12.0_f64.sqrt() * rounding_points(&lab(figures, SiltLimit::Usda50, LabProcedure::Pipette))
        };
        assert!((points([40.0, 40.0, 20.0]) - 1.0).abs() < 1e-9);
        assert!((points([40.0, 39.6, 20.4]) - 0.1).abs() < 1e-9);
        assert!((points([40.0, 39.61, 20.39]) - 0.01).abs() < 1e-9);
    }

    #[test]
    fn another_limit_moves_the_centre_and_widens_it() {
        let figures = [40.0, 40.0, 20.0];
        let spread = |limit| {
            let Account::Measured { centre, covariance, shared: None } =
                witness(&lab(figures, limit, LabProcedure::Pipette), "1", "the lab report").unwrap().account
            else {
                panic!("a laboratory measures")
            };
            (ilr::from_ilr(centre.into()), covariance[0][0] + covariance[1][1])
        };
        let usda = spread(SiltLimit::Usda50);
        assert!((usda.0.sand - 40.0).abs() < 0.3 && (usda.0.clay - 20.0).abs() < 0.3, "{usda:?}");
        for limit in [SiltLimit::Iso63, SiltLimit::Engineering75, SiltLimit::International20] {
            assert!(spread(limit).1 > usda.1, "{limit:?}");
        }
        assert!(spread(SiltLimit::International20).1 > spread(SiltLimit::Iso63).1);
        assert!(spread(SiltLimit::Iso63).0.sand > 40.0 && spread(SiltLimit::International20).0.sand < 40.0);
    }

    #[test]
    fn a_sum_far_from_a_hundred_is_refused() {
        let refusal = assess(&lab([60.0, 40.0, 20.0], SiltLimit::Usda50, LabProcedure::Pipette)).unwrap_err();
        assert_eq!(refusal.field, "sand_percent");
    }
}
