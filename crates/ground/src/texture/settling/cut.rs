//! Which size has just fallen through a depth of still water after a time.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::stokes::{
    FallDepth, FallDetails, FallTime, ParticleDensity, SOURCES, STOKES, SolidsVolumeFraction, Suspension,
};
use super::water::WaterTemperature;
use crate::kit::{Answer, Bounded, Card, Method, Refusal, Topic, Working};

/// Input of `settling-cut`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SettlingCutInput {
    /// Time since the water came to rest.
    pub time_s: FallTime,
    /// Depth of water.
    pub depth_mm: FallDepth,
    /// Temperature of the water.
    pub water_temperature_c: WaterTemperature,
    /// Density of the grains; 2650 kg/m³ where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub particle_density_kg_m3: Option<ParticleDensity>,
    /// Share of the suspension's volume that is solid; 0 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solids_volume_fraction: Option<SolidsVolumeFraction>,
}

/// Output of `settling-cut`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SettlingCutOutput {
    /// All grains coarser than this are down, wherever in the water they started.
    pub diameter_um: f64,
    /// Reynolds number of that grain's fall.
    pub reynolds: f64,
    /// Speed and slowing.
    #[serde(flatten)]
    pub details: FallDetails,
}

/// Size that is just down, by Stokes' law.
pub struct SettlingCut;

impl Method for SettlingCut {
    type Input = SettlingCutInput;
    type Output = SettlingCutOutput;

    const CARD: Card = Card {
        name: "settling-cut",
        title: "Size parted by a settling time",
        topic: Topic::Texture,
        computes: "Gives the size of the grain that has just fallen through a depth of still water after a time: \
                   which size a mark on a jar really parts.",
        validity: &[
            "Stokes' law holds for slow grains, up to a Reynolds number of about 0.2: about 60 µm in water. Coarser cuts are computed and flagged.",
            "Everything coarser is down. Part of the finer soil is down as well: it started lower in the water.",
            "The water is still, of one temperature, and the soil is parted into single grains.",
        ],
        sources: SOURCES,
        cautions: &[],
    };

    fn example() -> Self::Input {
        SettlingCutInput {
            time_s: FallTime::literal(7200.0),
            depth_mm: FallDepth::literal(150.0),
            water_temperature_c: WaterTemperature::literal(20.0),
            particle_density_kg_m3: None,
            solids_volume_fraction: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let suspension = suspension(input);
        let fall = suspension.fall();
        let diameter_um = fall.cut_um(input.time_s.get(), input.depth_mm.get());
        let value = SettlingCutOutput {
            diameter_um,
            reynolds: fall.reynolds(diameter_um),
            details: fall.details(diameter_um),
        };
        Ok(Answer::with_notes(value, suspension.notes(diameter_um)))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let suspension = suspension(input);
        let fall = suspension.fall();
        let working = suspension
            .working()
            .step(
                "size that has just fallen the whole depth",
                "d = √(18 µ H / (g (ρs - ρw) t)), with g times the slowing",
                format!(
                    "√(18 × {:.4} mPa s × {} mm / (9.80665 × {:.3} × ({} - {:.2}) × {} s))",
                    1000.0 * fall.viscosity_pa_s,
                    input.depth_mm.get(),
                    fall.slowing,
                    fall.particle_kg_m3,
                    fall.water_kg_m3,
                    input.time_s.get()
                ),
                format!("{:.2} µm", answer.value.diameter_um),
            )
            .cite(STOKES);
        suspension.with_limit(working, answer.value.diameter_um)
    }
}

fn suspension(input: &SettlingCutInput) -> Suspension {
    Suspension::new(input.water_temperature_c, input.particle_density_kg_m3, input.solids_volume_fraction)
}
