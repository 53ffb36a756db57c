//! From a lime need to pounds of a product: effectiveness once, what was spread before taken off, parts.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{KG_PER_LB, M2_PER_1000_FT2, RateUnit, recalled};
use super::effectiveness::{Effect, EffectivenessSystem, Fineness, LimingMaterial, checked};
use super::quantity::{CarbonateEquivalent, CarbonateRate, MaterialMoisture};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};

/// How lime is put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LimePlacement {
    /// Mixed into bare ground.
    MixedIn,
    /// On the surface of ground that is not turned: perennials, sod, no-till.
    Surface,
}

/// A rate in parts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LimeSplit {
    /// In how many parts.
    pub parts: u32,
    /// Months between them.
    pub months_between: u32,
    /// The part put on first, kg/m².
    pub first_kg_m2: f64,
    /// Put half on before and half after the ground is turned.
    pub half_before_half_after: bool,
}

/// lb/100 ft² up to which a garden's rate goes on at once, and up to which in halves.
const AT_ONCE_LB_100_FT2: f64 = 10.0;
const HALVES_LB_100_FT2: f64 = 20.0;
/// lb/1000 ft² that a surface takes in one pass (1 to 2 t/ac in the field guide).
const SURFACE_LB_1000_FT2: f64 = 50.0;
/// Ton/acre mixed in at once above which it goes half before and half after the plough.
const HALF_AND_HALF_TON_ACRE: f64 = 4.0;
/// Months between parts.
const MONTHS_BETWEEN: u32 = 6;

/// Splits a product's rate, kg/m².
#[must_use]
pub fn split(product_kg_m2: f64, placement: LimePlacement) -> LimeSplit {
    let lb_100_ft2 = product_kg_m2 / RateUnit::PoundPer100SquareFeet.kg_m2();
    let parts = match placement {
        LimePlacement::MixedIn if lb_100_ft2 <= AT_ONCE_LB_100_FT2 => 1,
        LimePlacement::MixedIn if lb_100_ft2 <= HALVES_LB_100_FT2 => 2,
        LimePlacement::MixedIn => 3,
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of passes")]
        LimePlacement::Surface => (10.0 * lb_100_ft2 / SURFACE_LB_1000_FT2).ceil().clamp(1.0, 60.0) as u32,
    };
    let first_kg_m2 = product_kg_m2 / f64::from(parts);
    LimeSplit {
        parts,
        months_between: if parts > 1 { MONTHS_BETWEEN } else { 0 },
        first_kg_m2,
        half_before_half_after: placement == LimePlacement::MixedIn
            && first_kg_m2 / RateUnit::TonPerAcre.kg_m2() > HALF_AND_HALF_TON_ACRE,
    }
}

/// Product as sold for a need of calcium carbonate, both kg/m². Infinite for a material without effect.
#[must_use]
pub fn product_kg_m2(carbonate_kg_m2: f64, effect: &Effect) -> f64 {
    100.0 * carbonate_kg_m2 / effect.as_sold_percent
}

/// Input of `lime-product`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LimeProductInput {
    /// The need, as a lime method gives it.
    pub carbonate_kg_m2: CarbonateRate,
    /// The system that the lime method names.
    pub system: EffectivenessSystem,
    /// Calcium carbonate equivalent of the dry product.
    pub carbonate_equivalent_percent: CarbonateEquivalent,
    /// Moisture as sold.
    pub moisture_percent: MaterialMoisture,
    /// Fineness, where the system asks for it.
    #[serde(default)]
    pub fineness: Fineness,
    /// Calcium carbonate that lime spread earlier still has to give.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub credit_kg_m2: Option<CarbonateRate>,
    /// How it is put on.
    pub placement: LimePlacement,
}

/// Output of `lime-product`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct LimeProductOutput {
    /// What a weight of it is worth.
    pub effect: Effect,
    /// Product as sold.
    pub product_kg_m2: f64,
    /// The same.
    pub product_lb_100_ft2: f64,
    /// The same.
    pub product_lb_1000_ft2: f64,
    /// The same.
    pub product_ton_acre: f64,
    /// In parts.
    pub split: LimeSplit,
}

/// Pounds of a liming product.
pub struct LimeProduct;

impl Method for LimeProduct {
    type Input = LimeProductInput;
    type Output = LimeProductOutput;

    const CARD: Card = Card {
        name: "lime-product",
        title: "From a lime need to a product",
        topic: Topic::Fertility,
        computes: "The amount of a liming product that meets a lime need, corrected once for its strength, fineness and moisture, \
                   less what an earlier liming still has to give; and in how many parts to put it on.",
        validity: &[
            "Use the effectiveness system that the lime method names.",
            "In gardens up to 10 lb/100 ft² goes on at once, up to 20 in halves six months apart, more in three parts.",
            "Ground that is not turned takes about 50 lb/1000 ft² in a pass (common practice); above 4 ton/acre mixed in, half goes on before and half after turning (recalled).",
            "Lime begins to move the pH in 3 to 6 months: spread it in autumn or 2 to 6 months before planting, and test after 6 to 12 months, not before.",
        ],
        sources: &[
            Cite::new("PennStateGardenLime", "rate for lime of another strength; splitting"),
            Cite::new("MissouriLime", "when lime reacts"),
            Cite::new("OregonEm9057", "1 to 2 t/ac on the surface"),
        ],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        LimeProductInput {
            carbonate_kg_m2: CarbonateRate::literal(0.5),
            system: EffectivenessSystem::CarbonateEquivalent,
            carbonate_equivalent_percent: CarbonateEquivalent::literal(92.0),
            moisture_percent: MaterialMoisture::literal(2.0),
            fineness: Fineness::default(),
            credit_kg_m2: None,
            placement: LimePlacement::MixedIn,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let material = LimingMaterial {
            carbonate_equivalent_percent: input.carbonate_equivalent_percent.get(),
            moisture_percent: input.moisture_percent.get(),
            fineness: input.fineness,
        };
        let effect = checked(input.system, &material)?;
        if effect.as_sold_percent < 1.0 {
            return Err(Refusal::new(
                "fineness",
                format!(
                    "only {:.1} % of this product works: it is no lime to spread",
                    effect.as_sold_percent
                ),
            )
            .given(format!("{:.1} % effective", effect.as_sold_percent))
            .accepted("a product of which at least 1 % works")
            .example("90 % passing 20 mesh"));
        }
        let need = (input.carbonate_kg_m2.get() - input.credit_kg_m2.map_or(0.0, Bounded::get)).max(0.0);
        let product = product_kg_m2(need, &effect);
        let mut notes = Vec::new();
        if input.system.provenance() == Provenance::Recalled {
            notes.push(recalled("The factors of this effectiveness system"));
        }
        if input.carbonate_equivalent_percent.get() > 120.0 {
            notes.push(Note::new(
                NoteKind::Safety,
                "Stronger than any ground stone: this is burnt or hydrated lime. It burns eyes and skin, kills seedlings, and the US organic rule does not allow it for liming soil.",
            ));
        }
        Ok(Answer::with_notes(
            LimeProductOutput {
                effect,
                product_kg_m2: product,
                product_lb_100_ft2: product / RateUnit::PoundPer100SquareFeet.kg_m2(),
                product_lb_1000_ft2: product * M2_PER_1000_FT2 / KG_PER_LB,
                product_ton_acre: product / RateUnit::TonPerAcre.kg_m2(),
                split: split(product, input.placement),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "what a weight of it is worth",
                input.system.words(),
                format!("calcium carbonate equivalent {} %", number(input.carbonate_equivalent_percent.get())),
                format!("{:.1} % as sold", value.effect.as_sold_percent),
            )
            .step(
                "product",
                "(need − credit) / effectiveness",
                format!(
                    "({} − {}) / {:.3}",
                    number(input.carbonate_kg_m2.get()),
                    number(input.credit_kg_m2.map_or(0.0, Bounded::get)),
                    value.effect.as_sold_percent / 100.0
                ),
                format!("{:.3} kg/m², {:.1} lb/100 ft²", value.product_kg_m2, value.product_lb_100_ft2),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "in parts",
                "up to 10 lb/100 ft² at once, up to 20 in halves, more in three; 50 lb/1000 ft² a pass on the surface",
                format!("{:.1} lb/100 ft²", value.product_lb_100_ft2),
                format!("{} parts of {:.3} kg/m²", value.split.parts, value.split.first_kg_m2),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_add_up_to_the_whole() {
        for placement in [LimePlacement::MixedIn, LimePlacement::Surface] {
            let mut last = 0;
            for step in 0..=80_u32 {
                let rate = f64::from(step) / 20.0;
                let split = split(rate, placement);
                assert!((f64::from(split.parts) * split.first_kg_m2 - rate).abs() < 1e-9);
                assert!(split.parts >= last);
                last = split.parts;
            }
        }
        assert!(split(3.0, LimePlacement::MixedIn).half_before_half_after);
        assert_eq!(split(0.0, LimePlacement::MixedIn).parts, 1);
    }
}
