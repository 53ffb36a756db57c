//! Lime requirement by the Adams-Evans buffer, south-eastern United States.
//!
//! # Method
//! pH and the share of exchange sites that hold acid are joined by a curve; the buffer gives the acid. The lime is
//! the acid that must go for the curve to stand at the pH to reach, times 1.5 for lime that reacts in part.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{Basis, Layer, LimeNeed, RateUnit, Rule, accuracy, inches, no_need};
use super::by_buffer::{NoRate, refused};
use super::effectiveness::EffectivenessSystem;
use super::quantity::{BufferPh, MixedDensity, MixedDepth, SoilPh, TargetPh};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

pub(super) const BASIS: Basis = Basis {
    unit: RateUnit::PoundPerAcre,
    depth_cm: inches(20.0 / 3.0),
    lime: "calcium carbonate",
    strength_percent: 100.0,
    system: EffectivenessSystem::CarbonateEquivalent,
    error_percent: 30.0,
};
/// Highest pH to reach.
pub(super) const HIGHEST_TARGET: f64 = 6.5;
/// pH of the buffer without soil.
const BUFFER_START: f64 = 8.0;
const RATE: Cite = Cite::new("Huluka2005", "lime requirement equation");
const CURVE: Cite = Cite::new("AdamsEvans1962", "pH and acid saturation");

/// Share of the exchange sites that hold acid at a pH in water, 0 to 1: the smaller root of
/// pH = 7.79 − 5.55 h + 2.27 h².
#[must_use]
pub fn acid_saturation(soil_ph: f64) -> f64 {
    let (a, b, c) = (2.27, -5.55, 7.79 - soil_ph);
    let under_root = b * b - 4.0 * a * c;
    if under_root <= 0.0 {
        // Below the curve's lowest pH every site holds acid.
        return 1.0;
    }
    ((-b - under_root.sqrt()) / (2.0 * a)).clamp(0.0, 1.0)
}

/// Exchangeable acidity from an Adams-Evans buffer pH, meq/100 g.
#[must_use]
pub fn adams_evans_acidity(buffer_ph: f64) -> f64 {
    (8.0 * (BUFFER_START - buffer_ph)).max(0.0)
}

/// lb/acre of calcium carbonate; nothing at or above the target.
#[must_use]
pub fn rate_lb_acre(soil_ph: f64, buffer_ph: f64, target_ph: f64) -> f64 {
    let (now, then) = (acid_saturation(soil_ph), acid_saturation(target_ph));
    if now <= then {
        return 0.0;
    }
    1000.0 * adams_evans_acidity(buffer_ph) / now * (now - then) * 1.5
}

/// Input of `lime-adams-evans`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AdamsEvansInput {
    /// pH in water.
    pub soil_ph: SoilPh,
    /// pH in Adams-Evans, modified Adams-Evans or Moore-Sikora buffer.
    pub buffer_ph: BufferPh,
    /// pH to reach, 6.5 at most.
    pub target_ph: TargetPh,
    /// Depth the lime is mixed into.
    pub depth_cm: MixedDepth,
    /// Bulk density of that depth, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density_g_cm3: Option<MixedDensity>,
}

/// Output of `lime-adams-evans`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct AdamsEvansOutput {
    /// Exchange sites that hold acid now.
    pub acid_saturation_percent: f64,
    /// Exchange sites that hold acid at the pH to reach.
    pub acid_saturation_wanted_percent: f64,
    /// Exchangeable acidity.
    pub acidity_meq_100_g: f64,
    /// The need.
    #[serde(flatten)]
    pub need: LimeNeed,
}

/// Lime by the Adams-Evans buffer.
pub struct LimeAdamsEvans;

impl Method for LimeAdamsEvans {
    type Input = AdamsEvansInput;
    type Output = AdamsEvansOutput;

    const CARD: Card = Card {
        name: "lime-adams-evans",
        title: "Lime by Adams-Evans buffer, south-eastern states",
        topic: Topic::Fertility,
        computes: "The lime need of weakly buffered ground from the pH in water and in Adams-Evans buffer, through the curve that \
                   joins pH and acid on the exchange sites.",
        validity: &[
            "Kaolinitic soils of the south-east with an exchange capacity below 13 meq/100 g, whose need is usually below 5 ton/acre; pH to reach 6.5 at most.",
            "On 51 soils of East Texas it asked for about 0.1 ton/acre too much: good to 0.15 ton/acre at best.",
        ],
        sources: &[RATE, CURVE, Cite::new("YoungDlamini2009", "buffers against incubation, 51 soils")],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        AdamsEvansInput {
            soil_ph: SoilPh::literal(5.1),
            buffer_ph: BufferPh::literal(7.7),
            target_ph: TargetPh::literal(6.5),
            depth_cm: MixedDepth::literal(17.0),
            bulk_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (ph, buffer, target) = (input.soil_ph.get(), input.buffer_ph.get(), input.target_ph.get());
        if target > HIGHEST_TARGET + 1e-9 {
            return Err(refused(NoRate::TargetAbove(HIGHEST_TARGET)));
        }
        let rate = rate_lb_acre(ph, buffer, target);
        let mut notes = Vec::new();
        if ph >= target {
            notes.push(no_need());
        }
        if rate > 10_000.0 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "More than 5 ton/acre: this buffer is made for weakly buffered soils; ask for another.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "The equation was read; the curve of pH and acid saturation is recalled, and its authors call it specific to their soils.",
        ));
        notes.push(accuracy(&BASIS));
        let layer = Layer::new(input.depth_cm, input.bulk_density_g_cm3);
        Ok(Answer::with_notes(
            AdamsEvansOutput {
                acid_saturation_percent: 100.0 * acid_saturation(ph),
                acid_saturation_wanted_percent: 100.0 * acid_saturation(target),
                acidity_meq_100_g: adams_evans_acidity(buffer),
                need: LimeNeed::of(&BASIS, rate, target, layer),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let (now, then) =
            (value.acid_saturation_percent / 100.0, value.acid_saturation_wanted_percent / 100.0);
        let rule = Rule {
            says: "1000 × acidity / h now × (h now − h wanted) × 1.5",
            numbers: format!(
                "1000 × {:.2} / {now:.3} × ({now:.3} − {then:.3}) × 1.5",
                value.acidity_meq_100_g
            ),
            cite: RATE,
        };
        Working::new()
            .step(
                "acidity",
                "8 × (8.00 − buffer pH)",
                format!("8 × (8.00 − {})", number(input.buffer_ph.get())),
                format!("{:.2} meq/100 g", value.acidity_meq_100_g),
            )
            .cite(RATE)
            .step(
                "acid on the exchange sites",
                "the smaller root h of pH = 7.79 − 5.55 h + 2.27 h², at most 1",
                format!("pH {} and {}", number(input.soil_ph.get()), number(value.need.target_ph)),
                format!("{now:.3} now, {then:.3} wanted"),
            )
            .cite(CURVE)
            .then(value.need.working(&BASIS, Layer::new(input.depth_cm, input.bulk_density_g_cm3), rule))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_curve_falls_with_ph_and_is_its_own_inverse() {
        let mut last = 1.0;
        for step in 0..=35_u32 {
            let ph = 4.3 + f64::from(step) / 10.0;
            let h = acid_saturation(ph);
            assert!((0.0..=1.0).contains(&h) && h <= last + 1e-12, "{ph}: {h}");
            if h > 0.0 && h < 1.0 {
                assert!((7.79 - 5.55 * h + 2.27 * h * h - ph).abs() < 1e-9, "{ph}");
            }
            last = h;
        }
        assert_eq!(rate_lb_acre(6.6, 7.8, 6.5), 0.0);
    }
}
