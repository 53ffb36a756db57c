//! Lime requirement by pH and reactive aluminium, Vermont.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{Basis, Layer, LimeNeed, RateUnit, Rule, accuracy, published_target};
use super::by_buffer::{NoRate, refused, target_note};
use super::effectiveness::EffectivenessSystem;
use super::quantity::{MixedDensity, MixedDepth, ReactiveAluminium, SoilPh, TargetPh};
use crate::kit::quantity::number;
use crate::kit::table;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

#[derive(Deserialize)]
struct Row {
    ph_from: f64,
    ph_below: f64,
    aluminium_to_ppm: f64,
    lime_ton_acre: f64,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| table::rows("vermont_aluminium.csv", include_str!("data/vermont_aluminium.csv")));

pub(super) const BASIS: Basis = Basis {
    unit: RateUnit::TonPerAcre,
    depth_cm: 17.0,
    lime: "lime that is not described (taken as calcium carbonate)",
    strength_percent: 100.0,
    system: EffectivenessSystem::CarbonateEquivalent,
    error_percent: 40.0,
};
/// The one target.
pub(super) const TARGETS: [f64; 1] = [6.5];
const CITE: Cite = Cite::new("VermontLimeTable", "pH and reactive aluminium");

/// Ton/acre to pH 6.5.
#[must_use]
pub fn rate_ton_acre(soil_ph: f64, aluminium_ppm: f64) -> f64 {
    ROWS.iter()
        .find(|row| (row.ph_from..row.ph_below).contains(&soil_ph) && aluminium_ppm <= row.aluminium_to_ppm)
        .map_or(0.0, |row| row.lime_ton_acre)
}

/// Input of `lime-vermont-aluminium`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VermontInput {
    /// pH in water.
    pub soil_ph: SoilPh,
    /// Aluminium in modified Morgan extract.
    pub aluminium_ppm: ReactiveAluminium,
    /// pH to reach: 6.5, or lower and answered with the rate for 6.5.
    pub target_ph: TargetPh,
    /// Depth the lime is mixed into.
    pub depth_cm: MixedDepth,
    /// Bulk density of that depth, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density_g_cm3: Option<MixedDensity>,
}

/// Lime by Vermont's table.
pub struct LimeVermontAluminium;

impl Method for LimeVermontAluminium {
    type Input = VermontInput;
    type Output = LimeNeed;

    const CARD: Card = Card {
        name: "lime-vermont-aluminium",
        title: "Lime by reactive aluminium, Vermont",
        topic: Topic::Fertility,
        computes: "The lime that brings ground to pH 6.5, from its pH in water and the aluminium in modified Morgan extract: \
                   aluminium is what holds the acid in those soils.",
        validity: &[
            "Soils of Vermont and neighbours, modified Morgan extract; to pH 6.5 only.",
            "The table steps: a hair's breadth of pH may double the rate.",
            "The reprint that was read names neither depth nor lime: 17 cm and calcium carbonate are our judgement.",
        ],
        sources: &[CITE],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        VermontInput {
            soil_ph: SoilPh::literal(5.8),
            aluminium_ppm: ReactiveAluminium::literal(55.0),
            target_ph: TargetPh::literal(6.5),
            depth_cm: MixedDepth::literal(17.0),
            bulk_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let asked = input.target_ph.get();
        let reached = published_target(&TARGETS, asked).ok_or_else(|| refused(NoRate::TargetAbove(6.5)))?;
        let ph = input.soil_ph.get();
        let rate = if ph >= asked { 0.0 } else { rate_ton_acre(ph, input.aluminium_ppm.get()) };
        let mut notes: Vec<Note> = target_note(&TARGETS, asked, reached).into_iter().collect();
        notes.push(Note::new(
            NoteKind::Provenance,
            "The table was read in another's reprint, not in the university's own publication; depth and lime are our judgement.",
        ));
        notes.push(accuracy(&BASIS));
        let layer = Layer::new(input.depth_cm, input.bulk_density_g_cm3);
        Ok(Answer::with_notes(LimeNeed::of(&BASIS, rate, reached, layer), notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let rule = Rule {
            says: "the row of the table for pH and aluminium",
            numbers: format!(
                "pH {}, aluminium {} ppm",
                number(input.soil_ph.get()),
                number(input.aluminium_ppm.get())
            ),
            cite: CITE,
        };
        answer.value.working(&BASIS, Layer::new(input.depth_cm, input.bulk_density_g_cm3), rule)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_ph_and_aluminium_meets_a_row_and_more_acid_never_asks_for_less() {
        for aluminium in [0.0, 40.0, 41.0, 90.0, 150.0, 220.0, 1500.0] {
            let mut last = f64::INFINITY;
            for step in 0..=60_u32 {
                let ph = 4.0 + f64::from(step) / 20.0;
                assert!(ROWS.iter().any(
                    |row| (row.ph_from..row.ph_below).contains(&ph) && aluminium <= row.aluminium_to_ppm
                ));
                let rate = rate_ton_acre(ph, aluminium);
                assert!(rate <= last, "{ph} {aluminium}");
                last = rate;
            }
        }
    }
}
