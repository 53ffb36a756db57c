//! Times the reports of the demonstration farm's plots one by one, on one core: the fastest of many.
//! With the name of a plot it makes that plot's report again and again, for a profiler to watch.

use std::hint::black_box;
use std::time::Instant;

use advice::evidence::Evidence;
use advice::farm_jars::FarmJars;
use advice::{Options, demo, plot_report_with, plot_reports};
use ground::belief::{Ensemble, believe};
use ground::water::{Scatter, WaterEnsemble};

const ROUNDS: usize = 100;

fn main() {
    let folder = tempfile::tempdir().expect("a folder");
    let farm = demo::create(folder.path().join("times.farmbook")).and_then(|book| book.snapshot());
    let farm = farm.expect("the demonstration is written and read back");
    if let Some(name) = std::env::args().nth(1) {
        let plot = farm.plot_named(&name).expect("a plot of that name");
        let jars = FarmJars::of(&farm);
        println!("{:.2} ms", fastest(|| plot_report_with(&farm, plot, &jars, &Options::default())));
        return;
    }
    let once = Instant::now();
    black_box(plot_reports(&farm, &Options::default()));
    println!("whole farm, first time {:.1} ms", 1000.0 * once.elapsed().as_secs_f64());
    println!("whole farm, later      {:.1} ms", fastest(|| plot_reports(&farm, &Options::default())));
    let jars = FarmJars::of(&farm);
    println!(
        "{:24}{:>9}{:>9}{:>9}{:>9}{:>9}{:>9}",
        "plot", "whole", "findings", "evidence", "belief", "alone", "water"
    );
    for plot in &farm.plots {
        let evidence = Evidence::of(&farm, plot.id, &jars);
        let belief = believe(&evidence.witnesses, &ground::belief::Options::default());
        let alone = ground::belief::Options { compare_witnesses: false, ..Default::default() };
        let findings = Options { weigh_measurements: false, ..Options::default() };
        println!(
            "{:24}{:9.2}{:9.2}{:9.2}{:9.2}{:9.2}{:9.2}",
            plot.body.name,
            fastest(|| plot_report_with(&farm, plot, &jars, &Options::default())),
            fastest(|| plot_report_with(&farm, plot, &jars, &findings)),
            fastest(|| Evidence::of(&farm, plot.id, &jars)),
            fastest(|| believe(&evidence.witnesses, &ground::belief::Options::default())),
            fastest(|| believe(&evidence.witnesses, &alone)),
            fastest(|| WaterEnsemble::of(&Ensemble::of(&belief, &evidence.beside), Scatter::OfRealSoils)
                .summary(300.0)),
        );
    }
}

/// Milliseconds of the fastest of some runs.
fn fastest<T>(work: impl Fn() -> T) -> f64 {
    (0..ROUNDS)
        .map(|_| {
            let started = Instant::now();
            black_box(work());
            1000.0 * started.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min)
}
