//! Looks that are due: soil tests, what lime did, the probe and the other tests again, each as [`crate::again`] says.

use book::Snapshot;
use ground::kit::Working;
use jiff::ToSpan;

use super::job::{Job, Source, Topic, Window};
use super::season::Season;
use crate::again::{Visit, Walk, tell, visits};
use crate::words;

/// Looks further ahead than this are not on the plan yet, months.
const AHEAD_MONTHS: i32 = 13;
/// How the bag is filled.
const CORES: &str = "Mix a dozen cores or more from all over the plot, to the depth you till, into one bag. Ask for pH and buffer pH, phosphorus, potassium, magnesium and organic matter, and have the extractant named on the report.";
/// What makes two tests compare.
const ALIKE: &str =
    "The same month, depth, places and laboratory as the last time: only then do two readings compare.";

/// Looks that are due within the year, or were.
pub(super) fn jobs(snapshot: &Snapshot, season: &Season) -> Vec<Job> {
    let ahead = season.today.saturating_add(AHEAD_MONTHS.months());
    snapshot
        .plots
        .iter()
        .flat_map(|plot| visits(snapshot, plot.id, season.today))
        .filter(|visit| visit.from <= ahead)
        .map(|visit| job(&visit, season))
        .collect()
}

fn job(visit: &Visit, season: &Season) -> Job {
    let (plot, year) = (visit.plot, visit.first_year());
    let job = match (visit.walk, visit.after_lime) {
        (Walk::SoilTest, Some(lime)) => after_lime(visit, lime),
        (Walk::SoilTest, None) => soil_test(visit, season),
        (Walk::Probe, _) => Job::new(
            format!("test.probe-again.{plot}.{year}"),
            Topic::Test,
            visit.what.clone(),
            Source::Structure,
        )
        .within(Window::between(
            visit.from,
            visit.to,
            "A year after the last one, at the same moisture: only then do two transects compare.",
        )),
        (walk, _) => {
            let name = match walk {
                Walk::Cores => "cores",
                Walk::Spade => "spade",
                Walk::Slake => "slake",
                _ => "rings",
            };
            Job::new(format!("look.{name}.{plot}.{year}"), Topic::Test, visit.what.clone(), Source::Again)
                .within(Window::between(visit.from, visit.to, ALIKE))
        }
    };
    let job = job.on_plot(plot, &visit.plot_name);
    let job = tell::reasons(visit).into_iter().fold(job, Job::because);
    let job = if visit.walk == Walk::SoilTest { job.because(CORES) } else { job };
    job.because(format!("To look at: {}.", tell::looks(visit)))
}

/// No test yet, or one that is due again.
fn soil_test(visit: &Visit, season: &Season) -> Job {
    // Without a test before there is no season to keep to: autumn suits best.
    let (year, window) = match visit.last {
        Some(_) => (visit.first_year(), Window::between(visit.from, visit.to, ALIKE)),
        None => {
            let (from, to) = season.autumn_work();
            let why = format!(
                "In autumn the laboratory is quick, and lime still has the winter to work.{}",
                season.remark()
            );
            (season.year, Window::between(from, to, why))
        }
    };
    Job::new(format!("test.soil.{}.{year}", visit.plot), Topic::Test, visit.what.clone(), Source::SoilTest)
        .within(window)
}

fn after_lime(visit: &Visit, lime: jiff::civil::Date) -> Job {
    Job::new(
        format!("test.after-lime.{}.{lime}", visit.plot),
        Topic::Test,
        visit.what.clone(),
        Source::Application,
    )
    .within(Window::between(
        visit.from,
        visit.to,
        "Before, the lime has not reacted; much later, other things have moved the pH too.",
    ))
    .because("The reckoning of lime is good to about a third either way; the test tells what it did here.")
    .worked(Working::new().step(
        "when to test again",
        "6 to 12 months after liming, not before",
        format!("limed on {}", words::day(lime)),
        format!("{} to {}", words::day(visit.from), words::day(visit.to)),
    ))
}
