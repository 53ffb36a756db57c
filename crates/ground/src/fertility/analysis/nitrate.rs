//! Nitrate nitrogen in a layer of ground.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::soil_mass::{FigureDensity, FigureDepth, G_M2_PER_LB_ACRE, soil_mass_kg_m2};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Nitrogen in nitrate, by mass of the dry soil.
    pub struct NitrateNPpm: "nitrate nitrogen", "ppm", 0.0 ..= 2000.0, example 20.0;
}

/// The density that advisers count mineral nitrogen with, g/cm³ [Rb209Analysis].
pub const USUAL_DENSITY_G_CM3: f64 = 1.33;

/// Mineral nitrogen in a layer, kg/ha.
#[must_use]
pub fn nitrate_n_kg_ha(ppm: f64, depth_cm: f64, density_g_cm3: f64) -> f64 {
    ppm * soil_mass_kg_m2(depth_cm, density_g_cm3) / 100.0
}

/// Input of `nitrate-n-in-layer`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NitrateInLayerInput {
    /// Nitrate nitrogen (N, not nitrate).
    pub nitrate_n_ppm: NitrateNPpm,
    /// Depth sampled.
    pub depth_cm: FigureDepth,
    /// Dry bulk density; 1.33 g/cm³, as advisers count, where it was not measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_g_cm3: Option<FigureDensity>,
}

/// Output of `nitrate-n-in-layer`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct NitrateInLayerOutput {
    /// Nitrogen in the layer.
    pub nitrogen_kg_ha: f64,
    /// The same in pounds an acre.
    pub nitrogen_lb_acre: f64,
    /// The same on a square metre.
    pub nitrogen_g_m2: f64,
}

/// Nitrate nitrogen in a layer.
pub struct NitrateNInLayer;

impl Method for NitrateNInLayer {
    type Input = NitrateInLayerInput;
    type Output = NitrateInLayerOutput;

    const CARD: Card = Card {
        name: "nitrate-n-in-layer",
        title: "Nitrate nitrogen in a layer",
        topic: Topic::Fertility,
        computes: "How much nitrogen stands ready as nitrate in a sampled layer of ground, to be taken off what a crop is given.",
        validity: &[
            "For nitrogen in nitrate (NO3-N); a figure of nitrate itself is 4.43 times as much.",
            "Nitrate moves with water and changes within days in warm ground: the figure speaks of the day of sampling.",
        ],
        sources: &[Cite::new("Rb209Analysis", "mineral nitrogen from analysis, bulk density 1.33")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        NitrateInLayerInput {
            nitrate_n_ppm: NitrateNPpm::literal(20.0),
            depth_cm: FigureDepth::literal(30.0),
            density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let density = input.density_g_cm3.map_or(USUAL_DENSITY_G_CM3, Bounded::get);
        let kg_ha = nitrate_n_kg_ha(input.nitrate_n_ppm.get(), input.depth_cm.get(), density);
        let note = input.density_g_cm3.is_none().then(|| {
            Note::new(NoteKind::Method, "The density was not given; 1.33 g/cm³ is taken, as advisers count.")
        });
        Ok(Answer::with_notes(
            NitrateInLayerOutput {
                nitrogen_kg_ha: kg_ha,
                nitrogen_lb_acre: 0.1 * kg_ha / G_M2_PER_LB_ACRE,
                nitrogen_g_m2: 0.1 * kg_ha,
            },
            note.into_iter().collect(),
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let density = input.density_g_cm3.map_or(USUAL_DENSITY_G_CM3, Bounded::get);
        Working::new()
            .step(
                "nitrogen in the layer",
                "ppm × depth in cm × density in g/cm³ / 10",
                format!("{} × {} × {density} / 10", input.nitrate_n_ppm.get(), input.depth_cm.get()),
                format!("{:.1} kg/ha", answer.value.nitrogen_kg_ha),
            )
            .cite(Self::CARD.sources[0])
    }
}
