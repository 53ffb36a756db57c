//! Pull that a screw anchor holds.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::plate_breakout::{Plan, plate_breakout};
use super::quantities::{FrictionAngle, PostDepth, UndrainedStrength, UnitWeight};
use super::strength::{Strength, strength_of};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Diameter of a helix.
    pub struct HelixDiameter: "diameter of the helix", "mm", 50.0 ..= 600.0, example 254.0;
    /// Torque at the end of screwing in.
    pub struct Torque: "torque", "N·m", 1.0 ..= 50000.0, example 678.0;
    /// Pull for each unit of torque.
    pub struct TorqueFactor: "torque factor", "1/m", 5.0 ..= 60.0, example 32.8;
}

/// Bearing factor of clay.
const NC: f64 = 9.0;
/// 10 per foot, for a square shaft of 1.5 in.
const TORQUE_FACTOR_PER_M: f64 = 10.0 / super::us::M_PER_FT;

/// Bearing factor of sand: 0.5 (12 φ)^(φ/54), φ in degrees.
#[must_use]
pub fn nq(friction_degrees: f64) -> f64 {
    0.5 * libm::pow(12.0 * friction_degrees, friction_degrees / 54.0)
}

/// Greatest pull of one deep helix, kN.
#[must_use]
pub fn helix_bearing(diameter_m: f64, depth_m: f64, ground: Strength) -> f64 {
    let area = Plan::Round.area_m2(diameter_m);
    match ground {
        Strength::Sand { unit_weight_kn_m3, friction_degrees } => {
            area * unit_weight_kn_m3 * depth_m * nq(friction_degrees)
        }
        Strength::Clay { undrained_kpa, .. } => area * undrained_kpa * NC,
    }
}

/// Greatest pull of an anchor, kN: the sum of its helices (diameter, depth, m); where the top one is shallower
/// than five diameters, no more than what breaks out above it.
#[must_use]
pub fn anchor_pull(helices: &[(f64, f64)], ground: Strength) -> f64 {
    let sum: f64 = helices.iter().map(|(diameter, depth)| helix_bearing(*diameter, *depth, ground)).sum();
    match helices.iter().copied().min_by(|a, b| a.1.total_cmp(&b.1)) {
        Some((diameter, depth)) if depth < SHALLOW * diameter => {
            sum.min(plate_breakout(Plan::Round, diameter, depth, ground).0)
        }
        _ => sum,
    }
}

/// Diameters below which the top helix must lie.
const SHALLOW: f64 = 5.0;

/// One helix.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Helix {
    /// Its diameter.
    pub diameter_mm: HelixDiameter,
    /// Its depth below the surface.
    pub depth_m: PostDepth,
}

/// Input of `screw-anchor-uplift`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ScrewAnchorInput {
    /// Its helices.
    pub helices: Vec<Helix>,
    /// Unit weight of the ground; buoyant below water.
    pub unit_weight_kn_m3: UnitWeight,
    /// Friction angle, of sand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub friction_angle_degrees: Option<FrictionAngle>,
    /// Undrained strength, of clay or silt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub undrained_strength_kpa: Option<UndrainedStrength>,
    /// Torque at the end of screwing in, if it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub torque_n_m: Option<Torque>,
    /// Pull for each unit of torque; without it 32.8 per metre, for a square shaft of 38 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub torque_factor_per_m: Option<TorqueFactor>,
}

/// Output of `screw-anchor-uplift`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ScrewAnchorOutput {
    /// Greatest pull by the bearing of the helices, kN.
    pub by_bearing_kn: f64,
    /// Greatest pull by the torque, kN.
    pub by_torque_kn: Option<f64>,
    /// Pull to count on: half of the torque's, else a third of the bearing's, kN.
    pub allowable_kn: f64,
}

/// Uplift of a screw anchor.
pub struct ScrewAnchorUplift;

impl Method for ScrewAnchorUplift {
    type Input = ScrewAnchorInput;
    type Output = ScrewAnchorOutput;

    const CARD: Card = Card {
        name: "screw-anchor-uplift",
        title: "Pull that a screw anchor holds",
        topic: Topic::Posts,
        computes: "The pull that a screw anchor holds, from the bearing of its helices and from the torque it took to \
                   screw it in.",
        validity: &[
            "Helices at least three diameters apart and the top one at least five diameters deep; a shallower anchor fails suddenly and is given no more than a plate there.",
            "Friction on the shaft is not counted. Slow creep under a lasting pull is not covered.",
        ],
        sources: &[Cite::new("HelicalManuals", "individual bearing, torque correlation")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        ScrewAnchorInput {
            helices: vec![Helix {
                diameter_mm: HelixDiameter::literal(254.0),
                depth_m: PostDepth::literal(1.5),
            }],
            unit_weight_kn_m3: UnitWeight::literal(17.3),
            friction_angle_degrees: Some(FrictionAngle::literal(30.0)),
            undrained_strength_kpa: None,
            torque_n_m: None,
            torque_factor_per_m: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ground =
            strength_of(input.unit_weight_kn_m3, input.friction_angle_degrees, input.undrained_strength_kpa)?;
        let mut helices: Vec<(f64, f64)> = input
            .helices
            .iter()
            .map(|helix| (helix.diameter_mm.get() / 1000.0, helix.depth_m.get()))
            .collect();
        if helices.is_empty() {
            return Err(Refusal::new("helices", "an anchor needs at least one helix")
                .given("none")
                .accepted("one or more helices")
                .example("254 mm at 1.5 m"));
        }
        helices.sort_by(|a, b| a.1.total_cmp(&b.1));
        let mut notes = Vec::new();
        for pair in helices.windows(2) {
            if pair[1].1 - pair[0].1 < 3.0 * pair[0].0.max(pair[1].0) - 1e-9 {
                return Err(Refusal::new(
                    "helices",
                    "helices closer than three diameters share the same ground and cannot be added",
                )
                .given(format!("{:.2} m apart", pair[1].1 - pair[0].1))
                .accepted(format!("{:.2} m or more", 3.0 * pair[0].0.max(pair[1].0)))
                .example("254 mm at 0.8 m and 254 mm at 1.6 m"));
            }
        }
        if helices[0].1 < SHALLOW * helices[0].0 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "The top helix is shallower than five diameters: the anchor is given no more than what breaks out above it, and may let go suddenly.",
            ));
        }
        let by_bearing_kn = anchor_pull(&helices, ground);
        let factor = input.torque_factor_per_m.map_or(TORQUE_FACTOR_PER_M, Bounded::get);
        let by_torque_kn = input.torque_n_m.map(|torque| factor * torque.get() / 1000.0);
        notes.push(Note::new(
            NoteKind::Provenance,
            "Bearing factors are recalled from the trade's manuals. Half of the pull by torque is used, and a third where strength was only estimated.",
        ));
        Ok(Answer::with_notes(
            ScrewAnchorOutput {
                by_bearing_kn,
                by_torque_kn,
                allowable_kn: by_torque_kn.map_or(by_bearing_kn / 3.0, |pull| pull / 2.0),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let sand = input.friction_angle_degrees;
        let working = Working::new()
            .step(
                "pull by bearing",
                "sum over the helices of area × (cu × 9 or γ D × Nq), Nq = 0.5 (12 φ)^(φ/54)",
                sand.map_or_else(
                    || format!("{} helices in clay", input.helices.len()),
                    |angle| format!("{} helices, Nq = {:.1}", input.helices.len(), nq(angle.get())),
                ),
                format!("{:.2} kN", answer.value.by_bearing_kn),
            )
            .cite(Self::CARD.sources[0]);
        match answer.value.by_torque_kn {
            Some(pull) => working
                .step(
                    "pull by torque",
                    "factor × torque",
                    format!("{:.0} N·m", input.torque_n_m.map_or(0.0, Bounded::get)),
                    format!("{pull:.2} kN"),
                )
                .cite(Self::CARD.sources[0]),
            None => working,
        }
    }
}
