//! Share of the nitrate in a layer that draining water carries below it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Water that drains through the layer.
    pub struct Drainage: "water draining through", "mm", 0.0 ..= 2000.0, example 50.0;
    /// Thickness of the layer.
    pub struct LayerDepth: "depth of the layer", "cm", 1.0 ..= 200.0, example 30.0;
    /// Water held at field capacity, percent by volume.
    pub struct FieldCapacityPercent: "field capacity", "%", 1.0 ..= 70.0, example 28.0;
}

/// Share of nitrate spread evenly through a layer that is carried below it. `field_capacity` in
/// m³/m³. Nothing drains: nothing is lost.
#[must_use]
pub fn share_leached(drainage_mm: f64, field_capacity: f64, depth_cm: f64) -> f64 {
    if drainage_mm <= 0.0 {
        return 0.0;
    }
    let p = drainage_mm / 10.0;
    // Volume percent over 100 is the content itself.
    libm::pow(p / (p + field_capacity), depth_cm / 2.0)
}

/// Input of `nitrate-leached`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NitrateLeachedInput {
    /// Water draining through.
    pub drainage_mm: Drainage,
    /// Water at field capacity by volume.
    pub field_capacity_percent: FieldCapacityPercent,
    /// Depth of the layer in which the nitrate is spread evenly.
    pub depth_cm: LayerDepth,
}

/// Output of `nitrate-leached`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct NitrateLeachedOutput {
    /// Share of the nitrate carried below the layer.
    pub leached_percent: f64,
}

/// Nitrate leached.
pub struct NitrateLeached;

impl Method for NitrateLeached {
    type Input = NitrateLeachedInput;
    type Output = NitrateLeachedOutput;

    const CARD: Card = Card {
        name: "nitrate-leached",
        title: "Nitrate leached",
        topic: Topic::Water,
        computes: "Share of the nitrate in a layer of ground that draining water carries below it. Sandy ground, \
                   which holds little water, loses most.",
        validity: &[
            "Freely draining ground without cracks, nitrate spread evenly through the layer.",
            "Made for sandy and loamy soils; in cracked clay water passes by the nitrate and less is lost.",
        ],
        sources: &[Cite::new("Burns1976", "uniformly distributed nitrate")],
        cautions: &[
            "Nitrogen that leaves the roots reaches wells and streams: keep the distances and dates local rules ask for.",
        ],
    };

    fn example() -> Self::Input {
        NitrateLeachedInput {
            drainage_mm: Drainage::literal(50.0),
            field_capacity_percent: FieldCapacityPercent::literal(28.0),
            depth_cm: LayerDepth::literal(30.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let share = share_leached(
            input.drainage_mm.get(),
            input.field_capacity_percent.get() / 100.0,
            input.depth_cm.get(),
        );
        Ok(Answer::with_notes(
            NitrateLeachedOutput { leached_percent: 100.0 * share },
            vec![Note::new(
                NoteKind::Provenance,
                "The equation is recalled from the publication and was not read again.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let p = input.drainage_mm.get() / 10.0;
        Working::new()
            .step(
                "share carried below the layer",
                "(P / (P + V/100))^(h/2), P drainage in cm, V field capacity in volume %, h depth in cm",
                format!(
                    "({p} / ({p} + {}/100))^({}/2)",
                    input.field_capacity_percent.get(),
                    input.depth_cm.get()
                ),
                format!("{:.1} %", answer.value.leached_percent),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sand_loses_more_than_clay_and_more_water_takes_more() {
        assert!(share_leached(50.0, 0.10, 30.0) > share_leached(50.0, 0.40, 30.0));
        assert!(share_leached(100.0, 0.20, 30.0) > share_leached(50.0, 0.20, 30.0));
        assert_eq!(share_leached(0.0, 0.20, 30.0), 0.0);
    }
}
