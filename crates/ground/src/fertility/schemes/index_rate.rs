//! North Carolina: a rate from the laboratory's index by the numbered equation of the crop.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::potato::whole;
use crate::kit::table::rows as read_table;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Number of the equation.
    pub struct EquationNumber: "number of the equation", "", 1.0 ..= 25.0, example 10.0;
    /// The laboratory's phosphorus or potassium index.
    pub struct SoilTestIndex: "soil test index", "", 0.0 ..= 2000.0, example 40.0;
}

/// In what an equation gives its rate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum IndexRateUnit {
    /// Pounds an acre.
    LbPerAcre,
    /// Pounds for 1000 square feet.
    #[serde(rename = "lb_per_1000ft2")]
    LbPer1000Ft2,
}

#[derive(Deserialize)]
struct Row {
    equation: u8,
    a: f64,
    b: f64,
    c: f64,
    unit: IndexRateUnit,
    stop: f64,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table("nc_equations.csv", include_str!("data/nc_equations.csv")));

/// Rate of P2O5 or K2O: a I² − b I + c up to the first zero, or to the lowest point where there is none;
/// beyond it the value there is held, since the parabola turns up again.
#[must_use]
pub fn index_rate(equation: u8, index: f64) -> Option<(f64, IndexRateUnit)> {
    let row = ROWS.iter().find(|row| row.equation == equation)?;
    let i = index.min(row.stop);
    // The stop is rounded: a hair below nothing is nothing.
    Some(((row.a * i * i - row.b * i + row.c).max(0.0), row.unit))
}

/// Input of `soil-test-index-rate`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct IndexRateInput {
    /// Number of the equation, from the laboratory's crop list.
    pub equation: EquationNumber,
    /// The laboratory's index.
    pub index: SoilTestIndex,
}

/// Output of `soil-test-index-rate`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct IndexRateOutput {
    /// Rate of P2O5 or K2O.
    pub rate: f64,
    /// Its unit.
    pub unit: IndexRateUnit,
}

/// Rate by soil test index.
pub struct IndexRate;

impl Method for IndexRate {
    type Input = IndexRateInput;
    type Output = IndexRateOutput;

    const CARD: Card = Card {
        name: "soil-test-index-rate",
        title: "Rate from a soil test index (North Carolina)",
        topic: Topic::Fertility,
        computes: "Phosphate or potash from the index on a North Carolina report, by the numbered equation that its \
                   laboratory uses for the crop.",
        validity: &[
            "Which equation serves which vegetable was not found: take the number from the laboratory.",
            "The source gives the result as good to 10 lb/acre. Past the first zero nothing is needed.",
        ],
        sources: &[Cite::new("NcCircular1", "Table 2.4")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        IndexRateInput { equation: EquationNumber::literal(10.0), index: SoilTestIndex::literal(40.0) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let equation = whole("equation", input.equation.get())?;
        let (rate, unit) = index_rate(equation, input.index.get()).ok_or_else(|| {
            Refusal::new("equation", "there is no such equation")
                .given(equation)
                .accepted("1 to 25")
                .example("10")
        })?;
        let mut notes = Vec::new();
        if equation == 22 {
            notes.push(Note::new(
                NoteKind::Provenance,
                "A coefficient of this equation, 0.418, looks like a misprint of 0.148.",
            ));
        }
        Ok(Answer::with_notes(IndexRateOutput { rate, unit }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "rate",
                "a I² − b I + c, held beyond its first zero or lowest point",
                format!("equation {}, I = {}", input.equation.get(), input.index.get()),
                format!("{:.1}", answer.value.rate),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_equation_turns_up_again() {
        for row in ROWS.iter() {
            let mut last = f64::INFINITY;
            for index in 0..400 {
                let (rate, _) = index_rate(row.equation, f64::from(index)).unwrap();
                assert!(rate <= last + 1e-9 && rate >= 0.0, "{} at {index}", row.equation);
                last = rate;
            }
        }
    }
}
