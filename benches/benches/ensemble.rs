//! Evidence to odds for one plot: five witnesses, 4,000 draws.

use benches::{beside, five_witnesses, plot, what_would_settle};
use divan::{Bencher, black_box};
use ground::belief::{Ensemble, Options, believe};
use ground::water::{Scatter, WaterEnsemble};

fn main() {
    divan::main();
}

#[divan::bench]
fn belief(bencher: Bencher<'_, '_>) {
    let witnesses = five_witnesses();
    let options = Options { compare_witnesses: false, ..Options::default() };
    bencher.bench_local(|| believe(black_box(&witnesses), &options));
}

#[divan::bench]
fn belief_with_disagreements(bencher: Bencher<'_, '_>) {
    let witnesses = five_witnesses();
    bencher.bench_local(|| believe(black_box(&witnesses), &Options::default()));
}

#[divan::bench]
fn soil_water_of_the_ensemble(bencher: Bencher<'_, '_>) {
    let belief = believe(&five_witnesses(), &Options::default());
    bencher.bench_local(|| {
        WaterEnsemble::of(&Ensemble::of(black_box(&belief), &beside()), Scatter::None).summary(300.0)
    });
}

#[divan::bench]
fn what_would_settle_it(bencher: Bencher<'_, '_>) {
    let belief = believe(&five_witnesses(), &Options::default());
    bencher.bench_local(|| what_would_settle(black_box(&belief)));
}

#[divan::bench]
fn whole_plot(bencher: Bencher<'_, '_>) {
    let witnesses = five_witnesses();
    bencher.bench_local(|| {
        let answer = plot(black_box(&witnesses), &Options::default());
        let worth = what_would_settle(&answer.belief);
        (answer.holds_well, answer.takes_in, worth.len())
    });
}
