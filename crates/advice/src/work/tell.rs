//! The plan in a grower's words, the same for pages, the command line and paper.

use book::model::month_name;
use jiff::civil::Date;

use super::job::{Job, JobState, Window};
use crate::words;

/// One sentence on what is to be done now.
pub(super) fn headline(jobs: &[Job], today: Date) -> String {
    let left = jobs.iter().filter(|job| !job.state.is_settled());
    let (mut late, mut now, mut open) = (0, 0, 0);
    for job in left {
        open += 1;
        if job.is_late(today) {
            late += 1;
        } else if job.suits(today, today) && has_window(job) {
            now += 1;
        }
    }
    let jobs = |count: usize| if count == 1 { "1 job".to_owned() } else { format!("{count} jobs") };
    match (open, late, now) {
        (0, ..) => "Nothing is left to do.".to_owned(),
        (_, 0, 0) => format!("{} to come; none is due now.", jobs(open)),
        (_, 0, now) => format!("{} can be done now, of {} in all.", jobs(now), open),
        (_, late, 0) => format!("{} should have been done already, of {} in all.", jobs(late), open),
        (_, late, now) => format!(
            "{} can be done now, and {} should have been done already, of {} in all.",
            jobs(now),
            jobs(late),
            open
        ),
    }
}

fn has_window(job: &Job) -> bool {
    job.window.from.is_some() || job.window.to.is_some()
}

/// "from 12 April 2026 to 3 May 2026", "by 3 May 2026", "at any time".
pub(super) fn days(window: &Window) -> String {
    match (window.from, window.to) {
        (Some(from), Some(to)) if from == to => format!("on {}", words::day(from)),
        (Some(from), Some(to)) if from.year() == to.year() => {
            format!("from {} {} to {}", from.day(), month_name(from.month()), words::day(to))
        }
        (Some(from), Some(to)) => format!("from {} to {}", words::day(from), words::day(to)),
        (Some(from), None) => format!("from {} on", words::day(from)),
        (None, Some(to)) => format!("by {}", words::day(to)),
        (None, None) => "at any time".to_owned(),
    }
}

/// When a job is to be done.
#[must_use]
pub fn when(job: &Job, today: Date) -> String {
    let days = days(&job.window);
    match job.until {
        Some(until) if until > today => format!("put off until {} ({days})", words::day(until)),
        _ if job.is_late(today) => format!("{days}; that is past"),
        _ => days,
    }
}

/// The heading a job stands under in a list by time: "Late", "Now", "June 2026", "At any time", "Done",
/// "Refused".
#[must_use]
pub fn group(job: &Job, today: Date) -> String {
    match job.state {
        JobState::Done => return "Done".to_owned(),
        JobState::Refused => return "Refused".to_owned(),
        _ => {}
    }
    let from = job.until.into_iter().chain(job.window.from).max();
    if job.is_late(today) && job.until.is_none_or(|until| until <= today) {
        return "Late".to_owned();
    }
    match (from, job.window.to) {
        (None, None) => "At any time".to_owned(),
        (Some(from), _) if from > today => format!("{} {}", month_name(from.month()), from.year()),
        _ => "Now".to_owned(),
    }
}

/// What a job takes, in units a person carries; empty where it takes nothing.
#[must_use]
pub fn how_much(job: &Job) -> String {
    let told = job.spread.iter().map(|spread| {
        if spread.buckets.is_empty() {
            spread.carried.clone()
        } else {
            format!("{} ({})", spread.carried, spread.buckets)
        }
    });
    told.collect::<Vec<_>>().join("; ")
}

/// How a job stands, with who said so and why: "Accepted by Mab", "Refused: the bed goes to grass".
#[must_use]
pub fn state_line(job: &Job) -> String {
    let mut text = words::capital(job.state.words());
    if let Some(done) = &job.done {
        text = format!("{text} on {}", words::day(done.on));
    } else if let (JobState::Postponed, Some(until)) = (job.state, job.until) {
        text = format!("{text} until {}", words::day(until));
    }
    if let Some(decided) = &job.decided {
        if !decided.by.is_empty() {
            text = format!("{text} by {}", decided.by);
        }
        if !decided.reason.trim().is_empty() {
            text = format!("{text}: {}", decided.reason.trim());
        }
    }
    text
}
