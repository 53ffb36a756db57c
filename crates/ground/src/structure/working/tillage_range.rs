//! The water contents between which tillage makes crumbs, from the retention curve.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::water::retention::parameters::{Residual, Saturated, Steepness};

/// Water contents of tillage, m³/m³.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TillageRange {
    /// Where crumbs are most and clods fewest: the inflection of the curve.
    pub optimum: f64,
    /// Above this it smears.
    pub wet_limit: f64,
}

/// From van Genuchten's curve with m = 1 − 1/n; `n` above 1.
#[must_use]
pub fn tillage_range(theta_r: f64, theta_s: f64, n: f64) -> TillageRange {
    let m = 1.0 - 1.0 / n;
    let optimum = theta_r + (theta_s - theta_r) * libm::pow(1.0 + 1.0 / m, -m);
    TillageRange { optimum, wet_limit: optimum + 0.4 * (theta_s - optimum) }
}

/// Input of `tillage-water-range`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TillageInput {
    /// Residual water content.
    pub residual_m3_m3: Residual,
    /// Saturated water content.
    pub saturated_m3_m3: Saturated,
    /// Steepness of the curve.
    pub n: Steepness,
}

/// Output of `tillage-water-range`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct TillageOutput {
    /// Best water content for tillage.
    pub optimum_m3_m3: f64,
    /// Wettest at which to work.
    pub wet_limit_m3_m3: f64,
}

/// Water range of tillage.
pub struct TillageWaterRange;

impl Method for TillageWaterRange {
    type Input = TillageInput;
    type Output = TillageOutput;

    const CARD: Card = Card {
        name: "tillage-water-range",
        title: "Water range of tillage",
        topic: Topic::Structure,
        computes: "From the retention curve, the water content at which tillage makes most crumbs (the inflection of the \
                   curve) and the wettest at which to work: two fifths of the way from there to full pores.",
        validity: &[
            "Curves of van Genuchten with m = 1 − 1/n. The dry limit hangs on clod strength and is not given here.",
        ],
        sources: &[Cite::new("DexterBird2001", "optimum and wet tillage limit")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        TillageInput {
            residual_m3_m3: Residual::literal(0.078),
            saturated_m3_m3: Saturated::literal(0.43),
            n: Steepness::literal(1.56),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (low, high) = (input.residual_m3_m3.get(), input.saturated_m3_m3.get());
        if low >= high {
            return Err(Refusal::new(
                "residual_m3_m3",
                "the residual water content lies above the saturated one",
            )
            .given(format!("{low} m³/m³"))
            .accepted(format!("less than {high} m³/m³"))
            .example("0.078"));
        }
        let range = tillage_range(low, high, input.n.get());
        Ok(Answer::with_notes(
            TillageOutput { optimum_m3_m3: range.optimum, wet_limit_m3_m3: range.wet_limit },
            vec![Note::new(
                NoteKind::Provenance,
                "The two fifths are recalled from the publication and were not read again.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (low, high) = (input.residual_m3_m3.get(), input.saturated_m3_m3.get());
        Working::new()
            .step(
                "best water content",
                "θr + (θs − θr)(1 + 1/m)^(−m), m = 1 − 1/n",
                format!("θr {low}, θs {high}, n {}", input.n.get()),
                format!("{:.3} m³/m³", answer.value.optimum_m3_m3),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "wettest to work at",
                "best + 0.4 (θs − best)",
                format!(
                    "{:.3} + 0.4 × ({high} − {:.3})",
                    answer.value.optimum_m3_m3, answer.value.optimum_m3_m3
                ),
                format!("{:.3} m³/m³", answer.value.wet_limit_m3_m3),
            )
            .cite(Self::CARD.sources[0])
    }
}
