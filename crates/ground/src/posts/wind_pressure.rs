//! Pressure of the wind by height, exposure and speed.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::us::M_PER_FT;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Gust speed (3 s, at 10 m, open ground) as wind maps give it.
    pub struct GustSpeed: "wind speed", "m/s", 5.0 ..= 100.0, example 47.0;
    /// Mean height of the roof.
    pub struct RoofHeight: "mean height of the roof", "m", 0.0 ..= 60.0, example 2.5;
    /// Speed-up of wind over hills and ridges.
    pub struct HillFactor: "speed-up over hills", "", 1.0 ..= 3.0, example 1.0;
}

/// What stands upwind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
pub enum Exposure {
    /// Woods or buildings close together.
    #[serde(rename = "b")]
    B,
    /// Open fields with scattered obstacles.
    #[serde(rename = "c")]
    C,
    /// Flat, unobstructed ground and water.
    #[serde(rename = "d")]
    D,
}

/// Edition of the load standard, by its exposure constants.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Edition {
    /// 2005 to 2016.
    #[default]
    Asce2016,
    /// 2022.
    Asce2022,
}

/// Directionality of wind on buildings.
pub const DIRECTIONALITY: f64 = 0.85;
/// Pa for each (m/s)².
const HALF_AIR: f64 = 0.613;
/// Least exposure factor in exposure B for low buildings.
const LEAST_B: f64 = 0.70;
/// Height below which the factor changes no more, 15 ft.
const LEAST_HEIGHT_M: f64 = 15.0 * M_PER_FT;

/// Exposure factor at a height; exposure B never below 0.70.
#[must_use]
pub fn exposure_factor(exposure: Exposure, height_m: f64, edition: Edition) -> f64 {
    let (scale, alpha, gradient_ft) = match (edition, exposure) {
        (Edition::Asce2016, Exposure::B) => (2.01, 7.0, 1200.0),
        (Edition::Asce2016, Exposure::C) => (2.01, 9.5, 900.0),
        (Edition::Asce2016, Exposure::D) => (2.01, 11.5, 700.0),
        (Edition::Asce2022, Exposure::B) => (2.41, 7.5, 3280.0),
        (Edition::Asce2022, Exposure::C) => (2.41, 9.8, 2460.0),
        (Edition::Asce2022, Exposure::D) => (2.41, 11.5, 1935.0),
    };
    let height = height_m.max(LEAST_HEIGHT_M);
    let factor = scale * libm::pow(height / (gradient_ft * M_PER_FT), 2.0 / alpha);
    if exposure == Exposure::B { factor.max(LEAST_B) } else { factor }
}

/// Velocity pressure, kPa, directionality counted once.
#[must_use]
pub fn velocity_pressure_kpa(speed_m_s: f64, exposure_factor: f64, hill_factor: f64) -> f64 {
    HALF_AIR / 1000.0 * exposure_factor * hill_factor * DIRECTIONALITY * speed_m_s * speed_m_s
}

/// Speed at which the velocity pressure is reached, m/s.
#[must_use]
pub fn speed_of_pressure(pressure_kpa: f64, exposure_factor: f64, hill_factor: f64) -> f64 {
    libm::sqrt(pressure_kpa.max(0.0) / (HALF_AIR / 1000.0 * exposure_factor * hill_factor * DIRECTIONALITY))
}

/// Input of `wind-pressure`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WindPressureInput {
    /// Gust speed of the map.
    pub wind_speed_m_s: GustSpeed,
    /// What stands upwind.
    pub exposure: Exposure,
    /// Mean height of the roof.
    pub roof_height_m: RoofHeight,
    /// Edition of the standard.
    #[serde(default)]
    pub edition: Edition,
    /// Speed-up over hills; 1 on flat ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hill_factor: Option<HillFactor>,
}

/// Output of `wind-pressure`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WindPressureOutput {
    /// Exposure factor.
    pub exposure_factor: f64,
    /// Velocity pressure, kPa.
    pub pressure_kpa: f64,
    /// The same, psf.
    pub pressure_psf: f64,
}

/// Wind pressure.
pub struct WindPressure;

impl Method for WindPressure {
    type Input = WindPressureInput;
    type Output = WindPressureOutput;

    const CARD: Card = Card {
        name: "wind-pressure",
        title: "Pressure of the wind",
        topic: Topic::Posts,
        computes: "The velocity pressure of a gust on a low building, from the speed on the wind map, the height and what \
                   stands upwind.",
        validity: &[
            "Near sea level; hills and gaps speed wind up, and the factor for them is left to who knows the place.",
            "Speeds of maps since 2010 are strength-level: multiply loads by 0.6 for working stress, and never again by an importance factor.",
        ],
        sources: &[Cite::new("Asce7", "velocity pressure, chapter 26")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        WindPressureInput {
            wind_speed_m_s: GustSpeed::literal(47.0),
            exposure: Exposure::C,
            roof_height_m: RoofHeight::literal(2.5),
            edition: Edition::Asce2016,
            hill_factor: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let exposure_factor = exposure_factor(input.exposure, input.roof_height_m.get(), input.edition);
        let pressure_kpa = velocity_pressure_kpa(
            input.wind_speed_m_s.get(),
            exposure_factor,
            input.hill_factor.map_or(1.0, Bounded::get),
        );
        Ok(Answer::with_notes(
            WindPressureOutput {
                exposure_factor,
                pressure_kpa,
                pressure_psf: pressure_kpa / super::us::KPA_PER_PSF,
            },
            vec![Note::new(
                NoteKind::Provenance,
                "Constants of the 2022 edition, and where it counts directionality, are recalled; directionality is counted once here.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "exposure factor",
                "a power of height over the height where friction ends, by exposure; below 4.6 m as at 4.6 m",
                format!("{} m", input.roof_height_m.get()),
                format!("{:.3}", answer.value.exposure_factor),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "velocity pressure",
                "0.613 × Kz × Kzt × 0.85 × V², Pa",
                format!(
                    "0.613 × {:.3} × {} × 0.85 × {}²",
                    answer.value.exposure_factor,
                    input.hill_factor.map_or(1.0, Bounded::get),
                    input.wind_speed_m_s.get()
                ),
                format!("{:.3} kPa", answer.value.pressure_kpa),
            )
            .cite(Self::CARD.sources[0])
    }
}
