//! How a trench must be sloped before anyone steps into it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::excavation::{BottomSide, DigDepth};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::posts::cautions;
use crate::texture::Class;

/// Depth from which every trench needs protection, 5 ft.
pub const PROTECT_FROM_M: f64 = 1.524;
/// Depth from which a ladder is needed, 4 ft.
pub const LADDER_FROM_M: f64 = 1.2192;

/// Type of ground for excavations. A farm tool never gives type A.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TrenchType {
    /// Silt, loams, clays that were ever disturbed.
    B,
    /// Sand, loamy sand, gravel, anything with water seeping in.
    C,
}

impl TrenchType {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::B => "type B",
            Self::C => "type C",
        }
    }
}

impl TrenchType {
    /// Type of ground, for hot paths.
    #[must_use]
    pub fn of(class: Class, mostly_gravel: bool, seepage: bool) -> Self {
        let loose = mostly_gravel || matches!(class, Class::Sand | Class::LoamySand);
        if loose || seepage { Self::C } else { Self::B }
    }

    /// Steepest slope, horizontal for one vertical.
    #[must_use]
    pub fn slope(self) -> f64 {
        match self {
            Self::B => 1.0,
            Self::C => 1.5,
        }
    }
}

/// Input of `trench-slope`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TrenchInput {
    /// Texture class of the weakest layer that is cut.
    pub texture: Class,
    /// It is mostly gravel.
    #[serde(default)]
    pub mostly_gravel: bool,
    /// Water seeps in, or the ground is soaked.
    #[serde(default)]
    pub seepage: bool,
    /// Depth.
    pub depth_m: DigDepth,
    /// Width of the bottom.
    pub bottom_width_m: BottomSide,
}

/// Output of `trench-slope`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct TrenchOutput {
    /// Type of ground.
    pub trench_type: TrenchType,
    /// Steepest slope of the sides, horizontal for one vertical.
    pub slope: f64,
    /// The same from level.
    pub angle_degrees: f64,
    /// Width at the top, m.
    pub top_width_m: f64,
    /// Protection is required by its depth alone.
    pub protection_required: bool,
    /// A ladder within 7.6 m of everyone in it is required.
    pub ladder_required: bool,
}

/// Slope of a trench.
pub struct TrenchSlope;

impl Method for TrenchSlope {
    type Input = TrenchInput;
    type Output = TrenchOutput;

    const CARD: Card = Card {
        name: "trench-slope",
        title: "Slope of a trench",
        topic: Topic::Earthworks,
        computes: "How flat the sides of a trench must be laid back, how wide it becomes at the top, and from what depth \
                   the law asks for protection.",
        validity: &[
            "Farm ground is taken as type B or C, never A: it is tilled or was disturbed.",
            "A competent person on the spot classifies the ground, by at least one look and one test by hand, and again after rain.",
            "Up to 6 m; deeper work needs an engineer.",
        ],
        sources: &[Cite::new("OshaSubpartP", "appendices A and B")],
        cautions: cautions::EARTHWORKS,
    };

    fn example() -> Self::Input {
        TrenchInput {
            texture: Class::SandyLoam,
            mostly_gravel: false,
            seepage: false,
            depth_m: DigDepth::literal(1.5),
            bottom_width_m: BottomSide::literal(0.6),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let kind = TrenchType::of(input.texture, input.mostly_gravel, input.seepage);
        let depth = input.depth_m.get();
        let mut notes = Vec::new();
        let protection_required = depth >= PROTECT_FROM_M;
        if !protection_required {
            notes.push(Note::new(
                NoteKind::Safety,
                "Below 1.5 m of depth protection is still required wherever a competent person sees any sign of caving in.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Safety,
            "Keep spoil 0.6 m or more from the edge, machines further, and nobody alone in the trench.",
        ));
        Ok(Answer::with_notes(
            TrenchOutput {
                trench_type: kind,
                slope: kind.slope(),
                angle_degrees: libm::atan(1.0 / kind.slope()).to_degrees(),
                top_width_m: input.bottom_width_m.get() + 2.0 * kind.slope() * depth,
                protection_required,
                ladder_required: depth >= LADDER_FROM_M,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "type of ground",
                "C: sand, loamy sand, gravel, any seepage; B otherwise",
                input.texture.name(),
                value.trench_type.words(),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "width at the top",
                "bottom + 2 × slope × depth",
                format!("{} + 2 × {} × {}", input.bottom_width_m.get(), value.slope, input.depth_m.get()),
                format!("{:.2} m", value.top_width_m),
            )
            .cite(Self::CARD.sources[0])
    }
}
