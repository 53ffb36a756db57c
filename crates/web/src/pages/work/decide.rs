//! A person's word on a job: accepted, changed, postponed, refused.

use advice::work::{Job, JobState, answer, changed_materials, spoken};
use book::model::{JobChange, JobChoice, JobWord, SpreadMass};
use book::{BookError, Snapshot};
use ground::kit::Refusal;
use ground::kit::units::Dimension;

use super::one::{self, JobPage};
use super::{no_job, plan};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, join};
use crate::route::{Outcome, Shown};

/// Materials whose amounts can be changed in a form.
pub(super) const MOST_AMOUNTS: usize = 8;

const CHOICE: &[Field] = &[
    Field::one_of(
        "choice",
        "What will you do",
        "",
        &[
            Choice::new("accepted", "Accept: do it as planned"),
            Choice::new("changed", "Change: do it on another day or with other amounts"),
            Choice::new("postponed", "Put off: not before a day"),
            Choice::new("refused", "Refuse: it will not be done"),
        ],
    ),
    Field::day("until", "Put off until", "Asked for when you put it off").optional(),
    Field::day("on", "Another day", "When you change it").optional(),
    Field::lines("instead", "What you will do instead", "When you change it").optional(),
    Field::lines("reason", "Reason", "Asked for when you refuse; next year you will want to know why")
        .optional(),
    Field::hidden("from_number").optional(),
];

/// One amount a material, in their order.
const AMOUNTS: &[Field] = &[
    Field::measure("amount_1", "Amount of the first material", "", Dimension::Load).optional(),
    Field::measure("amount_2", "Amount of the second material", "", Dimension::Load).optional(),
    Field::measure("amount_3", "Amount of the third material", "", Dimension::Load).optional(),
    Field::measure("amount_4", "Amount of the fourth material", "", Dimension::Load).optional(),
    Field::measure("amount_5", "Amount of the fifth material", "", Dimension::Load).optional(),
    Field::measure("amount_6", "Amount of the sixth material", "", Dimension::Load).optional(),
    Field::measure("amount_7", "Amount of the seventh material", "", Dimension::Load).optional(),
    Field::measure("amount_8", "Amount of the eighth material", "", Dimension::Load).optional(),
];

/// Fields of the answer.
pub(super) const FIELDS: &[Field] = &join::<{ CHOICE.len() + AMOUNTS.len() }>(CHOICE, AMOUNTS);

/// The form with what was said last.
pub(super) fn form(ask: &Ask, job: &Job, number: u32) -> Form {
    let choice = match job.state {
        JobState::Accepted => "accepted",
        JobState::Changed => "changed",
        JobState::Postponed => "postponed",
        JobState::Refused => "refused",
        JobState::Proposed | JobState::Done => "",
    };
    let form = ask
        .form(FIELDS)
        .with("choice", choice)
        .with("until", job.until.map(|day| day.to_string()).unwrap_or_default())
        .with("reason", job.decided.as_ref().map_or("", |decided| &decided.reason));
    let form = match &job.changed {
        Some(changed) => form
            .with("on", changed.on.map(|day| day.to_string()).unwrap_or_default())
            .with("instead", &changed.note),
        None => form,
    };
    shaped(form, job).set("from_number", number.to_string())
}

/// The fields that this job takes, each amount with the name of its material.
pub(super) fn shaped(form: Form, job: &Job) -> Form {
    let refusals = form.refusals.clone();
    let fields = form
        .fields()
        .iter()
        .filter_map(|field| {
            let Some(at) = field.name.strip_prefix("amount_") else { return Some(field.clone()) };
            let spread = job.spread.get(at.parse::<usize>().ok()?.checked_sub(1)?)?;
            let label = format!("Amount of {}", spread.name);
            Some(field.clone().labelled(&label, format!("Planned: {}", spread.carried), true))
        })
        .collect();
    let mut form = Form::of(fields);
    form.refusals = refusals;
    form
}

/// The amounts that were typed, each for its material.
pub(super) fn amounts(read: &mut Reader<'_>, job: &Job) -> Vec<(usize, SpreadMass)> {
    (0..job.spread.len().min(MOST_AMOUNTS))
        .filter_map(|at| Some((at, read.measure::<SpreadMass>(AMOUNTS[at].name)?)))
        .collect()
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let again = one::page(ask, &snapshot)?;
    let job = plan(ask, &snapshot)?.job(ask.param("key")).cloned().ok_or_else(|| no_job(ask.param("key")))?;
    let mut read = ask.reader(FIELDS);
    let word = word(&mut read, &snapshot, &job);
    let before = snapshot.job(&job.key);
    let from = read.count("from_number").map_or(again.view.number, u32::from);
    let back = |form: Form| JobPage {
        shell: again.shell.clone().refused(),
        form: shaped(form, &job).set("from_number", again.view.number.to_string()),
        ..again
    };
    let Some(word) = word.filter(|_| !read.is_refused()) else {
        return Err(read.refused(back));
    };
    let kept = ask.write(|book, stamp| {
        book.write(|writing| answer(writing, before, from, word, stamp)).map_err(placed)
    })?;
    let kept = read.kept(kept, back)?;
    Shown::kept(format!("/work/{}?done=decided", kept.body.key), kept)
}

/// Names of the book as the form has them.
pub(super) fn placed(error: BookError) -> BookError {
    match error {
        BookError::Refused(refusal) => {
            let field = match refusal.field.as_str() {
                "changed" | "changed.note" => "instead".to_owned(),
                "key" => "choice".to_owned(),
                other => other.to_owned(),
            };
            BookError::Refused(Refusal { field, ..refusal })
        }
        other => other,
    }
}

/// What the form says.
fn word(read: &mut Reader<'_>, snapshot: &Snapshot, job: &Job) -> Option<JobWord> {
    let choice = match read.choice("choice")? {
        "accepted" => JobChoice::Accepted,
        "changed" => JobChoice::Changed,
        "postponed" => JobChoice::Postponed,
        _ => JobChoice::Refused,
    };
    let until = read.day("until");
    let on = read.day("on");
    let note = read.lines("instead");
    let reason = read.lines("reason");
    let amounts = amounts(read, job);
    if choice == JobChoice::Postponed && until.is_none() && !read.is_refused_at("until") {
        read.refuse(
            Refusal::new("until", "Put off until: say until which day")
                .given("nothing")
                .accepted("a day")
                .example("2026-10-01"),
        );
    }
    if choice == JobChoice::Refused && reason.trim().is_empty() {
        read.refuse(
            Refusal::new("reason", "Reason: say why it is refused")
                .given("nothing")
                .accepted("a few words")
                .example("The bed goes to grass"),
        );
    }
    let materials = changed_materials(job, &amounts);
    let change = JobChange { on, materials, note };
    if choice == JobChoice::Changed && change == JobChange::default() {
        read.refuse(
            Refusal::new("on", "Another day: say what you change")
                .given("nothing")
                .accepted("another day, other amounts, or what you will do instead")
                .example("2026-10-01"),
        );
    }
    Some(JobWord {
        choice,
        until: until.filter(|_| choice == JobChoice::Postponed),
        changed: (choice == JobChoice::Changed).then_some(change),
        reason,
        ..spoken(snapshot, job)
    })
}
