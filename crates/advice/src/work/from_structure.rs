//! Structure: a layer to loosen when it is dry enough, and what to look at before.

use book::Snapshot;
use book::model::UnitSystem;
use ground::kit::Working;
use ground::structure::loosening::decide::Loosening;
use ground::structure::loosening::method::says;
use jiff::ToSpan;

use super::job::{Job, Source, Topic, Window};
use super::season::Season;
use crate::PlotReport;
use crate::finding::Firmness;
use crate::structure::decision::Tools;
use crate::structure::readings::Readings;
use crate::structure::{StructureReport, structure, tell};
use crate::words;

/// A look suits within twice as many days.
const AROUND_D: i64 = 28;

/// The jobs of a plot on which a reading tells of hardness; without one the finding on packed ground speaks.
pub(super) fn jobs(snapshot: &Snapshot, report: &PlotReport, season: &Season) -> Vec<Job> {
    if !Readings::of(snapshot, report.id).tell_of_hardness() {
        return Vec::new();
    }
    let Some(told) = structure(snapshot, report, Tools::default(), season.today) else { return Vec::new() };
    let units = snapshot.farm.body.units;
    let mut jobs = Vec::new();
    if told.decision.firmness != Firmness::Open {
        jobs.extend(now(&told, season, units));
    }
    jobs
}

fn now(told: &StructureReport, season: &Season, units: UnitSystem) -> Option<Job> {
    let said = tell::sentences(told, units);
    let (from, to) = season.autumn_work();
    let soon =
        |why: &str| Window::between(season.today, season.today.saturating_add((2 * AROUND_D).days()), why);
    let (topic, head, what, window, waits): (Topic, &str, String, Window, &[&str]) = match told.decision.what
    {
        Loosening::Loosen | Loosening::WaitUntilDrier | Loosening::WaitUntilMoister => {
            let with = told.decision.tool.map_or("", tell::tool);
            let depth = told.decision.depth_cm.map_or_else(String::new, |depth| words::depth(depth, units));
            (
                Topic::Ground,
                "ground.loosen",
                format!("Loosen the hard layer with {with}, {depth} deep"),
                Window::between(
                    from,
                    to,
                    format!(
                        "At the end of the dry season the layer shatters; when it is wet it only smears.{}",
                        season.remark()
                    ),
                ),
                &[
                    "A handful from the hard layer that crumbles: record the working test that day.",
                    "A dense-rooted cover to sow at once after.",
                ],
            )
        }
        Loosening::LookWithSpade => (
            Topic::Test,
            "test.spade",
            "Dig a block down through the hard layer".to_owned(),
            soon("While something grows there whose roots can be followed."),
            &["Ground moist enough to dig. Have buried pipes and cables located first."],
        ),
        Loosening::FindBottom => (
            Topic::Test,
            "test.probe",
            "Push the probe deeper, to find where the hard layer ends".to_owned(),
            soon("One or two days after a soaking."),
            &["Ground moist all through."],
        ),
        Loosening::MeasureFirst => (
            Topic::Test,
            "test.probe",
            "Push a probe in ten places".to_owned(),
            soon("One or two days after a soaking."),
            &["Ground moist all through."],
        ),
        Loosening::Leave | Loosening::CoversInstead | Loosening::DrainFirst => return None,
    };
    let mut job = Job::new(format!("{head}.{}.{}", told.id, season.year), topic, what, Source::Structure)
        .on_plot(told.id, &told.name)
        .within(window)
        .because(said.lead.clone());
    for reason in said.reasons_for.iter().chain(&said.how) {
        job = job.because(reason.clone());
    }
    job.waits_for = waits.iter().map(|one| (*one).to_owned()).collect();
    job.cautions = tell::cautions(told, units);
    Some(
        job.worked(
            Working::new().step(
                "what to do",
                "the rule of loosening-decision, put to everything that the ground may be",
                told.decision
                    .outcomes
                    .iter()
                    .map(|one| format!("{} {}", tell::short(one.what), words::odds(one.odds)))
                    .collect::<Vec<_>>()
                    .join(", "),
                says(told.decision.what),
            ),
        ),
    )
}
