//! The handbook page of one method: what it computes, from what, how well, and a trial of it.

mod leaf;
mod once;
mod result;
mod trial;

use askama::Template;
use checks::Outcome as Checked;
use ground::kit::{Card, Note, NoteKind, Refusal, Registered, Step, Working};
use ground::registry;
use serde::Serialize;
use serde_json::Value;

use crate::ask::Ask;
use crate::form::Form;
use crate::pages::sources::Cited;
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use leaf::Leaf;
use once::Once;
use result::ResultLine;

/// Addresses of this page.
pub const ROUTES: &[Route] = &[Route::page(
    "/methods/{name}",
    "One method of the handbook, with a trial of it; the query may carry its inputs",
    show,
)];

/// The page of one method.
#[derive(Template, Serialize)]
#[template(path = "method.html")]
struct MethodPage {
    #[serde(skip)]
    shell: Shell,
    card: &'static Card,
    chapter: &'static str,
    sources: Vec<Cited>,
    inputs: Vec<Leaf>,
    input_schema: Value,
    output_schema: Value,
    example: Value,
    checks: Vec<Checked>,
    agreeing: usize,
    #[serde(skip)]
    form: Form,
    /// Whether the trial shows the method's own example.
    is_example: bool,
    trial: Option<Trial>,
}

/// The answer to what was tried.
#[derive(Clone, Serialize)]
struct Trial {
    input: Value,
    lines: Vec<ResultLine>,
    notes: Vec<Note>,
    working: Vec<WorkedStep>,
    answer: Value,
}

/// A step of a working with its source spelt out.
#[derive(Clone, Serialize)]
pub(crate) struct WorkedStep {
    #[serde(flatten)]
    pub(crate) step: Step,
    pub(crate) cited: Option<Cited>,
}

/// The steps of a working, each with its source spelt out.
pub(crate) fn worked(working: &Working) -> Vec<WorkedStep> {
    let steps = working.steps.iter();
    steps.map(|step| WorkedStep { cited: step.source.as_ref().map(Cited::of), step: step.clone() }).collect()
}

static EXAMPLES: Once<Result<Trial, Vec<Refusal>>> = Once::new();
static CHECKED: Once<Vec<Checked>> = Once::new();

fn show(ask: &Ask) -> Outcome {
    let name = ask.param("name");
    let method = registry::find(name)
        .ok_or_else(|| Problem::not_found(format!("The handbook has no method called {name}.")))?;
    let inputs = leaf::leaves(&method.input_schema());
    let example = method.example();
    let is_example = ask.query.is_empty();
    let card = method.card();
    let tried = if is_example {
        EXAMPLES.of(card.name, || try_it(method, example.clone()).map_err(|refusal| vec![refusal]))
    } else {
        let input = trial::input(&inputs, &ask.query);
        input.and_then(|input| try_it(method, input).map_err(|refusal| vec![refusal]))
    };

    let mut form = trial::form(&inputs, &example, &ask.query);
    let (trial, refusals) = match tried {
        Ok(trial) => (Some(trial), Vec::new()),
        Err(refusals) => (None, refusals),
    };
    for refusal in &refusals {
        form.refuse(refusal.clone());
    }
    let shell = ask.shell(Section::Handbook, card.title);
    let checks = CHECKED.of(card.name, || checks::of_method(card.name));
    let page = MethodPage {
        shell: if refusals.is_empty() { shell } else { shell.refused() },
        card,
        chapter: card.topic.title(),
        sources: card.sources.iter().map(Cited::of).collect(),
        inputs,
        input_schema: method.input_schema(),
        output_schema: method.output_schema(),
        example,
        agreeing: checks.iter().filter(|check| check.status == checks::Status::Agrees).count(),
        checks,
        form,
        is_example,
        trial,
    };
    if refusals.is_empty() { Shown::page(page) } else { Err(Problem::form(refusals, page)) }
}

fn try_it(method: &dyn Registered, input: Value) -> Result<Trial, Refusal> {
    let (answer, working) = method.answer_with_working(&input)?;
    Ok(Trial {
        lines: result::lines(&answer, &method.output_schema()),
        notes: result::notes(&answer),
        working: worked(&working),
        input,
        answer,
    })
}

impl MethodPage {
    fn pretty(value: &Value) -> String {
        serde_json::to_string_pretty(value).unwrap_or_default()
    }

    fn schema(&self) -> String {
        Self::pretty(&serde_json::json!({ "input": self.input_schema, "output": self.output_schema }))
    }

    fn command(&self) -> String {
        let input = self.trial.as_ref().map_or(&self.example, |trial| &trial.input);
        format!("echo '{input}' | spadework calc {} --in -", self.card.name)
    }

    /// A residual with a sign and few digits.
    fn residual(line: &checks::Line) -> String {
        match (line.residual, line.agrees) {
            (Some(0.0), _) => "0".to_owned(),
            (Some(residual), _) => format!("{residual:+.2e}"),
            (None, true) => "same".to_owned(),
            (None, false) => "differs".to_owned(),
        }
    }
}

/// The word before a note.
pub(crate) fn note_word(kind: NoteKind) -> &'static str {
    match kind {
        NoteKind::Adjusted => "Adjusted",
        NoteKind::OutsideRange => "Outside the range",
        NoteKind::NoValue => "No value",
        NoteKind::Provenance => "Where it comes from",
        NoteKind::Method => "Weak point",
        NoteKind::Safety => "Take care",
    }
}
