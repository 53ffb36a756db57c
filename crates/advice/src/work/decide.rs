//! The person's words over the plan's proposals.

use std::collections::BTreeSet;

use book::model::{Choice, JobChoice, JobMaterial, JobWord, Placed, PlannedJob, SpreadMaterial};
use book::{BookError, Held, Result, Snapshot, Stamp, Writing};
use ground::kit::{Bounded, Refusal};
use jiff::civil::Date;

use super::carry::{buckets, carried, density, material_name};
use super::job::{Decided, Job, JobDoneOn, JobState, Source, Spread, Topic, Window};
use super::tell;
use crate::words;

/// Amounts that differ by less than this share are the same amount.
const SAME_AMOUNT: f64 = 0.05;

/// Proposals with what was said of them, and the answered jobs that are proposed no longer.
pub(super) fn decided(snapshot: &Snapshot, proposals: Vec<Job>, today: Date) -> Vec<Job> {
    let mut seen = BTreeSet::new();
    let mut jobs: Vec<Job> = proposals
        .into_iter()
        // One key is one job, whichever topic spoke first.
        .filter(|job| seen.insert(job.key.clone()))
        .map(|job| match snapshot.job(&job.key) {
            Some(word) => answered(snapshot, word, Some(job), today),
            None => by_finding(snapshot, job),
        })
        .collect();
    let alone = snapshot.jobs.iter().filter(|word| !seen.contains(&word.body.key));
    jobs.extend(alone.map(|word| answered(snapshot, word, None, today)));
    jobs
}

/// A decision on the finding itself speaks for its job, as long as nothing was said of the job.
fn by_finding(snapshot: &Snapshot, mut job: Job) -> Job {
    let Source::Finding { id } = &job.source else { return job };
    let Some(decision) = job.plot.and_then(|plot| snapshot.decision_on(plot, id)) else { return job };
    job.state = match decision.body.choice {
        Choice::Accepted => JobState::Accepted,
        Choice::Postponed => JobState::Postponed,
        Choice::Refused => JobState::Refused,
    };
    job.decided = Some(Decided {
        record: None,
        number: 0,
        by: decision.recorded_by.clone(),
        at: decision.recorded_at.to_string(),
        reason: decision.body.reason.clone(),
    });
    job
}

/// A job as the person left it. What the plan now says of it stands beside.
fn answered(snapshot: &Snapshot, word: &Held<JobWord>, proposal: Option<Job>, today: Date) -> Job {
    let JobWord { key, plot, bed, choice, until, changed, reason, done, as_planned } = &word.body;
    let PlannedJob { what, place, from, to, materials } = as_planned;
    let units = snapshot.farm.body.units;
    let own = word.body.is_own();
    let mut differs = Vec::new();
    if !own && done.is_none() && *choice != JobChoice::Refused {
        differs = proposal.as_ref().map_or_else(
            || vec!["The plan no longer asks for this; what it rested on has changed.".to_owned()],
            |now| differences(as_planned, now, snapshot),
        );
    }
    let now = proposal.unwrap_or_else(|| {
        let (topic, source) = if own { (Topic::Own, Source::Own) } else { (topic_of(key), Source::Own) };
        let job = Job::new(key.clone(), topic, what.clone(), source);
        let named = plot.and_then(|id| snapshot.plot(id));
        match named {
            Some(plot) => job.on_plot(plot.id, &plot.body.name),
            None => job,
        }
    });
    let placed = |material: &SpreadMaterial| {
        now.spread
            .iter()
            .find(|spread| spread.material == *material)
            .map_or(Placed::Incorporated, |s| s.placed)
    };
    let amounts = changed_amounts(materials, changed.as_ref().map_or(&[][..], |change| &change.materials));
    let spread = amounts
        .iter()
        .map(|one| spread_of(snapshot, &one.material, one.kg.get(), placed(&one.material)))
        .collect();
    let mut window = Window { from: *from, to: *to, why: now.window.why.clone() };
    if let Some(on) = changed.as_ref().and_then(|change| change.on) {
        window = Window { from: Some(on), to: Some(on), why: "The day that was chosen.".to_owned() };
    }
    let state = if done.is_some() { JobState::Done } else { JobState::of(*choice) };
    if state == JobState::Postponed
        && let Some(until) = until
        && *until <= today
    {
        differs.push(format!("It was put off until {}, which has come.", words::day(*until)));
    }
    let done = done.as_ref().map(|done| JobDoneOn {
        on: done.on,
        note: done.note.clone(),
        spread: snapshot
            .applications_of_job(key)
            .map(|held| {
                let body = &held.body;
                format!(
                    "{} of {}, {}",
                    carried(body.kg.get(), units),
                    material_name(snapshot, &body.spread),
                    body.placed.words()
                )
            })
            .collect(),
    });
    Job {
        what: what.clone(),
        place: place.clone(),
        plot: *plot,
        bed: *bed,
        spread,
        window,
        state,
        until: until.filter(|_| state == JobState::Postponed),
        decided: Some(Decided {
            record: Some(word.id),
            number: word.number,
            by: word.recorded_by.clone(),
            at: word.recorded_at.to_string(),
            reason: reason.clone(),
        }),
        changed: changed.clone(),
        done,
        differs,
        ..now
    }
}

/// A material of a job with what a person carries of it.
pub(super) fn spread_of(snapshot: &Snapshot, material: &SpreadMaterial, kg: f64, placed: Placed) -> Spread {
    let units = snapshot.farm.body.units;
    let name = material_name(snapshot, material);
    Spread {
        material: material.clone(),
        kg,
        placed,
        carried: format!("{} of {name}", carried(kg, units)),
        buckets: buckets(kg, density(snapshot, material), units),
        name,
    }
}

/// The planned amounts with those that were changed.
fn changed_amounts(planned: &[JobMaterial], changed: &[JobMaterial]) -> Vec<JobMaterial> {
    let mut amounts: Vec<JobMaterial> = planned.to_vec();
    for other in changed {
        match amounts.iter_mut().find(|one| one.material == other.material) {
            Some(one) => one.kg = other.kg,
            None => amounts.push(other.clone()),
        }
    }
    amounts
}

/// Where the plan would now say something else than when the person spoke.
fn differences(then: &PlannedJob, now: &Job, snapshot: &Snapshot) -> Vec<String> {
    let units = snapshot.farm.body.units;
    let mut told = Vec::new();
    let today = now.as_planned();
    for one in &today.materials {
        let name = material_name(snapshot, &one.material);
        let kg = one.kg.get();
        match then
            .materials
            .iter()
            .find(|before| before.material == one.material)
            .map(|before| before.kg.get())
        {
            None => told.push(format!("The plan now also asks for {} of {name}.", carried(kg, units))),
            Some(before) if (kg - before).abs() > SAME_AMOUNT * before.max(kg) => told.push(format!(
                "The plan now says {} of {name}; it said {} then.",
                carried(kg, units),
                carried(before, units)
            )),
            Some(_) => {}
        }
    }
    for before in &then.materials {
        if !today.materials.iter().any(|one| one.material == before.material) {
            told.push(format!("The plan no longer asks for {}.", material_name(snapshot, &before.material)));
        }
    }
    if (then.from, then.to) != (today.from, today.to) {
        let window = Window { from: today.from, to: today.to, why: String::new() };
        told.push(format!("The plan now puts it {}.", tell::days(&window)));
    }
    if told.is_empty() && then.what != today.what {
        told.push(format!("The plan now says: {}", today.what));
    }
    told
}

/// Topic of a job that is proposed no longer, from the beginning of its key.
fn topic_of(key: &str) -> Topic {
    match key.split('.').next().unwrap_or_default() {
        "drainage" => Topic::Drainage,
        "acidity" | "lime" | "sulfur" => Topic::Acidity,
        "spread" => Topic::Feeding,
        "ground" | "cover-sow" | "cover-planned" | "cover-end" => Topic::Ground,
        "salts" => Topic::Salts,
        "test" | "look" | "sampling" => Topic::Test,
        "harvest" => Topic::Harvest,
        "posts" => Topic::Build,
        _ => Topic::Own,
    }
}

/// Keeps a person's word on a job: the first as a record, a later one as its correction.
///
/// `from_number` is the revision the person saw, 0 for none. A job that was marked done on the same day
/// already is told and not written again, whoever is faster.
///
/// # Errors
/// The word is refused, someone else spoke meanwhile, or the book cannot be written.
pub fn answer(
    writing: &mut Writing<'_>,
    before: Option<&Held<JobWord>>,
    from_number: u32,
    word: JobWord,
    stamp: &Stamp,
) -> Result<Held<JobWord>> {
    if let Some(refusal) = before.and_then(|held| done_already(&held.body, &word)) {
        return Err(BookError::Refused(refusal));
    }
    let reason = match &word.done {
        Some(_) => "done",
        None => word.choice.words(),
    };
    match before {
        Some(held) => writing.revise(held.id, from_number, word, reason, stamp),
        None => writing.record(word, stamp),
    }
}

/// A second "done" for the day of the first.
#[must_use]
pub fn done_already(before: &JobWord, now: &JobWord) -> Option<Refusal> {
    let (first, second) = (before.done.as_ref()?, now.done.as_ref()?);
    (first.on == second.on).then(|| {
        Refusal::new(
            "done_on",
            format!(
                "This job was marked done on {} already; it was not written down a second time",
                words::day(first.on)
            ),
        )
        .given(first.on)
        .accepted("a job that is not done yet")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Options, demo, plot_reports, work::proposals};

    /// A job that the plan proposes no longer keeps the topic it had: of its key alone.
    #[test]
    fn the_key_of_every_job_tells_its_topic() {
        let folder = tempfile::tempdir().unwrap();
        let book = demo::create(folder.path().join("demo.farmbook")).unwrap();
        let snapshot = book.snapshot().unwrap();
        let reports = plot_reports(&snapshot, &Options { draws: 400, weigh_measurements: false });
        let jobs = proposals(&snapshot, &reports, demo::DAY);
        for head in ["cover-sow.", "cover-planned.", "posts.", "test."] {
            assert!(jobs.iter().any(|job| job.key.starts_with(head)), "the demonstration has no {head}");
        }
        for job in &jobs {
            assert_eq!(topic_of(&job.key), job.topic, "{}", job.key);
        }
        assert_eq!(topic_of("cover-end.0190163d-8694-739b-aea5-966c26f8ad91"), Topic::Ground);
    }
}
