//! The work plan: what to do on the farm, and a person's word on each job.

mod decide;
mod done;
mod list;
mod one;
mod own;

use std::sync::Arc;

use advice::feeding::plan::PlanSettings;
use advice::work::{Job, WorkPlan, group, how_much, state_line, when, work_plan};
use book::Snapshot;
use jiff::civil::Date;
use serde::Serialize;

use crate::ask::Ask;
use crate::pages::method::{WorkedStep, worked};
use crate::plans::Asked;
use crate::problem::Problem;
use crate::route::Route;
use crate::when::day_of;

/// Addresses of the work plan.
pub const ROUTES: &[Route] = &[
    Route::page("/work", "The work plan: jobs by time, to be filtered by plot, month and state", list::show),
    Route::page("/work/new", "The form of a job of the person's own", own::blank),
    Route::save("/work/new", "Adds a job of the person's own", own::FIELDS, own::add),
    Route::page("/work/{key}", "One job: why, when, how much, and what was said of it", one::show),
    Route::save(
        "/work/{key}",
        "Keeps a person's word on a job: accepted, changed, postponed or refused",
        decide::FIELDS,
        decide::save,
    ),
    Route::save(
        "/work/{key}/done",
        "Marks a job done and writes down what was really spread",
        done::FIELDS,
        done::save,
    ),
];

/// The plan as it stands today. What to spread is left out for as long as it is being worked out: the page
/// of what to spread shows how far that is.
pub(crate) fn plan(ask: &Ask, snapshot: &Arc<Snapshot>) -> Result<Arc<WorkPlan>, Problem> {
    let desk = ask.desk()?;
    let today = day_of(ask.stamp().at);
    let spread = match desk.plan(snapshot, PlanSettings::default(), today) {
        Asked::Ready(spread) => Some(spread),
        Asked::UnderWay(_) => None,
    };
    let of = if spread.is_some() { "work on" } else { "work without spreading on" };
    Ok(desk.derived(snapshot, &format!("{of} {today}"), |snapshot| {
        let told = desk.told_all(snapshot);
        work_plan(snapshot, told.iter().map(|told| &told.report), spread.as_deref(), today)
    }))
}

/// A job as pages show it.
#[derive(Serialize)]
pub(crate) struct JobView {
    pub(crate) job: Job,
    /// "from 20 August to 17 September 2026".
    pub(crate) when: String,
    /// "4 lb 8 oz of feather meal"; empty where it takes nothing.
    pub(crate) how_much: String,
    /// "Accepted by Mab".
    pub(crate) state_line: String,
    /// Heading it stands under.
    pub(crate) group: String,
    pub(crate) late: bool,
    /// Revision of the person's word; 0 where nothing was said.
    pub(crate) number: u32,
    #[serde(skip)]
    pub(crate) steps: Vec<WorkedStep>,
    /// Where the finding or page that it follows from is.
    pub(crate) leads_to: Option<String>,
}

impl JobView {
    pub(crate) fn of(job: &Job, today: Date) -> Self {
        Self {
            when: when(job, today),
            how_much: how_much(job),
            state_line: state_line(job),
            group: group(job, today),
            late: job.is_late(today),
            number: job.decided.as_ref().map_or(0, |decided| decided.number),
            steps: worked(&job.working),
            leads_to: leads_to(job),
            job: job.clone(),
        }
    }

    /// Is something left to decide or to do?
    pub(crate) fn is_open(&self) -> bool {
        !self.job.state.is_settled()
    }

    /// Was nothing said of it yet?
    pub(crate) fn is_new(&self) -> bool {
        self.job.state == advice::work::JobState::Proposed
    }

    /// The record of the person's word.
    pub(crate) fn record(&self) -> Option<book::model::EntryId> {
        self.job.decided.as_ref()?.record
    }
}

fn leads_to(job: &Job) -> Option<String> {
    use advice::work::Source;
    let plot = job.plot?;
    match &job.source {
        Source::Finding { id } if id == "measurement" => Some(format!("/plots/{plot}")),
        Source::Finding { id } => Some(format!("/plots/{plot}/findings/{id}")),
        Source::Acidity => Some(format!("/plots/{plot}/acidity")),
        Source::Again => Some(format!("/plots/{plot}/again")),
        Source::Structure => Some(format!("/plots/{plot}/structure")),
        Source::SpreadPlan => Some("/spread".to_owned()),
        Source::SoilTest => Some(format!("/plots/{plot}/lab")),
        Source::Covers => job.bed.map(|bed| format!("/beds/{bed}/covers")),
        Source::Sampling { id } => Some(format!("/sampling/{id}/enter")),
        Source::Posts { id } => Some(format!("/structures/{id}/posts")),
        Source::Application | Source::Own => Some(format!("/plots/{plot}")),
    }
}

/// A job that is not in the plan.
pub(super) fn no_job(key: &str) -> Problem {
    Problem::not_found(format!(
        "There is no job {} in the work plan. What is proposed changes with what is known of the ground.",
        key.chars().take(80).collect::<String>()
    ))
}
