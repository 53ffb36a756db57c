//! The error of bags mixed from several cores.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Standard deviation between single cores, in the unit of the property.
    pub struct SoilDeviation: "standard deviation between cores", "", 0.0 ..= 1000000.0, example 30.0;
    /// Standard deviation between analyses of one bag, in the same unit.
    pub struct LabDeviation: "standard deviation of the laboratory", "", 0.0 ..= 1000000.0, example 5.0;
    /// Cores mixed into one bag.
    pub struct CoresPerBag: "cores in a bag", "", 1.0 ..= 500.0, example 15.0;
    /// Bags sent.
    pub struct Bags: "bags", "", 1.0 ..= 500.0, example 1.0;
    /// Analyses of each bag.
    pub struct Repeats: "analyses of each bag", "", 1.0 ..= 50.0, example 1.0;
}

/// Standard deviation of the mean of `bags` bags of `cores` cores, each analysed `repeats` times; deviations in one unit.
#[must_use]
pub fn deviation(soil: f64, lab: f64, cores: f64, bags: f64, repeats: f64) -> f64 {
    (soil * soil / (cores * bags) + lab * lab / (bags * repeats)).sqrt()
}

/// Input of `composite-error`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CompositeErrorInput {
    /// Spread between single cores.
    pub soil_deviation: SoilDeviation,
    /// Spread of the laboratory, in the same unit.
    pub lab_deviation: LabDeviation,
    /// Cores in a bag.
    pub cores_per_bag: CoresPerBag,
    /// Bags.
    pub bags: Bags,
    /// Analyses of each bag.
    pub repeats: Repeats,
}

/// Output of `composite-error`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CompositeErrorOutput {
    /// Standard deviation of the mean of all bags, in the unit of the input.
    pub deviation: f64,
    /// Share of its square that is from the ground, not from the laboratory.
    pub from_soil_percent: f64,
}

/// Error of mixed bags.
pub struct CompositeError;

impl Method for CompositeError {
    type Input = CompositeErrorInput;
    type Output = CompositeErrorOutput;

    const CARD: Card = Card {
        name: "composite-error",
        title: "Error of mixed bags",
        topic: Topic::Spatial,
        computes: "How far the mean of one or more mixed bags may lie from the plot, and how much of that more cores could \
                   still take away: the rest is the laboratory's.",
        validity: &[
            "Equal cores taken at random places and mixed well. A bag that is not mixed keeps the spread of its cores.",
        ],
        sources: &[Cite::new("PetersenCalvin", "variance of the mean of composite samples")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        CompositeErrorInput {
            soil_deviation: SoilDeviation::literal(30.0),
            lab_deviation: LabDeviation::literal(5.0),
            cores_per_bag: CoresPerBag::literal(15.0),
            bags: Bags::literal(1.0),
            repeats: Repeats::literal(1.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (soil, lab) = (input.soil_deviation.get(), input.lab_deviation.get());
        let (cores, bags) = (input.cores_per_bag.get(), input.bags.get());
        let deviation = deviation(soil, lab, cores, bags, input.repeats.get());
        let from_soil = if deviation > 0.0 {
            100.0 * soil * soil / (cores * bags) / (deviation * deviation)
        } else {
            0.0
        };
        let mut notes = Vec::new();
        if bags < 2.0 {
            notes.push(Note::new(
                NoteKind::Method,
                "One mixed bag gives a mean and no measure of its error; two or three bags show it.",
            ));
        }
        Ok(Answer::with_notes(CompositeErrorOutput { deviation, from_soil_percent: from_soil }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "standard deviation of the mean",
                "√(soil² / (cores · bags) + laboratory² / (bags · analyses))",
                format!(
                    "√({}² / ({} · {}) + {}² / ({} · {}))",
                    input.soil_deviation.get(),
                    input.cores_per_bag.get(),
                    input.bags.get(),
                    input.lab_deviation.get(),
                    input.bags.get(),
                    input.repeats.get()
                ),
                format!("{:.4}", answer.value.deviation),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cores_never_take_away_the_laboratory() {
        assert!((deviation(30.0, 5.0, 1e9, 1.0, 1.0) - 5.0).abs() < 1e-3);
        assert!(deviation(30.0, 5.0, 15.0, 2.0, 1.0) < deviation(30.0, 5.0, 30.0, 1.0, 1.0));
    }
}
