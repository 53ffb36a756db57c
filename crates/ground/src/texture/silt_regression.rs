//! Silt to 50 µm from silt to 20 µm, by a regression on Australian soils.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::composition::{ClayPercent, SandPercent, SiltPercent};
use super::size_limit::{SiltLimit, converted};
use super::{Class, Composition};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// What the regression gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Regressed {
    /// Sand, silt and clay with silt up to 50 µm.
    pub soil: Composition,
    /// Silt as the equation gives it, before it is held to what is possible.
    pub raw_silt: f64,
    /// The second equation was used, the first having come out negative.
    pub second_equation: bool,
}

/// Silt up to 50 µm from silt up to 20 µm and sand above 20 µm [MinasnyMcBratney2001]; clay stays.
/// The result is held between the silt already counted and all that is not clay.
#[must_use]
pub fn silt_20_to_50(soil: Composition) -> Regressed {
    let (silt, sand) = (soil.silt, soil.sand);
    let first = -18.3914 + 2.0971 * silt + 0.6726 * sand - 0.0142 * silt * silt - 0.0049 * sand * sand;
    let second_equation = first < 0.0;
    let raw_silt = if second_equation { 0.8289 * silt + 0.0198 * sand } else { first };
    let silt = raw_silt.clamp(silt, 100.0 - soil.clay);
    Regressed {
        soil: Composition { sand: (100.0 - soil.clay - silt).max(0.0), silt, clay: soil.clay },
        raw_silt,
        second_equation,
    }
}

/// Input of `silt-20-to-50-regression`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RegressionInput {
    /// Sand, 20 to 2000 µm.
    pub sand_percent: SandPercent,
    /// Silt, 2 to 20 µm.
    pub silt_percent: SiltPercent,
    /// Clay, finer than 2 µm.
    pub clay_percent: ClayPercent,
}

/// Output of `silt-20-to-50-regression`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct RegressionOutput {
    /// Sand, silt and clay with the silt limit at 50 µm, in percent.
    pub mass_percent: Composition,
    /// Silt as the equation gives it, in percent, before it is held to what is possible.
    pub regressed_silt_percent: f64,
    /// Texture class of the result.
    pub class: Class,
    /// Texture class by the log-linear way.
    pub class_by_log_linear: Class,
    /// How far the two ways differ in silt, in points.
    pub difference_points: f64,
}

/// The regression as a method.
pub struct SiltRegression;

impl SiltRegression {
    fn soil(input: &RegressionInput) -> Result<(Composition, Option<Note>), Refusal> {
        Composition::from_percent(input.sand_percent, input.silt_percent, input.clay_percent)
    }
}

impl Method for SiltRegression {
    type Input = RegressionInput;
    type Output = RegressionOutput;

    const CARD: Card = Card {
        name: "silt-20-to-50-regression",
        title: "Silt from 20 to 50 µm, regression",
        topic: Topic::Texture,
        computes: "Estimates silt up to 50 µm where a laboratory stopped at 20 µm, by an equation fitted to \
                   Australian soils. The class by the log-linear way stands beside it, because the two often \
                   differ.",
        validity: &[
            "Silt is 2 to 20 µm and sand 20 to 2000 µm, in percent of the fine earth.",
            "A result below the silt already counted, or above all that is not clay, is held there with a note.",
            "The coefficients are recalled and not read again.",
        ],
        sources: &[Cite::new("MinasnyMcBratney2001", "equation for silt")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        RegressionInput {
            sand_percent: SandPercent::literal(50.0),
            silt_percent: SiltPercent::literal(20.0),
            clay_percent: ClayPercent::literal(30.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (soil, closed) = Self::soil(input)?;
        let regressed = silt_20_to_50(soil);
        let log_linear = converted(soil, SiltLimit::International20.um(), SiltLimit::Usda50.um());
        let value = RegressionOutput {
            mass_percent: regressed.soil,
            regressed_silt_percent: regressed.raw_silt,
            class: Class::of(regressed.soil),
            class_by_log_linear: Class::of(log_linear),
            difference_points: regressed.soil.silt - log_linear.silt,
        };
        let mut notes: Vec<Note> = closed.into_iter().collect();
        if (regressed.raw_silt - regressed.soil.silt).abs() > 1e-9 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                format!("The equation gives {:.1} % silt, which cannot be with {:.1} % silt already below 20 µm and {:.1} % clay; it was held at {:.1} %.", regressed.raw_silt, soil.silt, soil.clay, regressed.soil.silt),
            ));
        }
        notes.push(Note::new(
            NoteKind::Method,
            format!(
                "The log-linear way differs by {:.1} points of silt and gives {}; this one gives {}. Count on an error of several points either way.",
                value.difference_points.abs(), value.class_by_log_linear.name(), value.class.name()
            ),
        ));
        notes.push(Note::new(
            NoteKind::Provenance,
            "The coefficients are recalled, not read again in the paper.",
        ));
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok((soil, _)) = Self::soil(input) else { return Working::new() };
        let regressed = silt_20_to_50(soil);
        let (silt, sand) = (soil.silt, soil.sand);
        let (rule, numbers) = if regressed.second_equation {
            (
                "silt to 50 µm = 0.8289 silt + 0.0198 sand, the first equation being negative",
                format!("0.8289 × {silt:.2} + 0.0198 × {sand:.2}"),
            )
        } else {
            (
                "silt to 50 µm = -18.3914 + 2.0971 silt + 0.6726 sand - 0.0142 silt² - 0.0049 sand²",
                format!(
                    "-18.3914 + 2.0971 × {silt:.2} + 0.6726 × {sand:.2} - 0.0142 × {silt:.2}² - 0.0049 × {sand:.2}²"
                ),
            )
        };
        let out = &answer.value.mass_percent;
        Working::new()
            .step("silt up to 50 µm", rule, numbers, format!("{:.2} %", regressed.raw_silt))
            .cite(Self::CARD.sources[0])
            .step(
                "what is possible",
                "not below the silt already counted, not above 100 - clay",
                format!("between {silt:.2} and {:.2}", 100.0 - soil.clay),
                format!("sand {:.2}, silt {:.2}, clay {:.2} %", out.sand, out.silt, out.clay),
            )
    }
}
