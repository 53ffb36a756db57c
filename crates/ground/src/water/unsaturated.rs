//! How fast water moves through ground that is not full.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::equations::SoilWater;
use super::tension::{Answered, WaterTension, WaterTensionQuestion};
use crate::kit::{Answer, Card, Cite, Method, Refusal, Topic, Working};

impl SoilWater {
    /// Conductivity without stones at a water content, mm/h: Ks (θ/θS)^(3 + 2/λ) (eq. 17).
    #[must_use]
    pub fn conductivity_at(&self, water_content: f64) -> Option<f64> {
        let full = self.saturation?;
        let power = 3.0 + 2.0 / self.lambda?;
        let sound = water_content > 0.0 && water_content <= full;
        let saturated = self.saturated_conductivity_fine_earth?;
        sound.then(|| saturated * libm::pow(water_content / full, power))
    }
}

/// Output of `unsaturated-conductivity`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct UnsaturatedConductivityAnswer {
    /// Conductivity at this water content, of the soil without stones.
    pub conductivity_mm_h: Option<f64>,
    /// Conductivity when full, of the soil without stones.
    pub saturated_conductivity_mm_h: Option<f64>,
    /// Water content of the soil without stones.
    pub water_content_m3_m3: Option<f64>,
    /// Its tension.
    pub tension_kpa: Option<f64>,
}

/// Unsaturated conductivity of Saxton and Rawls.
pub struct UnsaturatedConductivity;

impl Method for UnsaturatedConductivity {
    type Input = WaterTensionQuestion;
    type Output = UnsaturatedConductivityAnswer;

    const CARD: Card = Card {
        name: "unsaturated-conductivity",
        title: "How fast water moves in ground that is not full",
        topic: Topic::Water,
        computes: "Gives the conductivity of a soil of known texture at a water content or tension. It falls \
                   steeply as the ground dries, which is why a drained plot stops draining near field capacity.",
        validity: &[
            "The limits of soil-water hold here too; conductivity is good to a factor of a few at best.",
            "Stones are not taken into account.",
        ],
        sources: &[Cite::new("SaxtonRawls2006", "Table 1, eq. 11-18")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        WaterTension::example()
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let Answered { water, point, notes, .. } = input.answered()?;
        let value = UnsaturatedConductivityAnswer {
            conductivity_mm_h: point.and_then(|(content, ..)| water.conductivity_at(content)),
            saturated_conductivity_mm_h: water.saturated_conductivity_fine_earth,
            water_content_m3_m3: point.map(|(content, ..)| content),
            tension_kpa: point.map(|(_, tension, _)| tension),
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok(Answered { question, water, .. }) = input.answered() else { return Working::new() };
        let working = super::working::steps(&question, &water);
        let value = &answer.value;
        let (Some(content), Some(speed), Some(lambda), Some(full), Some(saturated)) = (
            value.water_content_m3_m3,
            value.conductivity_mm_h,
            water.lambda,
            water.saturation,
            value.saturated_conductivity_mm_h,
        ) else {
            return working;
        };
        working
            .step(
                "conductivity at this water content",
                "K = Ks (θ / θS)^(3 + 2 / λ)",
                format!("{saturated:.4} × ({content:.4} / {full:.4})^(3 + 2 / {lambda:.5})"),
                format!("{speed:.3e} mm/h"),
            )
            .cite(Cite::new("SaxtonRawls2006", "eq. 17"))
    }
}
