//! How long a grain takes to fall through still water.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::stokes::{
    FallDepth, FallDetails, GrainDiameter, ParticleDensity, SOURCES, STOKES, SolidsVolumeFraction, Suspension,
};
use super::water::WaterTemperature;
use crate::kit::{Answer, Bounded, Card, Method, Refusal, Topic, Working};

/// Input of `settling-time`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SettlingTimeInput {
    /// Equivalent diameter of the grain.
    pub diameter_um: GrainDiameter,
    /// Depth of water it falls through.
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

/// Output of `settling-time`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SettlingTimeOutput {
    /// Time of fall.
    pub time_s: f64,
    /// Reynolds number of the fall.
    pub reynolds: f64,
    /// Speed and slowing.
    #[serde(flatten)]
    pub details: FallDetails,
}

/// Time of fall by Stokes' law.
pub struct SettlingTime;

impl Method for SettlingTime {
    type Input = SettlingTimeInput;
    type Output = SettlingTimeOutput;

    const CARD: Card = Card {
        name: "settling-time",
        title: "Settling time",
        topic: Topic::Texture,
        computes: "Gives the time that a grain of known size needs to fall through still water: when the last \
                   sand or the last silt of a shaken jar is down.",
        validity: &[
            "Stokes' law holds for slow grains, up to a Reynolds number of about 0.2: about 60 µm in water. Coarser grains are computed and flagged.",
            "The size is that of the quartz sphere that falls as fast; flat clay is really wider.",
            "The water is still, of one temperature, and the soil is parted into single grains.",
            "Crowding is counted by the solid share of the volume, up to 0.4; a jar one third full of loose soil has about 0.16.",
        ],
        sources: SOURCES,
        cautions: &[],
    };

    fn example() -> Self::Input {
        SettlingTimeInput {
            diameter_um: GrainDiameter::literal(50.0),
            depth_mm: FallDepth::literal(150.0),
            water_temperature_c: WaterTemperature::literal(20.0),
            particle_density_kg_m3: None,
            solids_volume_fraction: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let suspension = suspension(input);
        let fall = suspension.fall();
        let diameter_um = input.diameter_um.get();
        let value = SettlingTimeOutput {
            time_s: fall.time_s(diameter_um, input.depth_mm.get()),
            reynolds: fall.reynolds(diameter_um),
            details: fall.details(diameter_um),
        };
        Ok(Answer::with_notes(value, suspension.notes(diameter_um)))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let suspension = suspension(input);
        let fall = suspension.fall();
        let SettlingTimeOutput { time_s, details, .. } = &answer.value;
        let working = suspension
            .working()
            .step(
                "speed of fall",
                "v = g (ρs - ρw) d² / (18 µ), times the slowing",
                format!(
                    "9.80665 × ({} - {:.2}) × ({} µm)² / (18 × {:.4} mPa s) × {:.3}",
                    fall.particle_kg_m3,
                    fall.water_kg_m3,
                    input.diameter_um.get(),
                    1000.0 * fall.viscosity_pa_s,
                    fall.slowing
                ),
                format!("{:.5} mm/s", details.velocity_mm_s),
            )
            .cite(STOKES)
            .step(
                "time of fall",
                "t = H / v",
                format!("{} mm / {:.5} mm/s", input.depth_mm.get(), details.velocity_mm_s),
                format!("{time_s:.1} s"),
            );
        suspension.with_limit(working, input.diameter_um.get())
    }
}

fn suspension(input: &SettlingTimeInput) -> Suspension {
    Suspension::new(input.water_temperature_c, input.particle_density_kg_m3, input.solids_volume_fraction)
}
