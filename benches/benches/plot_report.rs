//! A whole plot report, all methods and findings, on the demonstration farm: one core, release.

use advice::{Options, demo, plot_report, plot_reports};
use book::Snapshot;

fn main() {
    divan::main();
}

/// The demonstration farm, read back.
fn farm() -> Snapshot {
    let folder = tempfile::tempdir().expect("a folder");
    let book = demo::create(folder.path().join("bench.farmbook")).expect("the demonstration is written");
    book.snapshot().expect("it is read back")
}

/// Two jars, a feel test, a laboratory, organic matter, packing and signs: eight observations.
#[divan::bench]
fn creek_field(bencher: divan::Bencher) {
    let farm = farm();
    let plot = farm.plot_named("Creek field").expect("the plot is there").id;
    bencher.bench(|| plot_report(&farm, plot, &Options::default()));
}

/// The same without asking what would settle what is open.
#[divan::bench]
fn creek_field_findings_only(bencher: divan::Bencher) {
    let farm = farm();
    let plot = farm.plot_named("Creek field").expect("the plot is there").id;
    let options = Options { weigh_measurements: false, ..Options::default() };
    bencher.bench(|| plot_report(&farm, plot, &options));
}

/// All nine plots.
#[divan::bench(sample_count = 20)]
fn whole_farm(bencher: divan::Bencher) {
    let farm = farm();
    bencher.bench(|| plot_reports(&farm, &Options::default()));
}
