//! The jobs by time.

use advice::work::JobState;
use askama::Template;
use book::model::month_name;
use ground::kit::Refusal;
use jiff::civil::Date;
use serde::Serialize;

use super::JobView;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Width};
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

/// What the list can be narrowed by.
const FILTER: &[Field] = &[
    Field::pick("plot", "Plot", "", &[]).optional(),
    Field::pick("month", "Month", "", &[]).optional().width(Width::Middle),
    Field::pick(
        "state",
        "How it stands",
        "",
        &[
            Choice::new("open", "Not done yet"),
            Choice::new("proposed", "Proposed"),
            Choice::new("accepted", "Accepted"),
            Choice::new("changed", "Changed"),
            Choice::new("postponed", "Put off"),
            Choice::new("refused", "Refused"),
            Choice::new("done", "Done"),
        ],
    )
    .optional(),
];

/// Months ahead that can be chosen.
const MONTHS: usize = 12;

#[derive(Template, Serialize)]
#[template(path = "work/list.html")]
struct WorkPage {
    #[serde(skip)]
    shell: Shell,
    /// The day of the plan.
    today: String,
    headline: String,
    left_out: Vec<String>,
    groups: Vec<GroupView>,
    /// Jobs that the filter leaves out.
    hidden: usize,
    #[serde(skip)]
    narrowed: bool,
    #[serde(skip)]
    form: Form,
}

/// Jobs due at one time.
#[derive(Serialize)]
struct GroupView {
    heading: String,
    jobs: Vec<JobView>,
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = super::plan(ask, &snapshot)?;
    let mut form = ask
        .form_from_query(FILTER)
        .choices("plot", snapshot.plots.iter().map(|plot| (plot.id.to_string(), plot.body.name.clone())))
        .choices("month", months(plan.today));
    let plot = ask.query.text("plot");
    let state = ask.query.text("state");
    let month = match ask.query.text("month").map(|text| (text, month_of(text))) {
        Some((_, Some(month))) => Some(month),
        Some((text, None)) => {
            form.refuse(
                Refusal::new("month", "Month: that is not a month")
                    .given(text)
                    .accepted("a year and a month")
                    .example("2026-09"),
            );
            None
        }
        None => None,
    };
    if let Some(text) = state
        && !FILTER[2].choices().iter().any(|choice| choice.value == text)
    {
        form.refuse(
            Refusal::new("state", "How it stands: that is not one of the answers")
                .given(text)
                .accepted("open, proposed, accepted, changed, postponed, refused, done"),
        );
    }
    let wanted = |view: &JobView| {
        plot.is_none_or(|plot| view.job.plot.is_some_and(|id| id.to_string() == plot))
            && month.is_none_or(|(first, last)| view.job.suits(first, last))
            && match state {
                None => true,
                Some("open") => view.is_open(),
                Some(key) => {
                    JobState::ALL.into_iter().all(|state| state.key() != key || view.job.state == state)
                }
            }
    };
    let views: Vec<JobView> = plan.jobs.iter().map(|job| JobView::of(job, plan.today)).collect();
    let all = views.len();
    let mut groups: Vec<GroupView> = Vec::new();
    for view in views.into_iter().filter(wanted) {
        match groups.iter_mut().find(|group| group.heading == view.group) {
            Some(group) => group.jobs.push(view),
            None => groups.push(GroupView { heading: view.group.clone(), jobs: vec![view] }),
        }
    }
    // Late comes first and what is settled last; between them the order of the plan stays.
    groups.sort_by_key(|group| match group.heading.as_str() {
        "Late" => 0,
        "Now" => 1,
        "At any time" => 3,
        "Done" => 4,
        "Refused" => 5,
        _ => 2,
    });
    let shown: usize = groups.iter().map(|group| group.jobs.len()).sum();
    let shell = ask.shell(Section::Work, "Work");
    Shown::page(WorkPage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        today: plan.today.to_string(),
        headline: plan.headline.clone(),
        left_out: plan.left_out.clone(),
        groups,
        hidden: all - shown,
        narrowed: plot.is_some() || state.is_some() || month.is_some(),
        form,
    })
}

/// This month and those after it, as answers.
fn months(today: Date) -> Vec<(String, String)> {
    let mut first = today.first_of_month();
    let mut answers = Vec::with_capacity(MONTHS);
    for _ in 0..MONTHS {
        let value = format!("{:04}-{:02}", first.year(), first.month());
        answers.push((value, format!("{} {}", month_name(first.month()), first.year())));
        first = first.saturating_add(jiff::Span::new().months(1));
    }
    answers
}

/// First and last day of "2026-09".
fn month_of(text: &str) -> Option<(Date, Date)> {
    let (year, month) = text.split_once('-')?;
    let first = Date::new(year.parse().ok()?, month.parse().ok()?, 1).ok()?;
    Some((first, first.last_of_month()))
}
