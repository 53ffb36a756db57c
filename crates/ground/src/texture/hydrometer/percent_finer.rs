//! Percent finer from one hydrometer reading, in the form engineers use.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cut::{GrainSpecificGravity, USUAL_SPECIFIC_GRAVITY};
use super::reading::{DryMass, ScaleReading};
use crate::kit::quantity::with_unit;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// What is taken off a reading for dispersant, temperature and meniscus together.
    pub struct CompositeCorrection: "composite correction", "g/L", -5.0 ..= 20.0, example 7.5;
}

/// Factor for grains whose specific gravity is not the 2.65 that the 152H scale is made for:
/// a = 1.65 Gs / (2.65 (Gs - 1)) [AashtoT88].
#[must_use]
pub fn gravity_factor(specific_gravity: f64) -> f64 {
    specific_gravity * 1.65 / ((specific_gravity - 1.0) * 2.65)
}

/// Soil still in suspension, in percent of the dry mass: P = 100 R a / W.
#[must_use]
pub fn percent_finer(corrected_g_l: f64, factor: f64, dry_mass_g: f64) -> f64 {
    100.0 * corrected_g_l * factor / dry_mass_g
}

/// Input of `hydrometer-percent-finer`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PercentFinerInput {
    /// Reading as it stands on the scale.
    pub reading_g_l: ScaleReading,
    /// Taken off for dispersant, temperature and meniscus.
    pub composite_correction_g_l: CompositeCorrection,
    /// Oven-dry mass of soil in the litre.
    pub dry_mass_g: DryMass,
    /// Specific gravity of the grains; 2.65 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grain_specific_gravity: Option<GrainSpecificGravity>,
}

/// Output of `hydrometer-percent-finer`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PercentFinerOutput {
    /// Reading less the correction.
    pub corrected_reading_g_l: f64,
    /// Factor for the specific gravity.
    pub gravity_factor: f64,
    /// Still in suspension, of the dry mass.
    pub percent_finer: f64,
}

/// Percent finer in the engineers' form.
pub struct HydrometerPercentFiner;

impl Method for HydrometerPercentFiner {
    type Input = PercentFinerInput;
    type Output = PercentFinerOutput;

    const CARD: Card = Card {
        name: "hydrometer-percent-finer",
        title: "Percent finer by hydrometer",
        topic: Topic::Texture,
        computes: "Gives the share of a soil still in suspension at one hydrometer reading, as engineers' reports \
                   do: with one composite correction and a factor for the specific gravity of the grains.",
        validity: &[
            "A 152H hydrometer in one litre; specific gravity 2.3 to 3.2.",
            "A correction greater than the reading, or more soil in suspension than was put in, is refused.",
        ],
        sources: &[Cite::new("AashtoT88", "worked example"), Cite::new("AstmD422", "14.3, table 1")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        PercentFinerInput {
            reading_g_l: ScaleReading::literal(38.0),
            composite_correction_g_l: CompositeCorrection::literal(7.5),
            dry_mass_g: DryMass::literal(81.09),
            grain_specific_gravity: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (reading, correction) = (input.reading_g_l.get(), input.composite_correction_g_l.get());
        let corrected = reading - correction;
        if corrected < 0.0 {
            return Err(Refusal::new(
                "composite_correction_g_l",
                format!(
                    "the correction cannot be more than the reading of {}, but {} was given",
                    with_unit(reading, "g/L"),
                    with_unit(correction, "g/L")
                ),
            )
            .given(with_unit(correction, "g/L"))
            .accepted(format!("up to {}", with_unit(reading, "g/L")))
            .example("6 g/L"));
        }
        let factor = gravity_factor(
            input.grain_specific_gravity.map_or(USUAL_SPECIFIC_GRAVITY, GrainSpecificGravity::get),
        );
        let percent = percent_finer(corrected, factor, input.dry_mass_g.get());
        if percent > 105.0 {
            return Err(Refusal::new(
                "dry_mass_g",
                format!("{} g of soil cannot leave {corrected} g/L in suspension", input.dry_mass_g.get()),
            )
            .given(format!("{} g", input.dry_mass_g.get()))
            .accepted(format!("{} g or more with this reading", (corrected * factor).ceil()))
            .example("50 g"));
        }
        Ok(Answer::plain(PercentFinerOutput {
            corrected_reading_g_l: corrected,
            gravity_factor: factor,
            percent_finer: percent,
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let out = &answer.value;
        let gravity = input.grain_specific_gravity.map_or(USUAL_SPECIFIC_GRAVITY, GrainSpecificGravity::get);
        Working::new()
            .step(
                "corrected reading",
                "reading - composite correction",
                format!("{} - {}", input.reading_g_l.get(), input.composite_correction_g_l.get()),
                format!("{:.2} g/L", out.corrected_reading_g_l),
            )
            .step(
                "factor for the specific gravity",
                "a = 1.65 Gs / (2.65 (Gs - 1))",
                format!("Gs = {gravity}"),
                format!("{:.3}", out.gravity_factor),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "percent finer",
                "P = 100 R a / W",
                format!(
                    "100 × {:.2} × {:.3} / {}",
                    out.corrected_reading_g_l,
                    out.gravity_factor,
                    input.dry_mass_g.get()
                ),
                format!("{:.2} %", out.percent_finer),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_is_refused_by_field() {
        let too_much_off = PercentFinerInput {
            reading_g_l: ScaleReading::literal(5.0),
            ..HydrometerPercentFiner::example()
        };
        assert_eq!(
            HydrometerPercentFiner::compute(&too_much_off).unwrap_err().field,
            "composite_correction_g_l"
        );
        let too_little_soil =
            PercentFinerInput { dry_mass_g: DryMass::literal(20.0), ..HydrometerPercentFiner::example() };
        assert_eq!(HydrometerPercentFiner::compute(&too_little_soil).unwrap_err().field, "dry_mass_g");
    }
}
