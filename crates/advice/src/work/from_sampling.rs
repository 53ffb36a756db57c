//! Sampling plans that were kept and not yet walked.

use book::Snapshot;
use book::model::{SamplingPurpose, UnitSystem};
use ground::kit::Bounded;
use jiff::ToSpan;

use super::job::{Job, Source, Topic, Window};
use crate::sampling_plan::{CAUTIONS, taken, tell};
use crate::words;

/// A plan is walked within so many days, or its reason has passed.
const SOON_D: i64 = 42;

/// One job a plan without soil.
pub(super) fn jobs(snapshot: &Snapshot) -> Vec<Job> {
    let units: UnitSystem = snapshot.farm.body.units;
    snapshot
        .sampling_plans
        .iter()
        .filter(|plan| !taken(snapshot, plan))
        .filter_map(|held| {
            let plan = &held.body;
            let plot = snapshot.plot(plan.plot)?;
            let cores = if plan.points.is_empty() {
                usize::from(plan.cores_per_bag) * usize::from(plan.bags)
            } else {
                plan.points.len()
            };
            let bags = if plan.bags == 1 { "one bag".to_owned() } else { format!("{} bags", plan.bags) };
            let deep = tell::layer(plan.from_cm.get(), plan.to_cm.get(), units);
            let what = if plan.purpose == SamplingPurpose::Structure {
                format!("Push the probe at {}, {deep} deep: {}", tell::points(cores), plan.purpose.words())
            } else {
                format!(
                    "Pull cores at {}, {deep} deep, into {bags}: {}",
                    tell::points(cores),
                    plan.purpose.words()
                )
            };
            let made = plan.made_on;
            let job = Job::new(
                format!("sampling.{}", held.id),
                Topic::Test,
                what,
                Source::Sampling { id: held.id },
            )
            .on_plot(plot.id, &plot.body.name)
            .within(Window::between(
                made,
                made.saturating_add(SOON_D.days()),
                "In moist ground, soon after the plan was made.",
            ))
            .because(format!(
                "The sampling plan \u{201c}{}\u{201d} of {} has {} yet.",
                plan.name,
                words::day(made),
                if plan.purpose == SamplingPurpose::Structure { "no readings" } else { "no soil" }
            ));
            Some(CAUTIONS.iter().fold(job, |job, caution| job.caution(*caution)))
        })
        .collect()
}
