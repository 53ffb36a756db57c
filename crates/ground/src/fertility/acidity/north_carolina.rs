//! Lime requirement by the Mehlich buffer with a credit for lime spread before, North Carolina.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{Basis, Layer, LimeNeed, RateUnit, Rule, accuracy, inches, no_need};
use super::effectiveness::EffectivenessSystem;
use super::quantity::{BufferPh, MixedDensity, MixedDepth, SoilPh, TargetPh};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Lime spread last time.
    pub struct LastLime: "lime spread last", "ton/acre", 0.0 ..= 20.0, example 1.0;
    /// Months since.
    pub struct MonthsSince: "months since it was spread", "", 0.0 ..= 600.0, example 6.0;
}

/// pH at which the Mehlich buffer stands without acid, and that of soil without exchangeable acidity.
const BUFFER_START: f64 = 6.6;
pub(super) const BASIS: Basis = Basis {
    unit: RateUnit::TonPerAcre,
    depth_cm: inches(8.0),
    lime: "standard agricultural lime (taken as 90 % calcium carbonate equivalent)",
    strength_percent: 90.0,
    system: EffectivenessSystem::CarbonateEquivalent,
    error_percent: 30.0,
};
/// Highest pH to reach.
pub(super) const TARGETS: [f64; 2] = [5.0, 6.5];
const CITE: Cite = Cite::new("NorthCarolinaLime", "Mehlich buffer acidity and lime rate");

/// Ground as North Carolina's laboratory classes it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CarolinaClass {
    /// Mineral.
    Mineral,
    /// Mineral-organic.
    MineralOrganic,
    /// Organic.
    Organic,
}

impl CarolinaClass {
    /// Share of an earlier liming that is used up each month.
    #[must_use]
    pub fn used_a_month(self) -> f64 {
        match self {
            Self::Mineral => 0.08,
            Self::MineralOrganic | Self::Organic => 0.16,
        }
    }
}

/// Exchangeable acidity from a Mehlich buffer pH, meq/100 cm³.
#[must_use]
pub fn mehlich_acidity(buffer_ph: f64) -> f64 {
    (4.0 * (BUFFER_START - buffer_ph)).max(0.0)
}

/// Ton/acre before any credit; nothing at or above the target.
#[must_use]
pub fn rate_ton_acre(soil_ph: f64, buffer_ph: f64, target_ph: f64) -> f64 {
    if soil_ph >= target_ph || soil_ph >= BUFFER_START {
        return 0.0;
    }
    mehlich_acidity(buffer_ph) * (target_ph - soil_ph) / (BUFFER_START - soil_ph)
}

/// What is left of an earlier liming, in its own unit.
#[must_use]
pub fn residual_credit(last: f64, months: f64, class: CarolinaClass) -> f64 {
    last * (1.0 - class.used_a_month() * months).max(0.0)
}

/// Input of `lime-north-carolina-mehlich`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CarolinaInput {
    /// pH in water.
    pub soil_ph: SoilPh,
    /// pH in Mehlich buffer.
    pub buffer_ph: BufferPh,
    /// pH to reach.
    pub target_ph: TargetPh,
    /// The laboratory's soil class.
    pub class: CarolinaClass,
    /// Lime spread before, where any was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_lime_ton_acre: Option<LastLime>,
    /// Months since; needed with it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub months_since: Option<MonthsSince>,
    /// Depth the lime is mixed into.
    pub depth_cm: MixedDepth,
    /// Bulk density of that depth, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density_g_cm3: Option<MixedDensity>,
}

/// Output of `lime-north-carolina-mehlich`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CarolinaOutput {
    /// Exchangeable acidity.
    pub acidity_meq_100_cm3: f64,
    /// Taken off for lime that is still at work.
    pub credit_ton_acre: f64,
    /// The need.
    #[serde(flatten)]
    pub need: LimeNeed,
}

/// Lime by North Carolina's equation.
pub struct LimeNorthCarolinaMehlich;

fn credit(input: &CarolinaInput) -> Result<f64, Refusal> {
    match (input.last_lime_ton_acre, input.months_since) {
        (None, _) => Ok(0.0),
        (Some(last), Some(months)) => Ok(residual_credit(last.get(), months.get(), input.class)),
        (Some(_), None) => Err(Refusal::new("months_since", "say how many months ago that lime was spread")
            .given("nothing")
            .accepted("0 to 600")
            .example("6")),
    }
}

impl Method for LimeNorthCarolinaMehlich {
    type Input = CarolinaInput;
    type Output = CarolinaOutput;

    const CARD: Card = Card {
        name: "lime-north-carolina-mehlich",
        title: "Lime by Mehlich buffer, North Carolina",
        topic: Topic::Fertility,
        computes: "The lime need from the pH in water and the pH in Mehlich buffer by North Carolina's equation, less what an \
                   earlier liming still has to give.",
        validity: &[
            "pH in water below 6.6. Usual pH to reach: vegetables on mineral ground 6.5, mineral-organic 5.5, organic 5.0 (recalled).",
            "The depth of 8 inches and 90 % for standard lime are common practice; how the credit is applied is recalled.",
        ],
        sources: &[CITE],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        CarolinaInput {
            soil_ph: SoilPh::literal(5.0),
            buffer_ph: BufferPh::literal(6.3),
            target_ph: TargetPh::literal(6.0),
            class: CarolinaClass::Mineral,
            last_lime_ton_acre: None,
            months_since: None,
            depth_cm: MixedDepth::literal(20.0),
            bulk_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (ph, buffer, target) = (input.soil_ph.get(), input.buffer_ph.get(), input.target_ph.get());
        if target >= BUFFER_START {
            return Err(super::by_buffer::refused(super::by_buffer::NoRate::TargetAbove(6.5)));
        }
        let before = rate_ton_acre(ph, buffer, target);
        let credit_ton_acre = credit(input)?;
        let mut notes = Vec::new();
        if ph >= target {
            notes.push(no_need());
        }
        if credit_ton_acre > before {
            notes.push(Note::new(
                NoteKind::Method,
                "The lime spread before has yet to do its work: wait and test again.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "The equation and the monthly shares were read; how the credit is applied is recalled, the depth and the strength of standard lime are common practice.",
        ));
        notes.push(accuracy(&BASIS));
        let layer = Layer::new(input.depth_cm, input.bulk_density_g_cm3);
        Ok(Answer::with_notes(
            CarolinaOutput {
                acidity_meq_100_cm3: mehlich_acidity(buffer),
                credit_ton_acre,
                need: LimeNeed::of(&BASIS, before - credit_ton_acre, target, layer),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let (ph, target) = (input.soil_ph.get(), input.target_ph.get());
        let rule = Rule {
            says: "acidity × (pH to reach − pH) / (6.6 − pH) − credit",
            numbers: format!(
                "{:.2} × ({} − {}) / (6.6 − {}) − {:.2}",
                value.acidity_meq_100_cm3,
                number(target),
                number(ph),
                number(ph),
                value.credit_ton_acre
            ),
            cite: CITE,
        };
        Working::new()
            .step(
                "exchangeable acidity",
                "4 × (6.6 − buffer pH)",
                format!("4 × (6.6 − {})", number(input.buffer_ph.get())),
                format!("{:.2} meq/100 cm³", value.acidity_meq_100_cm3),
            )
            .cite(CITE)
            .then(value.need.working(&BASIS, Layer::new(input.depth_cm, input.bulk_density_g_cm3), rule))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_credit_runs_out_and_sweet_ground_needs_none() {
        assert_eq!(residual_credit(1.0, 0.0, CarolinaClass::Mineral), 1.0);
        assert!(
            residual_credit(1.0, 6.0, CarolinaClass::Organic)
                < residual_credit(1.0, 6.0, CarolinaClass::Mineral)
        );
        assert_eq!(residual_credit(1.0, 13.0, CarolinaClass::Mineral), 0.0);
        assert_eq!(rate_ton_acre(6.6, 6.0, 6.5), 0.0);
        assert!(rate_ton_acre(6.59, 6.0, 6.5).abs() < 1e-12);
    }
}
