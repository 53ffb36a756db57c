//! From one soil test to another: refused unless asked for, and then only as an indication.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::report::{Analyte, Procedure};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// What one test found.
    pub struct TestPpm: "soil test", "ppm", 0.0 ..= 5000.0, example 22.0;
}

/// Band around the published lines, either way, as a share (judgement: lines of one state differ by more).
pub const BAND: f64 = 0.3;

#[derive(Debug, Deserialize)]
struct Row {
    analyte: Analyte,
    from: Procedure,
    to: Procedure,
    slope: f64,
    intercept: f64,
    least_ppm: f64,
    source: String,
    at: String,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    let text = include_str!("data/test_conversion.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads it.
        Err(error) => unreachable!("test_conversion.csv: {error}"),
    }
});

/// Input of `soil-test-conversion`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TestConversionInput {
    /// Phosphorus or potassium.
    pub analyte: Analyte,
    /// The test that was made.
    pub from: Procedure,
    /// The test that is wanted.
    pub to: Procedure,
    /// What it found.
    pub value_ppm: TestPpm,
    /// Tests are not converted unless this is set, and then only as an indication.
    #[serde(default)]
    pub indication_accepted: bool,
}

/// One published line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ConversionLine {
    /// What it gives.
    pub value_ppm: f64,
    /// The line.
    pub equation: String,
    /// Key of its source.
    pub source: String,
    /// Where in it.
    pub at: String,
}

/// Output of `soil-test-conversion`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TestConversionOutput {
    /// Each published line.
    pub lines: Vec<ConversionLine>,
    /// Low end of the band.
    pub low_ppm: f64,
    /// High end.
    pub high_ppm: f64,
}

/// From one soil test to another.
pub struct SoilTestConversion;

impl Method for SoilTestConversion {
    type Input = TestConversionInput;
    type Output = TestConversionOutput;

    const CARD: Card = Card {
        name: "soil-test-conversion",
        title: "From one soil test to another",
        topic: Topic::Fertility,
        computes: "What published lines make of one phosphorus or potassium test in terms of another. Refused unless an \
                   indication is accepted: the lines differ from soil to soil and from state to state.",
        validity: &[
            "Acid and neutral soils of the regions of the sources; never to choose a class of a scheme made for another test.",
            "Morgan and Olsen are not converted: published equations need pH, clay or aluminum and are poor even then.",
        ],
        sources: &[
            Cite::new("TriState2019", "soil test conversions"),
            Cite::new("OhioSoilTestP", "Bray from Mehlich-3"),
            Cite::new("Rutter2019", "Mehlich-3 K on ammonium acetate K"),
            Cite::new("Michaelson1987", "slopes by soil"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        TestConversionInput {
            analyte: Analyte::Phosphorus,
            from: Procedure::Mehlich3Icp,
            to: Procedure::Bray1,
            value_ppm: TestPpm::literal(22.0),
            indication_accepted: true,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let TestConversionInput { analyte, from, to, value_ppm, indication_accepted } = *input;
        if !indication_accepted {
            return Err(Refusal::new(
                "indication_accepted",
                "one soil test is not turned into another: have the soil tested by the procedure that the scheme was made for",
            )
            .given("false")
            .accepted("true, where an indication with a wide band will do")
            .example("true"));
        }
        let rows: Vec<&Row> =
            ROWS.iter().filter(|row| row.analyte == analyte && row.from == from && row.to == to).collect();
        if rows.is_empty() {
            let known: Vec<String> = ROWS
                .iter()
                .map(|row| format!("{} {} to {}", row.analyte.words(), row.from.words(), row.to.words()))
                .collect();
            return Err(Refusal::new(
                "to",
                format!(
                    "no line is known here for {} from {} to {}",
                    analyte.words(),
                    from.words(),
                    to.words()
                ),
            )
            .given(to.words())
            .accepted(known.join("; "))
            .example("bray_1"));
        }
        let value = value_ppm.get();
        let mut notes = vec![Note::new(
            NoteKind::Method,
            "An indication only; the band adds 30 % either way to the published lines (judgement). It says nothing that a \
             scheme's class may rest on.",
        )];
        let mut lines = Vec::new();
        for row in rows {
            if value < row.least_ppm {
                notes.push(Note::new(
                    NoteKind::OutsideRange,
                    format!(
                        "Below {} ppm one of the lines turns negative; 0 is given for it.",
                        row.least_ppm
                    ),
                ));
            }
            let intercept =
                if row.intercept == 0.0 { String::new() } else { format!("{} + ", row.intercept) };
            lines.push(ConversionLine {
                value_ppm: (row.intercept + row.slope * value).max(0.0),
                equation: format!("{intercept}{} × {value}", row.slope),
                source: row.source.clone(),
                at: row.at.clone(),
            });
        }
        let least = lines.iter().map(|line| line.value_ppm).fold(f64::INFINITY, f64::min);
        let most = lines.iter().map(|line| line.value_ppm).fold(0.0, f64::max);
        let output =
            TestConversionOutput { lines, low_ppm: (1.0 - BAND) * least, high_ppm: (1.0 + BAND) * most };
        Ok(Answer::with_notes(output, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        answer.value.lines.iter().fold(Working::new(), |working, line| {
            working.step(
                "one published line",
                line.at.clone(),
                line.equation.clone(),
                format!("{:.1} ppm ({})", line.value_ppm, line.source),
            )
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tests_are_not_converted_unasked_and_sources_are_known() {
        let mut input = SoilTestConversion::example();
        input.indication_accepted = false;
        assert_eq!(SoilTestConversion::compute(&input).unwrap_err().field, "indication_accepted");
        input.indication_accepted = true;
        input.to = Procedure::Olsen;
        assert_eq!(SoilTestConversion::compute(&input).unwrap_err().field, "to");
        for row in ROWS.iter() {
            assert!(crate::kit::sources::BIBLIOGRAPHY.contains_key(&row.source), "{}", row.source);
        }
    }
}
