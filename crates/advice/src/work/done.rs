//! Marking a job done: the word on it and what was really spread, kept together.

use book::model::{Application, JobChange, JobChoice, JobDone, JobMaterial, JobWord, Placed, SpreadMass};
use book::{Held, Result, Snapshot, Stamp, Writing};
use ground::kit::Bounded;

use super::decide::answer;
use super::job::Job;

/// Amounts that differ by less than this share are the planned ones.
const AS_PLANNED: f64 = 1e-9;

/// What was said of a job so far, or the beginning of a word on it: the job as the plan now says it.
#[must_use]
pub fn spoken(snapshot: &Snapshot, job: &Job) -> JobWord {
    match snapshot.job(&job.key) {
        Some(held) => JobWord { done: None, ..held.body.clone() },
        None => JobWord {
            key: job.key.clone(),
            plot: job.plot,
            bed: job.bed,
            choice: JobChoice::Accepted,
            until: None,
            changed: None,
            reason: String::new(),
            done: None,
            as_planned: job.as_planned(),
        },
    }
}

/// Other amounts for the materials of a job, by their places; those left as planned are left out.
#[must_use]
pub fn changed_materials(job: &Job, amounts: &[(usize, SpreadMass)]) -> Vec<JobMaterial> {
    amounts
        .iter()
        .filter_map(|(at, kg)| {
            let spread = job.spread.get(*at)?;
            let same = (kg.get() - spread.kg).abs() <= AS_PLANNED * spread.kg;
            (!same).then(|| JobMaterial { material: spread.material.clone(), kg: *kg })
        })
        .collect()
}

/// The word that a job will be done otherwise.
#[must_use]
pub fn change(word: JobWord, change: JobChange) -> JobWord {
    JobWord { choice: JobChoice::Changed, until: None, changed: Some(change), ..word }
}

/// The word that a job is done, and one application for each material that was spread. `amounts` gives the
/// materials by their places; one that is not named was not spread. Whoever does what was put off or refused
/// has thought better of it.
#[must_use]
pub fn done(
    snapshot: &Snapshot,
    job: &Job,
    done: JobDone,
    amounts: &[(usize, SpreadMass)],
    how: Option<Placed>,
) -> (JobWord, Vec<Application>) {
    let on = done.on;
    let spoken = spoken(snapshot, job);
    let changed = spoken.choice == JobChoice::Changed;
    let word = JobWord {
        choice: if changed { JobChoice::Changed } else { JobChoice::Accepted },
        until: None,
        done: Some(done),
        ..spoken
    };
    let spread = amounts
        .iter()
        .filter_map(|(at, kg)| {
            let spread = job.spread.get(*at)?;
            Some(Application {
                plot: job.plot?,
                bed: job.bed,
                spread: spread.material.clone(),
                on,
                kg: *kg,
                placed: how.unwrap_or(spread.placed),
                job: Some(job.key.clone()),
                note: String::new(),
            })
        })
        .collect();
    (word, spread)
}

/// Keeps that a job is done and what was spread, together or not at all.
///
/// # Errors
/// As [`answer`]; an application that is refused.
pub fn keep_done(
    writing: &mut Writing<'_>,
    before: Option<&Held<JobWord>>,
    from_number: u32,
    (word, spread): (JobWord, Vec<Application>),
    stamp: &Stamp,
) -> Result<Held<JobWord>> {
    let kept = answer(writing, before, from_number, word, stamp)?;
    for application in spread {
        writing.record(application, stamp)?;
    }
    Ok(kept)
}
