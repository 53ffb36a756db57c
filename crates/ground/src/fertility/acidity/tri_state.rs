//! Lime requirement by the SMP buffer, Michigan, Ohio and Indiana; and by pH on organic soils.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{
    Basis, Layer, LimeNeed, RateUnit, Rule, accuracy, inches, no_need, over_targets, recalled,
};
use super::by_buffer::{BufferInput, BufferRule};
use super::effectiveness::EffectivenessSystem;
use super::quantity::{MixedDepth, SoilPh};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

const BASIS: Basis = Basis {
    unit: RateUnit::TonPerAcre,
    depth_cm: inches(8.0),
    lime: "ground limestone of neutralizing value 90 %",
    strength_percent: 90.0,
    system: EffectivenessSystem::CarbonateEquivalent,
    error_percent: 30.0,
};
const TARGETS: [f64; 3] = [6.0, 6.5, 6.8];
/// Target that the equation for organic soils is made for.
pub(super) const ORGANIC_TARGET: f64 = 5.3;
const CITE: Cite = Cite::new("TriState1995", "lime index table");

/// Ton/acre by the bulletin's straight lines over the lime test index, ten times the buffer pH.
fn rate(buffer: f64, target: f64) -> f64 {
    let index = 10.0 * buffer;
    let mut rates =
        [49.3 - 0.71 * index, 60.4 - 0.87 * index, 71.4 - 1.03 * index].map(|rate: f64| rate.max(0.0));
    // The lines cross beyond the table's last row: a lower target never asks for more.
    for place in (0..2).rev() {
        rates[place] = rates[place].min(rates[place + 1]);
    }
    over_targets(&TARGETS, &rates, target).unwrap_or(0.0)
}

/// The method's rule.
pub(super) const RULE: BufferRule = BufferRule {
    basis: BASIS,
    targets: &TARGETS,
    from: 6.0,
    to: 7.0,
    rate,
    says: "to 6.0: 49.3 − 0.71 L; to 6.5: 60.4 − 0.87 L; to 6.8: 71.4 − 1.03 L; L ten times the SMP buffer pH",
    cite: CITE,
};

/// Need on organic soil of a pH in water, kg/m² of calcium carbonate over a depth in cm.
#[must_use]
pub fn organic_soil_need_kg_m2(soil_ph: f64, depth_cm: f64) -> f64 {
    BASIS.carbonate_kg_m2(organic_rate(soil_ph), depth_cm, None)
}

fn organic_rate(soil_ph: f64) -> f64 {
    if soil_ph >= ORGANIC_TARGET { 0.0 } else { (32.9 - 6.31 * soil_ph).max(0.0) }
}

/// Lime by the Tri-State SMP table.
pub struct LimeTriStateSmp;

impl Method for LimeTriStateSmp {
    type Input = BufferInput;
    type Output = LimeNeed;

    const CARD: Card = Card {
        name: "lime-tri-state-smp",
        title: "Lime by SMP buffer, Michigan, Ohio, Indiana",
        topic: Topic::Fertility,
        computes: "The lime need of mineral soil from the SMP buffer pH (a tenth of the lime test index), by the joint guide of \
                   Michigan, Ohio and Indiana.",
        validity: &[
            "Lime test index 60 to 70 (buffer pH 6.0 to 7.0); below 6.0 it is refused.",
            "Printed for 8 inches of limestone of neutralizing value 90; half for 4 inches. Sikora buffer was made to read like SMP.",
            "The guide limes when the pH is 0.2 to 0.3 below the pH to reach.",
        ],
        sources: &[CITE],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        BufferInput::typical()
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        RULE.answer(input, Some(recalled("The equations, which give the guide's table within 0.13 ton")))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        RULE.working(input, answer)
    }
}

/// Input of `lime-tri-state-organic`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OrganicLimeInput {
    /// pH in water.
    pub soil_ph: SoilPh,
    /// Depth the lime is mixed into.
    pub depth_cm: MixedDepth,
}

/// Lime on organic soils.
pub struct LimeTriStateOrganic;

impl LimeTriStateOrganic {
    fn layer(input: &OrganicLimeInput) -> Layer {
        // The table is for light organic ground; a density would count that twice.
        Layer::new(input.depth_cm, None)
    }
}

impl Method for LimeTriStateOrganic {
    type Input = OrganicLimeInput;
    type Output = LimeNeed;

    const CARD: Card = Card {
        name: "lime-tri-state-organic",
        title: "Lime on muck and peat, Michigan, Ohio, Indiana",
        topic: Topic::Fertility,
        computes: "The lime that brings organic soil to pH 5.3, from its pH in water; buffers are not read on organic soil.",
        validity: &[
            "Organic soils; the table runs from pH 4.4 to 5.2. From 5.3 on no lime is needed: crops on muck do well at a lower pH.",
            "Printed for 8 inches of limestone of neutralizing value 90, for the ground's volume: its lightness is in the table.",
        ],
        sources: &[CITE],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        OrganicLimeInput { soil_ph: SoilPh::literal(4.8), depth_cm: MixedDepth::literal(20.0) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ph = input.soil_ph.get();
        let mut notes = Vec::new();
        if ph < 4.4 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "The table ends at pH 4.4; the straight line is drawn on below it.",
            ));
        }
        if ph >= ORGANIC_TARGET {
            notes.push(no_need());
        }
        notes.push(recalled("The equation, which gives the guide's table within 0.09 ton"));
        notes.push(accuracy(&BASIS));
        let need = LimeNeed::of(&BASIS, organic_rate(ph), ORGANIC_TARGET, Self::layer(input));
        Ok(Answer::with_notes(need, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let rule = Rule {
            says: "32.9 − 6.31 × pH, none from pH 5.3 on",
            numbers: format!("32.9 − 6.31 × {}", number(input.soil_ph.get())),
            cite: CITE,
        };
        answer.value.working(&BASIS, Self::layer(input), rule)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_acid_or_a_higher_target_never_asks_for_less() {
        for step in 0..=100_u32 {
            let buffer = 6.0 + f64::from(step) / 100.0;
            let rates = TARGETS.map(|target| rate(buffer, target));
            assert!(rates.windows(2).all(|pair| pair[0] <= pair[1] + 1e-9), "{buffer} {rates:?}");
            assert!(rate(buffer, 6.5) <= rate(buffer - 0.01, 6.5) + 1e-9);
        }
        assert_eq!(organic_rate(5.3), 0.0);
        assert!(organic_rate(4.4) > organic_rate(5.0));
    }
}
