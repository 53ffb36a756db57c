//! Reports on the demonstration farm: what each plot was made to show, it shows.

use std::sync::LazyLock;

use advice::{
    AttentionKind, Basis, Firmness, Options, PlotReport, farm_report, farm_report_of, plot_report,
    plot_reports,
};
use book::Snapshot;
use ground::belief::Level;
use ground::texture::Class;

use crate::yard::Yard;

static FARM: LazyLock<(Snapshot, Vec<PlotReport>)> = LazyLock::new(|| {
    let snapshot = Yard::demo().snapshot();
    let reports = plot_reports(&snapshot, &Options::default());
    (snapshot, reports)
});

fn report(name: &str) -> &'static PlotReport {
    FARM.1.iter().find(|report| report.name == name).unwrap_or_else(|| panic!("no plot {name}"))
}

fn class(name: &str) -> Class {
    report(name).make_up.class
}

#[test]
fn each_plot_is_what_it_was_made_to_be() {
    assert_eq!(class("Creek field"), Class::SiltLoam);
    assert_eq!(class("Hill field"), Class::SandyLoam);
    assert_eq!(class("East tunnel"), Class::Loam);
    assert_eq!(class("Lower clay"), Class::Clay);
    assert_eq!(class("Sand knoll"), Class::LoamySand);
}

#[test]
fn a_contradiction_is_shown_and_nothing_is_firm_while_it_stands() {
    let west = report("West tunnel");
    assert!(
        west.disagreements.iter().any(|one| one.level == Level::Contradicts && one.label.contains("jar"))
    );
    assert!(west.headline.contains("Not all the evidence agrees"));
    assert!(
        west.findings
            .iter()
            .all(|finding| finding.basis != Basis::MakeUp || finding.firmness != Firmness::Firm)
    );
    assert!(report("Creek field").findings.iter().any(|finding| finding.firmness == Firmness::Firm));
}

#[test]
fn a_plot_with_nothing_says_so_and_offers_a_first_measurement() {
    let new = report("New ground");
    assert!(!new.make_up_known && new.findings.is_empty());
    assert!(new.measurements.first().is_some_and(|best| best.gain > 0.0));
}

#[test]
fn evidence_that_does_not_count_says_why() {
    let creek = report("Creek field");
    let unused = || creek.evidence.iter().filter(|exhibit| !exhibit.used);
    assert!(unused().any(|exhibit| exhibit.remark.contains("subsoil")));
    assert!(unused().any(|exhibit| exhibit.remark.contains("structure of the ground")));
    let running =
        report("Long pasture").evidence.iter().find(|exhibit| exhibit.what == "jar").expect("a jar");
    assert!(!running.used && running.remark.contains("settling"), "{}", running.remark);
    assert!(
        report("Hill field").evidence.iter().all(|exhibit| exhibit.named != Some(Class::Sand)),
        "was withdrawn"
    );
}

#[test]
fn a_jar_learns_from_other_plots_and_never_from_its_own_laboratory() {
    assert_eq!(report("Creek field").jar_calibration_pairs, 1);
    assert_eq!(report("East tunnel").jar_calibration_pairs, 1);
    assert_eq!(report("West tunnel").jar_calibration_pairs, 2);
}

#[test]
fn more_evidence_leaves_less_open() {
    let open =
        |name| report(name).findings.iter().filter(|finding| finding.firmness == Firmness::Open).count();
    assert!(open("Young orchard") > 2 * open("Creek field"));
    let orchard = report("Young orchard");
    assert!(orchard.measurements.first().is_some_and(|best| !best.may_settle.is_empty()));
    assert!(orchard.findings.iter().filter(|finding| finding.settles.is_some()).count() >= 5);
}

#[test]
fn what_was_not_measured_is_named() {
    let supposed: Vec<_> = report("Hill field").supposed.iter().map(|one| one.what).collect();
    assert!(supposed.contains(&"organic matter") && !supposed.contains(&"stones by mass"), "{supposed:?}");
}

#[test]
fn the_farm_lists_trouble_first_and_leaves_out_what_is_decided() {
    let (snapshot, reports) = &*FARM;
    let farm = farm_report_of(snapshot, reports);
    let kinds: Vec<_> = farm.attention.iter().map(|one| one.kind).collect();
    assert!(kinds.is_sorted(), "{kinds:?}");
    for kind in [
        AttentionKind::Trouble,
        AttentionKind::Contradiction,
        AttentionKind::JarSettling,
        AttentionKind::Unknown,
        AttentionKind::Open,
        AttentionKind::PutOff,
    ] {
        assert!(kinds.contains(&kind), "no {kind:?}");
    }
    assert!(
        !farm.attention.iter().any(|one| one.plot_name == "Creek field" && one.finding == Some("crusting"))
    );
    assert!(farm.next.is_some());
    assert_eq!(farm.plots.len(), snapshot.plots.len());
}

#[test]
fn the_same_book_gives_the_same_report() {
    let (snapshot, reports) = &*FARM;
    let options = Options::default();
    for report in reports {
        let again = plot_report(snapshot, report.id, &options).expect("the plot is there");
        assert!(
            serde_json::to_string(&again).expect("serialises")
                == serde_json::to_string(report).expect("serialises")
        );
    }
    let json = |farm| serde_json::to_string(&farm).expect("serialises");
    assert!(json(farm_report(snapshot, &options)) == json(farm_report_of(snapshot, reports)));
}
