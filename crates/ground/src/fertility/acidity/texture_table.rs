//! Lime by pH and texture from a table of unknown origin: a fallback that says so.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{Basis, Layer, LimeNeed, RateUnit, Rule, accuracy, along, no_need, published_target};
use super::by_buffer::{NoRate, refused, target_note};
use super::effectiveness::EffectivenessSystem;
use super::quantity::{MixedDensity, MixedDepth, SoilPh, TargetPh};
use crate::kit::quantity::number;
use crate::kit::table;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;
use crate::water::salts::TextureGroup;

#[derive(Deserialize)]
struct Row {
    soil_ph: f64,
    sandy_loam: f64,
    loam: f64,
    clay_loam: f64,
}

static COLUMNS: LazyLock<[Vec<(f64, f64)>; 3]> = LazyLock::new(|| {
    let rows: Vec<Row> = table::rows("texture_table.csv", include_str!("data/texture_table.csv"));
    let column = |of: fn(&Row) -> f64| rows.iter().map(|row| (row.soil_ph, of(row))).collect();
    [column(|row| row.sandy_loam), column(|row| row.loam), column(|row| row.clay_loam)]
});

/// What its rate is of.
pub const BASIS: Basis = Basis {
    unit: RateUnit::PoundPer100SquareFeet,
    depth_cm: 17.0,
    lime: "ground limestone that is not described (taken as calcium carbonate)",
    strength_percent: 100.0,
    system: EffectivenessSystem::CarbonateEquivalent,
    error_percent: 50.0,
};
/// The one target.
pub(super) const TARGETS: [f64; 1] = [6.5];
const CITE: Cite = Cite::new("LimeTextureTable", "lime by pH and texture");

/// lb/100 ft² to pH 6.5; below pH 4 the rate for 4.
#[must_use]
pub fn rate_lb_100_ft2(soil_ph: f64, group: TextureGroup) -> f64 {
    along(&COLUMNS[group as usize], soil_ph.clamp(4.0, 6.5)).unwrap_or(0.0)
}

/// Input of `lime-texture-table`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TextureTableInput {
    /// pH in water.
    pub soil_ph: SoilPh,
    /// pH to reach: 6.5, or lower and answered with the rate for 6.5.
    pub target_ph: TargetPh,
    /// Texture class; sands go with sandy loam, clays with clay loam.
    pub class: Class,
    /// Depth the lime is mixed into.
    pub depth_cm: MixedDepth,
    /// Bulk density of that depth, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density_g_cm3: Option<MixedDensity>,
}

/// Lime by a weak table.
pub struct LimeTextureTable;

impl Method for LimeTextureTable {
    type Input = TextureTableInput;
    type Output = LimeNeed;

    const CARD: Card = Card {
        name: "lime-texture-table",
        title: "Lime by pH and texture, a weak table",
        topic: Topic::Fertility,
        computes: "The lime that brings ground to pH 6.5 by a table of pH and texture that is reprinted everywhere and whose \
                   origin was not found. Use it only where there is nothing better, and to see a rate that is out of line.",
        validity: &[
            "pH 4.0 to 6.5, to 6.5 only. Neither depth nor lime is stated: 17 cm and calcium carbonate are our judgement.",
            "Good to 50 %. A buffer pH costs little and is far better.",
        ],
        sources: &[CITE],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        TextureTableInput {
            soil_ph: SoilPh::literal(5.5),
            target_ph: TargetPh::literal(6.5),
            class: Class::Loam,
            depth_cm: MixedDepth::literal(17.0),
            bulk_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (ph, asked) = (input.soil_ph.get(), input.target_ph.get());
        let reached = published_target(&TARGETS, asked).ok_or_else(|| refused(NoRate::TargetAbove(6.5)))?;
        let rate = if ph >= asked { 0.0 } else { rate_lb_100_ft2(ph, TextureGroup::of(input.class)) };
        let mut notes = Vec::new();
        if ph >= asked {
            notes.push(no_need());
        }
        if ph < 4.0 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "The table ends at pH 4.0; its rate there is taken.",
            ));
        }
        notes.extend(target_note(&TARGETS, asked, reached));
        notes.push(Note::new(
            NoteKind::Provenance,
            "A weak source: a table of unknown origin; depth and lime are our judgement.",
        ));
        notes.push(accuracy(&BASIS));
        let layer = Layer::new(input.depth_cm, input.bulk_density_g_cm3);
        Ok(Answer::with_notes(LimeNeed::of(&BASIS, rate, reached, layer), notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let rule = Rule {
            says: "the row and column of the table, straight lines between its rows",
            numbers: format!("pH {}, {}", number(input.soil_ph.get()), input.class.name()),
            cite: CITE,
        };
        answer.value.working(&BASIS, Layer::new(input.depth_cm, input.bulk_density_g_cm3), rule)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heavier_and_more_acid_ground_asks_for_more() {
        for step in 0..=24_u32 {
            let ph = 4.0 + f64::from(step) / 10.0;
            let rates = [TextureGroup::Coarse, TextureGroup::Medium, TextureGroup::Fine]
                .map(|group| rate_lb_100_ft2(ph, group));
            assert!(rates.windows(2).all(|pair| pair[0] < pair[1]), "{ph}");
        }
        assert_eq!(rate_lb_100_ft2(6.5, TextureGroup::Fine), 0.0);
        assert_eq!(rate_lb_100_ft2(3.2, TextureGroup::Fine), rate_lb_100_ft2(4.0, TextureGroup::Fine));
    }
}
