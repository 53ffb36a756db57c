//! The daily balance of the root zone: one bed of 500 draws through a year, and the farm of a hundred.

use benches::season::{BEDS, DAYS, day, farm_year, soils};
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

#[divan::bench]
fn a_bed_through_a_year(bencher: Bencher<'_, '_>) {
    let bed = [soils(0)];
    let days: Vec<_> = (0..DAYS).map(day).collect();
    bencher.bench_local(|| benches::season::year(black_box(&bed), &days));
}

#[divan::bench(sample_count = 10)]
fn a_hundred_beds_on_two_threads(bencher: Bencher<'_, '_>) {
    let beds: Vec<_> = (0..BEDS).map(soils).collect();
    let days: Vec<_> = (0..DAYS).map(day).collect();
    bencher.bench_local(|| farm_year(black_box(&beds), &days, 2));
}
