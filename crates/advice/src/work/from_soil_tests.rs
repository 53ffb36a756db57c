//! Soil tests that are due: none yet, an old one, and a look at what lime did.

use book::model::{Application, Plot};
use book::{Held, Snapshot};
use ground::kit::Working;
use jiff::ToSpan;
use jiff::civil::Date;

use super::job::{Job, Source, Topic, Window};
use super::season::Season;
use crate::feeding::contents::neutralizing_percent;
use crate::words;

/// A soil test speaks for so many years. Common practice, no source.
const TEST_YEARS: i16 = 3;
/// Lime has mostly reacted after so many months; before, a test tells little. Most limes begin to move pH
/// within 3 to 6 months and take many more to react fully.
const LIME_MONTHS: (i32, i32) = (6, 12);
/// What neutralizes at least so much of what pure calcium carbonate does counts as lime. Our judgement.
const LIMES_FROM_PERCENT: f64 = 30.0;
/// How the bag is filled.
const CORES: &str = "Mix a dozen cores or more from all over the plot, to the depth you till, into one bag. Ask for pH and buffer pH, phosphorus, potassium, magnesium and organic matter, and have the extractant named on the report.";

/// Soil tests that are due.
pub(super) fn jobs(snapshot: &Snapshot, season: &Season) -> Vec<Job> {
    let mut jobs = Vec::new();
    for plot in &snapshot.plots {
        jobs.extend(after_lime(snapshot, plot).or_else(|| regular(snapshot, plot, season)));
    }
    jobs
}

/// No test yet, or one too old to go by.
fn regular(snapshot: &Snapshot, plot: &Held<Plot>, season: &Season) -> Option<Job> {
    let last = snapshot.lab_report_of(plot.id).map(|(held, _)| held.body.seen_on);
    let due = last.map(|last| last.saturating_add(TEST_YEARS.years()));
    if due.is_some_and(|due| due > season.today) {
        return None;
    }
    let (from, to) = season.autumn_work();
    let why = format!(
        "In autumn the laboratory is quick, and lime still has the winter to work.{}",
        season.remark()
    );
    let reason = match last {
        None => "Nothing is known of the acidity and the nutrients of this plot.".to_owned(),
        Some(last) => format!(
            "The last soil test is of {}, more than {TEST_YEARS} years ago. Common practice; no source.",
            words::day(last)
        ),
    };
    let key = format!("test.soil.{}.{}", plot.id, season.year);
    Some(
        Job::new(key, Topic::Test, "Have the soil tested", Source::SoilTest)
            .on_plot(plot.id, &plot.body.name)
            .within(Window::between(from, to, why))
            .because(reason)
            .because(CORES),
    )
}

/// After lime: not before it has reacted, and not much later.
fn after_lime(snapshot: &Snapshot, plot: &Held<Plot>) -> Option<Job> {
    let limed = snapshot.applications_on(plot.id).into_iter().rfind(|held| is_lime(snapshot, &held.body))?;
    let on = limed.body.on;
    let (from, to) = (on.saturating_add(LIME_MONTHS.0.months()), on.saturating_add(LIME_MONTHS.1.months()));
    let tested = |date: Date| date >= from;
    if snapshot.lab_reports_on(plot.id).any(|(held, _)| tested(held.body.seen_on)) {
        return None;
    }
    let key = format!("test.after-lime.{}.{on}", plot.id);
    let why = format!(
        "Lime takes months to react: {} to {} months after {} its work shows, and nothing is lost by waiting for it.",
        LIME_MONTHS.0,
        LIME_MONTHS.1,
        words::day(on)
    );
    Some(
        Job::new(key, Topic::Test, "Test the soil again, to see what the lime did", Source::Application)
            .on_plot(plot.id, &plot.body.name)
            .within(Window::between(from, to, why))
            .because(
                "The reckoning of lime is good to about a third either way; the test tells what it did here.",
            )
            .because(CORES)
            .worked(Working::new().step(
                "when to test again",
                "6 to 12 months after liming, not before",
                format!("limed on {}", words::day(on)),
                format!("{} to {}", words::day(from), words::day(to)),
            )),
    )
}

/// Does it neutralize acid?
fn is_lime(snapshot: &Snapshot, application: &Application) -> bool {
    if application.job.as_deref().is_some_and(|key| key.starts_with("acidity.") || key.starts_with("lime.")) {
        return true;
    }
    neutralizing_percent(snapshot, &application.spread).is_some_and(|percent| percent >= LIMES_FROM_PERCENT)
}
