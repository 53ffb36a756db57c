//! A job of the person's own.

use askama::Template;
use book::Snapshot;
use book::model::{JobChoice, JobWord, OWN_JOB, PlannedJob};
use ground::kit::Refusal;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Field, Form};
use crate::pages::things::plots;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

/// Fields of the form.
pub(super) const FIELDS: &[Field] = &[
    Field::text("what", "What is to be done", "For example Mend the tunnel's end wall"),
    Field::pick("plot", "Plot", "Leave open if it is about none", &[]).optional(),
    Field::text("place", "Where", "Leave open for the whole plot").optional(),
    Field::day("from", "First day that suits", "").optional(),
    Field::day("to", "Last day that suits", "").optional(),
    Field::lines("reason", "Note", "").optional(),
];

#[derive(Template, Serialize)]
#[template(path = "work/own.html")]
struct OwnPage {
    #[serde(skip)]
    shell: Shell,
    form: Form,
}

fn page(ask: &Ask, snapshot: &Snapshot, form: Form) -> OwnPage {
    let shell = ask.shell(Section::Work, "Add a job of your own");
    OwnPage { shell: if form.is_refused() { shell.refused() } else { shell }, form: plots(form, snapshot) }
}

pub(super) fn blank(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let form = ask.form(FIELDS).with("plot", ask.query.text("plot").unwrap_or_default());
    Shown::page(page(ask, &snapshot, form))
}

pub(super) fn add(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let mut read = ask.reader(FIELDS);
    let what = read.text("what").map(str::to_owned);
    let plot = read.entry("plot");
    let place = read.text("place").map(str::to_owned);
    let (from, to) = (read.day("from"), read.day("to"));
    let reason = read.lines("reason");
    let named = plot.and_then(|id| snapshot.plot(id)).map(|plot| plot.body.name.clone());
    let back = |form: Form| page(ask, &snapshot, form);
    let (Some(what), false) = (what, read.is_refused()) else {
        return Err(read.refused(back));
    };
    let as_planned =
        PlannedJob { what, place: place.or(named).unwrap_or_default(), from, to, materials: Vec::new() };
    let same = |job: &JobWord| {
        job.is_own() && job.done.is_none() && job.as_planned == as_planned && job.plot == plot
    };
    if let Some(known) = snapshot.jobs.iter().find(|held| same(&held.body)) {
        read.refuse(
            Refusal::new("what", "This job is in the plan already; it was not added a second time")
                .given(&known.body.as_planned.what)
                .accepted("another job"),
        );
        return Err(read.refused(back));
    }
    let stamp = ask.stamp();
    let word = JobWord {
        // The moment tells jobs of one person apart.
        key: format!("{OWN_JOB}{}", stamp.at.as_microsecond()),
        plot,
        bed: None,
        choice: JobChoice::Accepted,
        until: None,
        changed: None,
        reason,
        done: None,
        as_planned,
    };
    let kept = ask.write(|book, stamp| {
        book.record(word, stamp).map_err(|error| match error {
            book::BookError::Refused(refusal) => {
                let field = refusal.field.strip_prefix("as_planned.").unwrap_or(&refusal.field).to_owned();
                book::BookError::Refused(Refusal { field, ..refusal })
            }
            other => other,
        })
    })?;
    let kept = read.kept(kept, back)?;
    Shown::kept("/work?done=kept", kept)
}
