//! The measure reader as a method, so that it can be tried, tested and served.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::dimension::{Dimension, UnitSystem};
use super::parse::parse;
use super::show::show;
use crate::kit::{Answer, Card, Cite, Method, Refusal, Topic, Working};

/// Input of `convert-measure`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ConvertMeasureInput {
    /// The measure as a person writes it.
    pub text: String,
    /// What is measured.
    pub dimension: Dimension,
    /// The system whose unit a number without unit is in.
    pub system: UnitSystem,
}

/// Output of `convert-measure`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ConvertMeasureOutput {
    /// The value in `unit`.
    pub value: f64,
    /// The unit in which values of this dimension are kept.
    pub unit: String,
    /// The value as a US farm reads it, rounded for reading.
    pub us_customary: String,
    /// The value as a metric farm reads it, rounded for reading.
    pub metric: String,
}

/// Reads a measure and gives it in both systems.
pub struct ConvertMeasure;

impl Method for ConvertMeasure {
    type Input = ConvertMeasureInput;
    type Output = ConvertMeasureOutput;

    const CARD: Card = Card {
        name: "convert-measure",
        title: "Measures as they are written",
        topic: Topic::Measures,
        computes: "Reads a measure as people write it, such as 2 3/16 in, 55 mm, 7/16, 2 lb 4 oz, 68 F or \
                   1 d 2 h, and gives it in the unit it is kept in and as a US and a metric farm read it.",
        validity: &[
            "Gallons, quarts, cups and fluid ounces are US liquid measures; tons by that name are not read, since there are three.",
            "The shown forms are rounded: inches to a sixteenth, other values to three or four digits. The value is not.",
            "A comma before three digits is refused, since it may stand for thousands or for decimals.",
        ],
        sources: &[Cite::new("NistSP811", "Appendix B.8")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        ConvertMeasureInput {
            text: "2 3/16 in".to_owned(),
            dimension: Dimension::SmallLength,
            system: UnitSystem::UsCustomary,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let value = parse(&input.text, input.dimension, input.dimension.unit(input.system))
            .map_err(|error| error.at("text"))?;
        Ok(Answer::plain(ConvertMeasureOutput {
            value,
            unit: input.dimension.base().symbol().to_owned(),
            us_customary: show(value, input.dimension, UnitSystem::UsCustomary),
            metric: show(value, input.dimension, UnitSystem::Metric),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let default = input.dimension.unit(input.system);
        let base = input.dimension.base();
        let rule = if default == base {
            format!("Numbers without unit are in {}.", named(base.symbol()))
        } else {
            let (zero, one) = (default.convert(0.0, base), default.convert(1.0, base));
            let factor = format!("1 {} = {one} {}", default.symbol(), base.symbol());
            let zero =
                if zero == 0.0 { String::new() } else { format!(" and 0 {} = {zero}", default.symbol()) };
            format!("Numbers without unit are in {}; {factor}{zero}.", default.symbol())
        };
        Working::new()
            .step(
                "the value",
                rule,
                input.text.clone(),
                format!("{} {}", answer.value.value, answer.value.unit),
            )
            .cite(Self::CARD.sources[0])
    }
}

fn named(symbol: &str) -> &str {
    if symbol.is_empty() { "no unit" } else { symbol }
}
