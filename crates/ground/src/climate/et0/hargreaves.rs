//! The Hargreaves equation: reference evapotranspiration from temperatures alone, as its own method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::equation::MM_PER_MJ;
use crate::climate::quantities::{AirTemperature, DayOfYear, Latitude};
use crate::climate::sun::SunDay;
use crate::kit::quantity::with_unit;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Reference evapotranspiration, mm/d (FAO-56 eq. 52). `above_mj_m2_d` is the sunlight above the air.
#[must_use]
pub fn hargreaves_mm_d(tmax_c: f64, tmin_c: f64, above_mj_m2_d: f64) -> f64 {
    let mean = f64::midpoint(tmax_c, tmin_c);
    (0.0023 * (mean + 17.8) * (tmax_c - tmin_c).max(0.0).sqrt() * MM_PER_MJ * above_mj_m2_d).max(0.0)
}

/// Input of `et0-hargreaves`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HargreavesInput {
    /// Latitude, north positive.
    pub latitude_degrees: Latitude,
    /// Day of the year, 1 January is 1.
    pub day_of_year: DayOfYear,
    /// Highest temperature.
    pub tmax_c: AirTemperature,
    /// Lowest temperature.
    pub tmin_c: AirTemperature,
}

/// Output of `et0-hargreaves`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct HargreavesOutput {
    /// Reference evapotranspiration.
    pub et0_mm_d: f64,
    /// Sunlight above the air as water it could evaporate.
    pub extraterrestrial_mm_d: f64,
}

/// Hargreaves.
pub struct Hargreaves;

impl Method for Hargreaves {
    type Input = HargreavesInput;
    type Output = HargreavesOutput;

    const CARD: Card = Card {
        name: "et0-hargreaves",
        title: "Reference evapotranspiration from temperatures",
        topic: Topic::Climate,
        computes: "Reference evapotranspiration from the highest and lowest temperature and the sun above, by an equation \
                   of its own. FAO-56 prefers its main equation with estimated inputs; this one is a second opinion.",
        validity: &[
            "Sums and means over five days or more; compare with measured values of the region and correct by a straight line.",
            "Too low where the wind is above 3 m/s, too high where the air is very humid.",
        ],
        sources: &[Cite::new("Fao56", "eq. 52"), Cite::new("HargreavesSamani1985", "eq. 8")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        HargreavesInput {
            latitude_degrees: Latitude::literal(45.0),
            day_of_year: DayOfYear::literal(196.0),
            tmax_c: AirTemperature::literal(26.6),
            tmin_c: AirTemperature::literal(14.8),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (tmax, tmin) = (input.tmax_c.get(), input.tmin_c.get());
        if tmin > tmax {
            return Err(Refusal::new("tmin_c", "the lowest temperature lies above the highest")
                .given(with_unit(tmin, "°C"))
                .accepted(format!("-60 to {}", with_unit(tmax, "°C")))
                .example(with_unit(tmax, "°C")));
        }
        let above = SunDay::new(input.latitude_degrees.get().to_radians(), input.day_of_year.get())
            .extraterrestrial_mj_m2_d();
        Ok(Answer::with_notes(
            HargreavesOutput {
                et0_mm_d: hargreaves_mm_d(tmax, tmin, above),
                extraterrestrial_mm_d: MM_PER_MJ * above,
            },
            vec![Note::new(
                NoteKind::Method,
                "Too low in wind above 3 m/s and too high in very humid air; use sums over several days.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (tmax, tmin) = (input.tmax_c.get(), input.tmin_c.get());
        Working::new()
            .step(
                "reference evapotranspiration",
                "0.0023 (Tmean + 17.8) √(Tmax − Tmin) Ra, Ra in mm/d",
                format!(
                    "0.0023 × ({} + 17.8) × √({tmax} − {tmin}) × {:.3}",
                    f64::midpoint(tmax, tmin),
                    answer.value.extraterrestrial_mm_d
                ),
                format!("{:.2} mm/d", answer.value.et0_mm_d),
            )
            .cite(Self::CARD.sources[0])
    }
}
