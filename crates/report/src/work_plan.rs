//! From the work plan to its sheet.

use advice::work::{Job, JobState, Spread, WorkPlan, group, when};

use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::render::render;
use crate::sheet::Cautions;
use crate::work::{WorkGroup, WorkLine, WorkSheet};

/// The work plan as PDF.
///
/// # Errors
/// A fault of the program, never of what the plan says.
pub fn work_plan_pdf(plan: &WorkPlan, options: &SheetOptions) -> Result<Vec<u8>, SheetError> {
    render(&work_sheet(plan), options)
}

/// The work plan in words for its sheet: what is still to be done, by the time it is due, in the order of the plan.
#[must_use]
pub fn work_sheet(plan: &WorkPlan) -> WorkSheet {
    let mut cautions = Cautions::default();
    let mut groups: Vec<WorkGroup> = Vec::new();
    for job in plan.jobs.iter().filter(|job| !job.state.is_settled()) {
        let heading = group(job, plan.today);
        let line = line(job, plan, &mut cautions);
        match groups.iter_mut().find(|group| group.heading == heading) {
            Some(group) => group.lines.push(line),
            None => groups.push(WorkGroup { heading, lines: vec![line] }),
        }
    }
    let mut lead = vec![plan.headline.clone()];
    lead.extend(plan.left_out.iter().cloned());
    lead.extend(left_out(&plan.jobs));
    WorkSheet { lead, groups, cautions: cautions.into_list() }
}

fn line(job: &Job, plan: &WorkPlan, cautions: &mut Cautions) -> WorkLine {
    let mut details = Vec::new();
    details.extend(job.waits_for.iter().map(|first| format!("First: {first}")));
    if let Some(note) = job.changed.as_ref().map(|change| change.note.trim()).filter(|note| !note.is_empty())
    {
        details.push(format!("Changed: {note}"));
    }
    if !job.cost.is_empty() {
        details.push(format!("Cost: {}", job.cost));
    }
    WorkLine {
        place: if job.place.is_empty() { "The farm".to_owned() } else { job.place.clone() },
        what: job.what.clone(),
        details,
        how_much: job.spread.iter().map(amount).collect(),
        when: when(job, plan.today),
        cautions: job.cautions.iter().map(|caution| cautions.sign(caution)).collect(),
    }
}

fn amount(spread: &Spread) -> String {
    if spread.buckets.is_empty() {
        return spread.carried.clone();
    }
    format!("{} ({})", spread.carried, spread.buckets)
}

/// What the sheet does not show, so that nobody takes it for all there was.
fn left_out(jobs: &[Job]) -> Option<String> {
    let count = |state| jobs.iter().filter(|job| job.state == state).count();
    let told: Vec<String> = [(JobState::Done, "done"), (JobState::Refused, "refused")]
        .into_iter()
        .map(|(state, word)| (count(state), word))
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .collect();
    (!told.is_empty()).then(|| format!("Left out here: {}.", told.join(", ")))
}
