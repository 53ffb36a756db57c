//! Choosing covers: every species for fifty plots of 500 draws.

use benches::covers::Farm;
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

#[divan::bench]
fn fifty_plots(bencher: Bencher<'_, '_>) {
    let Some(farm) = Farm::new() else {
        eprintln!("the example of a year cannot be reckoned with: nothing was timed");
        std::process::exit(1);
    };
    bencher.bench_local(|| black_box(farm.rank()));
}
