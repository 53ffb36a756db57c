//! Structures that are planned: have buried services located, then set the posts.

use book::model::{EntryId, Structure, UnitSystem};
use book::{Held, Snapshot};
use ground::posts::us::M_PER_FT;

use super::job::{Job, Source, Topic, Window};
use super::season::Season;
use crate::PlotReport;
use crate::posts::{PostAsk, PostReport, posts, tell};
use crate::words;

/// Posts are set from this long after the last frost of spring to this long before the first of autumn, weeks: the
/// ground is then neither frozen nor soaked by the thaw (common practice).
const CLEAR_OF_FROST_WEEKS: i64 = 2;

pub(super) fn jobs(snapshot: &Snapshot, report: &PlotReport, season: &Season) -> Vec<Job> {
    snapshot
        .structures_on(report.id)
        .filter(|held| held.body.planned)
        .filter_map(|held| of(snapshot, report, held, season))
        .flatten()
        .collect()
}

fn of(snapshot: &Snapshot, report: &PlotReport, held: &Held<Structure>, season: &Season) -> Option<Vec<Job>> {
    let told = posts(snapshot, report, &PostAsk::of_structure(snapshot, held)?)?;
    let units = snapshot.farm.body.units;
    let from = Season::weeks(season.last_frost, CLEAR_OF_FROST_WEEKS).max(season.today);
    let to = Season::weeks(season.first_frost, -CLEAR_OF_FROST_WEEKS);
    let mut jobs = vec![locate(&told, held.id, season, from)];
    // Where no number is given, none is carried out as a job: an engineer comes first.
    if told.out_of_scope.is_empty() {
        jobs.push(set(&told, held.id, season, (from, to), units));
    }
    Some(jobs)
}

fn locate(told: &PostReport, id: EntryId, season: &Season, from: jiff::civil::Date) -> Job {
    let what = format!("Have buried services located for {}", told.name);
    let job = Job::new(format!("posts.locate.{id}"), Topic::Build, what, Source::Posts { id })
        .on_plot(told.plot, &told.plot_name)
        .within(Window::by(
            from,
            format!("Before anything is dug or driven; allow several working days.{}", season.remark()),
        ))
        .because("In the United States the call to 811 is free and needs two to three working days; elsewhere ask the owners of cables and pipes. Your own water and power lines are not marked for you.")
        .because("Ask at the same time whether this structure needs a permit, and whether concrete changes that.");
    let job = match told.out_of_scope.as_slice() {
        [] => job,
        why => job.because(format!(
            "No number is given for its posts ({}): have a licensed engineer or its maker say how they are set.",
            why.join("; ")
        )),
    };
    cautioned(job, told)
}

fn set(
    told: &PostReport,
    id: EntryId,
    season: &Season,
    (from, to): (jiff::civil::Date, jiff::civil::Date),
    units: UnitSystem,
) -> Job {
    let count = told.posts.map_or_else(|| "the posts".to_owned(), |count| format!("{count} posts"));
    let mut what = format!("Set {count} of {}, {} deep", told.name, tell::depth(told.depth_m, units));
    match &told.concrete {
        Some(concrete) if concrete.counted => {
            what.push_str(&format!("; carry {} of concrete mix", tell::bags(&concrete.total_bags, units)));
        }
        Some(concrete) => {
            what.push_str(&format!(
                "; carry {} of concrete mix for each",
                tell::bags(&concrete.each_bags, units)
            ));
        }
        None => {}
    }
    let said = tell::sentences(told, units);
    let why = format!(
        "The ground is neither frozen nor soaked then, and moist ground takes posts best.{}",
        season.remark()
    );
    let mut job = Job::new(format!("posts.set.{id}"), Topic::Build, what, Source::Posts { id })
        .on_plot(told.plot, &told.plot_name)
        .within(Window::between(from, to, why))
        .because(said.lead)
        .because(said.post);
    job.waits_for.push("buried services are located and marked".to_owned());
    for line in said.concrete {
        job = job.because(line);
    }
    match told.worst() {
        None => {
            job.waits_for.push("the depth is settled: what pushes these posts is not known yet".to_owned())
        }
        Some(worst) if !worst.enough => {
            job.waits_for.push("the depth is settled: as planned it is not enough".to_owned());
        }
        Some(_) => {}
    }
    if !told.depth_given {
        job.waits_for.push(format!(
            "the depth is written down: {} is only taken, as none was given",
            tell::depth(told.depth_m, units)
        ));
    }
    if told.posts.is_none() {
        job.waits_for
            .push("the posts are counted: their number is not known without length and spacing".to_owned());
    }
    if told.drives.iter().any(|one| one.drives.answer == ground::posts::driving::Driving::Hard) {
        job = job.because(format!(
            "Dry, this ground fights the post: drive it moist. Note where a post stops above {}.",
            words::depth(100.0 * told.depth_m.min(12.0 * M_PER_FT), units)
        ));
    }
    cautioned(job, told)
}

fn cautioned(job: Job, told: &PostReport) -> Job {
    told.cautions.iter().fold(job, |job, caution| job.caution(*caution))
}
