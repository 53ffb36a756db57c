//! Lime requirement by buffer pH, Ontario.

use super::basis::{Basis, LimeNeed, RateUnit, over_targets, recalled};
use super::by_buffer::{BufferInput, BufferRule};
use super::effectiveness::EffectivenessSystem;
use crate::kit::{Answer, Card, Cite, Method, Refusal, Topic, Working};

const TARGETS: [f64; 4] = [5.5, 6.0, 6.5, 7.0];

/// t/ha of agricultural index 75. The curves turn up beyond their lowest point and two of them cross near a
/// buffer pH of 7: held at the lowest point, and a lower target never asks for more.
fn rate(buffer: f64, target: f64) -> f64 {
    let parabola = |a: f64, b: f64, c: f64| {
        let at = buffer.min(-b / (2.0 * c));
        (a + b * at + c * at * at).max(0.0)
    };
    let mut rates = [
        (37.7 - 5.75 * buffer).max(0.0),
        parabola(255.4, -73.15, 5.26),
        parabola(291.6, -80.99, 5.64),
        parabola(334.5, -90.79, 6.19),
    ];
    for place in (0..3).rev() {
        rates[place] = rates[place].min(rates[place + 1]);
    }
    over_targets(&TARGETS, &rates, target).unwrap_or(0.0)
}

/// The method's rule.
pub(super) const RULE: BufferRule = BufferRule {
    basis: Basis {
        unit: RateUnit::TonnePerHectare,
        depth_cm: 17.5,
        lime: "limestone of agricultural index 75",
        strength_percent: 75.0,
        system: EffectivenessSystem::OntarioIndex,
        error_percent: 30.0,
    },
    targets: &TARGETS,
    from: 5.5,
    to: 7.0,
    rate,
    says: "to 5.5: 37.7 − 5.75 B; to 6.0: 255.4 − 73.15 B + 5.26 B²; to 6.5: 291.6 − 80.99 B + 5.64 B²; to 7.0: 334.5 − 90.79 B + 6.19 B²; a lower target never asks for more",
    cite: Cite::new("OntarioLime", "lime requirement by buffer pH"),
};

/// Lime by Ontario's table.
pub struct LimeOntarioSmp;

impl Method for LimeOntarioSmp {
    type Input = BufferInput;
    type Output = LimeNeed;

    const CARD: Card = Card {
        name: "lime-ontario-smp",
        title: "Lime by buffer pH, Ontario",
        topic: Topic::Fertility,
        computes: "The lime need from a buffer pH of the SMP kind, by the equations behind Ontario's table, as limestone of \
                   agricultural index 75.",
        validity: &[
            "Buffer pH 5.5 to 7.0, pH to reach 5.5 to 7.0.",
            "The table is for about 15 to 20 cm; the middle, 17.5 cm, is our judgement.",
        ],
        sources: &[RULE.cite],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        BufferInput::typical()
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        RULE.answer(input, Some(recalled("The equations, which round to the entries of the recalled table")))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        RULE.working(input, answer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rates_rise_with_the_target_and_fall_with_the_buffer() {
        for step in 0..=150_u32 {
            let buffer = 5.5 + f64::from(step) / 100.0;
            let rates = TARGETS.map(|target| rate(buffer, target));
            assert!(rates.windows(2).all(|pair| pair[0] <= pair[1] + 1e-9), "{buffer} {rates:?}");
            for target in TARGETS {
                assert!(rate(buffer + 0.01, target) <= rate(buffer, target) + 1e-9, "{buffer} {target}");
            }
        }
    }
}
