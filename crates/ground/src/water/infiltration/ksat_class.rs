//! Classes of saturated conductivity.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::intake_class::MM_PER_INCH;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Saturated conductivity.
    pub struct Ksat: "saturated conductivity", "mm/h", 0.0 ..= 10000.0, example 15.5;
}

/// 1 µm/s in mm/h.
pub const MM_H_PER_UM_S: f64 = 3.6;

/// Classes of saturated conductivity [SoilSurveyManual2017].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum KsatClass {
    /// Below 0.01 µm/s.
    VeryLow,
    /// 0.01 to 0.1 µm/s.
    Low,
    /// 0.1 to 1 µm/s.
    ModeratelyLow,
    /// 1 to 10 µm/s.
    ModeratelyHigh,
    /// 10 to 100 µm/s.
    High,
    /// 100 µm/s and above.
    VeryHigh,
}

impl KsatClass {
    /// Class of a conductivity, mm/h.
    #[must_use]
    pub fn of(conductivity_mm_h: f64) -> Self {
        match conductivity_mm_h / MM_H_PER_UM_S {
            k if k >= 100.0 => Self::VeryHigh,
            k if k >= 10.0 => Self::High,
            k if k >= 1.0 => Self::ModeratelyHigh,
            k if k >= 0.1 => Self::ModeratelyLow,
            k if k >= 0.01 => Self::Low,
            _ => Self::VeryLow,
        }
    }

    /// In lower-case words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::VeryLow => "very low",
            Self::Low => "low",
            Self::ModeratelyLow => "moderately low",
            Self::ModeratelyHigh => "moderately high",
            Self::High => "high",
            Self::VeryHigh => "very high",
        }
    }
}

/// Input of `ksat-class`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KsatClassInput {
    /// Saturated conductivity.
    pub conductivity_mm_h: Ksat,
}

/// Output of `ksat-class`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct KsatClassOutput {
    /// The class.
    pub class: KsatClass,
    /// The same conductivity as soil surveys print it.
    pub conductivity_um_s: f64,
    /// The same in the unit of sprinkler tables.
    pub conductivity_in_h: f64,
}

/// Class of saturated conductivity.
pub struct KsatClassMethod;

impl Method for KsatClassMethod {
    type Input = KsatClassInput;
    type Output = KsatClassOutput;

    const CARD: Card = Card {
        name: "ksat-class",
        title: "Class of saturated conductivity",
        topic: Topic::Water,
        computes: "Names how readily full ground passes water, in the words of soil surveys.",
        validity: &["A conductivity on a limit belongs to the faster class."],
        sources: &[Cite::new("SoilSurveyManual2017", "ch. 3, saturated hydraulic conductivity classes")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        KsatClassInput { conductivity_mm_h: Ksat::literal(15.5) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let conductivity = input.conductivity_mm_h.get();
        Ok(Answer::with_notes(
            KsatClassOutput {
                class: KsatClass::of(conductivity),
                conductivity_um_s: conductivity / MM_H_PER_UM_S,
                conductivity_in_h: conductivity / MM_PER_INCH,
            },
            vec![Note::new(
                NoteKind::Provenance,
                "The limits of the classes are recalled and were not read again.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "class",
                "limits at 0.01, 0.1, 1, 10 and 100 µm/s; 1 µm/s is 3.6 mm/h",
                format!(
                    "{} mm/h / 3.6 = {:.4} µm/s",
                    input.conductivity_mm_h.get(),
                    answer.value.conductivity_um_s
                ),
                answer.value.class.words(),
            )
            .cite(Self::CARD.sources[0])
    }
}
