//! How much boron in the soil water a crop bears.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Boron in the water of the soil.
    pub struct BoronInWater: "boron in the soil water", "mg/L", 0.0 ..= 100.0, example 1.5;
}

/// How sensitive a crop is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BoronClass {
    /// Harmed below 0.5 mg/L.
    VerySensitive,
    /// 0.5 to 1 mg/L.
    Sensitive,
    /// 1 to 2 mg/L.
    ModeratelySensitive,
}

impl BoronClass {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::VerySensitive => "very sensitive",
            Self::Sensitive => "sensitive",
            Self::ModeratelySensitive => "moderately sensitive",
        }
    }
}

/// A row of the table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct BoronRow {
    /// Crop, in the words of the table.
    pub crop: String,
    /// Its class.
    pub class: BoronClass,
    /// Low end of the threshold.
    pub from_mg_l: Option<f64>,
    /// High end.
    pub to_mg_l: f64,
    /// Yield lost for each mg/L above.
    pub slope_percent_per_mg_l: Option<f64>,
}

static ROWS: LazyLock<Vec<BoronRow>> = LazyLock::new(|| {
    let text = include_str!("data/boron_tolerance.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads it.
        Err(error) => unreachable!("boron_tolerance.csv: {error}"),
    }
});

/// The row of a crop, by its name in the singular or the plural.
#[must_use]
pub fn boron_row(crop: &str) -> Option<&'static BoronRow> {
    let name = crop.trim().to_lowercase();
    ROWS.iter().find(|row| row.crop == name || format!("{}s", row.crop) == name)
}

/// Input of `boron-tolerance`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BoronToleranceInput {
    /// Crop.
    pub crop: String,
    /// Boron in the soil water, from a saturation extract; the loss is left out without it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub boron_mg_l: Option<BoronInWater>,
}

/// Output of `boron-tolerance`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct BoronToleranceOutput {
    /// How sensitive.
    pub class: BoronClass,
    /// Low end of the threshold.
    pub threshold_from_mg_l: Option<f64>,
    /// High end.
    pub threshold_to_mg_l: f64,
    /// Is the boron above the high end?
    pub above: Option<bool>,
    /// Yield lost, where the source gives a slope.
    pub yield_lost_percent: Option<f64>,
}

/// Boron tolerance of crops.
pub struct BoronTolerance;

impl Method for BoronTolerance {
    type Input = BoronToleranceInput;
    type Output = BoronToleranceOutput;

    const CARD: Card = Card {
        name: "boron-tolerance",
        title: "Boron tolerance of crops",
        topic: Topic::Fertility,
        computes: "How much boron in the soil water a crop bears before it yields less, for the more sensitive crops.",
        validity: &[
            "Boron in the water of the soil (saturation extract), not the ppm of a soil test.",
            "The table of the more tolerant crops was not read: a crop that is missing may bear more, or was not tested.",
        ],
        sources: &[Cite::new("Maas1990", "boron tolerance limits for agricultural crops")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        BoronToleranceInput { crop: "snap bean".to_owned(), boron_mg_l: Some(BoronInWater::literal(1.5)) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let row = boron_row(&input.crop).ok_or_else(|| {
            let known: Vec<&str> = ROWS.iter().map(|row| row.crop.as_str()).collect();
            let given: String = input.crop.chars().take(60).collect();
            Refusal::new("crop", format!("the boron table has no row for {given:?}"))
                .given(given)
                .accepted(known.join(", "))
                .example("onion")
        })?;
        let boron = input.boron_mg_l.map(Bounded::get);
        let lost = |boron: f64| {
            let slope = row.slope_percent_per_mg_l?;
            Some((slope * (boron - row.to_mg_l)).clamp(0.0, 100.0))
        };
        let notes = vec![Note::new(
            NoteKind::Method,
            "The source's limits are of boron in the soil water, not of a soil test.",
        )];
        Ok(Answer::with_notes(
            BoronToleranceOutput {
                class: row.class,
                threshold_from_mg_l: row.from_mg_l,
                threshold_to_mg_l: row.to_mg_l,
                above: boron.map(|boron| boron > row.to_mg_l),
                yield_lost_percent: boron.and_then(lost),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let out = &answer.value;
        let result = match out.yield_lost_percent {
            Some(lost) => format!("{lost:.0} % of the yield lost"),
            None => out.class.words().to_owned(),
        };
        Working::new()
            .step(
                "threshold",
                "row of the crop; above the threshold the slope for each mg/L",
                format!("{}: {} mg/L", input.crop, out.threshold_to_mg_l),
                result,
            )
            .cite(Self::CARD.sources[0])
    }
}
