//! Lime from what clay and humus hold: the fallback for any target.
//!
//! # Method
//! need (lb CaCO3/acre) = 1000 × soil mass / 2 000 000 lb × exchange capacity × rise in base saturation × 1.5, with the
//! capacity estimated as 0.5 meq a percent of clay and 2 a percent of organic matter, and 30 % base saturation a unit of pH.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{Basis, Layer, LimeNeed, RateUnit, Rule, accuracy, inches, no_need};
use super::effectiveness::EffectivenessSystem;
use super::quantity::{ExchangeCapacity, MixedDensity, MixedDepth, OrganicPercent, SoilPh, TargetPh};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::composition::ClayPercent;

pub(super) const BASIS: Basis = Basis {
    unit: RateUnit::PoundPerAcre,
    depth_cm: inches(20.0 / 3.0),
    lime: "calcium carbonate",
    strength_percent: 100.0,
    system: EffectivenessSystem::CarbonateEquivalent,
    error_percent: 50.0,
};
/// Exchange capacity of mixed clays, meq/100 g for each percent of clay (kaolinitic 0.1 to 0.2, smectitic 0.8 to 1.0).
const CAPACITY_OF_CLAY: f64 = 0.5;
/// Exchange capacity of organic matter, meq/100 g for each percent.
const CAPACITY_OF_HUMUS: f64 = 2.0;
/// Base saturation gained for a unit of pH between 5 and 6.5 (0.25 to 0.35).
const SATURATION_A_PH: f64 = 0.30;
/// Lime spread over what reacts in the field.
const FIELD_FACTOR: f64 = 1.5;
const CITE: Cite = Cite::new("LimeFirstPrinciples", "exchange capacity and base saturation");

/// Exchange capacity from clay and organic matter, meq/100 g.
#[must_use]
pub fn capacity_meq_100_g(clay_percent: f64, organic_matter_percent: f64) -> f64 {
    CAPACITY_OF_CLAY * clay_percent + CAPACITY_OF_HUMUS * organic_matter_percent
}

/// lb/acre of calcium carbonate in 6 2/3 inches; nothing at or above the pH to reach.
#[must_use]
pub fn rate_lb_acre(soil_ph: f64, target_ph: f64, capacity_meq_100_g: f64) -> f64 {
    let rise = (SATURATION_A_PH * (target_ph - soil_ph)).clamp(0.0, 1.0);
    1000.0 * capacity_meq_100_g * rise * FIELD_FACTOR
}

/// Input of `lime-first-principles`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FirstPrinciplesInput {
    /// pH in water.
    pub soil_ph: SoilPh,
    /// pH to reach.
    pub target_ph: TargetPh,
    /// Clay.
    pub clay_percent: ClayPercent,
    /// Organic matter.
    pub organic_matter_percent: OrganicPercent,
    /// Exchange capacity where a laboratory measured it; it takes the place of clay and organic matter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub capacity_meq_100_g: Option<ExchangeCapacity>,
    /// Depth the lime is mixed into.
    pub depth_cm: MixedDepth,
    /// Bulk density of that depth, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density_g_cm3: Option<MixedDensity>,
}

impl FirstPrinciplesInput {
    fn capacity(&self) -> f64 {
        self.capacity_meq_100_g.map_or_else(
            || capacity_meq_100_g(self.clay_percent.get(), self.organic_matter_percent.get()),
            Bounded::get,
        )
    }
}

/// Output of `lime-first-principles`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct FirstPrinciplesOutput {
    /// Exchange capacity it was worked out with.
    pub capacity_used_meq_100_g: f64,
    /// The need.
    #[serde(flatten)]
    pub need: LimeNeed,
}

/// Lime from first principles.
pub struct LimeFirstPrinciples;

impl Method for LimeFirstPrinciples {
    type Input = FirstPrinciplesInput;
    type Output = FirstPrinciplesOutput;

    const CARD: Card = Card {
        name: "lime-first-principles",
        title: "Lime from clay and organic matter",
        topic: Topic::Fertility,
        computes: "The lime need from what clay and organic matter can hold and how its filling moves the pH: a rough figure for \
                   any pH to reach, where no buffer pH was measured.",
        validity: &[
            "Common practice, no source. Good to 50 %: get a buffer pH.",
            "pH 5 to 6.5 on mineral soil of mixed clays. Kaolinitic clay holds a third as much, smectitic clay twice as much.",
        ],
        sources: &[CITE],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        FirstPrinciplesInput {
            soil_ph: SoilPh::literal(5.5),
            target_ph: TargetPh::literal(6.5),
            clay_percent: ClayPercent::literal(20.0),
            organic_matter_percent: OrganicPercent::literal(3.0),
            capacity_meq_100_g: None,
            depth_cm: MixedDepth::literal(17.0),
            bulk_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (ph, target) = (input.soil_ph.get(), input.target_ph.get());
        let capacity = input.capacity();
        let mut notes = Vec::new();
        if ph >= target {
            notes.push(no_need());
        }
        if ph < 5.0 || target > 6.5 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "Base saturation goes straight with pH between 5 and 6.5 only.",
            ));
        }
        notes.push(Note::new(NoteKind::Provenance, "Common practice, no source: get a buffer pH."));
        notes.push(accuracy(&BASIS));
        let layer = Layer::new(input.depth_cm, input.bulk_density_g_cm3);
        let need = LimeNeed::of(&BASIS, rate_lb_acre(ph, target, capacity), target, layer);
        Ok(Answer::with_notes(FirstPrinciplesOutput { capacity_used_meq_100_g: capacity, need }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let rule = Rule {
            says: "1000 × exchange capacity × 0.30 × (pH to reach − pH) × 1.5",
            numbers: format!(
                "1000 × {:.1} × 0.30 × ({} − {}) × 1.5",
                value.capacity_used_meq_100_g,
                number(input.target_ph.get()),
                number(input.soil_ph.get())
            ),
            cite: CITE,
        };
        Working::new()
            .step(
                "exchange capacity",
                "0.5 × clay + 2 × organic matter, unless it was measured",
                format!(
                    "clay {} %, organic matter {} %",
                    number(input.clay_percent.get()),
                    number(input.organic_matter_percent.get())
                ),
                format!("{:.1} meq/100 g", value.capacity_used_meq_100_g),
            )
            .then(value.need.working(&BASIS, Layer::new(input.depth_cm, input.bulk_density_g_cm3), rule))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clay_and_humus_ask_for_more() {
        assert!(
            rate_lb_acre(5.5, 6.5, capacity_meq_100_g(30.0, 3.0))
                > rate_lb_acre(5.5, 6.5, capacity_meq_100_g(10.0, 3.0))
        );
        assert_eq!(rate_lb_acre(6.8, 6.5, 20.0), 0.0);
        // The whole capacity is the most that lime can fill.
        assert_eq!(rate_lb_acre(3.0, 7.0, 10.0), 15_000.0);
    }
}
