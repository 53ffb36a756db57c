//! Viscosity and density of pure water at air pressure.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Temperature of still water.
    pub struct WaterTemperature: "water temperature", "°C", 0.0 ..= 40.0, example 20.0;
}

const VISCOSITY: Cite = Cite::new("Huber2009", "correlating equation for the liquid at 0.1 MPa");
const DENSITY: Cite = Cite::new("Tanaka2001", "equation 1");

/// Dynamic viscosity of water in Pa s at a temperature in °C.
///
/// # Method
/// The short equation of [Huber2009] for the liquid at 0.1 MPa, 253 to 383 K. The coefficients are
/// from memory; at 25 °C it gives the 890.0 µPa s of the international formulation.
#[must_use]
pub fn viscosity_pa_s(temperature_c: f64) -> f64 {
    let theta = (temperature_c + 273.15) / 300.0;
    let log = libm::log(theta);
    let term = |factor: f64, exponent: f64| factor * libm::exp(exponent * log);
    1e-6 * (term(280.68, -1.9) + term(511.45, -7.7) + term(61.131, -19.6) + term(0.459_03, -40.0))
}

/// Density of air-free water in kg/m³ at a temperature in °C, 0 to 40 °C [Tanaka2001].
#[must_use]
pub fn density_kg_m3(temperature_c: f64) -> f64 {
    let t = temperature_c;
    let from_densest = t - 3.983_035;
    999.974_95 * (1.0 - from_densest * from_densest * (t + 301.797) / (522_528.9 * (t + 69.348_81)))
}

/// Input of `water-viscosity`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaterViscosityInput {
    /// Temperature of the water.
    pub water_temperature_c: WaterTemperature,
}

/// Output of `water-viscosity`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WaterViscosityOutput {
    /// Dynamic viscosity.
    pub viscosity_mpa_s: f64,
    /// Density.
    pub density_kg_m3: f64,
}

/// Viscosity and density of water.
pub struct WaterViscosity;

impl Method for WaterViscosity {
    type Input = WaterViscosityInput;
    type Output = WaterViscosityOutput;

    const CARD: Card = Card {
        name: "water-viscosity",
        title: "Viscosity and density of water",
        topic: Topic::Texture,
        computes: "Gives how thick and how heavy water is at its temperature. Cold water is thicker, so soil \
                   settles more slowly in it: at 10 °C about a third more slowly than at 22 °C.",
        validity: &[
            "Pure water at ordinary air pressure, 0 to 40 °C.",
            "A teaspoon of detergent or hexametaphosphate in a jar changes the viscosity by well under one part in a hundred.",
        ],
        sources: &[VISCOSITY, DENSITY],
        cautions: &[],
    };

    fn example() -> Self::Input {
        WaterViscosityInput { water_temperature_c: WaterTemperature::literal(20.0) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let temperature_c = input.water_temperature_c.get();
        Ok(Answer::plain(WaterViscosityOutput {
            viscosity_mpa_s: 1000.0 * viscosity_pa_s(temperature_c),
            density_kg_m3: density_kg_m3(temperature_c),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let t = input.water_temperature_c.get();
        Working::new()
            .step(
                "viscosity of the water",
                "µ = 280.68 θ^-1.9 + 511.45 θ^-7.7 + 61.131 θ^-19.6 + 0.45903 θ^-40 in µPa s, θ = (T + 273.15) / 300",
                format!("T = {t} °C, θ = {:.5}", (t + 273.15) / 300.0),
                format!("{:.4} mPa s", answer.value.viscosity_mpa_s),
            )
            .cite(VISCOSITY)
            .step(
                "density of the water",
                "ρ = 999.97495 (1 - (T - 3.983035)² (T + 301.797) / (522528.9 (T + 69.34881)))",
                format!("T = {t} °C"),
                format!("{:.3} kg/m³", answer.value.density_kg_m3),
            )
            .cite(DENSITY)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// [Kestin1978], equation for -8 to 150 °C with µ(20 °C) = 1.002 mPa s: an independent published
    /// equation, which its authors and those of [Huber2009] put within 0.1 % of each other.
    fn kestin_mpa_s(t: f64) -> f64 {
        let x = 20.0 - t;
        let log10 = x / (t + 96.0) * (1.2364 - 1.37e-3 * x + 5.7e-6 * x * x);
        1.002 * libm::pow(10.0, log10)
    }

    #[test]
    fn two_published_viscosities_agree_within_a_thousandth() {
        for tenth in 0..=400 {
            let t = f64::from(tenth) / 10.0;
            let ratio = 1000.0 * viscosity_pa_s(t) / kestin_mpa_s(t);
            assert!((ratio - 1.0).abs() < 1e-3, "{t} °C: {ratio}");
        }
    }

    #[test]
    fn density_follows_the_old_printed_table() {
        // [InternationalCriticalTables1928], g/cm³ to five decimals.
        for (t, printed) in [(0.0, 0.99987), (4.0, 1.0), (10.0, 0.99973), (20.0, 0.99823), (30.0, 0.99568)] {
            let difference = density_kg_m3(t) - 1000.0 * printed;
            // The old table is per millilitre of the old litre, 28 parts in a million larger.
            assert!(difference.abs() < 0.035, "{t} °C: {difference}");
        }
    }
}
