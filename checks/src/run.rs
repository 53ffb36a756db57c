//! Running a case against the registry.

use ground::kit::Provenance;
use ground::registry;
use serde::Serialize;
use serde_json::Value;

use crate::file::{Case, CheckFile, Expected};
use crate::printed::Printed;

/// How a case came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// As published, within the tolerance.
    Agrees,
    /// Not as published.
    Differs,
    /// Not as published, and the file says why that is so.
    KnownDifference,
    /// Listed as a known difference, yet it agrees: the listing must go.
    NowAgrees,
}

impl Status {
    /// Does this status let the run pass?
    #[must_use]
    pub fn is_good(self) -> bool {
        matches!(self, Self::Agrees | Self::KnownDifference)
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Agrees => "agrees",
            Self::Differs => "DIFFERS",
            Self::KnownDifference => "known difference",
            Self::NowAgrees => "NOW AGREES (remove it from the known differences)",
        }
    }
}

/// One compared output.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Line {
    /// Path of the output.
    pub path: String,
    /// As the source prints it.
    pub expected: String,
    /// As computed.
    pub got: String,
    /// Computed less expected, for numbers.
    pub residual: Option<f64>,
    /// Greatest residual that agrees, for numbers.
    pub tolerance: Option<f64>,
    /// Does it agree?
    pub agrees: bool,
}

/// A case and how it came out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Outcome {
    /// File the case stands in.
    pub file: String,
    /// The case's name.
    pub case: String,
    /// The method it checks.
    pub method: String,
    /// Bibliography key of its source.
    pub source: String,
    /// Place in the source.
    pub at: String,
    /// How the expected values reached this project.
    pub provenance: Provenance,
    /// Why the tolerance is wider, or why the case is a known difference.
    pub why: String,
    /// How it came out.
    pub status: Status,
    /// Each compared output.
    pub lines: Vec<Line>,
}

/// Runs one case. A method that refuses the input, or does not exist, is a difference and not an
/// error, so that one run lists everything that is wrong.
#[must_use]
pub fn run(file: &CheckFile, case: &Case) -> Outcome {
    let lines = compare(case);
    let agrees = lines.iter().all(|line| line.agrees);
    let status = match (agrees, &case.known_difference) {
        (true, None) => Status::Agrees,
        (false, None) => Status::Differs,
        (false, Some(_)) => Status::KnownDifference,
        (true, Some(_)) => Status::NowAgrees,
    };
    Outcome {
        file: file.name.clone(),
        case: case.name.clone(),
        method: case.method.clone(),
        source: file.source.key.clone(),
        at: if case.at.is_empty() { file.source.at.clone() } else { case.at.clone() },
        provenance: case.provenance.unwrap_or(file.source.provenance),
        why: case.known_difference.clone().unwrap_or_else(|| case.why.clone()),
        status,
        lines,
    }
}

fn compare(case: &Case) -> Vec<Line> {
    let whole = |expected: &str, got: String, agrees: bool| {
        vec![Line {
            path: String::new(),
            expected: expected.to_owned(),
            got,
            residual: None,
            tolerance: None,
            agrees,
        }]
    };
    let Some(method) = registry::find(&case.method) else {
        return whole("a method", format!("no method is called {}", case.method), false);
    };
    let Ok(input) = serde_json::to_value(&case.input) else {
        return whole("an input", "the input is not JSON".to_owned(), false);
    };
    match (method.answer(&input), &case.refused) {
        (Ok(answer), None) => {
            case.expect.iter().map(|(path, expected)| line(case, path, expected, &answer)).collect()
        }
        (Ok(_), Some(field)) => whole(&format!("refused at {field}"), "an answer".to_owned(), false),
        (Err(refusal), None) => whole("an answer", format!("refused: {refusal}"), false),
        (Err(refusal), Some(field)) => whole(
            &format!("refused at {field}"),
            format!("refused at {}", refusal.field),
            refusal.field == *field,
        ),
    }
}

fn line(case: &Case, path: &str, expected: &Expected, answer: &Value) -> Line {
    let got = at_path(answer, path);
    let got_words = got.map_or_else(|| "nothing at this path".to_owned(), in_words);
    let (residual, tolerance, agrees) = match (expected, got) {
        (Expected::Text(text), Some(Value::Number(number))) => match (Printed::read(text), number.as_f64()) {
            (Some(printed), Some(number)) => {
                let tolerance = case.tolerance.get(path).copied().unwrap_or(printed.half_unit);
                let residual = number - printed.value;
                // A computed 0.285 printed as 0.28 or 0.29 is the same number to the reader.
                (Some(residual), Some(tolerance), residual.abs() <= tolerance * (1.0 + 1e-9))
            }
            _ => (None, None, false),
        },
        (Expected::Text(text), Some(Value::Null)) => (None, None, text == "null"),
        (Expected::Text(text), Some(Value::String(got))) => (None, None, text == got),
        (Expected::Truth(truth), Some(Value::Bool(got))) => (None, None, truth == got),
        (Expected::Count(count), Some(Value::Number(got))) => (None, None, got.as_i64() == Some(*count)),
        _ => (None, None, false),
    };
    Line {
        path: path.to_owned(),
        expected: expected.to_string(),
        got: got_words,
        residual,
        tolerance,
        agrees,
    }
}

fn in_words(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

/// The value at a dotted path; a whole number picks an item of a list. Names with spaces
/// ("sandy loam") need no quoting.
fn at_path<'a>(value: &'a Value, path: &str) -> Option<&'a Value> {
    path.split('.').try_fold(value, |here, part| match here {
        Value::Array(items) => items.get(part.parse::<usize>().ok()?),
        other => other.get(part),
    })
}
