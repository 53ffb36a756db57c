//! Log-ratio coordinates of a make-up, as a method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::ilr::{ZERO_STANDS_FOR_PERCENT, to_ilr, without_zeros};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Composition;
use crate::texture::composition::{ClayPercent, SandPercent, SiltPercent};

/// Sand, silt and clay of one soil.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Parts {
    /// Sand, mass percent of the fine earth.
    pub sand_percent: SandPercent,
    /// Silt, mass percent of the fine earth.
    pub silt_percent: SiltPercent,
    /// Clay, mass percent of the fine earth.
    pub clay_percent: ClayPercent,
}

impl Parts {
    /// The composition closed to 100, with a note when it had to be.
    ///
    /// # Errors
    /// Parts that do not add to about 100.
    pub fn composition(self) -> Result<(Composition, Option<Note>), Refusal> {
        Composition::from_percent(self.sand_percent, self.silt_percent, self.clay_percent)
    }

    pub(super) fn literal(sand: f64, silt: f64, clay: f64) -> Self {
        Self {
            sand_percent: SandPercent::literal(sand),
            silt_percent: SiltPercent::literal(silt),
            clay_percent: ClayPercent::literal(clay),
        }
    }
}

/// Input of `ilr-coordinates`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct IlrQuestion {
    /// Sand, mass percent of the fine earth.
    pub sand_percent: SandPercent,
    /// Silt, mass percent of the fine earth.
    pub silt_percent: SiltPercent,
    /// Clay, mass percent of the fine earth.
    pub clay_percent: ClayPercent,
    /// Another soil, to measure the distance to it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub other: Option<Parts>,
}

impl IlrQuestion {
    fn parts(&self) -> Parts {
        Parts {
            sand_percent: self.sand_percent,
            silt_percent: self.silt_percent,
            clay_percent: self.clay_percent,
        }
    }
}

/// Output of `ilr-coordinates`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct IlrAnswer {
    /// z1 = ln(sand / silt) / √2.
    pub z1: f64,
    /// z2 = √(2/3) · ln(√(sand · silt) / clay).
    pub z2: f64,
    /// Centred log-ratios of sand, silt and clay.
    pub clr: [f64; 3],
    /// Aitchison distance to the other soil.
    pub distance: Option<f64>,
}

/// Centred log-ratio: the logarithm of each part over the geometric mean of all.
fn clr(parts: &[f64]) -> Vec<f64> {
    let logs: Vec<f64> = parts.iter().map(|part| libm::log(*part)).collect();
    let mean = logs.iter().sum::<f64>() / super::sampling::as_f64(logs.len());
    logs.into_iter().map(|log| log - mean).collect()
}

/// Note of parts found to be zero.
pub(super) fn zero_note(soil: Composition) -> Option<Note> {
    (soil != without_zeros(soil, ZERO_STANDS_FOR_PERCENT)).then(|| {
        Note::new(
            NoteKind::Adjusted,
            format!(
                "A part is zero, which has no logarithm: {ZERO_STANDS_FOR_PERCENT} % stands in for it (0.65 of the 2 % that a hydrometer can detect), and the others shrink in proportion."
            ),
        )
    })
}

/// Log-ratio coordinates.
pub struct IlrCoordinates;

impl Method for IlrCoordinates {
    type Input = IlrQuestion;
    type Output = IlrAnswer;

    const CARD: Card = Card {
        name: "ilr-coordinates",
        title: "Coordinates of a make-up",
        topic: Topic::Belief,
        computes: "Turns sand, silt and clay into two coordinates in which averages, errors and distances behave, \
                   because shares that must add to 100 cannot be averaged or compared one by one.",
        validity: &[
            "Every part must be above zero; a zero is replaced with a note.",
            "Parts order is sand, silt, clay; other programs may order or sign the coordinates differently.",
        ],
        sources: &[
            Cite::new("Egozcue2003", "isometric log-ratio, basis as given"),
            Cite::new("MartinFernandez2003", "multiplicative replacement"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let Parts { sand_percent, silt_percent, clay_percent } = Parts::literal(40.0, 40.0, 20.0);
        IlrQuestion {
            sand_percent,
            silt_percent,
            clay_percent,
            other: Some(Parts::literal(65.0, 25.0, 10.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (soil, note) = input.parts().composition()?;
        let mut notes: Vec<Note> = zero_note(soil).into_iter().chain(note).collect();
        let at = to_ilr(soil);
        let distance = match input.other {
            None => None,
            Some(other) => {
                let (other, note) = other.composition().map_err(|refusal| refusal.inside("other"))?;
                notes.extend(zero_note(other).into_iter().chain(note));
                Some((to_ilr(other) - at).norm())
            }
        };
        let whole = without_zeros(soil, ZERO_STANDS_FOR_PERCENT);
        let ratios = clr(&[whole.sand, whole.silt, whole.clay]);
        let value = IlrAnswer { z1: at.x, z2: at.y, clr: [ratios[0], ratios[1], ratios[2]], distance };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok((soil, _)) = input.parts().composition() else { return Working::new() };
        let soil = without_zeros(soil, ZERO_STANDS_FOR_PERCENT);
        let IlrAnswer { z1, z2, distance, .. } = answer.value;
        let mut working = Working::new()
            .step(
                "first coordinate: sand against silt",
                "z1 = ln(sand / silt) / √2",
                format!("ln({:.4} / {:.4}) / √2", soil.sand, soil.silt),
                format!("{z1:.6}"),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "second coordinate: both against clay",
                "z2 = √(2/3) · ln(√(sand · silt) / clay)",
                format!("√(2/3) × ln(√({:.4} × {:.4}) / {:.4})", soil.sand, soil.silt, soil.clay),
                format!("{z2:.6}"),
            )
            .cite(Self::CARD.sources[0]);
        if let Some(distance) = distance {
            working = working.step(
                "distance to the other soil",
                "√(Δz1² + Δz2²)",
                "the same two coordinates for the other soil",
                format!("{distance:.6}"),
            );
        }
        working
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Documentation of scikit-bio, function clr.
    #[test]
    fn clr_agrees_with_scikit_bio() {
        let expected = [-0.794_513_46, 0.304_098_83, 0.591_780_9, -0.101_366_28];
        for (got, expected) in clr(&[0.1, 0.3, 0.4, 0.2]).into_iter().zip(expected) {
            assert!((got - expected).abs() < 5e-9, "{got} {expected}");
        }
    }
}
