//! How far a dry root zone holds a crop's water use down.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::available::Depletion;
use crate::kit::quantity::with_unit;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Water missing from a full root zone.
    pub struct RootDepletion: "depletion of the root zone", "mm", 0.0 ..= 1000.0, example 72.8;
    /// Water the roots can draw in all.
    pub struct TotalAvailable: "total available water", "mm", 0.5 ..= 1000.0, example 160.0;
}

/// Stress coefficient Ks (eq. 84), 1 while water is readily available, 0 at the wilting point.
#[must_use]
pub fn stress_coefficient(depletion_mm: f64, total_available_mm: f64, readily_available_mm: f64) -> f64 {
    if depletion_mm <= readily_available_mm {
        return 1.0;
    }
    let span = total_available_mm - readily_available_mm;
    if span <= 0.0 { 0.0 } else { ((total_available_mm - depletion_mm) / span).max(0.0) }
}

/// Input of `stress-coefficient`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StressInput {
    /// Water missing from a full root zone.
    pub depletion_mm: RootDepletion,
    /// Water the roots can draw in all.
    pub total_available_mm: TotalAvailable,
    /// Share of it that may be used before the crop suffers.
    pub depletion_percent: Depletion,
}

/// Output of `stress-coefficient`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct StressOutput {
    /// Share of the crop's full water use that is left to it, 0 to 1.
    pub stress_coefficient: f64,
    /// Depletion from which it suffers.
    pub readily_available_mm: f64,
}

/// Water stress.
pub struct StressCoefficient;

impl Method for StressCoefficient {
    type Input = StressInput;
    type Output = StressOutput;

    const CARD: Card = Card {
        name: "stress-coefficient",
        title: "Water stress",
        topic: Topic::Irrigation,
        computes: "What share of its full water use a crop still gets from a root zone that has dried by so much. \
                   Below 1 it grows less.",
        validity: &[
            "From a full root zone down to the wilting point; drier than that is refused.",
            "Growth of leaf and fruit may slow before water use does, most of all in leafy crops.",
        ],
        sources: &[Cite::new("Fao56", "eq. 84")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        StressInput {
            depletion_mm: RootDepletion::literal(72.8),
            total_available_mm: TotalAvailable::literal(160.0),
            depletion_percent: Depletion::literal(40.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (depletion, total) = (input.depletion_mm.get(), input.total_available_mm.get());
        if depletion > total {
            return Err(Refusal::new(
                "depletion_mm",
                format!(
                    "no more can be missing than the root zone holds, {}, but {} was given",
                    with_unit(total, "mm"),
                    with_unit(depletion, "mm")
                ),
            )
            .given(with_unit(depletion, "mm"))
            .accepted(format!("0 to {}", with_unit(total, "mm")))
            .example(with_unit(total / 2.0, "mm")));
        }
        let readily = input.depletion_percent.get() / 100.0 * total;
        Ok(Answer::plain(StressOutput {
            stress_coefficient: stress_coefficient(depletion, total, readily),
            readily_available_mm: readily,
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (depletion, total) = (input.depletion_mm.get(), input.total_available_mm.get());
        let readily = answer.value.readily_available_mm;
        let working = Working::new()
            .step(
                "readily available water",
                "RAW = p TAW",
                format!("{} × {total}", input.depletion_percent.get() / 100.0),
                format!("{readily:.1} mm"),
            )
            .cite(Cite::new("Fao56", "eq. 83"));
        let (rule, numbers) = if depletion <= readily {
            ("1 while the depletion is no more than RAW", format!("{depletion} ≤ {readily:.1}"))
        } else {
            ("Ks = (TAW − Dr) / (TAW − RAW)", format!("({total} − {depletion}) / ({total} − {readily:.1})"))
        };
        working
            .step("stress coefficient", rule, numbers, format!("{:.3}", answer.value.stress_coefficient))
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_than_there_is_cannot_be_missing() {
        let mut input = StressCoefficient::example();
        input.depletion_mm = RootDepletion::literal(161.0);
        assert_eq!(StressCoefficient::compute(&input).unwrap_err().field, "depletion_mm");
        assert_eq!(stress_coefficient(160.0, 160.0, 64.0), 0.0);
        assert_eq!(stress_coefficient(5.0, 4.0, 4.0), 0.0);
    }
}
