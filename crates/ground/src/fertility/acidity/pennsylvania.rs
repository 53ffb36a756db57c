//! Lime requirement from exchangeable acidity, Pennsylvania.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{Basis, Layer, LimeNeed, RateUnit, Rule, accuracy, inches, no_need, published_target};
use super::by_buffer::{NoRate, refused, target_note};
use super::effectiveness::EffectivenessSystem;
use super::quantity::{Acidity, MixedDensity, MixedDepth, SoilPh, TargetPh};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

pub(super) const BASIS: Basis = Basis {
    unit: RateUnit::PoundPerAcre,
    depth_cm: inches(7.0),
    lime: "fine lime of 100 % calcium carbonate equivalent",
    strength_percent: 100.0,
    system: EffectivenessSystem::CarbonateEquivalent,
    error_percent: 30.0,
};
/// Targets that are published.
pub(super) const TARGETS: [f64; 2] = [6.5, 7.0];
const CITE: Cite = Cite::new("PennStateAgronomyGuide", "lime from exchangeable acidity");
/// At and below this acidity, meq/100 g, the guide gives one rate for pH 6.5.
const LITTLE_ACIDITY: f64 = 4.0;

/// lb/acre to a published target, or between them. The step at an acidity of 4 is the guide's own.
#[must_use]
pub fn rate_lb_acre(acidity_meq_100_g: f64, soil_ph: f64, target_ph: f64) -> f64 {
    if soil_ph >= target_ph {
        return 0.0;
    }
    let to_6_5 = if acidity_meq_100_g > LITTLE_ACIDITY {
        840.0 * acidity_meq_100_g
    } else if soil_ph < 6.5 {
        2000.0
    } else {
        0.0
    };
    let to_7 = 1000.0 * acidity_meq_100_g;
    let along = ((target_ph - 6.5) / 0.5).clamp(0.0, 1.0);
    // Where the guide's least rate of 2000 passes the rate to 7.0, the higher target asks for no less.
    to_6_5 + along * (to_7.max(to_6_5) - to_6_5)
}

/// Input of `lime-pennsylvania-acidity`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PennsylvaniaInput {
    /// Exchangeable acidity as the laboratory reports it.
    pub acidity_meq_100_g: Acidity,
    /// pH in water.
    pub soil_ph: SoilPh,
    /// pH to reach: 6.5 or 7.0.
    pub target_ph: TargetPh,
    /// Depth the lime is mixed into.
    pub depth_cm: MixedDepth,
    /// Bulk density of that depth, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density_g_cm3: Option<MixedDensity>,
}

/// Lime by Pennsylvania's rule.
pub struct LimePennsylvania;

impl Method for LimePennsylvania {
    type Input = PennsylvaniaInput;
    type Output = LimeNeed;

    const CARD: Card = Card {
        name: "lime-pennsylvania-acidity",
        title: "Lime by exchangeable acidity, Pennsylvania",
        topic: Topic::Fertility,
        computes: "The lime need from the exchangeable acidity that a laboratory reports, by the rule of the Penn State guide, in \
                   pounds of calcium carbonate equivalent.",
        validity: &[
            "pH to reach 6.5 or 7.0; a lower one is answered with the rate for 6.5.",
            "The guide's rate for 6.5 steps from 3360 down to 2000 lb/acre at an acidity of 4 meq/100 g: the step is in the source.",
        ],
        sources: &[CITE],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        PennsylvaniaInput {
            acidity_meq_100_g: Acidity::literal(5.0),
            soil_ph: SoilPh::literal(5.6),
            target_ph: TargetPh::literal(6.5),
            depth_cm: MixedDepth::literal(18.0),
            bulk_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (acidity, ph, asked) =
            (input.acidity_meq_100_g.get(), input.soil_ph.get(), input.target_ph.get());
        let reached = published_target(&TARGETS, asked).ok_or_else(|| refused(NoRate::TargetAbove(7.0)))?;
        let mut notes = Vec::new();
        let rate = if ph >= asked {
            notes.push(no_need());
            0.0
        } else {
            rate_lb_acre(acidity, ph, reached)
        };
        notes.extend(target_note(&TARGETS, asked, reached));
        if acidity <= LITTLE_ACIDITY && rate > 0.0 {
            notes.push(Note::new(
                NoteKind::Method,
                "At 4 meq/100 g or less the guide gives 2000 lb/acre whatever the acidity.",
            ));
        }
        notes.push(accuracy(&BASIS));
        let layer = Layer::new(input.depth_cm, input.bulk_density_g_cm3);
        Ok(Answer::with_notes(LimeNeed::of(&BASIS, rate, reached, layer), notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let rule = Rule {
            says: "to 7.0: 1000 × acidity; to 6.5: 840 × acidity above 4 meq/100 g, else 2000 below pH 6.5",
            numbers: format!(
                "acidity {} meq/100 g, pH {}, pH to reach {}",
                number(input.acidity_meq_100_g.get()),
                number(input.soil_ph.get()),
                number(answer.value.target_ph)
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
    fn a_higher_target_never_asks_for_less() {
        for step in 0..=120_u32 {
            let acidity = f64::from(step) / 10.0;
            assert!(rate_lb_acre(acidity, 5.5, 7.0) >= rate_lb_acre(acidity, 5.5, 6.5), "{acidity}");
        }
        assert_eq!(rate_lb_acre(8.0, 6.6, 6.5), 0.0);
    }
}
