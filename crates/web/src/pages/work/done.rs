//! That a job was done, and what was really spread.

use advice::feeding::mass;
use advice::work::{Job, done, keep_done};
use book::model::{JobDone, SpreadMass};
use ground::kit::Bounded;
use ground::kit::units::Dimension;
use jiff::civil::Date;

use super::decide::{MOST_AMOUNTS, placed, shaped};
use super::one::{self, JobPage};
use super::{no_job, plan};
use crate::ask::Ask;
use crate::form::{Field, Form};
use crate::pages::things::application::{PLACED, placed_key, placed_of};
use crate::route::{Outcome, Shown};

/// Fields of the form. Their names differ from those of the decision, which stands on the same page.
pub(super) const FIELDS: &[Field] = &[
    Field::day("done_on", "Day it was done", ""),
    Field::measure("amount_1", "Spread of the first material", "", Dimension::Load).optional(),
    Field::measure("amount_2", "Spread of the second material", "", Dimension::Load).optional(),
    Field::measure("amount_3", "Spread of the third material", "", Dimension::Load).optional(),
    Field::measure("amount_4", "Spread of the fourth material", "", Dimension::Load).optional(),
    Field::measure("amount_5", "Spread of the fifth material", "", Dimension::Load).optional(),
    Field::measure("amount_6", "Spread of the sixth material", "", Dimension::Load).optional(),
    Field::measure("amount_7", "Spread of the seventh material", "", Dimension::Load).optional(),
    Field::measure("amount_8", "Spread of the eighth material", "", Dimension::Load).optional(),
    Field::one_of("placed", "How it was spread", "", PLACED).optional(),
    Field::lines("done_note", "What was done otherwise, and what was seen", "").optional(),
    Field::hidden("from_number").optional(),
];

/// The form with the planned amounts in it.
pub(super) fn form(ask: &Ask, job: &Job, number: u32, today: Date) -> Form {
    let mut form = ask.form(FIELDS).with("done_on", today.to_string());
    for (at, spread) in job.spread.iter().enumerate().take(MOST_AMOUNTS) {
        // As it is weighed out, not to the last digit of the plan.
        if SpreadMass::new(spread.kg).is_ok() {
            form = form.with(&format!("amount_{}", at + 1), mass(spread.kg, ask.units()));
        }
    }
    if let Some(first) = job.spread.first() {
        form = form.with("placed", placed_key(first.placed));
    }
    fitted(form, job).set("from_number", number.to_string())
}

/// Only the fields that this job takes.
fn fitted(form: Form, job: &Job) -> Form {
    let form = shaped(form, job);
    if !job.spread.is_empty() {
        return form;
    }
    let refusals = form.refusals.clone();
    let mut form = Form::of(form.fields().iter().filter(|field| field.name != "placed").cloned().collect());
    form.refusals = refusals;
    form
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let key = ask.param("key");
    let plan = plan(ask, &snapshot)?;
    let job = plan.job(key).ok_or_else(|| no_job(key))?;
    let again = one::page(ask, &snapshot)?;
    let mut read = ask.reader(FIELDS);
    let on = read.day_gone("done_on");
    let amounts = super::decide::amounts(&mut read, job);
    let how = read.choice("placed").and_then(placed_of);
    let note = read.lines("done_note");
    let before = snapshot.job(key);
    let from = read.count("from_number").map_or(again.view.number, u32::from);
    let back = |form: Form| JobPage {
        shell: again.shell.clone().refused(),
        done_form: fitted(form, job).set("from_number", again.view.number.to_string()),
        ..again
    };
    let (Some(on), false) = (on, read.is_refused()) else {
        return Err(read.refused(back));
    };
    // Beyond those that the form can ask for, what was planned was spread.
    let rest = job.spread.iter().enumerate().skip(MOST_AMOUNTS);
    let rest = rest.filter_map(|(at, spread)| Some((at, SpreadMass::new(spread.kg).ok()?)));
    let amounts: Vec<(usize, SpreadMass)> = amounts.into_iter().chain(rest).collect();
    let word = done(&snapshot, job, JobDone { on, note }, &amounts, how);
    let kept = ask.write(|book, stamp| {
        book.write(|writing| keep_done(writing, before, from, word, stamp)).map_err(placed)
    })?;
    let kept = read.kept(kept, back)?;
    Shown::kept(format!("/work/{key}?done=job"), kept)
}
