//! One finding by itself, and the grower's answer to it.

use askama::Template;
use book::Snapshot;
use book::model::{Choice, Decision, EntryId};
use ground::kit::Refusal;
use serde::Serialize;

use super::findings::{Card, Decided, decided};
use crate::ask::Ask;
use crate::form::{self, Field, Form};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

/// Fields of the grower's answer.
pub(super) const FIELDS: &[Field] = &[
    Field::one_of(
        "choice",
        "What will you do",
        "",
        &[
            form::Choice::new("accepted", "Accept: it will be done, or reckoned with"),
            form::Choice::new("postponed", "Put off: not now"),
            form::Choice::new("refused", "Refuse: it will not be done"),
        ],
    ),
    Field::lines("reason", "Reason", "Asked for when you refuse; next year you will want to know why")
        .optional(),
    Field::hidden("from_number").optional(),
];

#[derive(Template, Serialize)]
#[template(path = "finding.html")]
struct FindingPage {
    #[serde(skip)]
    shell: Shell,
    plot: EntryId,
    plot_name: String,
    card: Card,
    #[serde(skip)]
    form: Form,
}

fn page(ask: &Ask, snapshot: &Snapshot, form: Option<Form>) -> Result<FindingPage, Problem> {
    let plot = ask.plot(snapshot)?;
    let told = ask.desk()?.told(snapshot, plot.id);
    let name = ask.param("finding");
    let finding = told
        .as_ref()
        .and_then(|told| told.report.findings.iter().find(|finding| finding.id == name))
        .ok_or_else(|| {
            Problem::not_found(format!(
                "There is no finding called {name} on {}. What is found changes with the evidence.",
                plot.body.name
            ))
        })?;
    let card = Card::of(snapshot, plot.id, finding);
    let shell = ask.shell(Section::Farm, format!("{}, {}", finding.title, plot.body.name));
    let refused = form.is_some();
    let number = card.decided.as_ref().map_or(0, |decided| decided.number).to_string();
    let form = form.unwrap_or_else(|| ask.form(FIELDS)).set("from_number", number);
    Ok(FindingPage {
        shell: if refused { shell.refused() } else { shell },
        plot: plot.id,
        plot_name: plot.body.name.clone(),
        card,
        form,
    })
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    Shown::page(page(ask, &snapshot, None)?)
}

pub(super) fn decide(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    // A finding that is not there is said before anything else.
    let blank = page(ask, &snapshot, None)?;
    let (plot, finding) = (blank.plot, blank.card.finding.id);
    let mut read = ask.reader(FIELDS);
    let choice = read.choice("choice");
    let reason = read.lines("reason");
    let now = decided(&snapshot, plot, finding);
    if choice == Some("refused") && reason.trim().is_empty() {
        read.refuse(
            Refusal::new("reason", "Reason: say why it is refused")
                .given("nothing")
                .accepted("a few words")
                .example("The bed is given up next year"),
        );
    }
    if let Some(refusal) = clash(read.count("from_number"), now.as_ref()) {
        read.refuse(refusal);
    }
    let choice = match choice {
        Some("accepted") => Choice::Accepted,
        Some("postponed") => Choice::Postponed,
        _ => Choice::Refused,
    };
    let again = |form: Form| FindingPage {
        shell: ask.shell(Section::Farm, blank.shell.title.clone()).refused(),
        form,
        ..blank
    };
    if read.is_refused() {
        let number = now.map_or(0, |now| now.number).to_string();
        return Err(read.refused(|form| again(form.set("from_number", number))));
    }
    let body = Decision { plot, finding_id: finding.to_owned(), choice, reason };
    let kept = ask.write(|book, stamp| match &now {
        Some(now) => book.revise(now.id, now.number, body, "decided again", stamp),
        None => book.record(body, stamp),
    })?;
    let kept = read.kept(kept, again)?;
    Shown::kept(format!("/plots/{plot}?done=decided#finding-{finding}"), kept)
}

/// The page was opened before somebody else decided.
fn clash(from: Option<u16>, now: Option<&Decided>) -> Option<Refusal> {
    let now = now.filter(|now| from.is_some_and(|from| u32::from(from) != now.number))?;
    let by = if now.by.is_empty() { "someone" } else { &now.by };
    let because = if now.reason.is_empty() { String::new() } else { format!(" ({})", now.reason) };
    Some(Refusal::new(
        "choice",
        format!(
            "Since you opened this page, {by} decided: {}{because}, on {}. Save again to put your decision in its place",
            now.word.to_lowercase(),
            now.when
        ),
    ))
}
