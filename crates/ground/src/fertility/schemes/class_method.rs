//! Class of a soil test result under a named scheme, as a method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::class::{ClassFound, Interpretation, interpret_in};
use super::scheme::Scheme;
use crate::fertility::analysis::report::{
    Amount, Analyte, BasisDepth, LabFigure, LabReport, Procedure, ReportDensity, ReportUnit,
};
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};

/// Input of `soil-test-class`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SoilTestClassInput {
    /// The scheme.
    pub scheme: Scheme,
    /// What was measured.
    pub analyte: Analyte,
    /// How.
    pub procedure: Procedure,
    /// In what.
    pub unit: ReportUnit,
    /// How much.
    pub amount: Amount,
    /// Depth that a figure per area speaks of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub basis_depth_cm: Option<BasisDepth>,
    /// Density of the sample, where the report gives it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_g_cm3: Option<ReportDensity>,
}

/// Output of `soil-test-class`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SoilTestClassOutput {
    /// The class, or `null` where the scheme has none.
    pub found: Option<ClassFound>,
    /// Why there is none.
    pub why_not: Option<String>,
}

/// Class of a soil test result.
pub struct SoilTestClass;

impl Method for SoilTestClass {
    type Input = SoilTestClassInput;
    type Output = SoilTestClassOutput;

    const CARD: Card = Card {
        name: "soil-test-class",
        title: "Class of a soil test result",
        topic: Topic::Fertility,
        computes: "The class that one named published scheme gives a laboratory's figure, and where the optimum lies. \
                   Where the scheme has no class for the extractant it says so and guesses nothing.",
        validity: &[
            "A class belongs to the extractant and the region of its scheme; nothing is carried over from another.",
            "A figure at an upper limit belongs to the class it ends.",
        ],
        sources: &[
            Cite::new("Rb209Vegetables", "T6.7"),
            Cite::new("RutgersRelativeLevels", "relative levels of nutrients"),
            Cite::new("UfifasVegetables", "soil test interpretation"),
            Cite::new("UmassSoilTest", "optimum and normal ranges"),
            Cite::new("GeorgiaCropSheets", "class limits"),
            Cite::new("UtahVegetableGuide", "soil and fertility"),
            Cite::new("FloridaCropPages", "soil test interpretation"),
            Cite::new("UcTomatoFertilization", "soil test levels"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SoilTestClassInput {
            scheme: Scheme::Rb209,
            analyte: Analyte::Phosphorus,
            procedure: Procedure::Olsen,
            unit: ReportUnit::MgPerL,
            amount: Amount::Exactly(30.0),
            basis_depth_cm: None,
            density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let figure = LabFigure {
            analyte: input.analyte,
            procedure: input.procedure,
            unit: input.unit,
            amount: input.amount,
        };
        let report = LabReport {
            basis_depth_cm: input.basis_depth_cm,
            density_g_cm3: input.density_g_cm3,
            figures: vec![figure],
            ..LabReport::new("")
        };
        report.check().map_err(|mut refusal| {
            refusal.field = refusal.field.replace("figures[0].", "");
            refusal
        })?;
        Ok(match interpret_in(input.scheme, &report, &figure) {
            Interpretation::Class(found) => {
                let mut notes: Vec<Note> = found
                    .said
                    .iter()
                    .map(|said| Note::new(NoteKind::Method, format!("Here {said}.")))
                    .collect();
                if found.provenance != Provenance::Read {
                    notes.push(Note::new(
                        NoteKind::Provenance,
                        format!("These class limits: {}. {}", found.provenance.words(), input.scheme.says()),
                    ));
                }
                Answer::with_notes(SoilTestClassOutput { found: Some(*found), why_not: None }, notes)
            }
            Interpretation::NoScheme { why } => Answer::with_notes(
                SoilTestClassOutput { found: None, why_not: Some(why.clone()) },
                vec![Note::new(NoteKind::NoValue, why)],
            ),
        })
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let given = format!("{} {}", input.amount.words(), input.unit.symbol());
        match &answer.value.found {
            Some(found) => Working::new().step(
                "the class",
                format!("the class of {} whose limits hold the figure", input.scheme.title()),
                given,
                format!("{}: {}", found.class, found.standing.words()),
            ),
            None => Working::new().step(
                "the class",
                format!("the classes of {}", input.scheme.title()),
                given,
                answer.value.why_not.clone().unwrap_or_default(),
            ),
        }
    }
}
