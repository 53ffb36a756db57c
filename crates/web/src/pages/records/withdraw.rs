//! Withdrawing a record, and bringing it back. Nothing is ever deleted.

use askama::Template;
use book::model::Kind;
use book::{BookError, Revision, Snapshot};
use serde::Serialize;

use super::{home, latest};
use crate::ask::Ask;
use crate::form::{Field, Form};
use crate::pages::things::{Clash, clash_of, clash_refusal};
use crate::problem::{Problem, Trouble, capital};
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::words::{self, Line};

pub(super) const FIELDS: &[Field] = &[
    Field::text(
        "reason",
        "Why",
        "A few words for whoever reads the history: \u{201c}wrong plot\u{201d} will do",
    ),
    Field::hidden("from_number").optional(),
];

#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Withdraw,
    Restore,
}

#[derive(Template, Serialize)]
#[template(path = "withdraw.html")]
struct WithdrawPage {
    #[serde(skip)]
    shell: Shell,
    title: String,
    lead: String,
    says: Vec<Line>,
    form: Form,
    #[serde(skip)]
    button: &'static str,
    #[serde(skip)]
    back: String,
    clash: Option<Clash>,
}

pub(super) fn ask_withdraw(ask: &Ask) -> Outcome {
    show(ask, Way::Withdraw)
}

pub(super) fn ask_restore(ask: &Ask) -> Outcome {
    show(ask, Way::Restore)
}

pub(super) fn withdraw(ask: &Ask) -> Outcome {
    save(ask, Way::Withdraw)
}

pub(super) fn restore(ask: &Ask) -> Outcome {
    save(ask, Way::Restore)
}

fn show(ask: &Ask, way: Way) -> Outcome {
    let snapshot = ask.snapshot()?;
    let revision = fit(ask, way)?;
    let form = ask.form(FIELDS).set("from_number", revision.number.to_string());
    Shown::page(page(ask, &snapshot, &revision, way, form, None))
}

fn save(ask: &Ask, way: Way) -> Outcome {
    let snapshot = ask.snapshot()?;
    let revision = fit(ask, way)?;
    let mut read = ask.reader(FIELDS);
    let reason = read.text("reason").unwrap_or_default().to_owned();
    let from = read.count("from_number").map_or(revision.number, u32::from);
    let again = |form: Form, clash: Option<Clash>| {
        let mut page = page(ask, &snapshot, &revision, way, form, clash);
        page.shell = page.shell.refused();
        page
    };
    if read.is_refused() {
        return Err(read.refused(|form| again(form, None)));
    }
    let done = ask.write(|book, stamp| match way {
        Way::Withdraw => book.withdraw(revision.id, from, &reason, stamp),
        Way::Restore => book.restore(revision.id, from, &reason, stamp),
    })?;
    match done {
        Err(BookError::Clash { now, .. }) => {
            let clash = clash_of(ask, &snapshot, &now, None);
            read.refuse(clash_refusal(&clash));
            let number = now.number.to_string();
            Err(read.clashed(|form| again(form.set("from_number", number), Some(clash))))
        }
        other => {
            let kept = read.kept(other, |form| again(form, None))?;
            let to = home(&*ask.snapshot()?, &revision);
            let word = if way == Way::Withdraw { "withdrawn" } else { "restored" };
            Shown::kept(format!("{to}?done={word}"), kept)
        }
    }
}

/// The record, if it is in the state that the page is for.
fn fit(ask: &Ask, way: Way) -> Result<Revision, Problem> {
    let revision = latest(&ask.desk()?.book(), ask.entry("id")?)?;
    let what = revision.kind.label().to_lowercase();
    if revision.kind == Kind::Farm {
        return Err(state("The farm itself cannot be withdrawn from its book.".to_owned()));
    }
    if revision.withdrawn == (way == Way::Withdraw) {
        let state_words = if revision.withdrawn {
            "was withdrawn already"
        } else {
            "counts, so there is nothing to restore"
        };
        return Err(state(format!("This {what} {state_words}.")));
    }
    Ok(revision)
}

fn state(message: String) -> Problem {
    Trouble::new(axum::http::StatusCode::CONFLICT, "Nothing to do", message)
        .hint("Go back to the farm page and look at the record again.")
        .into()
}

fn page(
    ask: &Ask,
    snapshot: &Snapshot,
    revision: &Revision,
    way: Way,
    form: Form,
    clash: Option<Clash>,
) -> WithdrawPage {
    let what = words::titled(&revision.body);
    let (title, lead, button) = match way {
        Way::Withdraw => {
            let with_it = match revision.kind {
                Kind::Plot => " Everything recorded on it is set aside with it, until it is restored.",
                Kind::Bed => " Its plantings and waterings are set aside with it, until it is restored.",
                _ => "",
            };
            let lead = format!(
                "It no longer counts. Nothing is deleted: it stays in the history and can be restored.{with_it}"
            );
            (format!("Withdraw the {what}"), lead, "Withdraw it")
        }
        Way::Restore => {
            (format!("Restore the {what}"), "It will count again, as it stood.".to_owned(), "Restore it")
        }
    };
    WithdrawPage {
        shell: ask.shell(Section::Farm, title.clone()),
        title: capital(&title),
        lead,
        says: words::lines(&revision.body, snapshot, ask.units()),
        form,
        button,
        back: home(snapshot, revision),
        clash,
    }
}
