//! One job: everything behind it, and the forms to answer it and to mark it done.

use std::sync::Arc;

use advice::work::{Job, JobState};
use askama::Template;
use book::Snapshot;
use serde::Serialize;

use super::{JobView, decide, done, no_job};
use crate::ask::Ask;
use crate::form::Form;
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::words::{self, Line};

#[derive(Template, Serialize)]
#[template(path = "work/one.html")]
pub(super) struct JobPage {
    #[serde(skip)]
    pub(super) shell: Shell,
    pub(super) view: JobView,
    /// What was said of it, line by line; empty where nothing was.
    pub(super) said: Vec<Line>,
    #[serde(skip)]
    pub(super) form: Form,
    #[serde(skip)]
    pub(super) done_form: Form,
    /// Whether it can be marked done.
    #[serde(skip)]
    pub(super) can_be_done: bool,
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    Shown::page(page(ask, &snapshot)?)
}

/// The page with untouched forms.
pub(super) fn page(ask: &Ask, snapshot: &Arc<Snapshot>) -> Result<JobPage, Problem> {
    let plan = super::plan(ask, snapshot)?;
    let key = ask.param("key");
    let job = plan.job(key).ok_or_else(|| no_job(key))?;
    let view = JobView::of(job, plan.today);
    let said = snapshot
        .job(key)
        .map(|held| words::lines(&held.body.clone().into(), snapshot, ask.units()))
        .unwrap_or_default();
    Ok(JobPage {
        shell: ask.shell(Section::Work, job.what.clone()),
        form: decide::form(ask, job, view.number),
        done_form: done::form(ask, job, view.number, plan.today),
        can_be_done: can_be_done(job),
        said,
        view,
    })
}

/// A refused job is taken up again before it is done.
fn can_be_done(job: &Job) -> bool {
    !matches!(job.state, JobState::Done | JobState::Refused)
}
