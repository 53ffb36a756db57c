//! Earth that comes out of a pit, pond or trench with sloped sides.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::volume::{Material, VolumeFactors, factor_note};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::posts::cautions;

crate::quantity! {
    /// Side of the bottom of an excavation.
    pub struct BottomSide: "side of the bottom", "m", 0.1 ..= 1000.0, example 6.0;
    /// Depth of an excavation.
    pub struct DigDepth: "depth of the excavation", "m", 0.05 ..= 6.0, example 1.2;
    /// Slope of the sides, horizontal for one vertical.
    pub struct SideSlope: "slope of the sides", "", 0.0 ..= 10.0, example 1.5;
    /// What a truck, trailer or bucket carries, loose.
    pub struct LoadVolume: "volume of a load", "m³", 0.005 ..= 40.0, example 4.0;
}

/// Volume of a pit with all four sides sloped, m³: the prismoidal rule, exact for plane sides.
#[must_use]
pub fn pit_volume_m3(length_m: f64, width_m: f64, depth_m: f64, slope: f64) -> f64 {
    let reach = slope * depth_m;
    depth_m * (length_m * width_m + reach * (length_m + width_m) + 4.0 / 3.0 * reach * reach)
}

/// Volume of a trench with upright ends, m³.
#[must_use]
pub fn trench_volume_m3(length_m: f64, width_m: f64, depth_m: f64, slope: f64) -> f64 {
    length_m * depth_m * (width_m + slope * depth_m)
}

/// Input of `excavation-volume`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExcavationInput {
    /// Length of the bottom.
    pub bottom_length_m: BottomSide,
    /// Width of the bottom.
    pub bottom_width_m: BottomSide,
    /// Depth.
    pub depth_m: DigDepth,
    /// Slope of the sides, horizontal for one vertical; 0 upright.
    pub side_slope: SideSlope,
    /// The ends are upright, as in a trench.
    #[serde(default)]
    pub upright_ends: bool,
    /// What is dug.
    pub material: Material,
    /// What one load carries, loose.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load_m3: Option<LoadVolume>,
}

/// Output of `excavation-volume`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ExcavationOutput {
    /// In place, m³.
    pub bank_m3: f64,
    /// To be hauled, m³.
    pub loose_m3: f64,
    /// What it makes as compacted fill, m³.
    pub compacted_m3: f64,
    /// Length at the top, m.
    pub top_length_m: f64,
    /// Width at the top, m.
    pub top_width_m: f64,
    /// Loads to haul.
    pub loads: Option<u32>,
}

/// Excavation volume.
pub struct ExcavationVolume;

impl Method for ExcavationVolume {
    type Input = ExcavationInput;
    type Output = ExcavationOutput;

    const CARD: Card = Card {
        name: "excavation-volume",
        title: "Earth out of an excavation",
        topic: Topic::Earthworks,
        computes: "How much earth comes out of a pit, a small pond or a trench with sloped sides: in place, loose on the \
                   truck, as compacted fill, and in loads.",
        validity: &[
            "Plane sides and a level bottom on level ground, up to 6 m deep; deeper work needs an engineer.",
        ],
        sources: &[Cite::new("ArmyEarthwork", "prismoidal rule and table of volume factors")],
        cautions: cautions::EARTHWORKS,
    };

    fn example() -> Self::Input {
        ExcavationInput {
            bottom_length_m: BottomSide::literal(10.0),
            bottom_width_m: BottomSide::literal(6.0),
            depth_m: DigDepth::literal(1.2),
            side_slope: SideSlope::literal(2.0),
            upright_ends: false,
            material: Material::Loam,
            load_m3: Some(LoadVolume::literal(4.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (length, width) = (input.bottom_length_m.get(), input.bottom_width_m.get());
        let (depth, slope) = (input.depth_m.get(), input.side_slope.get());
        let volume = if input.upright_ends { trench_volume_m3 } else { pit_volume_m3 };
        let bank_m3 = volume(length, width, depth, slope);
        let factors = VolumeFactors::of(input.material);
        let loose_m3 = bank_m3 * factors.loose;
        let mut notes = vec![factor_note(input.material)];
        if depth >= super::trench::PROTECT_FROM_M {
            notes.insert(0, Note::new(NoteKind::Safety, cautions::TRENCH));
        }
        let loads = input.load_m3.map(|load| {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped, whole")]
            let loads = (loose_m3 / load.get() - 1e-9).ceil().clamp(0.0, f64::from(u32::MAX)) as u32;
            loads
        });
        Ok(Answer::with_notes(
            ExcavationOutput {
                bank_m3,
                loose_m3,
                compacted_m3: bank_m3 * factors.compacted,
                top_length_m: if input.upright_ends { length } else { length + 2.0 * slope * depth },
                top_width_m: width + 2.0 * slope * depth,
                loads,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let factors = VolumeFactors::of(input.material);
        Working::new()
            .step(
                "earth in place",
                if input.upright_ends {
                    "L × D × (W + s D)"
                } else {
                    "D × (L W + s D (L + W) + 4/3 (s D)²)"
                },
                format!(
                    "L = {}, W = {}, D = {} m, s = {}",
                    input.bottom_length_m.get(),
                    input.bottom_width_m.get(),
                    input.depth_m.get(),
                    input.side_slope.get()
                ),
                format!("{:.2} m³", answer.value.bank_m3),
            )
            .step(
                "loose",
                "in place × swell",
                format!("{:.2} × {}", answer.value.bank_m3, factors.loose),
                format!("{:.2} m³", answer.value.loose_m3),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// The prismoidal rule: D/6 × (bottom + 4 × middle + top).
        #[test]
        fn pit_is_the_prismoidal_rule(
            length in 0.1..50.0_f64, width in 0.1..50.0_f64, depth in 0.05..6.0_f64, slope in 0.0..5.0_f64
        ) {
            let area = |at: f64| (length + 2.0 * slope * at) * (width + 2.0 * slope * at);
            let rule = depth / 6.0 * (area(0.0) + 4.0 * area(depth / 2.0) + area(depth));
            let got = pit_volume_m3(length, width, depth, slope);
            prop_assert!((got - rule).abs() <= 1e-9 * rule);
            prop_assert!(trench_volume_m3(length, width, depth, slope) <= got + 1e-9 * got);
        }
    }
}
