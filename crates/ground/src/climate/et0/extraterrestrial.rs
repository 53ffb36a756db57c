//! Sunlight above the air: the ceiling of every estimate of sunlight on the ground.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::equation::MM_PER_MJ;
use crate::climate::quantities::{DayOfYear, Latitude};
use crate::climate::sun::SunDay;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Input of `extraterrestrial-radiation`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExtraterrestrialInput {
    /// Latitude, north positive.
    pub latitude_degrees: Latitude,
    /// Day of the year, 1 January is 1.
    pub day_of_year: DayOfYear,
}

/// Output of `extraterrestrial-radiation`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ExtraterrestrialOutput {
    /// Latitude.
    pub latitude_rad: f64,
    /// Inverse relative distance of earth and sun.
    pub inverse_distance: f64,
    /// Declination of the sun.
    pub declination_rad: f64,
    /// Hour angle of sunset.
    pub sunset_rad: f64,
    /// Sunlight above the air.
    pub extraterrestrial_mj_m2_d: f64,
    /// The water it could evaporate.
    pub equivalent_mm_d: f64,
}

/// Extraterrestrial radiation.
pub struct ExtraterrestrialRadiation;

/// Beyond this latitude the source calls its equation weak in winter.
const WEAK_BEYOND_DEGREES: f64 = 55.0;

impl Method for ExtraterrestrialRadiation {
    type Input = ExtraterrestrialInput;
    type Output = ExtraterrestrialOutput;

    const CARD: Card = Card {
        name: "extraterrestrial-radiation",
        title: "Sunlight above the air",
        topic: Topic::Climate,
        computes: "Sunlight that reaches the top of the air over a latitude on a day of the year, as energy and as the \
                   depth of water it could evaporate.",
        validity: &["Every latitude and day; weak beyond 55° in the winter months, where a note says so."],
        sources: &[Cite::new("Fao56", "eq. 21-25")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        ExtraterrestrialInput {
            latitude_degrees: Latitude::literal(-20.0),
            day_of_year: DayOfYear::literal(246.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let latitude_rad = input.latitude_degrees.get().to_radians();
        let sun = SunDay::new(latitude_rad, input.day_of_year.get());
        let mj = sun.extraterrestrial_mj_m2_d();
        let weak = input.latitude_degrees.get().abs() > WEAK_BEYOND_DEGREES && sun.geometric_hours() < 12.0;
        let notes = weak
            .then(|| {
                Note::new(
                    NoteKind::OutsideRange,
                    "Beyond 55° of latitude in the winter half of the year the equation is weak.",
                )
            })
            .into_iter()
            .collect();
        Ok(Answer::with_notes(
            ExtraterrestrialOutput {
                latitude_rad,
                inverse_distance: sun.inverse_distance,
                declination_rad: sun.declination_rad,
                sunset_rad: sun.sunset_rad,
                extraterrestrial_mj_m2_d: mj,
                equivalent_mm_d: MM_PER_MJ * mj,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        Working::new()
            .step(
                "distance and height of the sun",
                "dr = 1 + 0.033 cos(2πJ/365), δ = 0.409 sin(2πJ/365 − 1.39), ωs = arccos(−tan φ tan δ)",
                format!("J = {}, φ = {:.4} rad", input.day_of_year.get(), v.latitude_rad),
                format!(
                    "dr {:.4}, δ {:.4} rad, ωs {:.4} rad",
                    v.inverse_distance, v.declination_rad, v.sunset_rad
                ),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "sunlight above the air",
                "Ra = 1440/π · 0.0820 · dr (ωs sin φ sin δ + cos φ cos δ sin ωs); 1 MJ evaporates 0.408 mm",
                "",
                format!("{:.2} MJ/m²/d, {:.2} mm/d", v.extraterrestrial_mj_m2_d, v.equivalent_mm_d),
            )
            .cite(Self::CARD.sources[0])
    }
}
