//! Equivalent depth: the depth of a straight flow that resists as much as water crowding to a drain.
//!
//! # Method
//! d = (π L / 8) / (ln(L / (π r)) + F(x)), x = 2 π D / L, F = Σ 4 e^(−2nx) / (n (1 − e^(−2nx))) over odd n
//! [VanDerMolenWesseling1991]; for x up to 0.5, F = π² / (4x) + ln(x / 2π). The earlier fit of
//! [Moody1966] is offered beside it: it runs up to 5 % above.

use std::f64::consts::PI;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Distance between drains.
    pub struct DrainSpacing: "distance between drains", "m", 0.5 ..= 1000.0, example 20.0;
    /// Depth from the drains down to the layer that hardly passes water.
    pub struct DepthBelowDrains: "depth below the drains", "m", 0.0 ..= 1000.0, example 3.0;
    /// Effective radius of a drain.
    pub struct DrainRadius: "radius of the drain", "cm", 0.5 ..= 200.0, example 5.0;
}

/// Which equation gives the equivalent depth.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DepthEquation {
    /// The exact series.
    #[default]
    ClosedForm,
    /// Moody's fit.
    Moody,
}

impl DepthEquation {
    /// Equivalent depth, m, for a spacing, a depth below the drains (infinite where the ground is
    /// deep) and an effective radius, m. Never more than the depth below the drains. Infinite or the
    /// whole depth where drains lie closer than about π radii, for which neither equation is made.
    #[must_use]
    pub fn equivalent_depth_m(self, spacing_m: f64, below_m: f64, radius_m: f64) -> f64 {
        let depth = match self {
            Self::ClosedForm => closed_form(spacing_m, below_m, radius_m),
            Self::Moody => moody(spacing_m, below_m, radius_m),
        };
        depth.min(below_m).max(0.0)
    }
}

fn closed_form(spacing: f64, below: f64, radius: f64) -> f64 {
    if below <= 0.0 {
        return 0.0;
    }
    let crowding = libm::log(spacing / (PI * radius)) + series(2.0 * PI * below / spacing);
    if crowding > 0.0 { PI * spacing / 8.0 / crowding } else { f64::INFINITY }
}

/// F(x): what the layer below adds to the resistance.
fn series(x: f64) -> f64 {
    if x <= 0.5 {
        return PI * PI / (4.0 * x) + libm::log(x / (2.0 * PI));
    }
    let mut sum = 0.0;
    let mut n = 1.0;
    loop {
        let fade = libm::exp(-2.0 * n * x);
        let term = 4.0 * fade / (n * (1.0 - fade));
        sum += term;
        if term <= 1e-15 * (1.0 + sum) {
            return sum;
        }
        n += 2.0;
    }
}

fn moody(spacing: f64, below: f64, radius: f64) -> f64 {
    if below <= 0.0 {
        return 0.0;
    }
    let share = below / spacing;
    if share <= 0.3 {
        let crowding = 8.0 / PI * libm::log(below / radius) - (3.55 - 1.6 * share + 2.0 * share * share);
        let whole = 1.0 + share * crowding;
        return if whole > 0.0 { below / whole } else { below };
    }
    let crowding = libm::log(spacing / radius) - 1.15;
    if crowding > 0.0 { PI * spacing / (8.0 * crowding) } else { f64::INFINITY }
}

/// Input of `equivalent-depth`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EquivalentDepthInput {
    /// Distance between drains.
    pub spacing_m: DrainSpacing,
    /// Depth from the drains to the impermeable layer; left out where the ground is deep.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub below_drains_m: Option<DepthBelowDrains>,
    /// Effective radius of the drains.
    pub radius_cm: DrainRadius,
    /// Equation; the exact series where nothing is said.
    #[serde(default)]
    pub equation: DepthEquation,
}

/// Output of `equivalent-depth`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct EquivalentDepthOutput {
    /// Equivalent depth.
    pub equivalent_depth_m: f64,
    /// The same by the other equation, to compare.
    pub by_other_equation_m: f64,
}

/// Hooghoudt's equivalent depth.
pub struct EquivalentDepth;

impl Method for EquivalentDepth {
    type Input = EquivalentDepthInput;
    type Output = EquivalentDepthOutput;

    const CARD: Card = Card {
        name: "equivalent-depth",
        title: "Equivalent depth of drains",
        topic: Topic::Water,
        computes: "Water crowds together as it nears a drain. The equivalent depth is the depth of ground in which \
                   water flowing straight would meet the same resistance; the drain spacing equation needs it.",
        validity: &[
            "One soil below the drains, drains that let water in freely.",
            "Drains further apart than about nine radii; closer, the ground's own depth is given.",
        ],
        sources: &[
            Cite::new("VanDerMolenWesseling1991", "series and its limit"),
            Cite::new("Moody1966", "fit to Hooghoudt's tables"),
        ],
        cautions: &[super::DIGGING, super::TRENCHES, super::PERMITS],
    };

    fn example() -> Self::Input {
        EquivalentDepthInput {
            spacing_m: DrainSpacing::literal(20.0),
            below_drains_m: Some(DepthBelowDrains::literal(3.0)),
            radius_cm: DrainRadius::literal(5.0),
            equation: DepthEquation::ClosedForm,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (spacing, radius) = (input.spacing_m.get(), input.radius_cm.get() / 100.0);
        if spacing < std::f64::consts::E * PI * radius {
            return Err(Refusal::new(
                "spacing_m",
                format!(
                    "drains of {} cm radius must lie further apart than {:.2} m for these equations, but {} m was given",
                    number(input.radius_cm.get()),
                    std::f64::consts::E * PI * radius,
                    number(spacing)
                ),
            )
            .given(format!("{} m", number(spacing)))
            .accepted("more than about nine radii")
            .example("20 m"));
        }
        let below = input.below_drains_m.map_or(f64::INFINITY, Bounded::get);
        let other = match input.equation {
            DepthEquation::ClosedForm => DepthEquation::Moody,
            DepthEquation::Moody => DepthEquation::ClosedForm,
        };
        Ok(Answer::with_notes(
            EquivalentDepthOutput {
                equivalent_depth_m: input.equation.equivalent_depth_m(spacing, below, radius),
                by_other_equation_m: other.equivalent_depth_m(spacing, below, radius),
            },
            vec![Note::new(
                NoteKind::Provenance,
                "Both equations are recalled; the series was derived again from image drains.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (spacing, radius) = (input.spacing_m.get(), input.radius_cm.get() / 100.0);
        let below = input.below_drains_m.map(Bounded::get);
        let (rule, cite) = match input.equation {
            DepthEquation::ClosedForm => {
                ("d = (π L / 8) / (ln(L / (π r)) + F(2 π D / L)), not more than D", Self::CARD.sources[0])
            }
            DepthEquation::Moody => (
                "d = D / {1 + (D/L) [(8/π) ln(D/r) − (3.55 − 1.6 D/L + 2 (D/L)²)]} for D/L up to 0.3, else π L / (8 (ln(L/r) − 1.15))",
                Self::CARD.sources[1],
            ),
        };
        let mut numbers = format!("L = {} m, r = {} m", number(spacing), number(radius));
        numbers += &below
            .map_or_else(|| ", deep ground, F = 0".to_owned(), |below| format!(", D = {} m", number(below)));
        if let (DepthEquation::ClosedForm, Some(below)) = (input.equation, below.filter(|below| *below > 0.0))
        {
            numbers += &format!(", F = {:.4}", series(2.0 * PI * below / spacing));
        }
        Working::new()
            .step("equivalent depth", rule, numbers, format!("{:.3} m", answer.value.equivalent_depth_m))
            .cite(cite)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_two_forms_of_the_series_meet() {
        let short = PI * PI / (4.0 * 0.5) + libm::log(0.5 / (2.0 * PI));
        assert!((series(0.5 + 1e-12) - short).abs() < 1e-7);
    }

    proptest! {
        #[test]
        fn it_never_exceeds_the_depth_and_grows_with_it(
            spacing in 3.0..200.0_f64, below in 0.0..30.0_f64, radius in 0.03..0.15_f64,
        ) {
            for equation in [DepthEquation::ClosedForm, DepthEquation::Moody] {
                let depth = equation.equivalent_depth_m(spacing, below, radius);
                prop_assert!((0.0..=below).contains(&depth));
            }
            let exact = |below| DepthEquation::ClosedForm.equivalent_depth_m(spacing, below, radius);
            prop_assert!(exact(below * 1.2) >= exact(below) - 1e-12);
            prop_assert!(exact(f64::INFINITY) >= exact(below) - 1e-9);
            // Any depth is deep when it is several spacings.
            prop_assert!((exact(20.0 * spacing) - exact(f64::INFINITY)).abs() < 1e-9 * spacing);
        }
    }
}
