//! The grain size that a hydrometer reading separates.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::reading::{ReadingTime, ScaleReading, SuspensionTemperature};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};
use crate::texture::settling::water;

crate::quantity! {
    /// Specific gravity of the soil grains.
    pub struct GrainSpecificGravity: "specific gravity of the grains", "", 2.3 ..= 3.2, example 2.65;
}

/// Specific gravity of quartz and of most soil minerals.
pub const USUAL_SPECIFIC_GRAVITY: f64 = 2.65;

/// Depth, in cm, at which a 152H hydrometer weighs the suspension at a reading in g/L
/// [AstmD422, table 2, as the straight line of the scale].
#[must_use]
pub fn effective_depth_cm(reading_g_l: f64) -> f64 {
    16.3 - 0.164 * reading_g_l
}

/// The constant of D = K √(L / t), D in mm, L in cm and t in minutes [AstmD422, 15.1], with the
/// viscosity of water of today's tables: 0.15 to 0.2 % below the printed ones.
#[must_use]
pub fn sedimentation_constant(temperature_c: f64, specific_gravity: f64) -> f64 {
    let poise = 10.0 * water::viscosity_pa_s(temperature_c);
    let water_g_cm3 = water::density_kg_m3(temperature_c) / 1000.0;
    (30.0 * poise / (980.0 * (specific_gravity - water_g_cm3))).sqrt()
}

/// Diameter, in µm, of the largest grain still above the hydrometer's depth at a time after stirring.
#[must_use]
pub fn diameter_um(reading_g_l: f64, after_s: f64, temperature_c: f64, specific_gravity: f64) -> f64 {
    let minutes = after_s / 60.0;
    let k = sedimentation_constant(temperature_c, specific_gravity);
    1000.0 * k * (effective_depth_cm(reading_g_l) / minutes).sqrt()
}

/// Input of `hydrometer-cut`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HydrometerCutInput {
    /// Reading at the top of the meniscus, not corrected for the blank.
    pub reading_g_l: ScaleReading,
    /// Time after stirring stopped.
    pub after_s: ReadingTime,
    /// Temperature of the suspension.
    pub temperature_c: SuspensionTemperature,
    /// Specific gravity of the grains; 2.65 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grain_specific_gravity: Option<GrainSpecificGravity>,
}

/// Output of `hydrometer-cut`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct HydrometerCutOutput {
    /// Depth at which the hydrometer weighs.
    pub effective_depth_cm: f64,
    /// K of D = K √(L / t), for D in mm, L in cm and t in minutes.
    pub sedimentation_constant: f64,
    /// Everything coarser has sunk below the hydrometer's depth.
    pub diameter_um: f64,
}

/// What size a hydrometer reading cuts at.
pub struct HydrometerCut;

impl HydrometerCut {
    fn specific_gravity(input: &HydrometerCutInput) -> f64 {
        input.grain_specific_gravity.map_or(USUAL_SPECIFIC_GRAVITY, GrainSpecificGravity::get)
    }
}

impl Method for HydrometerCut {
    type Input = HydrometerCutInput;
    type Output = HydrometerCutOutput;

    const CARD: Card = Card {
        name: "hydrometer-cut",
        title: "What size a hydrometer reading cuts at",
        topic: Topic::Texture,
        computes: "Gives the grain size that has just sunk out of the hydrometer's reach. A reading at two hours \
                   still holds silt of 2 to 5 µm; the true 2 µm reading comes after 9 to 12 hours.",
        validity: &[
            "A 152H hydrometer in a litre of dispersed, still suspension at an even temperature.",
            "Grains are taken as spheres that fall by Stokes' law, which is a little fast above 50 µm.",
        ],
        sources: &[
            Cite::new("AstmD422", "15.1, tables 2 and 3"),
            Cite::new("Huber2009", "correlating equation for the liquid at 0.1 MPa"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        HydrometerCutInput {
            reading_g_l: ScaleReading::literal(15.0),
            after_s: ReadingTime::literal(7200.0),
            temperature_c: SuspensionTemperature::literal(20.0),
            grain_specific_gravity: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (reading, temperature) = (input.reading_g_l.get(), input.temperature_c.get());
        let gravity = Self::specific_gravity(input);
        Ok(Answer::plain(HydrometerCutOutput {
            effective_depth_cm: effective_depth_cm(reading),
            sedimentation_constant: sedimentation_constant(temperature, gravity),
            diameter_um: diameter_um(reading, input.after_s.get(), temperature, gravity),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let out = &answer.value;
        let (temperature, gravity) = (input.temperature_c.get(), Self::specific_gravity(input));
        let minutes = input.after_s.get() / 60.0;
        Working::new()
            .step(
                "depth the hydrometer weighs at",
                "L = 16.3 - 0.164 R",
                format!("16.3 - 0.164 × {}", input.reading_g_l.get()),
                format!("{:.2} cm", out.effective_depth_cm),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "the constant K",
                "K = √(30 η / (980 (Gs - Gw))), η in poise",
                format!(
                    "η = {:.6}, Gs = {gravity}, Gw = {:.5}",
                    10.0 * water::viscosity_pa_s(temperature),
                    water::density_kg_m3(temperature) / 1000.0
                ),
                format!("{:.5}", out.sedimentation_constant),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "the size",
                "D = K √(L / t), D in mm, L in cm, t in minutes",
                format!(
                    "{:.5} × √({:.2} / {minutes:.3})",
                    out.sedimentation_constant, out.effective_depth_cm
                ),
                format!("{:.2} µm", out.diameter_um),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::texture::settling::Fall;

    /// The engineers' form (g = 980 cm/s²) and the house's Stokes' law (g = 9.80665 m/s²) are one law.
    #[test]
    fn the_two_forms_of_the_law_agree() {
        let fall = Fall::new(20.0, 2650.0, 0.0);
        for (reading, after_s) in [(30.0, 40.0), (15.0, 7200.0), (10.0, 86_400.0)] {
            let depth_m = effective_depth_cm(reading) / 100.0;
            let speed = depth_m / after_s;
            let stokes_um = 1e6
                * (18.0 * fall.viscosity_pa_s * speed
                    / (9.806_65 * (fall.particle_kg_m3 - fall.water_kg_m3)))
                    .sqrt();
            let ours = diameter_um(reading, after_s, 20.0, 2.65);
            assert!((ours / stokes_um - 1.0).abs() < 5e-4, "{ours} {stokes_um}");
        }
    }
}
