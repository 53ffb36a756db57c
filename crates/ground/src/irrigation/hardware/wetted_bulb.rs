//! Width and depth of the ground that one emitter wets, from its flow and the ground's conductivity.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::drip_run_time::EmitterFlow;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Water given by one emitter.
    pub struct EmitterVolume: "water from one emitter", "L", 0.1 ..= 500.0, example 20.0;
    /// Saturated conductivity.
    pub struct Conductivity: "saturated conductivity", "mm/h", 0.1 ..= 1000.0, example 36.0;
}

/// Width and depth, m, of the ground wetted by one emitter.
#[must_use]
pub fn bulb(volume_l: f64, flow_l_h: f64, conductivity_mm_h: f64) -> (f64, f64) {
    let volume_m3 = volume_l / 1000.0;
    let flow_m3_s = flow_l_h / 3.6e6;
    let conductivity_m_s = conductivity_mm_h / 3.6e6;
    let ratio = conductivity_m_s / flow_m3_s;
    (
        1.82 * libm::pow(volume_m3, 0.22) * libm::pow(ratio, -0.17),
        2.54 * libm::pow(volume_m3, 0.63) * libm::pow(ratio, 0.45),
    )
}

/// Input of `wetted-bulb`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WettedBulbInput {
    /// Water that one emitter has given.
    pub volume_l: EmitterVolume,
    /// Flow of one emitter.
    pub flow_l_h: EmitterFlow,
    /// Saturated conductivity of the ground.
    pub conductivity_mm_h: Conductivity,
}

/// Output of `wetted-bulb`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct WettedBulbOutput {
    /// Greatest width of the wetted ground.
    pub width_m: f64,
    /// Depth the water has reached.
    pub depth_m: f64,
    /// Spacing that joins the wet spots (common practice: four fifths of the width).
    pub joining_spacing_m: f64,
}

/// Ground wetted by one emitter.
pub struct WettedBulb;

impl Method for WettedBulb {
    type Input = WettedBulbInput;
    type Output = WettedBulbOutput;

    const CARD: Card = Card {
        name: "wetted-bulb",
        title: "Ground wetted by one emitter",
        topic: Topic::Irrigation,
        computes: "How wide and how deep one emitter has wetted the ground after giving so much water. Depth beyond \
                   the roots is water lost.",
        validity: &[
            "Even ground, dry to moist before, one emitter alone; spots that meet go deeper.",
            "Fitted to two soils: elsewhere a guide. Dig and measure.",
        ],
        sources: &[Cite::new("SchwartzmanZur1986", "equations for width and depth")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        WettedBulbInput {
            volume_l: EmitterVolume::literal(20.0),
            flow_l_h: EmitterFlow::literal(4.0),
            conductivity_mm_h: Conductivity::literal(36.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (width, depth) = bulb(input.volume_l.get(), input.flow_l_h.get(), input.conductivity_mm_h.get());
        Ok(Answer::with_notes(
            WettedBulbOutput { width_m: width, depth_m: depth, joining_spacing_m: 0.8 * width },
            vec![Note::new(
                NoteKind::Provenance,
                "The coefficients are recalled from the publication and were not read again.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let numbers = format!(
            "V = {} L, q = {} L/h, K = {} mm/h, in m³, m³/s and m/s",
            input.volume_l.get(),
            input.flow_l_h.get(),
            input.conductivity_mm_h.get()
        );
        Working::new()
            .step(
                "width",
                "w = 1.82 V^0.22 (K/q)^−0.17",
                numbers.clone(),
                format!("{:.3} m", answer.value.width_m),
            )
            .cite(Self::CARD.sources[0])
            .step("depth", "z = 2.54 V^0.63 (K/q)^0.45", numbers, format!("{:.3} m", answer.value.depth_m))
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tighter_ground_is_wetted_wider_and_less_deep() {
        let (wide, shallow) = bulb(20.0, 4.0, 5.0);
        let (narrow, deep) = bulb(20.0, 4.0, 200.0);
        assert!(wide > narrow && shallow < deep);
    }
}
