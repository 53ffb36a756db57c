//! `work`: what is to be done on the farm, when, and what was said of it.

use std::ops::ControlFlow;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use advice::feeding::plan::{PlanSettings, farm_plan, farm_wants};
use advice::work::{Job, JobState, WorkPlan, group, how_much, state_line, when, work_plan};
use advice::{Options, plot_reports};
use book::Snapshot;
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::fertility::blend::Progress;
use ground::kit::Refusal;
use jiff::ZonedDateTime;
use jiff::civil::Date;

use crate::args::Global;
use crate::near::nearest;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `work`.
#[derive(Debug, Args)]
#[command(after_help = "A job is answered with `spadework record job`, by its key or by words of it.

Examples:
  spadework work farm.farmbook
  spadework work farm.farmbook --plot \"Lower field\" --state open
  spadework work farm.farmbook --month 2026-09 --json
  spadework work farm.farmbook --job mulch --working")]
pub(crate) struct Work {
    /// The farm book
    book: PathBuf,
    /// Only jobs on that plot
    #[arg(long, value_name = "NAME")]
    plot: Option<String>,
    /// Only jobs that suit in that month, such as 2026-09
    #[arg(long, value_name = "MONTH")]
    month: Option<String>,
    /// Only jobs that stand so
    #[arg(long, value_parser = PossibleValuesParser::new(["open", "proposed", "accepted", "changed", "postponed", "refused", "done"]))]
    state: Option<String>,
    /// One job whole: its key, a part of it, or words of what it says
    #[arg(long, value_name = "JOB")]
    job: Option<String>,
    /// Add the steps behind the numbers of that job
    #[arg(long, requires = "job")]
    working: bool,
    /// The day, such as 2026-06-20; today where nothing is said
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
}

impl Work {
    /// Tells.
    pub(crate) fn run(self, _: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let today = self
            .on
            .as_deref()
            .map_or_else(|| Ok(ZonedDateTime::now().date()), |text| shelf::day("on", text))?;
        let mut plan = plan(&snapshot, today);
        if let Some(text) = &self.job {
            let job = find(&plan, text)?;
            return Report::new(job, of_job(job, today, terminal, self.working));
        }
        let plot = self.plot.as_deref().map(|name| shelf::plot(&snapshot, name)).transpose()?.map(|p| p.id);
        let month = self.month.as_deref().map(month).transpose()?;
        plan.jobs.retain(|job| {
            plot.is_none_or(|plot| job.plot == Some(plot))
                && month.is_none_or(|(first, last)| job.suits(first, last))
                && self.state.as_deref().is_none_or(|state| stands(job, state))
        });
        let text = of_plan(&plan, terminal);
        Report::new(&plan, text)
    }
}

/// Seconds after which the best plan of what to spread is taken.
const LONGEST: Duration = Duration::from_secs(20);

/// The plan of a farm on a day, with what to spread.
pub(super) fn plan(snapshot: &Snapshot, today: Date) -> WorkPlan {
    let reports = plot_reports(snapshot, &Options::default());
    let (needs, lime) = farm_wants(snapshot, &reports, today);
    let began = Instant::now();
    let spread = farm_plan(snapshot, &needs, &lime, PlanSettings::default(), today, &mut |_: &Progress| {
        if began.elapsed() > LONGEST { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    });
    work_plan(snapshot, &reports, Some(&spread), today)
}

fn stands(job: &Job, state: &str) -> bool {
    if state == "open" { !job.state.is_settled() } else { job.state.key() == state }
}

fn month(text: &str) -> Result<(Date, Date), Refusal> {
    let parsed = text
        .trim()
        .split_once('-')
        .and_then(|(year, month)| Date::new(year.parse().ok()?, month.parse().ok()?, 1).ok());
    parsed.map(|first| (first, first.last_of_month())).ok_or_else(|| {
        Refusal::new("month", format!("{text:?} is not a month"))
            .given(text)
            .accepted("a year and a month")
            .example("2026-09")
    })
}

/// The job of that key, or the one whose key or sentence holds all these words.
pub(super) fn find<'a>(plan: &'a WorkPlan, text: &str) -> Result<&'a Job, Trouble> {
    if let Some(job) = plan.job(text.trim()) {
        return Ok(job);
    }
    let wanted = text.to_lowercase();
    let holds = |job: &&Job| {
        let all = format!("{} {} {}", job.key, job.what, job.place).to_lowercase();
        wanted.split_whitespace().all(|word| all.contains(word))
    };
    let found: Vec<&Job> =
        if wanted.trim().is_empty() { Vec::new() } else { plan.jobs.iter().filter(holds).collect() };
    match found.as_slice() {
        [one] => Ok(one),
        [] => {
            let keys = plan.jobs.iter().map(|job| job.key.as_str());
            let refusal = Refusal::new("job", format!("no job of the plan answers to {text:?}"))
                .given(text)
                .accepted("the key of a job, or words of what it says and where");
            let refusal = match nearest(text, keys) {
                Some(near) => refusal.example(near),
                None => refusal,
            };
            Err(Trouble::from(refusal).hint("spadework work BOOK, which lists the jobs with their keys"))
        }
        several => {
            let keys: Vec<&str> = several.iter().map(|job| job.key.as_str()).collect();
            Err(Refusal::new("job", format!("{} jobs answer to {text:?}", several.len()))
                .given(text)
                .accepted(format!("more words of it, or its key: {}", keys.join(", ")))
                .example(keys[0])
                .into())
        }
    }
}

fn of_plan(plan: &WorkPlan, terminal: &Terminal) -> String {
    let title = format!("Work on {}", advice::words::day(plan.today));
    let mut text = format!("{title}\n{}\n{}", "=".repeat(title.chars().count()), plan.headline);
    let mut headings: Vec<String> = Vec::new();
    for job in &plan.jobs {
        let heading = group(job, plan.today);
        if !headings.contains(&heading) {
            headings.push(heading);
        }
    }
    // Late comes first and what is settled last; between them the order of the plan stays.
    headings.sort_by_key(|heading| match heading.as_str() {
        "Late" => 0,
        "Now" => 1,
        "At any time" => 3,
        "Done" => 4,
        "Refused" => 5,
        _ => 2,
    });
    for heading in headings {
        text.push_str(&format!("\n\n{heading}"));
        for job in plan.jobs.iter().filter(|job| group(job, plan.today) == heading) {
            let place = if job.place.is_empty() { String::new() } else { format!(": {}", job.place) };
            let state = match job.state {
                JobState::Proposed => String::new(),
                state => format!(" ({})", state.words()),
            };
            let line = format!("- {}{place}{state}", job.what);
            text.push_str(&format!("\n{}", wrapped(&line, terminal.width, "  ")));
            let mut more = when(job, plan.today);
            let much = how_much(job);
            if !much.is_empty() {
                more = format!("{more}. {much}");
            }
            text.push_str(&format!("\n  {}", wrapped(&more, terminal.width.saturating_sub(2), "  ")));
            for line in &job.differs {
                let line = format!("Since then: {line}");
                text.push_str(&format!("\n  {}", wrapped(&line, terminal.width.saturating_sub(2), "  ")));
            }
            text.push_str(&format!("\n  [{}]", job.key));
        }
    }
    let cautions: std::collections::BTreeSet<&String> =
        plan.jobs.iter().filter(|job| !job.state.is_settled()).flat_map(|job| &job.cautions).collect();
    for caution in cautions {
        text.push_str(&format!("\n\n{}", wrapped(&format!("Caution: {caution}"), terminal.width, "  ")));
    }
    text
}

fn of_job(job: &Job, today: Date, terminal: &Terminal, working: bool) -> String {
    let title = format!("{}, {}", job.what, job.place);
    let title = title.trim_end_matches(", ").to_owned();
    let mut text = format!("{title}\n{}\n{}.", "=".repeat(title.chars().count()), state_line(job));
    let mut line = |said: String| {
        text.push_str(&format!("\n{}", wrapped(&said, terminal.width, "  ")));
    };
    for said in &job.differs {
        line(format!("Since then: {said}"));
    }
    line(format!("When: {}. {}", when(job, today), job.window.why));
    let much = how_much(job);
    if !much.is_empty() {
        line(format!("How much: {much}"));
    }
    for said in &job.waits_for {
        line(format!("First: {said}"));
    }
    if !job.cost.is_empty() {
        line(format!("Cost: {}", job.cost));
    }
    for said in &job.reasons {
        line(format!("- {said}"));
    }
    if let Some(done) = &job.done {
        for said in &done.spread {
            line(format!("Spread: {said}"));
        }
    }
    line(format!("[{}]", job.key));
    if working {
        text.push_str(&super::steps(&job.working));
    }
    for caution in &job.cautions {
        text.push_str(&format!("\n\n{}", wrapped(&format!("Caution: {caution}"), terminal.width, "  ")));
    }
    text
}
