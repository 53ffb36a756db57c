//! Jobs that follow from what was found on a plot.

use book::Snapshot;

use super::job::{Job, Source, Topic, Window};
use super::season::Season;
use crate::PlotReport;
use crate::finding::{Finding, Firmness};
use crate::structure::readings::Readings;

/// When the work of a finding suits.
#[derive(Clone, Copy)]
enum When {
    /// As soon as the ground bears it.
    Soon,
    /// From six weeks before the last frost to the last frost.
    EarlySpring,
    /// Eight to four weeks before the first frost.
    LateSummer,
    /// Six weeks before to four weeks after the first frost.
    Autumn,
}

/// The work that one answer of one rule asks for.
struct Work {
    rule: &'static str,
    verdicts: &'static [&'static str],
    topic: Topic,
    what: &'static str,
    when: When,
    why_then: &'static str,
    waits_for: &'static [&'static str],
}

/// Which findings ask for work, and for which. Times are common practice.
const WORK: &[Work] = &[
    Work {
        rule: "drainage-first",
        verdicts: &["main"],
        topic: Topic::Drainage,
        what: "Give standing water a way out",
        when: When::Autumn,
        why_then: "Grade and ditch while the ground is dry enough to bear it, before winter shows where water stands.",
        waits_for: &["Before any digging have buried pipes and cables marked."],
    },
    Work {
        rule: "raised-beds",
        verdicts: &["raise", "drain"],
        topic: Topic::Ground,
        what: "Raise the beds",
        when: When::Autumn,
        why_then: "Beds shaped in autumn settle over winter and warm sooner in spring.",
        waits_for: &["Ground dry enough that a handful crumbles and does not smear."],
    },
    Work {
        rule: "density",
        verdicts: &["look-first", "hinders"],
        topic: Topic::Test,
        what: "Push a probe and dig a block where the ground is packed",
        when: When::EarlySpring,
        why_then: "One or two days after a soaking the probe tells density from drought.",
        waits_for: &["Ground moist all through. Have buried pipes and cables located before digging."],
    },
    Work {
        rule: "cover-roots",
        verdicts: &["tap-and-fibrous", "fibrous", "fibrous-only"],
        topic: Topic::Ground,
        what: "Sow a cover crop for its roots",
        when: When::LateSummer,
        why_then: "A cover sown four to eight weeks before the first frost still covers the ground by winter.",
        waits_for: &["The crop before must be off the bed."],
    },
    Work {
        rule: "mulch",
        verdicts: &["main"],
        topic: Topic::Ground,
        what: "Mulch the beds",
        when: When::Soon,
        why_then: "Mulch goes on moist ground that has warmed.",
        waits_for: &["Ground moist and warm; mulch keeps it as it finds it."],
    },
    Work {
        rule: "organic-matter",
        verdicts: &["main"],
        topic: Topic::Ground,
        what: "Bring in organic matter",
        when: When::Autumn,
        why_then: "Compost spread in autumn is part of the ground by spring.",
        waits_for: &[
            "A soil test: where phosphorus is high already, compost adds to it; grow covers instead.",
        ],
    },
    Work {
        rule: "salts",
        verdicts: &["leach"],
        topic: Topic::Salts,
        what: "Rinse the salts down",
        when: When::EarlySpring,
        why_then: "Salts are rinsed down before planting, while little nitrate is in the ground.",
        waits_for: &["The ground must drain, or the salts come back."],
    },
    Work {
        rule: "erosion",
        verdicts: &["much"],
        topic: Topic::Ground,
        what: "Keep the ground covered over winter",
        when: When::LateSummer,
        why_then: "A cover sown by late summer holds the ground when the rains come.",
        waits_for: &[],
    },
    Work {
        rule: "sprinklers",
        verdicts: &["too-fast"],
        topic: Topic::Ground,
        what: "Slow the sprinklers down",
        when: When::Soon,
        why_then: "Before the next watering.",
        waits_for: &[],
    },
];

/// The jobs of one plot: what its findings ask for, and the measurement that would settle most.
pub(super) fn jobs(snapshot: &Snapshot, report: &PlotReport, season: &Season) -> Vec<Job> {
    let read = Readings::of(snapshot, report.id).tell_of_hardness();
    let mut jobs: Vec<Job> = report
        .findings
        .iter()
        .filter(|finding| finding.firmness != Firmness::Open)
        // Where readings tell of a hard layer, its own jobs follow from them.
        .filter(|finding| finding.id != "density" || !read)
        .filter_map(|finding| Some((finding, work_of(finding)?)))
        .map(|(finding, work)| of_finding(report, finding, work, season))
        .collect();
    jobs.extend(measurement(snapshot, report, season));
    jobs
}

fn work_of(finding: &Finding) -> Option<&'static Work> {
    WORK.iter().find(|work| work.rule == finding.id && work.verdicts.contains(&finding.verdict))
}

fn of_finding(report: &PlotReport, finding: &Finding, work: &Work, season: &Season) -> Job {
    let key = format!("{}.{}.{}.{}", head(work.topic), finding.id, report.id, season.year);
    let why = format!("{}{}", work.why_then, season.remark());
    let window = match work.when {
        When::Soon => Window::after(season.today, work.why_then),
        When::EarlySpring => {
            let (from, to) = season.early_spring();
            Window::between(from, to, why)
        }
        When::LateSummer => {
            let (from, to) = season.late_summer();
            Window::between(from, to, why)
        }
        When::Autumn => {
            let (from, to) = season.autumn_work();
            Window::between(from, to, why)
        }
    };
    let mut job = Job::new(key, work.topic, work.what, Source::Finding { id: finding.id.to_owned() })
        .on_plot(report.id, &report.name)
        .within(window)
        .because(finding.statement.clone());
    job.reasons.extend(finding.reasons.iter().cloned());
    job.waits_for = work.waits_for.iter().map(|one| (*one).to_owned()).collect();
    job.cautions = finding.cautions.iter().map(|one| (*one).to_owned()).collect();
    job.working = finding.working.clone();
    job
}

/// What keys of a topic begin with.
pub(super) fn head(topic: Topic) -> &'static str {
    match topic {
        Topic::Drainage => "drainage",
        Topic::Acidity => "acidity",
        Topic::Feeding => "spread",
        Topic::Ground => "ground",
        Topic::Salts => "salts",
        Topic::Test => "test",
        Topic::Harvest => "harvest",
        Topic::Build => "posts",
        Topic::Own => "own",
    }
}

/// Findings that are open are settled by measuring: the best measurement for its cost, once a season.
fn measurement(snapshot: &Snapshot, report: &PlotReport, season: &Season) -> Option<Job> {
    let best = report.measurements.first().filter(|best| best.gain > 0.0)?;
    let open = report.findings.iter().filter(|finding| finding.firmness == Firmness::Open).count();
    if open == 0 && report.make_up_known {
        return None;
    }
    let key = format!("test.measure.{}.{}", report.id, season.year);
    let mut job = Job::new(
        key,
        Topic::Test,
        format!("Make {}", best.name),
        Source::Finding { id: "measurement".to_owned() },
    )
    .on_plot(report.id, &report.name)
    .within(Window::after(season.today, "Whenever the ground is neither frozen nor sodden."))
    .because(best.how.to_owned());
    if best.cost_money > 0.0 {
        let currency = snapshot.farm.body.currency.as_deref().unwrap_or("in the farm's money");
        job.cost = format!("about {:.0} {currency} and {:.0} minutes", best.cost_money, best.minutes);
    } else {
        job.cost = format!("about {:.0} minutes", best.minutes);
    }
    Some(job)
}
