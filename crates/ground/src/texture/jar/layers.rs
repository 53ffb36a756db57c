//! Jar layers as shares of volume and of mass: the arithmetic alone.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::packing::{ByLayer, DENSITIES, PUBLISHED_KG_M3};
use crate::kit::{Answer, Bounded, Card, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Thickness of a settled layer.
    pub struct LayerThickness: "thickness of the layer", "mm", 0.0 ..= 1000.0, example 24.0;
    /// Dry mass in a volume of settled layer.
    pub struct LayerPacking: "packing of the layer", "kg/m³", 50.0 ..= 2200.0, example 1120.0;
}

/// Input of `jar-layers`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JarLayersInput {
    /// Sand layer.
    pub sand_mm: LayerThickness,
    /// Silt layer.
    pub silt_mm: LayerThickness,
    /// Clay layer.
    pub clay_mm: LayerThickness,
    /// Packing of the sand; 1550 kg/m³ where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sand_packing_kg_m3: Option<LayerPacking>,
    /// Packing of the silt; 1120 kg/m³ where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub silt_packing_kg_m3: Option<LayerPacking>,
    /// Packing of the clay; 416 kg/m³ where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clay_packing_kg_m3: Option<LayerPacking>,
}

impl JarLayersInput {
    fn thicknesses(&self) -> [f64; 3] {
        [self.sand_mm, self.silt_mm, self.clay_mm].map(Bounded::get)
    }

    fn packing(&self) -> [f64; 3] {
        let or = |given: Option<LayerPacking>, usual: f64| given.map_or(usual, Bounded::get);
        [
            or(self.sand_packing_kg_m3, PUBLISHED_KG_M3.sand),
            or(self.silt_packing_kg_m3, PUBLISHED_KG_M3.silt),
            or(self.clay_packing_kg_m3, PUBLISHED_KG_M3.clay),
        ]
    }
}

/// Output of `jar-layers`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct JarLayersOutput {
    /// Share of each layer in the settled volume of a straight jar.
    pub volume_percent: ByLayer<f64>,
    /// Share of each layer in the settled mass.
    pub mass_percent: ByLayer<f64>,
}

/// Shares of three parts in percent.
pub(super) fn percent(parts: [f64; 3]) -> [f64; 3] {
    let total: f64 = parts.iter().sum();
    parts.map(|part| 100.0 * part / total)
}

/// Layers as shares.
pub struct JarLayers;

impl Method for JarLayers {
    type Input = JarLayersInput;
    type Output = JarLayersOutput;

    const CARD: Card = Card {
        name: "jar-layers",
        title: "Jar layers as shares of volume and mass",
        topic: Topic::Texture,
        computes: "Turns the thickness of three settled layers into shares of volume, and with the packing of each \
                   layer into shares of mass. It takes the layers at their word; jar-test does not.",
        validity: &[
            "A straight-sided jar.",
            "The layers are taken to be sand, silt and clay, and all of each to be down.",
            "The packing differs from soil to soil; the values used where none are given are recalled from memory.",
        ],
        sources: &[DENSITIES],
        cautions: &[],
    };

    fn example() -> Self::Input {
        JarLayersInput {
            sand_mm: LayerThickness::literal(34.0),
            silt_mm: LayerThickness::literal(24.0),
            clay_mm: LayerThickness::literal(14.0),
            sand_packing_kg_m3: None,
            silt_packing_kg_m3: None,
            clay_packing_kg_m3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let [sand, silt, clay] = input.thicknesses();
        if sand + silt + clay <= 0.0 {
            return Err(Refusal::new(
                "sand_mm",
                "all three layers are zero, so the jar holds no settled soil",
            )
            .given("0, 0 and 0 mm")
            .accepted("at least one layer thicker than zero")
            .example("34, 24 and 14 mm"));
        }
        let [a, b, c] = input.packing();
        let value = JarLayersOutput {
            volume_percent: ByLayer::new(percent([sand, silt, clay])),
            mass_percent: ByLayer::new(percent([sand * a, silt * b, clay * c])),
        };
        let note = Note::new(
            NoteKind::Method,
            "How densely layers pack differs from soil to soil: shares of mass from a jar can be 10 points off. jar-test \
             gives the spread.",
        );
        Ok(Answer::with_notes(value, vec![note]))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let [sand, silt, clay] = input.thicknesses();
        let [a, b, c] = input.packing();
        let words = |shares: ByLayer<f64>| {
            format!("sand {:.1} %, silt {:.1} %, clay {:.1} %", shares.sand, shares.silt, shares.clay)
        };
        Working::new()
            .step(
                "shares of volume",
                "layer / sum of the layers",
                format!("{sand}, {silt} and {clay} mm of {} mm", sand + silt + clay),
                words(answer.value.volume_percent),
            )
            .step(
                "shares of mass",
                "layer × packing / sum of the same",
                format!("{sand} × {a}, {silt} × {b}, {clay} × {c}"),
                words(answer.value.mass_percent),
            )
            .cite(DENSITIES)
    }
}
