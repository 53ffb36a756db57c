//! Pull that a post with its foot holds: weight, and the least of what the ground may add.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::cone_uplift::{ConeGround, cone_volume};
use super::plate_breakout::{Plan, plate_breakout};
use super::quantities::{
    CollarDiameter, DeadWeight, FrictionAngle, IgnoredTop, PostDepth, PostWidth, UndrainedStrength,
    UnitWeight,
};
use super::shaft_uplift::{Shaft, shaft_grip};
use super::strength::{CONCRETE_KN_M3, Strength, WATER_KN_M3, strength_of};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Part of a dead weight that may be counted on against wind.
pub const WEIGHT_COUNTED: f64 = 0.6;
/// Factor on what the ground adds when everything is estimated.
pub const GROUND_FACTOR: f64 = 3.0;

/// What stands in the ground, for hot paths. Widths in m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Foot {
    /// A bare tube or post, driven.
    Driven {
        /// Its diameter.
        width_m: f64,
    },
    /// A straight concrete collar.
    Collar {
        /// Its diameter.
        width_m: f64,
    },
    /// A shaft with a bell or plate at its foot.
    Belled {
        /// Diameter of the bell.
        bell_m: f64,
        /// Diameter of the concrete shaft above it.
        shaft_m: f64,
    },
}

/// What limits the ground's part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// Grip on the shaft.
    ShaftGrip,
    /// The cone of earth above the bell.
    Cone,
    /// Breaking out above the bell.
    Breakout,
}

impl Limit {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::ShaftGrip => "grip on the shaft",
            Self::Cone => "the cone of earth above the bell",
            Self::Breakout => "breaking out above the bell",
        }
    }
}

/// What the ground adds at most, kN, and what limits it: the least of the ways that apply, never a sum.
#[must_use]
pub fn ground_hold(foot: Foot, depth_m: f64, ignored_top_m: f64, ground: Strength) -> (f64, Limit) {
    match foot {
        Foot::Driven { width_m } => {
            (shaft_grip(Shaft::Driven, width_m, depth_m, ignored_top_m, ground), Limit::ShaftGrip)
        }
        Foot::Collar { width_m } => {
            (shaft_grip(Shaft::Bored, width_m, depth_m, ignored_top_m, ground), Limit::ShaftGrip)
        }
        Foot::Belled { bell_m, shaft_m } => {
            let lean = ConeGround::from(ground).lean_degrees();
            let depth = (depth_m - ignored_top_m).max(0.0);
            let cone = cone_volume(bell_m, shaft_m, depth, lean) * ground.unit_weight();
            let breakout = plate_breakout(Plan::Round, bell_m, depth, ground).0;
            if cone <= breakout { (cone, Limit::Cone) } else { (breakout, Limit::Breakout) }
        }
    }
}

/// Weight of the concrete, kN; buoyant below water. A bell is counted as a shaft: its flare is small.
#[must_use]
pub fn concrete_weight(foot: Foot, depth_m: f64, below_water: bool) -> f64 {
    let width = match foot {
        Foot::Driven { .. } => return 0.0,
        Foot::Collar { width_m } => width_m,
        Foot::Belled { shaft_m, .. } => shaft_m,
    };
    let unit = if below_water { CONCRETE_KN_M3 - WATER_KN_M3 } else { CONCRETE_KN_M3 };
    Plan::Round.area_m2(width) * depth_m * unit
}

/// Pull that may be counted on: 0.6 of the weight and a third of the ground's part, kN.
#[must_use]
pub fn allowable_pull(weight_kn: f64, ground_kn: f64) -> f64 {
    WEIGHT_COUNTED * weight_kn + ground_kn / GROUND_FACTOR
}

/// What the foot is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FootKind {
    /// A bare tube or post, driven.
    Driven,
    /// A straight concrete collar.
    Collar,
    /// A concrete shaft with a bell at its foot.
    Belled,
}

/// Input of `post-uplift`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PostUpliftInput {
    /// What the foot is.
    pub foot: FootKind,
    /// Diameter of the post or tube.
    pub post_width_mm: PostWidth,
    /// Diameter of the collar, or of the shaft above the bell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub collar_diameter_mm: Option<CollarDiameter>,
    /// Diameter of the bell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bell_diameter_mm: Option<CollarDiameter>,
    /// Depth of the foot.
    pub depth_m: PostDepth,
    /// Ground at the top that is not counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ignored_top_m: Option<IgnoredTop>,
    /// Weight of the post itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub post_weight_kn: Option<DeadWeight>,
    /// Unit weight of the ground; buoyant below water.
    pub unit_weight_kn_m3: UnitWeight,
    /// Friction angle, of sand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub friction_angle_degrees: Option<FrictionAngle>,
    /// Undrained strength, of clay or silt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub undrained_strength_kpa: Option<UndrainedStrength>,
    /// The water table stands above the foot.
    #[serde(default)]
    pub below_water: bool,
}

/// Output of `post-uplift`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PostUpliftOutput {
    /// Weight of post and concrete, kN.
    pub weight_kn: f64,
    /// What the ground adds at most, kN.
    pub ground_kn: f64,
    /// What limits it.
    pub limited_by: Limit,
    /// Pull that may be counted on, kN.
    pub allowable_kn: f64,
    /// Pull at which it is likely to come up, kN.
    pub ultimate_kn: f64,
}

/// Uplift of a post.
pub struct PostUplift;

impl PostUpliftInput {
    fn foot(&self) -> Result<Foot, Refusal> {
        let missing = |field: &str, what: &str| {
            Refusal::new(field, format!("{what} is needed for this foot"))
                .given("nothing")
                .accepted("50 to 1500 mm")
                .example("300 mm")
        };
        let width_m = self.post_width_mm.get() / 1000.0;
        let collar = || {
            let collar = self
                .collar_diameter_mm
                .ok_or_else(|| missing("collar_diameter_mm", "the diameter of the collar"))?;
            if collar.get() / 1000.0 <= width_m {
                return Err(Refusal::new("collar_diameter_mm", "the collar must go round the post")
                    .given(format!("{} mm round a post of {} mm", collar.get(), self.post_width_mm.get()))
                    .accepted(format!("more than {} mm", self.post_width_mm.get()))
                    .example("300 mm"));
            }
            Ok(collar.get() / 1000.0)
        };
        Ok(match self.foot {
            FootKind::Driven => Foot::Driven { width_m },
            FootKind::Collar => Foot::Collar { width_m: collar()? },
            FootKind::Belled => {
                let shaft_m = collar()?;
                let bell = self
                    .bell_diameter_mm
                    .ok_or_else(|| missing("bell_diameter_mm", "the diameter of the bell"))?;
                if bell.get() / 1000.0 <= shaft_m {
                    return Err(Refusal::new(
                        "bell_diameter_mm",
                        "the bell must be wider than the shaft above it",
                    )
                    .given(format!("{} mm", bell.get()))
                    .accepted(format!("more than {} mm", 1000.0 * shaft_m))
                    .example("450 mm"));
                }
                Foot::Belled { bell_m: bell.get() / 1000.0, shaft_m }
            }
        })
    }
}

impl Method for PostUplift {
    type Input = PostUpliftInput;
    type Output = PostUpliftOutput;

    const CARD: Card = Card {
        name: "post-uplift",
        title: "Pull that a post holds",
        topic: Topic::Posts,
        computes: "The upward pull that a bare driven tube, a concrete collar or a belled footing holds: its weight, and \
                   the least of what the ground may add.",
        validity: &[
            "Six tenths of the weight and a third of the ground's part may be counted on; only the weight is sure.",
            "Loose backfill, frost and a soaked top take away much of the ground's part.",
        ],
        sources: &[
            Cite::new("PileFriction", "shaft resistance by K tan δ and by adhesion"),
            Cite::new("MeyerhofAdams1968", "breakout in sand"),
            Cite::new("Meyerhof1973", "breakout in clay"),
            Cite::new("Is4091", "uplift by a frustum of earth"),
            Cite::new("Asce7", "0.6 D + 0.6 W"),
        ],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        PostUpliftInput {
            foot: FootKind::Collar,
            post_width_mm: PostWidth::literal(60.0),
            collar_diameter_mm: Some(CollarDiameter::literal(300.0)),
            bell_diameter_mm: None,
            depth_m: PostDepth::literal(0.9),
            ignored_top_m: None,
            post_weight_kn: None,
            unit_weight_kn_m3: UnitWeight::literal(17.3),
            friction_angle_degrees: Some(FrictionAngle::literal(30.0)),
            undrained_strength_kpa: None,
            below_water: false,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let foot = input.foot()?;
        let ground =
            strength_of(input.unit_weight_kn_m3, input.friction_angle_degrees, input.undrained_strength_kpa)?;
        let depth = input.depth_m.get();
        let (ground_kn, limited_by) =
            ground_hold(foot, depth, input.ignored_top_m.map_or(0.0, Bounded::get), ground);
        let weight_kn =
            concrete_weight(foot, depth, input.below_water) + input.post_weight_kn.map_or(0.0, Bounded::get);
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "What the ground adds rests on recalled textbook factors and on an estimated strength: hence a third of it.",
        )];
        if input.foot != FootKind::Driven {
            notes.push(Note::new(NoteKind::Safety, cautions::COLLAR));
        }
        if input.foot == FootKind::Driven && ground_kn / GROUND_FACTOR < 0.5 {
            notes.push(Note::new(
                NoteKind::Method,
                "A plain driven post holds very little against being pulled up: wind loads on a tunnel often ask for many times this.",
            ));
        }
        Ok(Answer::with_notes(
            PostUpliftOutput {
                weight_kn,
                ground_kn,
                limited_by,
                allowable_kn: allowable_pull(weight_kn, ground_kn),
                ultimate_kn: weight_kn + ground_kn,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let (rule, source) = match value.limited_by {
            Limit::ShaftGrip => {
                ("grip on the shaft: π B K tan δ γ (D² − z₀²)/2 in sand, π B (D − z₀) α cu in clay", 0)
            }
            Limit::Breakout if input.undrained_strength_kpa.is_some() => ("area × (γ D + cu × factor)", 2),
            Limit::Breakout => ("factor × area × γ D", 1),
            Limit::Cone => ("weight of the cone of earth above the bell", 3),
        };
        Working::new()
            .step(
                "weight of post and concrete",
                "volume × 22.78 kN/m³ (less 9.81 below water) + post",
                format!("depth {} m", input.depth_m.get()),
                format!("{:.2} kN", value.weight_kn),
            )
            .step(
                "what the ground adds",
                rule,
                format!("depth {} m", input.depth_m.get()),
                format!("{:.2} kN", value.ground_kn),
            )
            .cite(Self::CARD.sources[source])
            .step(
                "to be counted on",
                "0.6 × weight + ground / 3",
                format!("0.6 × {:.2} + {:.2} / 3", value.weight_kn, value.ground_kn),
                format!("{:.2} kN", value.allowable_kn),
            )
            .cite(Self::CARD.sources[4])
    }
}
