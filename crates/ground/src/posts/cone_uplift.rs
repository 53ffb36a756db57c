//! Weight of the cone of earth that a bell or plate lifts.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::quantities::{PostDepth, PostWidth, UnitWeight};
use super::strength::Strength;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Ground above a bell or plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ConeGround {
    /// Undisturbed sand and gravel: the cone leans out 20°.
    Sand,
    /// Undisturbed clay and silt: 30°.
    Clay,
    /// Loose backfill: no cone, the cylinder above the plate alone.
    LooseBackfill,
}

impl ConeGround {
    /// Lean of the cone from upright.
    #[must_use]
    pub fn lean_degrees(self) -> f64 {
        match self {
            Self::Sand => 20.0,
            Self::Clay => 30.0,
            Self::LooseBackfill => 0.0,
        }
    }
}

impl From<Strength> for ConeGround {
    fn from(ground: Strength) -> Self {
        match ground {
            Strength::Sand { .. } => Self::Sand,
            Strength::Clay { .. } => Self::Clay,
        }
    }
}

/// Volume of the cone above a round plate, the shaft taken out, m³.
#[must_use]
pub fn cone_volume(plate_m: f64, shaft_m: f64, depth_m: f64, lean_degrees: f64) -> f64 {
    let foot = plate_m / 2.0;
    let top = foot + depth_m * libm::tan(lean_degrees.to_radians());
    let cone = std::f64::consts::PI * depth_m / 3.0 * (foot * foot + foot * top + top * top);
    cone - std::f64::consts::FRAC_PI_4 * shaft_m * shaft_m * depth_m
}

/// Input of `cone-uplift`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ConeUpliftInput {
    /// Diameter of the bell or plate.
    pub plate_mm: PostWidth,
    /// Diameter of the shaft that goes up from it; less than the plate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shaft_mm: Option<PostWidth>,
    /// Depth of the plate.
    pub depth_m: PostDepth,
    /// Ground above it.
    pub ground: ConeGround,
    /// Its unit weight; buoyant below water.
    pub unit_weight_kn_m3: UnitWeight,
}

/// Output of `cone-uplift`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ConeUpliftOutput {
    /// Earth that is lifted, m³.
    pub volume_m3: f64,
    /// Its weight, kN.
    pub ultimate_kn: f64,
    /// A third of it, kN.
    pub allowable_kn: f64,
}

/// Uplift by a cone of earth.
pub struct ConeUplift;

impl Method for ConeUplift {
    type Input = ConeUpliftInput;
    type Output = ConeUpliftOutput;

    const CARD: Card = Card {
        name: "cone-uplift",
        title: "Cone of earth on a bell or plate",
        topic: Topic::Posts,
        computes: "The weight of earth that a belled footing or a buried plate must lift before it comes out.",
        validity: &[
            "Bells and plates only: a straight shaft lifts no cone. Never add it to friction on a shaft.",
            "Neighbours closer than their cones share the same earth.",
        ],
        sources: &[Cite::new("Is4091", "uplift by a frustum of earth")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        ConeUpliftInput {
            plate_mm: PostWidth::literal(450.0),
            shaft_mm: Some(PostWidth::literal(200.0)),
            depth_m: PostDepth::literal(1.0),
            ground: ConeGround::Sand,
            unit_weight_kn_m3: UnitWeight::literal(17.3),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let shaft = input.shaft_mm.map_or(0.0, Bounded::get);
        if shaft >= input.plate_mm.get() {
            return Err(Refusal::new(
                "shaft_mm",
                "the shaft must be narrower than the bell or plate; a straight shaft lifts no cone",
            )
            .given(format!("{shaft} mm above a plate of {} mm", input.plate_mm.get()))
            .accepted(format!("less than {} mm", input.plate_mm.get()))
            .example("200 mm"));
        }
        let volume_m3 = cone_volume(
            input.plate_mm.get() / 1000.0,
            shaft / 1000.0,
            input.depth_m.get(),
            input.ground.lean_degrees(),
        );
        let ultimate_kn = volume_m3 * input.unit_weight_kn_m3.get();
        let notes = vec![Note::new(
            NoteKind::Provenance,
            "The lean of the cone, 20° in sand and 30° in clay, is recalled from transmission-line practice.",
        )];
        Ok(Answer::with_notes(
            ConeUpliftOutput { volume_m3, ultimate_kn, allowable_kn: ultimate_kn / 3.0 },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "earth that is lifted",
                "π D/3 (R² + R T + T²) less the shaft, T = R + D tan ψ",
                format!(
                    "D = {} m, R = {} mm, ψ = {}°",
                    input.depth_m.get(),
                    input.plate_mm.get() / 2.0,
                    input.ground.lean_degrees()
                ),
                format!("{:.3} m³", answer.value.volume_m3),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "its weight",
                "volume × unit weight",
                format!("{:.3} × {}", answer.value.volume_m3, input.unit_weight_kn_m3.get()),
                format!("{:.2} kN", answer.value.ultimate_kn),
            )
    }
}
