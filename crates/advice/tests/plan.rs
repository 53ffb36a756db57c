//! The plan of the demonstration farm.

use std::ops::ControlFlow;

use advice::feeding::plan::{Aim, FarmPlan, PlanOutcome, PlanSettings, farm_plan, farm_wants};
use advice::{Options, plot_report};
use book::Book;
use ground::fertility::blend::Carried;

fn plan(book: &Book, settings: PlanSettings) -> FarmPlan {
    let snapshot = book.snapshot().unwrap();
    let options = Options { weigh_measurements: false, ..Options::default() };
    let reports: Vec<_> =
        snapshot.plots.iter().filter_map(|plot| plot_report(&snapshot, plot.id, &options)).collect();
    let (needs, lime) = farm_wants(&snapshot, &reports, advice::demo::DAY);
    farm_plan(&snapshot, &needs, &lime, settings, advice::demo::DAY, &mut |_| ControlFlow::Continue(()))
}

fn demo() -> (tempfile::TempDir, Book) {
    let folder = tempfile::tempdir().unwrap();
    let book = advice::demo::create(folder.path().join("farm.farmbook")).unwrap();
    (folder, book)
}

#[test]
fn the_demonstration_is_planned_for_within_its_limits() {
    let (_folder, book) = demo();
    let told = plan(&book, PlanSettings::default());
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

#[test]
fn a_tunnel_rich_in_phosphorus_gets_none_of_it() {
    let (_folder, book) = demo();
    let told = plan(&book, PlanSettings::default());
    let tunnel: Vec<_> = told.beds.iter().filter(|bed| bed.name.starts_with("East tunnel")).collect();
    assert!(!tunnel.is_empty(), "{:?}", told.beds.iter().map(|bed| &bed.name).collect::<Vec<_>>());
    for bed in tunnel {
        let phosphorus = bed.brought.iter().find(|line| line.carried == Carried::P2o5);
        assert!(phosphorus.is_none_or(|line| line.g_m2 < 1e-6), "{bed:#?}");
    }
}

#[test]
fn the_other_aim_is_priced_and_one_plan_is_the_same_every_time() {
    let (_folder, book) = demo();
    let median = plan(&book, PlanSettings::default());
    let surer = plan(&book, PlanSettings { aim: Aim::P80, ..PlanSettings::default() });
    assert_eq!(median.other.map(|other| other.to_pay), Some(surer.to_pay));
    assert_eq!(median, plan(&book, PlanSettings::default()));
}
