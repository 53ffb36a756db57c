//! From one form of curve to the other, as a method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::convert;
use super::parameters::{Alpha, Bubbling, PoreIndex, Steepness};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Input of `retention-convert`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ConvertQuestion {
    /// The curve to convert.
    pub from: ConvertFrom,
}

/// The curve to convert.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ConvertFrom {
    /// Van Genuchten's.
    VanGenuchten(VanGenuchtenShape),
    /// Brooks and Corey's.
    BrooksCorey(BrooksCoreyShape),
}

/// Shape of van Genuchten's curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VanGenuchtenShape {
    /// α.
    pub alpha_per_cm: Alpha,
    /// n.
    pub n: Steepness,
}

/// Shape of Brooks and Corey's curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BrooksCoreyShape {
    /// Bubbling suction.
    pub bubbling_cm: Bubbling,
    /// λ.
    pub lambda: PoreIndex,
}

/// The same curve in the other form.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// Van Genuchten's form.
    VanGenuchten {
        /// α.
        alpha_per_cm: f64,
        /// n.
        n: f64,
    },
    /// Brooks and Corey's form.
    BrooksCorey {
        /// Bubbling suction.
        bubbling_cm: f64,
        /// λ.
        lambda: f64,
    },
}

impl Shape {
    fn words(&self) -> String {
        match self {
            Self::VanGenuchten { alpha_per_cm, n } => format!("α {alpha_per_cm:.5} /cm, n {n:.4}"),
            Self::BrooksCorey { bubbling_cm, lambda } => format!("ψb {bubbling_cm:.3} cm, λ {lambda:.4}"),
        }
    }
}

/// Output of `retention-convert`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ConvertAnswer {
    /// α = 1/ψb and n = λ + 1.
    pub simple: Shape,
    /// By Lenhard, Parker and Mishra 1989; null where no curve matches.
    pub lenhard: Option<Shape>,
    /// By Morel-Seytoux and others 1996, who keep the capillary drive.
    pub capillary_drive: Option<Shape>,
    /// Capillary drive of the curve given.
    pub capillary_drive_cm: f64,
}

/// Conversion between the two forms.
pub struct RetentionConvert;

impl Method for RetentionConvert {
    type Input = ConvertQuestion;
    type Output = ConvertAnswer;

    const CARD: Card = Card {
        name: "retention-convert",
        title: "From van Genuchten to Brooks and Corey, and back",
        topic: Topic::Water,
        computes: "Turns the shape of one curve into the other by three published ways, so that parameters of one \
                   table can be used where a method asks for the other form.",
        validity: &[
            "The forms differ near saturation; no conversion is exact there.",
            "For infiltration take the one that keeps the capillary drive; for drained ground Lenhard's.",
        ],
        sources: &[
            Cite::new("Lenhard1989", "parameter correspondence"),
            Cite::new("MorelSeytoux1996", "capillary drive"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let shape = VanGenuchtenShape { alpha_per_cm: Alpha::literal(0.036), n: Steepness::literal(1.56) };
        ConvertQuestion { from: ConvertFrom::VanGenuchten(shape) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let corey = |(bubbling_cm, lambda)| Shape::BrooksCorey { bubbling_cm, lambda };
        let genuchten = |(alpha_per_cm, n)| Shape::VanGenuchten { alpha_per_cm, n };
        let value = match input.from {
            ConvertFrom::VanGenuchten(shape) => {
                let (alpha, n) = (shape.alpha_per_cm.get(), shape.n.get());
                ConvertAnswer {
                    simple: corey(convert::simple_to_brooks_corey(alpha, n)),
                    lenhard: Some(corey(convert::lenhard_to_brooks_corey(alpha, n))),
                    capillary_drive: convert::drive_to_brooks_corey(alpha, n).map(corey),
                    capillary_drive_cm: convert::drive_of_van_genuchten(alpha, n),
                }
            }
            ConvertFrom::BrooksCorey(shape) => {
                let (bubbling, lambda) = (shape.bubbling_cm.get(), shape.lambda.get());
                ConvertAnswer {
                    simple: genuchten(convert::simple_to_van_genuchten(bubbling, lambda)),
                    lenhard: convert::lenhard_to_van_genuchten(bubbling, lambda).map(genuchten),
                    capillary_drive: Some(genuchten(convert::drive_to_van_genuchten(bubbling, lambda))),
                    capillary_drive_cm: convert::drive_of_brooks_corey(bubbling, lambda),
                }
            }
        };
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "The equations are recalled and were not read again; the drive was checked against its integral.",
        )];
        if value.lenhard.is_none() {
            notes
                .push(Note::new(NoteKind::NoValue, "No n from 1.01 to 20 has this lambda by Lenhard's way."));
        }
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let given = match input.from {
            ConvertFrom::VanGenuchten(shape) => {
                format!("α {} /cm, n {}", shape.alpha_per_cm.get(), shape.n.get())
            }
            ConvertFrom::BrooksCorey(shape) => {
                format!("ψb {} cm, λ {}", shape.bubbling_cm.get(), shape.lambda.get())
            }
        };
        let mut working =
            Working::new().step("simple", "ψb = 1/α, λ = n − 1", given.clone(), answer.value.simple.words());
        if let Some(shape) = answer.value.lenhard {
            working = working
                .step(
                    "by Lenhard",
                    "λ = m/(1−m) (1 − 0.5^(1/m)); Sx = 0.72 − 0.35 e^(−n⁴); ψb = (1/α) Sx^(1/λ) (Sx^(−1/m) − 1)^(1−m)",
                    given.clone(),
                    shape.words(),
                )
                .cite(Self::CARD.sources[0]);
        }
        working = working
            .step(
                "capillary drive",
                "van Genuchten: (0.046 m + 2.07 m² + 19.5 m³) / (α (1 + 4.7 m + 16 m²)); Brooks-Corey: ψb (2 + 3λ)/(1 + 3λ)",
                given.clone(),
                format!("{:.3} cm", answer.value.capillary_drive_cm),
            )
            .cite(Self::CARD.sources[1]);
        if let Some(shape) = answer.value.capillary_drive {
            working = working
                .step("same capillary drive", "equal drive, and 3 + 2/λ = 1 + 2/m", given, shape.words())
                .cite(Self::CARD.sources[1]);
        }
        working
    }
}
