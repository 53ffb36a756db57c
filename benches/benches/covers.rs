//! Choosing covers: every species for fifty plots of 500 draws.

use benches::covers::Farm;
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

#[divan::bench]
fn fifty_plots(bencher: Bencher<'_, '_>) {
    let Some(farm) = Farm::new() else { return };
    bencher.bench_local(|| black_box(farm.rank()));
}
