//! Wood ash in place of lime, with its yearly limit.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{KG_PER_LB, M2_PER_1000_FT2};
use super::quantity::{CarbonateRate, SoilPh};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Calcium carbonate equivalent of an ash, where it was analysed.
    pub struct AshEquivalent: "calcium carbonate equivalent of the ash", "%", 5.0 ..= 110.0, example 50.0;
}

/// Calcium carbonate equivalent of ashes that were not analysed, percent.
const UNKNOWN_ASH: [f64; 2] = [25.0, 60.0];
/// Most ash a year: 20 lb/1000 ft².
const A_YEAR_KG_M2: f64 = 20.0 * KG_PER_LB / M2_PER_1000_FT2;
/// No ash from this pH on.
const NONE_FROM_PH: f64 = 7.0;

/// Input of `wood-ash`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WoodAshInput {
    /// Lime need as calcium carbonate.
    pub carbonate_kg_m2: CarbonateRate,
    /// pH in water now.
    pub soil_ph: SoilPh,
    /// Calcium carbonate equivalent of the ash, where it was analysed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ash_equivalent_percent: Option<AshEquivalent>,
}

/// Output of `wood-ash`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WoodAshOutput {
    /// Ash that meets the need if it is strong.
    pub ash_low_kg_m2: f64,
    /// Ash that meets the need if it is weak.
    pub ash_high_kg_m2: f64,
    /// Ash to spread this year: the lesser amount, no more than the yearly limit.
    pub this_year_kg_m2: f64,
    /// The same.
    pub this_year_lb_1000_ft2: f64,
    /// May ash be spread here at all?
    pub allowed: bool,
}

/// Ash, kg/m², that meets a need: with a strong and with a weak ash, or the same twice where it was analysed.
#[must_use]
pub fn ash_kg_m2(carbonate_kg_m2: f64, equivalent_percent: Option<f64>) -> [f64; 2] {
    match equivalent_percent {
        Some(known) => [100.0 * carbonate_kg_m2 / known; 2],
        None => [100.0 * carbonate_kg_m2 / UNKNOWN_ASH[1], 100.0 * carbonate_kg_m2 / UNKNOWN_ASH[0]],
    }
}

/// Ash for this year, kg/m²: never above the limit, and none from pH 7 on.
#[must_use]
pub fn ash_this_year_kg_m2(carbonate_kg_m2: f64, soil_ph: f64, equivalent_percent: Option<f64>) -> f64 {
    if soil_ph >= NONE_FROM_PH {
        0.0
    } else {
        ash_kg_m2(carbonate_kg_m2, equivalent_percent)[0].min(A_YEAR_KG_M2)
    }
}

/// Wood ash.
pub struct WoodAsh;

impl Method for WoodAsh {
    type Input = WoodAshInput;
    type Output = WoodAshOutput;

    const CARD: Card = Card {
        name: "wood-ash",
        title: "Wood ash in place of lime",
        topic: Topic::Fertility,
        computes: "How much wood ash stands in for lime, and how much of it may go on in one year: its potassium salts and boron \
                   set the limit, not its lime.",
        validity: &[
            "Ash of clean wood: a half to three quarters of limestone by an extension note, 25 to 60 % calcium carbonate equivalent by an orchard handbook.",
            "At most 20 lb/1000 ft² a year, because a ton brings 1 to 3 lb of boron and salts; none at pH 7 or above.",
        ],
        sources: &[
            Cite::new("WoodAshExtension", "strength, limit and boron"),
            Cite::new("OrchardHandbookAsh", "calcium carbonate equivalent"),
        ],
        cautions: &[
            "No ash of painted, treated or glued wood, of coal or of rubbish: it carries lead, arsenic and worse.",
            "Ash is caustic: goggles, gloves, a dust mask, a still day. Let it cool for days in metal before it is carried.",
            "Never with urea, ammonium fertilizer or fresh manure; keep it off germinating seed.",
        ],
    };

    fn example() -> Self::Input {
        WoodAshInput {
            carbonate_kg_m2: CarbonateRate::literal(0.2),
            soil_ph: SoilPh::literal(5.8),
            ash_equivalent_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (need, ph) = (input.carbonate_kg_m2.get(), input.soil_ph.get());
        let equivalent = input.ash_equivalent_percent.map(Bounded::get);
        let [low, high] = ash_kg_m2(need, equivalent);
        let year = ash_this_year_kg_m2(need, ph, equivalent);
        let allowed = ph < NONE_FROM_PH;
        let mut notes = Vec::new();
        if !allowed {
            notes.push(Note::new(NoteKind::Method, "At pH 7 or above no ash: it would only do harm."));
        } else if low > A_YEAR_KG_M2 {
            notes.push(Note::new(
                NoteKind::Method,
                "The need is more than a year's ash: spread this year's, test, and make up the rest with limestone.",
            ));
        }
        if equivalent.is_none() {
            notes.push(Note::new(
                NoteKind::Method,
                "Ashes differ more than twofold: the amount for this year takes the strong end, so as not to over-lime.",
            ));
        }
        Ok(Answer::with_notes(
            WoodAshOutput {
                ash_low_kg_m2: low,
                ash_high_kg_m2: high,
                this_year_kg_m2: year,
                this_year_lb_1000_ft2: year * M2_PER_1000_FT2 / KG_PER_LB,
                allowed,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let strength = input
            .ash_equivalent_percent
            .map_or("25 to 60 %".to_owned(), |known| format!("{} %", number(known.get())));
        Working::new()
            .step(
                "ash for this year",
                "need / calcium carbonate equivalent, at most 20 lb/1000 ft² a year, none from pH 7 on",
                format!("{} kg/m² / {strength}", number(input.carbonate_kg_m2.get())),
                format!("{:.1} lb/1000 ft²", answer.value.this_year_lb_1000_ft2),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn never_above_the_limit_nor_on_sweet_ground() {
        for step in 0..=100_u32 {
            let need = f64::from(step) / 20.0;
            assert!(ash_this_year_kg_m2(need, 5.5, None) <= A_YEAR_KG_M2);
            assert_eq!(ash_this_year_kg_m2(need, 7.0, None), 0.0);
        }
    }
}
