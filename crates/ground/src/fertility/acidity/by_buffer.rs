//! What the methods that read one buffer pH share: their input, and the way from a published rate to a need.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{Basis, Layer, LimeNeed, Rule, accuracy, between_targets, no_need, published_target};
use super::quantity::{BufferPh, MixedDensity, MixedDepth, SoilPh, TargetPh};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Cite, Note, NoteKind, Refusal, Working};

/// Input of a method that reads one buffer pH.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BufferInput {
    /// pH in the method's own buffer.
    pub buffer_ph: BufferPh,
    /// pH to reach.
    pub target_ph: TargetPh,
    /// pH in water; with it, ground that is sweet enough is told so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub soil_ph: Option<SoilPh>,
    /// Depth the lime is mixed into.
    pub depth_cm: MixedDepth,
    /// Bulk density of that depth, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density_g_cm3: Option<MixedDensity>,
}

impl BufferInput {
    pub(super) fn typical() -> Self {
        Self {
            buffer_ph: BufferPh::literal(6.4),
            target_ph: TargetPh::literal(6.5),
            soil_ph: Some(SoilPh::literal(5.6)),
            depth_cm: MixedDepth::literal(15.0),
            bulk_density_g_cm3: None,
        }
    }

    fn layer(&self) -> Layer {
        Layer::new(self.depth_cm, self.bulk_density_g_cm3)
    }
}

/// A method that reads one buffer pH.
pub(super) struct BufferRule {
    /// What its rate is of.
    pub(super) basis: Basis,
    /// Targets it is published for, rising.
    pub(super) targets: &'static [f64],
    /// The lowest buffer pH it covers.
    pub(super) from: f64,
    /// Above this it asks for no lime.
    pub(super) to: f64,
    /// The rate for a buffer pH it covers and a target among or between its own.
    pub(super) rate: fn(f64, f64) -> f64,
    /// The rule in symbols.
    pub(super) says: &'static str,
    pub(super) cite: Cite,
}

/// Why a method gives no need.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoRate {
    /// The buffer pH is below what the source covers.
    BufferBelow(f64),
    /// The target is above the highest it is published for.
    TargetAbove(f64),
}

impl BufferRule {
    /// The rate and the target it reaches; nothing to spread above the covered buffer pH, and where the pH in
    /// water is at the target.
    pub(super) fn rate(&self, buffer: f64, target: f64, soil_ph: Option<f64>) -> Result<(f64, f64), NoRate> {
        let high = self.targets.last().copied().unwrap_or(target);
        let reached = published_target(self.targets, target).ok_or(NoRate::TargetAbove(high))?;
        if soil_ph.is_some_and(|ph| ph >= target) || buffer > self.to + 1e-9 {
            return Ok((0.0, reached));
        }
        if buffer < self.from - 1e-9 {
            return Err(NoRate::BufferBelow(self.from));
        }
        Ok(((self.rate)(buffer, reached).max(0.0), reached))
    }

    /// The answer of the method.
    pub(super) fn answer(
        &self,
        input: &BufferInput,
        provenance: Option<Note>,
    ) -> Result<Answer<LimeNeed>, Refusal> {
        let target = input.target_ph.get();
        let soil_ph = input.soil_ph.map(Bounded::get);
        let (rate, reached) = self.rate(input.buffer_ph.get(), target, soil_ph).map_err(refused)?;
        let mut notes = Vec::new();
        if soil_ph.is_some_and(|ph| ph >= target) {
            notes.push(no_need());
        }
        notes.extend(target_note(self.targets, target, reached));
        notes.extend(provenance);
        notes.push(accuracy(&self.basis));
        Ok(Answer::with_notes(LimeNeed::of(&self.basis, rate, reached, input.layer()), notes))
    }

    /// Its working.
    pub(super) fn working(&self, input: &BufferInput, answer: &Answer<LimeNeed>) -> Working {
        let rule = Rule {
            says: self.says,
            numbers: format!(
                "buffer pH {}, pH to reach {}",
                number(input.buffer_ph.get()),
                number(answer.value.target_ph)
            ),
            cite: self.cite,
        };
        answer.value.working(&self.basis, input.layer(), rule)
    }
}

/// What to say where the target is not one of those a source prints.
pub(super) fn target_note(published: &[f64], asked: f64, reached: f64) -> Option<Note> {
    if reached > asked + 1e-9 {
        return Some(Note::new(
            NoteKind::OutsideRange,
            format!("This method is published for no pH below {}: its rate reaches that.", number(reached)),
        ));
    }
    (!published.iter().any(|one| (one - reached).abs() < 1e-9)).then(between_targets)
}

/// The refusal of what a method does not cover.
pub(super) fn refused(why: NoRate) -> Refusal {
    match why {
        NoRate::BufferBelow(from) => Refusal::new(
            "buffer_ph",
            format!("the source ends at a buffer pH of {}; nothing is drawn out beyond it", number(from)),
        )
        .accepted(format!("{} or more", number(from)))
        .example(number(from)),
        NoRate::TargetAbove(high) => {
            Refusal::new("target_ph", format!("the source gives no rate for a pH above {}", number(high)))
                .accepted(format!("{} or less", number(high)))
                .example(number(high))
        }
    }
}
