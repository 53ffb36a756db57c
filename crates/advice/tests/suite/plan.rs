//! The plan of the demonstration farm.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use std::ops::ControlFlow;

use crate::yard::{Yard, stamp};
use advice::feeding::needs::{BedNeed, LimitOf};
use advice::feeding::plan::{Aim, FarmPlan, PlanOutcome, PlanSettings, farm_plan, farm_wants};
use advice::feeding::shelf::shelf;
use advice::work::work_plan;
use advice::{Options, PlotReport, plot_report};
use book::model::{Bed, Farm, OrganicUse, Plot};
use book::{Book, Snapshot};
use ground::fertility::blend::Carried;

fn reports(snapshot: &Snapshot) -> Vec<PlotReport> {
    let options = Options { weigh_measurements: false, ..Options::default() };
    snapshot.plots.iter().filter_map(|plot| plot_report(snapshot, plot.id, &options)).collect()
}

fn plot_needs_of(snapshot: &Snapshot) -> Vec<BedNeed> {
    farm_wants(snapshot, &reports(snapshot), advice::demo::DAY).0
}

fn plan(book: &Book, settings: PlanSettings) -> FarmPlan {
    let snapshot = book.snapshot().unwrap();
    let reports = reports(&snapshot);
    let (needs, lime) = farm_wants(&snapshot, &reports, advice::demo::DAY);
    farm_plan(&snapshot, &needs, &lime, settings, advice::demo::DAY, &mut |_| ControlFlow::Continue(()))
}

#[test]
fn the_demonstration_is_planned_for_within_its_limits() {
    let yard = Yard::demo();
    let told = plan(&yard.book, PlanSettings::default());
    assert_eq!(told.outcome, PlanOutcome::Planned, "{told:#?}");
    assert!(told.gap_percent <= 1.0);
    assert!(!told.cautions.is_empty() && !told.why.is_empty());
    for bed in &told.beds {
        for line in &bed.brought {
            if let Some(most) = line.at_most_g_m2 {
                assert!(line.g_m2 <= most * 1.0001 + 1e-6, "{}: {line:?}", bed.name);
            }
        }
        assert!(bed.lines.len() <= 5 || !told.conflicts.is_empty(), "{}", bed.name);
    }
    // What is used is in hand or bought, and the sum is that of the lines.
    let sum: rust_decimal::Decimal = told.buy.iter().map(|line| line.price).sum();
    assert_eq!(sum, told.to_pay);
}

/// What stands is fed beside the plants; nothing tells to do before planting what can no longer be done.
#[test]
fn beds_with_a_standing_crop_are_not_told_what_to_do_before_planting() {
    let yard = Yard::demo();
    let told = plan(&yard.book, PlanSettings::default());
    let standing: Vec<_> = told.beds.iter().filter(|bed| bed.stands(advice::demo::DAY)).collect();
    assert!(!standing.is_empty());
    for line in standing.iter().flat_map(|bed| &bed.lines) {
        assert!(!line.how.contains("before planting"), "{line:?}");
    }
}

#[test]
fn a_bare_bed_on_sour_ground_is_limed_with_the_others() {
    let mut yard = Yard::demo();
    let snapshot = yard.snapshot();
    let plot = snapshot.plot_named("Sand knoll").unwrap().id;
    let like = snapshot.beds.first().unwrap().body.clone();
    let bare = yard.book.record(Bed { plot, name: "Bare bed".to_owned(), ..like }, &stamp()).unwrap();
    let told = plan(&yard.book, PlanSettings::default());
    let bed = told.beds.iter().find(|bed| bed.bed == Some(bare.id)).expect("it needs lime");
    assert_eq!((bed.planting, bed.about().as_str()), (None, "nothing planned to grow yet"));
    assert!(bed.brought.iter().any(|line| line.carried == Carried::Lime && line.g_m2 > 0.0), "{bed:?}");
}

/// A plot without beds is limed as a whole: its lime is bought with that of the beds, and told once.
#[test]
fn a_sour_plot_without_beds_is_on_the_buying_list() {
    let mut yard = Yard::demo();
    let snapshot = yard.snapshot();
    let sour = snapshot.plot_named("Sand knoll").unwrap();
    let limed = |book: &Book| -> f64 {
        plan(book, PlanSettings::default())
            .beds
            .iter()
            .filter(|bed| bed.plot == sour.id)
            .flat_map(|bed| bed.brought.iter().map(move |line| (bed.area_m2, line)))
            .filter(|(_, line)| line.carried == Carried::Lime)
            .map(|(area, line)| area * line.target_g_m2 / 1000.0)
            .sum()
    };
    for bed in snapshot.beds.iter().filter(|bed| bed.body.plot == sour.id) {
        yard.book.withdraw(bed.id, bed.number, "a test", &stamp()).unwrap();
    }
    let told = plan(&yard.book, PlanSettings::default());
    let whole = told.beds.iter().find(|bed| bed.plot == sour.id).expect("it needs lime");
    assert_eq!((whole.bed, whole.name.as_str()), (None, "Sand knoll, whole plot"));
    assert!((whole.area_m2 - sour.body.shape.area_m2()).abs() < 1e-9);
    assert!(limed(&yard.book) > 0.0);
    for line in &whole.lines {
        let listed = told.buy.iter().find(|buy| buy.material == line.material).expect("it is on the list");
        assert!(listed.used_kg >= line.kg - 1e-6, "{listed:?}");
    }
    assert!(!whole.lines.is_empty());
    let reports = reports(&yard.snapshot());
    let jobs = work_plan(&yard.snapshot(), &reports, Some(&told), advice::demo::DAY);
    let liming = jobs.jobs.iter().filter(|job| job.plot == Some(sour.id) && job.what.contains("Lime"));
    assert_eq!(liming.count(), 1);
}

/// One plot under organic rules among others: on its beds goes only what is allowed.
#[test]
fn a_plot_under_organic_rules_gets_only_what_they_allow() {
    let mut yard = Yard::demo();
    let snapshot = yard.snapshot();
    let farm = Farm { organic: Some(false), ..snapshot.farm.body.clone() };
    yard.book.revise(snapshot.farm.id, snapshot.farm.number, farm, "a test", &stamp()).unwrap();
    let used = |book: &Book, plot| {
        let snapshot = book.snapshot().unwrap();
        let allowed =
            |id| shelf(&snapshot).iter().any(|line| line.id == id && line.organic == OrganicUse::Yes);
        let told = plan(book, PlanSettings::default());
        let lines = told.beds.iter().filter(|bed| bed.plot == plot).flat_map(|bed| &bed.lines);
        lines.map(|line| allowed(line.material)).collect::<Vec<bool>>()
    };
    let plot = snapshot
        .plots
        .iter()
        .find(|plot| used(&yard.book, plot.id).contains(&false))
        .expect("the cheapest plan of a conventional farm uses something that is not allowed");
    let organic = Plot { organic: Some(true), ..plot.body.clone() };
    yard.book.revise(plot.id, plot.number, organic, "a test", &stamp()).unwrap();
    assert!(!used(&yard.book, plot.id).contains(&false));
}

#[test]
fn beds_rich_in_phosphorus_get_none_of_it() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let told = plan(&yard.book, PlanSettings::default());
    let rich: Vec<_> = plot_needs_of(&snapshot)
        .into_iter()
        .filter(|need| need.limits.iter().any(|limit| limit.of == LimitOf::P2o5 && limit.most_g_m2 <= 0.0))
        .collect();
    assert!(!rich.is_empty(), "the demonstration has a tunnel fed with compost");
    for need in rich {
        let name = format!("{}, {}", need.plot_name, need.bed_name);
        let Some(bed) = told.beds.iter().find(|bed| bed.planting == need.planting) else {
            assert!(told.why.iter().any(|line| line.contains(&name)), "{name} is passed over in silence");
            continue;
        };
        let phosphorus = bed.brought.iter().find(|line| line.carried == Carried::P2o5);
        assert!(phosphorus.is_none_or(|line| line.g_m2 < 1e-6), "{bed:#?}");
    }
}

#[test]
fn the_other_aim_is_priced_and_one_plan_is_the_same_every_time() {
    let yard = Yard::demo();
    let median = plan(&yard.book, PlanSettings::default());
    let surer = plan(&yard.book, PlanSettings { aim: Aim::P80, ..PlanSettings::default() });
    assert_eq!(median.other.map(|other| other.to_pay), Some(surer.to_pay));
    assert_eq!(median, plan(&yard.book, PlanSettings::default()));
}
