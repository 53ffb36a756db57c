//! Lime requirement by SMP or Sikora buffer, Iowa.

use super::basis::{Basis, LimeNeed, RateUnit, inches, over_targets, recalled};
use super::by_buffer::{BufferInput, BufferRule};
use super::effectiveness::EffectivenessSystem;
use crate::kit::{Answer, Card, Cite, Method, Refusal, Topic, Working};

const TARGETS: [f64; 3] = [6.0, 6.5, 6.9];

/// lb/acre of effective calcium carbonate equivalent.
fn rate(buffer: f64, target: f64) -> f64 {
    let rates = [38_619.0 - 5_915.0 * buffer, 49_886.0 - 7_245.0 * buffer, 58_776.0 - 8_244.0 * buffer]
        .map(|rate: f64| rate.max(0.0));
    over_targets(&TARGETS, &rates, target).unwrap_or(0.0)
}

/// The method's rule. No range of buffer pH is recalled; below 5.7 the lines are not trusted (judgement).
pub(super) const RULE: BufferRule = BufferRule {
    basis: Basis {
        unit: RateUnit::PoundPerAcre,
        depth_cm: inches(6.0),
        lime: "effective calcium carbonate equivalent",
        strength_percent: 100.0,
        system: EffectivenessSystem::IowaEcce,
        error_percent: 30.0,
    },
    targets: &TARGETS,
    from: 5.7,
    to: 7.2,
    rate,
    says: "to 6.0: 38619 − 5915 B; to 6.5: 49886 − 7245 B; to 6.9: 58776 − 8244 B",
    cite: Cite::new("IowaPm1688", "lime requirement equations"),
};

/// Lime by Iowa's equations.
pub struct LimeIowa;

impl Method for LimeIowa {
    type Input = BufferInput;
    type Output = LimeNeed;

    const CARD: Card = Card {
        name: "lime-iowa",
        title: "Lime by SMP or Sikora buffer, Iowa",
        topic: Topic::Fertility,
        computes: "The lime need from the SMP or Sikora buffer pH by Iowa State University's equations, in pounds of effective \
                   calcium carbonate equivalent.",
        validity: &[
            "The equations are recalled and nothing published was reproduced with them: an unverified copy.",
            "Buffer pH 5.7 and more; the lower end is our judgement. In Iowa's field trials buffers explained 12 to 28 % of the lime need.",
        ],
        sources: &[RULE.cite, Cite::new("PaganiMallarino2012", "field lime need against buffers")],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        BufferInput::typical()
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        RULE.answer(input, Some(recalled("An unverified copy of the equations")))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        RULE.working(input, answer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_acid_asks_for_more() {
        for target in TARGETS {
            assert!(rate(6.0, target) > rate(6.4, target));
        }
        assert!(rate(6.3, 6.9) > rate(6.3, 6.5) && rate(6.3, 6.5) > rate(6.3, 6.0));
    }
}
