//! The work plan: what is to be done, where, how much, when, and what a person has said of it.
//!
//! [`proposals`] gathers the jobs that follow from findings, soil tests, what was spread and what grows; a
//! topic is one file with a function that gives its jobs. [`WorkPlan::of`] puts them together with the
//! person's words in the book, which always win: a job that was answered stays as it was planned then, and
//! the plan says where it would now differ. The same book and day give the same plan.

mod carry;
mod decide;
mod done;
mod from_acidity;
mod from_covers;
mod from_findings;
mod from_looking;
mod from_manure;
mod from_posts;
mod from_sampling;
mod from_spread;
mod from_structure;
mod job;
mod season;
mod tell;

use std::collections::BTreeSet;

use book::Snapshot;
use book::model::EntryId;
use jiff::civil::Date;
use serde::Serialize;

use crate::PlotReport;
use crate::feeding::plan::FarmPlan;

pub use carry::{carried, material_name};
pub use decide::{answer, done_already};
pub use done::{change, changed_materials, done, keep_done, spoken};
pub use job::{Decided, Job, JobDoneOn, JobState, Source, Spread, Topic, Window};
pub use season::{Season, season};
pub use tell::{group, how_much, state_line, when};

/// The work plan of a farm on a day.
#[derive(Debug, Clone, Serialize)]
pub struct WorkPlan {
    /// The day it was made for.
    #[serde(serialize_with = "as_text")]
    pub today: Date,
    /// The jobs: those that are due first on top, those without a window at the end.
    pub jobs: Vec<Job>,
    /// One sentence on what is to be done now.
    pub headline: String,
    /// What the plan does not tell, and why.
    pub left_out: Vec<String>,
}

fn as_text<S: serde::Serializer>(date: &Date, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(date)
}

impl WorkPlan {
    /// Puts proposals and the person's words together.
    #[must_use]
    pub fn of(snapshot: &Snapshot, proposals: Vec<Job>, today: Date) -> Self {
        let mut jobs = decide::decided(snapshot, proposals, today);
        // Stable, so that of one day the order of the topics stays.
        jobs.sort_by_key(|job| (job.state.is_settled(), job.due(today)));
        let headline = tell::headline(&jobs, today);
        Self { today, jobs, headline, left_out: Vec::new() }
    }

    /// The job of that key.
    #[must_use]
    pub fn job(&self, key: &str) -> Option<&Job> {
        self.jobs.iter().find(|job| job.key == key)
    }
}

/// Everything the plan proposes, before a person is asked.
#[must_use]
pub fn proposals<'a>(
    snapshot: &Snapshot,
    reports: impl IntoIterator<Item = &'a PlotReport>,
    today: Date,
) -> Vec<Job> {
    let season = season(snapshot, today);
    let mut jobs = Vec::new();
    for report in reports {
        jobs.extend(from_findings::jobs(snapshot, report, &season));
        jobs.extend(from_acidity::jobs(snapshot, report, &season));
        jobs.extend(from_structure::jobs(snapshot, report, &season));
        jobs.extend(from_covers::jobs(snapshot, report, &season));
        jobs.extend(from_posts::jobs(snapshot, report, &season));
    }
    jobs.extend(from_looking::jobs(snapshot, &season));
    jobs.extend(from_manure::jobs(snapshot, &season));
    jobs.extend(from_sampling::jobs(snapshot));
    jobs
}

/// The whole plan of a farm whose plots were reported on. Without the plan of whole bags the jobs of spreading
/// are left out, and the plan says so.
#[must_use]
pub fn work_plan<'a>(
    snapshot: &Snapshot,
    reports: impl IntoIterator<Item = &'a PlotReport>,
    spread: Option<&FarmPlan>,
    today: Date,
) -> WorkPlan {
    let mut jobs = proposals(snapshot, reports, today);
    if let Some(spread) = spread {
        let limed: BTreeSet<EntryId> = jobs
            .iter()
            .filter(|job| job.key.starts_with("lime."))
            .filter_map(|job| job.bed.or(job.plot))
            .collect();
        jobs.extend(from_spread::jobs(snapshot, spread, &limed, &season(snapshot, today)));
    }
    let mut plan = WorkPlan::of(snapshot, jobs, today);
    if spread.is_none() {
        plan.left_out.push(SPREADING_LEFT_OUT.to_owned());
    }
    plan
}

/// Said where the plan of whole bags is not ready yet.
const SPREADING_LEFT_OUT: &str = "What to spread on each bed is still being worked out: the jobs of spreading are not in this plan yet. Look again in a moment.";
