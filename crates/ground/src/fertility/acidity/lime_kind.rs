//! Dolomitic or calcitic limestone, by magnesium.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Magnesium of a soil test.
    pub struct SoilMagnesium: "magnesium", "ppm", 0.0 ..= 5000.0, example 80.0;
    /// Share of the exchange sites that hold magnesium.
    pub struct MagnesiumSaturation: "magnesium saturation", "%", 0.0 ..= 100.0, example 12.0;
}

/// Magnesium below which dolomitic lime is advised, ppm (Ontario).
const LOW_PPM: f64 = 100.0;
/// Magnesium saturation from which dolomite is not repeated, percent (common practice: 20 to 25).
const HIGH_SATURATION: f64 = 20.0;

/// The kind of limestone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LimeKind {
    /// With magnesium (6 % or more).
    Dolomitic,
    /// With calcium alone.
    Calcitic,
    /// Either: magnesium was not measured.
    Either,
}

impl LimeKind {
    /// From a soil test; saturation outweighs the plain figure.
    #[must_use]
    pub fn of(magnesium_ppm: Option<f64>, saturation_percent: Option<f64>) -> Self {
        if saturation_percent.is_some_and(|share| share >= HIGH_SATURATION) {
            return Self::Calcitic;
        }
        match magnesium_ppm {
            Some(ppm) if ppm < LOW_PPM => Self::Dolomitic,
            Some(_) => Self::Calcitic,
            None => Self::Either,
        }
    }

    /// As advice.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Dolomitic => "dolomitic limestone (6 % magnesium or more), since magnesium is low",
            Self::Calcitic => "calcitic limestone: magnesium is not short",
            Self::Either => "either kind: magnesium was not measured. Ask for it, most of all on sand",
        }
    }
}

/// Input of `lime-kind`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LimeKindInput {
    /// Magnesium of the soil test.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub magnesium_ppm: Option<SoilMagnesium>,
    /// Magnesium saturation.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub magnesium_saturation_percent: Option<MagnesiumSaturation>,
}

/// Output of `lime-kind`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct LimeKindOutput {
    /// The kind.
    pub kind: LimeKind,
    /// As advice.
    pub words: String,
}

/// Which limestone.
pub struct LimeKindMethod;

impl Method for LimeKindMethod {
    type Input = LimeKindInput;
    type Output = LimeKindOutput;

    const CARD: Card = Card {
        name: "lime-kind",
        title: "Dolomitic or calcitic lime",
        topic: Topic::Fertility,
        computes: "Whether to lime with magnesium or without, by the magnesium of the soil test.",
        validity: &[
            "Below 100 ppm dolomitic lime is advised (Ontario; ammonium acetate). On sands North Carolina advises it as a rule.",
            "From a magnesium saturation of 20 % on dolomite is not repeated (common practice).",
        ],
        sources: &[
            Cite::new("OntarioLime", "magnesium below 100 ppm"),
            Cite::new("NorthCarolinaLime", "dolomitic lime on sands"),
        ],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        LimeKindInput {
            magnesium_ppm: Some(SoilMagnesium::literal(80.0)),
            magnesium_saturation_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let kind = LimeKind::of(
            input.magnesium_ppm.map(Bounded::get),
            input.magnesium_saturation_percent.map(Bounded::get),
        );
        let note = Note::new(
            NoteKind::Provenance,
            "The 100 ppm were read; the 20 % saturation is common practice, no source.",
        );
        Ok(Answer::with_notes(LimeKindOutput { kind, words: kind.words().to_owned() }, vec![note]))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let told = |value: Option<f64>, unit: &str| {
            value.map_or("not measured".to_owned(), |value| format!("{} {unit}", number(value)))
        };
        Working::new()
            .step(
                "kind of lime",
                "saturation 20 % or more: calcitic; magnesium below 100 ppm: dolomitic; else calcitic",
                format!(
                    "magnesium {}, saturation {}",
                    told(input.magnesium_ppm.map(Bounded::get), "ppm"),
                    told(input.magnesium_saturation_percent.map(Bounded::get), "%")
                ),
                answer.value.words.clone(),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn saturation_outweighs_the_plain_figure() {
        assert_eq!(LimeKind::of(Some(80.0), None), LimeKind::Dolomitic);
        assert_eq!(LimeKind::of(Some(80.0), Some(22.0)), LimeKind::Calcitic);
        assert_eq!(LimeKind::of(Some(100.0), None), LimeKind::Calcitic);
        assert_eq!(LimeKind::of(None, None), LimeKind::Either);
    }
}
