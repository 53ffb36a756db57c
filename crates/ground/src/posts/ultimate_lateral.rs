//! Sideways force at which a short free post turns over in the ground.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::quantities::{FrictionAngle, LoadHeight, PostDepth, PostWidth, UndrainedStrength, UnitWeight};
use super::strength::{Strength, strength_of};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Passive earth pressure over the weight of the ground, for an angle of friction in degrees.
#[must_use]
pub fn passive_coefficient(friction_degrees: f64) -> f64 {
    let tangent = libm::tan((45.0 + friction_degrees / 2.0).to_radians());
    tangent * tangent
}

/// In sand, kN: 0.5 γ b D³ Kp / (e + D).
#[must_use]
pub fn ultimate_in_sand(depth_m: f64, height_m: f64, width_m: f64, unit_weight: f64, friction: f64) -> f64 {
    0.5 * unit_weight * width_m * depth_m * depth_m * depth_m * passive_coefficient(friction)
        / (height_m + depth_m)
}

/// In clay, kN; the top one and a half widths resist nothing. 0 for a post no deeper than that.
#[must_use]
pub fn ultimate_in_clay(depth_m: f64, height_m: f64, width_m: f64, undrained_kpa: f64) -> f64 {
    let working = depth_m - 1.5 * width_m;
    if working <= 0.0 {
        return 0.0;
    }
    // f = Hu/(9 cu b) and Hu (e + 1.5 b + f/2) = 2.25 cu b (working − f)² make f² + 2 c f − working² = 0.
    let c = 2.0 * (height_m + 1.5 * width_m) + working;
    let reach = working * working / (c + libm::sqrt(c * c + working * working));
    9.0 * undrained_kpa * width_m * reach
}

/// In ground of either kind, kN.
#[must_use]
pub fn ultimate_lateral(depth_m: f64, height_m: f64, width_m: f64, ground: Strength) -> f64 {
    match ground {
        Strength::Sand { unit_weight_kn_m3, friction_degrees } => {
            ultimate_in_sand(depth_m, height_m, width_m, unit_weight_kn_m3, friction_degrees)
        }
        Strength::Clay { undrained_kpa, .. } => ultimate_in_clay(depth_m, height_m, width_m, undrained_kpa),
    }
}

/// Input of `post-ultimate-lateral`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct UltimateLateralInput {
    /// Depth in the ground.
    pub depth_m: PostDepth,
    /// Height above ground at which the force acts.
    pub load_height_m: LoadHeight,
    /// Diameter or face of the post or collar.
    pub width_mm: PostWidth,
    /// Unit weight of the ground.
    pub unit_weight_kn_m3: UnitWeight,
    /// Friction angle, of sand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub friction_angle_degrees: Option<FrictionAngle>,
    /// Undrained strength, of clay or silt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub undrained_strength_kpa: Option<UndrainedStrength>,
}

/// Output of `post-ultimate-lateral`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct UltimateLateralOutput {
    /// Force at which the post turns over, kN.
    pub ultimate_kn: f64,
    /// The same over 3, kN.
    pub third_kn: f64,
}

/// Ultimate sideways force.
pub struct PostUltimateLateral;

impl Method for PostUltimateLateral {
    type Input = UltimateLateralInput;
    type Output = UltimateLateralOutput;

    const CARD: Card = Card {
        name: "post-ultimate-lateral",
        title: "Sideways force that turns a post over",
        topic: Topic::Posts,
        computes: "The sideways force at which a short stiff post, free at its head, turns over in sand or clay. A \
                   cross-check: the building code's working values stay four to eight times below it, as they also \
                   limit movement.",
        validity: &[
            "A short stiff post that turns as a whole in even ground; long slender ones bend first.",
            "Use a third of it or less, and the code's depth for anything that stands.",
        ],
        sources: &[Cite::new("Broms1964", "free-headed short piles")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        UltimateLateralInput {
            depth_m: PostDepth::literal(1.2),
            load_height_m: LoadHeight::literal(1.2),
            width_mm: PostWidth::literal(300.0),
            unit_weight_kn_m3: UnitWeight::literal(17.3),
            friction_angle_degrees: Some(FrictionAngle::literal(30.0)),
            undrained_strength_kpa: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ground =
            strength_of(input.unit_weight_kn_m3, input.friction_angle_degrees, input.undrained_strength_kpa)?;
        let ultimate_kn = ultimate_lateral(
            input.depth_m.get(),
            input.load_height_m.get(),
            input.width_mm.get() / 1000.0,
            ground,
        );
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "The equations are recalled from the publication and were not read again.",
        )];
        if ultimate_kn == 0.0 {
            notes.insert(
                0,
                Note::new(NoteKind::NoValue, "Clay at the top, one and a half times the width deep, resists nothing; this post goes no deeper."),
            );
        }
        Ok(Answer::with_notes(UltimateLateralOutput { ultimate_kn, third_kn: ultimate_kn / 3.0 }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let rule = if input.friction_angle_degrees.is_some() {
            "0.5 γ b D³ Kp / (e + D), Kp = tan²(45° + φ/2)"
        } else {
            "f = H/(9 cu b); H (e + 1.5 b + f/2) = 2.25 cu b g²; 1.5 b + f + g = D"
        };
        Working::new()
            .step(
                "force that turns it over",
                rule,
                format!(
                    "D = {} m, e = {} m, b = {} mm",
                    input.depth_m.get(),
                    input.load_height_m.get(),
                    input.width_mm.get()
                ),
                format!("{:.2} kN", answer.value.ultimate_kn),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The balance the closed form was solved from holds.
    #[test]
    fn clay_balance_holds() {
        let (depth, height, width, cu) = (1.3, 1.1, 0.25, 30.0);
        let force = ultimate_in_clay(depth, height, width, cu);
        let f = force / (9.0 * cu * width);
        let g = depth - 1.5 * width - f;
        let balance = force * (height + 1.5 * width + 0.5 * f) - 2.25 * cu * width * g * g;
        assert!(balance.abs() < 1e-9, "{balance}");
        assert_eq!(ultimate_in_clay(0.3, 1.0, 0.25, 30.0), 0.0);
    }
}
