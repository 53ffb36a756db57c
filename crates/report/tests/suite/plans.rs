//! The plans of the demonstration farm on paper: nothing that is to be done, spread or bought is lost on the way.

use std::ops::ControlFlow;

use crate::common::{closed, options, pages};
use advice::feeding::plan::{FarmPlan, PlanOutcome, PlanSettings, farm_plan, farm_wants};
use advice::posts::{PostAsk, posts};
use advice::work::{JobState, WorkPlan, work_plan};
use advice::{Options, PlotReport, plot_report};
use book::Snapshot;
use jiff::civil::{Date, date};
use report::{
    Paper, buying_list_pdf, covers_pdf, covers_sheet, post_sheet, posts_pdf, spread_pdf, work_plan_pdf,
};

const TODAY: Date = date(2026, 3, 14);

struct Farm {
    snapshot: Snapshot,
    reports: Vec<PlotReport>,
    plan: FarmPlan,
}

fn demo() -> Farm {
    let folder = tempfile::tempdir().expect("a folder");
    let book = advice::demo::create(folder.path().join("a.farmbook")).expect("the demonstration is written");
    let snapshot = book.snapshot().expect("it can be read");
    let weigh_nothing = Options { weigh_measurements: false, ..Options::default() };
    let reports: Vec<PlotReport> =
        snapshot.plots.iter().filter_map(|plot| plot_report(&snapshot, plot.id, &weigh_nothing)).collect();
    let (needs, lime) = farm_wants(&snapshot, &reports, TODAY);
    let plan = farm_plan(&snapshot, &needs, &lime, PlanSettings::default(), TODAY, &mut |_| {
        ControlFlow::Continue(())
    });
    Farm { snapshot, reports, plan }
}

/// The whole text of a sheet without its spaces.
fn printed(bytes: &[u8]) -> String {
    pages(bytes).iter().map(|page| closed(&page.text)).collect()
}

#[track_caller]
fn holds(sheet: &str, said: &str) {
    assert!(sheet.contains(&closed(said)), "{said:?} is not on the sheet");
}

#[test]
fn every_open_job_is_on_the_work_plan_and_no_settled_one() {
    let farm = demo();
    let mut plan: WorkPlan = work_plan(&farm.snapshot, &farm.reports, Some(&farm.plan), TODAY);
    assert!(plan.jobs.len() > 3, "the demonstration has work: {}", plan.jobs.len());
    let settled = plan.jobs.iter().filter(|job| job.state.is_settled()).count();
    plan.jobs[0].state = JobState::Refused;
    plan.jobs[0].what = "Something that was refused".to_owned();
    plan.jobs[1].what = "*Sharp* #work".to_owned();
    let sheet = printed(&work_plan_pdf(&plan, &options(Paper::Letter)).expect("it can be printed"));
    let mut open = 0;
    for job in plan.jobs.iter().filter(|job| !job.state.is_settled()) {
        open += 1;
        holds(&sheet, &job.what);
        holds(&sheet, &job.place);
        for spread in &job.spread {
            holds(&sheet, &spread.carried);
        }
        for caution in &job.cautions {
            holds(&sheet, caution);
        }
    }
    assert!(open > 2);
    assert!(!sheet.contains("Somethingthatwasrefused"), "a refused job is left out");
    if settled == 0 {
        holds(&sheet, "Left out here: 1 refused.");
    }
}

#[test]
fn every_bed_and_bag_of_the_plan_is_on_its_sheets() {
    let farm = demo();
    assert_eq!(farm.plan.outcome, PlanOutcome::Planned, "{}", farm.plan.headline);
    let spread = printed(&spread_pdf(&farm.plan, &options(Paper::A4)).expect("it can be printed"));
    for bed in &farm.plan.beds {
        holds(&spread, &bed.name);
        holds(&spread, &bed.crop);
        for line in &bed.lines {
            holds(&spread, &line.name);
            holds(&spread, &line.amount);
            holds(&spread, &line.how);
        }
    }
    let buying = printed(&buying_list_pdf(&farm.plan, &options(Paper::A4)).expect("it can be printed"));
    for line in &farm.plan.buy {
        holds(&buying, &line.name);
        holds(&buying, &line.left);
        if line.packs > 0 {
            holds(&buying, &format!("{} × {}", line.packs, line.pack));
            holds(&buying, &format!("{:.2}", line.price));
        }
    }
    if farm.plan.buy.iter().any(|line| line.packs > 0) {
        holds(&buying, &format!("In all {:.2}", farm.plan.to_pay));
    }
    for caution in &farm.plan.cautions {
        holds(&spread, caution);
        holds(&buying, caution);
    }
}

#[test]
fn a_farm_without_a_plan_gets_a_sheet_that_says_what_is_wanting() {
    let mut plan = demo().plan;
    plan.outcome = PlanOutcome::EmptyShelf;
    plan.headline = "The shelf is empty.".to_owned();
    plan.beds.clear();
    plan.buy.clear();
    plan.wanted = vec!["Urea is left out of the plan: it lacks a price.".to_owned()];
    for bytes in [spread_pdf(&plan, &options(Paper::A4)), buying_list_pdf(&plan, &options(Paper::A4))] {
        let sheet = printed(&bytes.expect("it can be printed"));
        holds(&sheet, "The shelf is empty.");
        holds(&sheet, "Urea is left out of the plan: it lacks a price.");
        assert!(!sheet.contains("Inall"), "no sum without a list");
    }
}

#[test]
fn every_bed_gap_and_seed_is_on_the_calendar_of_covers() {
    let farm = demo();
    let sheet = covers_sheet(&farm.snapshot, advice::demo::DAY);
    assert_eq!(sheet.months.len(), 12);
    assert_eq!(sheet.months.iter().map(|month| u32::from(month.days)).sum::<u32>(), 365);
    let printed = printed(
        &covers_pdf(&farm.snapshot, advice::demo::DAY, &options(Paper::A4)).expect("it can be printed"),
    );
    for plot in &sheet.plots {
        holds(&printed, &plot.name);
        for row in &plot.rows {
            holds(&printed, &row.bed);
            holds(&printed, &row.says);
            assert!(
                row.bars.iter().all(|bar| (0.0..=1.0).contains(&bar.from) && bar.from <= bar.to),
                "{row:?}"
            );
        }
    }
    for gap in &sheet.gaps {
        holds(&printed, gap);
    }
    assert!(!sheet.gaps.is_empty() && !sheet.seed.is_empty());
    for seed in &sheet.seed {
        holds(&printed, &seed.name);
        holds(&printed, &seed.carried);
    }
    for caution in &sheet.cautions {
        holds(&printed, &caution.text);
    }
}

#[test]
fn every_figure_way_tick_and_caution_of_the_posts_is_on_their_sheet() {
    let farm = demo();
    let units = farm.snapshot.farm.body.units;
    let asked: Vec<PostAsk> = farm
        .snapshot
        .structures
        .iter()
        .filter_map(|held| PostAsk::of_structure(&farm.snapshot, held))
        .collect();
    assert!(!asked.is_empty(), "the demonstration has posts");
    for ask in asked {
        let plot = farm.reports.iter().find(|report| report.id == ask.plot).expect("its plot is reported");
        let report = posts(&farm.snapshot, plot, &ask).expect("its ground is known");
        let sheet = post_sheet(&report, units);
        let bytes = posts_pdf(&report, units, &options(Paper::Letter)).expect("it can be printed");
        let printed = printed(&bytes);
        holds(&printed, &format!("Posts: {}", report.name));
        holds(&printed, &advice::posts::tell::depth(report.depth_m, units));
        assert_eq!(sheet.ways.len(), report.feet.len());
        assert!(!sheet.figures.is_empty() && !sheet.ticks.is_empty() && !sheet.cautions.is_empty());
        for foot in &report.feet {
            holds(&printed, &advice::words::capital(foot.words));
            holds(&printed, &advice::posts::tell::force_spread(foot.counted_kn, units));
        }
        for said in
            sheet.lead.iter().chain(&sheet.ticks).chain(sheet.parts.iter().flat_map(|part| &part.lines))
        {
            holds(&printed, said);
        }
        for said in sheet.figures.iter().flatten().chain(sheet.ways.iter().flatten()) {
            holds(&printed, said);
        }
        for caution in &sheet.cautions {
            holds(&printed, &caution.text);
        }
        if report.concrete.is_some() {
            assert!(sheet.ticks.iter().any(|tick| tick.contains("gloves")), "{:?}", sheet.ticks);
        }
    }
}
