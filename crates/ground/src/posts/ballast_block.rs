//! A concrete block on the ground that keeps a post from tipping by its weight alone.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::quantities::{DeadWeight, LateralLoad, LoadHeight, UnitWeight};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Side of a block.
    pub struct BlockSide: "side of the block", "m", 0.1 ..= 5.0, example 0.8;
    /// Downward pressure that the ground may bear.
    pub struct BearingPressure: "bearing pressure", "kPa", 10.0 ..= 600.0, example 72.0;
}

/// How a block stands under a tipping moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// How far the weight acts off the middle.
    pub eccentricity_m: f64,
    /// Pressure under the edge that is pressed down; not finite once the block tips.
    pub toe_kpa: f64,
    /// Moment that tips it over.
    pub tipping_kn_m: f64,
}

/// A block of `length_m` across the force and `width_m` along it, under weight and moment.
#[must_use]
pub fn standing(weight_kn: f64, moment_kn_m: f64, length_m: f64, width_m: f64) -> Standing {
    let eccentricity_m = moment_kn_m / weight_kn;
    let toe_kpa = if eccentricity_m <= width_m / 6.0 {
        weight_kn / (length_m * width_m) * (1.0 + 6.0 * eccentricity_m / width_m)
    } else if eccentricity_m < width_m / 2.0 {
        2.0 * weight_kn / (3.0 * length_m * (width_m / 2.0 - eccentricity_m))
    } else {
        f64::INFINITY
    };
    Standing { eccentricity_m, toe_kpa, tipping_kn_m: weight_kn * width_m / 2.0 }
}

/// One sideways force.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SidewaysForce {
    /// Force.
    pub force_kn: LateralLoad,
    /// Height above the ground.
    pub height_m: LoadHeight,
}

/// Input of `ballast-block`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BallastInput {
    /// Sideways forces, working values.
    pub forces: Vec<SidewaysForce>,
    /// Side of the block along the force.
    pub width_m: BlockSide,
    /// Side across it.
    pub length_m: BlockSide,
    /// Height of the block.
    pub height_m: BlockSide,
    /// Unit weight of the concrete.
    pub unit_weight_kn_m3: UnitWeight,
    /// Weight of what stands on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dead_weight_kn: Option<DeadWeight>,
    /// Downward pressure that the ground may bear, by its building class.
    pub bearing_kpa: BearingPressure,
}

/// Output of `ballast-block`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct BallastOutput {
    /// Weight, kN.
    pub weight_kn: f64,
    /// Tipping moment, kN·m.
    pub moment_kn_m: f64,
    /// How far the weight acts off the middle, m.
    pub eccentricity_m: f64,
    /// Pressure under the edge, kPa; `null` when the block tips.
    pub toe_kpa: Option<f64>,
    /// Moment that may be counted on, with a margin of 1.5, kN·m.
    pub allowable_kn_m: f64,
    /// Neither tipping nor the ground under the edge fails.
    pub holds: bool,
}

/// Ballast block.
pub struct BallastBlock;

/// Margin against tipping.
const MARGIN: f64 = 1.5;

impl Method for BallastBlock {
    type Input = BallastInput;
    type Output = BallastOutput;

    const CARD: Card = Card {
        name: "ballast-block",
        title: "Ballast block on the ground",
        topic: Topic::Posts,
        computes: "Whether a concrete block that lies on the ground keeps a post from tipping, and how hard its edge \
                   presses the ground.",
        validity: &[
            "Level, firm ground; no help from ground beside the block. Sliding is to be checked for itself.",
            "Pressure under the edge by the straight-line rule, with part of the block lifted where it must be.",
        ],
        sources: &[Cite::new("PermitSheets", "document 166215, p. 9")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        BallastInput {
            forces: vec![SidewaysForce {
                force_kn: LateralLoad::literal(1.758),
                height_m: LoadHeight::literal(1.524),
            }],
            width_m: BlockSide::literal(0.786),
            length_m: BlockSide::literal(0.786),
            height_m: BlockSide::literal(0.762),
            unit_weight_kn_m3: UnitWeight::literal(23.56),
            dead_weight_kn: Some(DeadWeight::literal(0.89)),
            bearing_kpa: BearingPressure::literal(95.8),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (width, length) = (input.width_m.get(), input.length_m.get());
        let weight_kn = width * length * input.height_m.get() * input.unit_weight_kn_m3.get()
            + input.dead_weight_kn.map_or(0.0, Bounded::get);
        let moment: f64 = input.forces.iter().map(|force| force.force_kn.get() * force.height_m.get()).sum();
        let stands = standing(weight_kn, moment, length, width);
        let allowable_kn_m = stands.tipping_kn_m / MARGIN;
        let holds = moment <= allowable_kn_m && stands.toe_kpa <= input.bearing_kpa.get();
        Ok(Answer::with_notes(
            BallastOutput {
                weight_kn,
                moment_kn_m: moment,
                eccentricity_m: stands.eccentricity_m,
                toe_kpa: stands.toe_kpa.is_finite().then_some(stands.toe_kpa),
                allowable_kn_m,
                holds,
            },
            vec![Note::new(
                NoteKind::Method,
                "A block that lies on tilled or soft ground sinks at its edge and leans.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "tipping moment",
                "sum of force × height",
                format!("{} forces", input.forces.len()),
                format!("{:.2} kN·m", value.moment_kn_m),
            )
            .step(
                "moment to be counted on",
                "weight × half the width / 1.5",
                format!("{:.2} × {} / 2 / 1.5", value.weight_kn, input.width_m.get()),
                format!("{:.2} kN·m", value.allowable_kn_m),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "pressure under the edge",
                "e = moment / weight; 2 × weight / (3 × length × (width/2 − e)) where e is more than width/6",
                format!("e = {:.3} m", value.eccentricity_m),
                value.toe_kpa.map_or("it tips".to_owned(), |toe| format!("{toe:.1} kPa")),
            )
            .cite(Self::CARD.sources[0])
    }
}
