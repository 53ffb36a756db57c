//! Grip of the ground on a straight shaft that is pulled up.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::quantities::{FrictionAngle, IgnoredTop, PostDepth, PostWidth, UndrainedStrength, UnitWeight};
use super::strength::{Strength, strength_of};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Pressure of the ground against the shaft over its weight above.
    pub struct EarthPressure: "earth pressure coefficient", "", 0.2 ..= 2.0, example 0.8;
    /// Friction of the ground on the shaft, tangent of its angle.
    pub struct ShaftFriction: "friction on the shaft", "", 0.05 ..= 1.0, example 0.4;
    /// Adhesion of clay to the shaft as a share of its strength.
    pub struct Adhesion: "adhesion factor", "", 0.1 ..= 1.0, example 0.5;
}

/// Top of clay that is never counted: it shrinks, is tilled or freezes. 1 ft, m.
pub const TOP_OF_CLAY_M: f64 = 0.3048;

/// How the shaft came into the ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Shaft {
    /// A post or tube driven in.
    Driven,
    /// Concrete poured against a bored hole.
    Bored,
}

impl Shaft {
    /// Earth pressure coefficient: low end of 0.8 to 1.0 driven, middle of 0.4 to 0.5 bored.
    #[must_use]
    pub fn earth_pressure(self) -> f64 {
        match self {
            Self::Driven => 0.8,
            Self::Bored => 0.45,
        }
    }

    /// Tangent of the friction on the shaft: three quarters of the ground's angle on steel, all of it on
    /// concrete poured in the ground.
    #[must_use]
    pub fn friction(self, friction_degrees: f64) -> f64 {
        let angle = match self {
            Self::Driven => 0.75 * friction_degrees,
            Self::Bored => friction_degrees,
        };
        libm::tan(angle.to_radians())
    }
}

/// Adhesion factor where nobody knows better, of 0.4 to 0.55.
pub const ADHESION: f64 = 0.45;

/// Grip of sand, kN: π B K tan δ γ (D² − z₀²) / 2, the top `ignored_top_m` left out.
#[must_use]
pub fn grip_of_sand(
    width_m: f64,
    depth_m: f64,
    ignored_top_m: f64,
    earth_pressure: f64,
    friction: f64,
    unit_weight_kn_m3: f64,
) -> f64 {
    let squares = (depth_m * depth_m - ignored_top_m * ignored_top_m).max(0.0);
    std::f64::consts::PI * width_m * earth_pressure * friction * unit_weight_kn_m3 * squares / 2.0
}

/// Grip of clay, kN: π B (D − z₀) α cu, at least the top [`TOP_OF_CLAY_M`] left out.
#[must_use]
pub fn grip_of_clay(
    width_m: f64,
    depth_m: f64,
    ignored_top_m: f64,
    adhesion: f64,
    undrained_kpa: f64,
) -> f64 {
    let length = (depth_m - ignored_top_m.max(TOP_OF_CLAY_M)).max(0.0);
    std::f64::consts::PI * width_m * length * adhesion * undrained_kpa
}

/// Grip of ground of either kind with the usual factors, kN.
#[must_use]
pub fn shaft_grip(shaft: Shaft, width_m: f64, depth_m: f64, ignored_top_m: f64, ground: Strength) -> f64 {
    match ground {
        Strength::Sand { unit_weight_kn_m3, friction_degrees } => grip_of_sand(
            width_m,
            depth_m,
            ignored_top_m,
            shaft.earth_pressure(),
            shaft.friction(friction_degrees),
            unit_weight_kn_m3,
        ),
        Strength::Clay { undrained_kpa, .. } => {
            grip_of_clay(width_m, depth_m, ignored_top_m, ADHESION, undrained_kpa)
        }
    }
}

/// Input of `shaft-uplift`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShaftUpliftInput {
    /// Driven or bored.
    pub shaft: Shaft,
    /// Outside diameter of the tube, post or collar.
    pub width_mm: PostWidth,
    /// Depth of its foot.
    pub depth_m: PostDepth,
    /// Ground at the top that is not counted; in clay never less than 0.3 m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ignored_top_m: Option<IgnoredTop>,
    /// Unit weight of the ground; buoyant below water.
    pub unit_weight_kn_m3: UnitWeight,
    /// Friction angle, of sand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub friction_angle_degrees: Option<FrictionAngle>,
    /// Undrained strength, of clay or silt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub undrained_strength_kpa: Option<UndrainedStrength>,
    /// Earth pressure coefficient, if known better.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub earth_pressure: Option<EarthPressure>,
    /// Friction on the shaft, if known better.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shaft_friction: Option<ShaftFriction>,
    /// Adhesion factor, if known better.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adhesion: Option<Adhesion>,
}

/// Output of `shaft-uplift`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ShaftUpliftOutput {
    /// Grip at which the shaft slides, kN.
    pub ultimate_kn: f64,
    /// A third of it, kN.
    pub allowable_kn: f64,
}

/// Uplift of a straight shaft.
pub struct ShaftUplift;

impl Method for ShaftUplift {
    type Input = ShaftUpliftInput;
    type Output = ShaftUpliftOutput;

    const CARD: Card = Card {
        name: "shaft-uplift",
        title: "Grip of the ground on a shaft",
        topic: Topic::Posts,
        computes: "How hard a bare driven tube or a straight concrete collar must be pulled before it slides up out \
                   of the ground. Often far less than people expect.",
        validity: &[
            "Even ground along the shaft. The weight of post and concrete comes on top; a cone of earth does not.",
            "In clay the top 0.3 m is never counted. Frost and wet seasons loosen the grip of every shaft.",
        ],
        sources: &[Cite::new("PileFriction", "shaft resistance by K tan δ and by adhesion")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        ShaftUpliftInput {
            shaft: Shaft::Driven,
            width_mm: PostWidth::literal(60.0),
            depth_m: PostDepth::literal(0.76),
            ignored_top_m: None,
            unit_weight_kn_m3: UnitWeight::literal(17.3),
            friction_angle_degrees: Some(FrictionAngle::literal(30.0)),
            undrained_strength_kpa: None,
            earth_pressure: None,
            shaft_friction: None,
            adhesion: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ground =
            strength_of(input.unit_weight_kn_m3, input.friction_angle_degrees, input.undrained_strength_kpa)?;
        let (width, depth) = (input.width_mm.get() / 1000.0, input.depth_m.get());
        let top = input.ignored_top_m.map_or(0.0, Bounded::get);
        let ultimate_kn = match ground {
            Strength::Sand { unit_weight_kn_m3, friction_degrees } => grip_of_sand(
                width,
                depth,
                top,
                input.earth_pressure.map_or(input.shaft.earth_pressure(), Bounded::get),
                input.shaft_friction.map_or_else(|| input.shaft.friction(friction_degrees), Bounded::get),
                unit_weight_kn_m3,
            ),
            Strength::Clay { undrained_kpa, .. } => {
                grip_of_clay(width, depth, top, input.adhesion.map_or(ADHESION, Bounded::get), undrained_kpa)
            }
        };
        let notes = vec![Note::new(
            NoteKind::Provenance,
            "Earth pressure, friction and adhesion on shafts are recalled textbook ranges; no pull tests on tunnel posts are known to us, so a third of the answer is used.",
        )];
        Ok(Answer::with_notes(ShaftUpliftOutput { ultimate_kn, allowable_kn: ultimate_kn / 3.0 }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let rule = if input.undrained_strength_kpa.is_some() {
            "π B (D − z₀) α cu, z₀ the top that is not counted, 0.3 m or more"
        } else {
            "π B K tan δ γ (D² − z₀²) / 2"
        };
        Working::new()
            .step(
                "grip on the shaft",
                rule,
                format!("B = {} mm, D = {} m", input.width_mm.get(), input.depth_m.get()),
                format!("{:.2} kN", answer.value.ultimate_kn),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "to be counted on",
                "grip / 3, as everything is estimated",
                format!("{:.2} / 3", answer.value.ultimate_kn),
                format!("{:.2} kN", answer.value.allowable_kn),
            )
    }
}
