//! Times evidence to odds for one plot and prints time and answer as JSON, for `compare.sh`.
//! With the argument `feel` it prints the feel test's likelihood instead, so that the reference
//! hears the same witness.

use std::time::Instant;

use benches::{five_witnesses, plot};
use ground::belief::{Account, Options};
use ground::texture::Class;

fn main() {
    let witnesses = five_witnesses();
    if std::env::args().nth(1).as_deref() == Some("feel") {
        for witness in &witnesses {
            if let Account::Named { likelihood, .. } = &witness.account {
                println!("{likelihood:?}");
            }
        }
        return;
    }
    // The reference does not hold the witnesses against each other either.
    let options = Options { compare_witnesses: false, ..Options::default() };
    let mut times: Vec<f64> = (0..60)
        .map(|_| {
            let started = Instant::now();
            std::hint::black_box(plot(&witnesses, &options));
            started.elapsed().as_secs_f64() * 1000.0
        })
        .collect();
    times.sort_unstable_by(f64::total_cmp);
    let answer = plot(&witnesses, &options);
    let clay = answer.belief.clay;
    println!(
        "{{\"fastest_ms\": {:.3}, \"median_ms\": {:.3}, \"loam\": {:.4}, \"clay_low\": {:.4}, \"clay_median\": {:.4}, \"clay_high\": {:.4}, \"holds_well\": {:.4}, \"takes_in\": {:.4}}}",
        times[0],
        times[times.len() / 2],
        answer.belief.odds(|soil| Class::of(soil) == Class::Loam),
        clay.low,
        clay.median,
        clay.high,
        answer.holds_well,
        answer.takes_in,
    );
}
