//! Times a year of a hundred beds and prints time and answer as JSON, for `balance.sh`.

use std::time::Instant;

use benches::season::{BEDS, DAYS, day, farm_year, soils};

fn main() {
    let beds: Vec<_> = (0..BEDS).map(soils).collect();
    let days: Vec<_> = (0..DAYS).map(day).collect();
    let fastest = |threads: usize| {
        (0..5)
            .map(|_| {
                let started = Instant::now();
                std::hint::black_box(farm_year(&beds, &days, threads));
                started.elapsed().as_secs_f64() * 1000.0
            })
            .fold(f64::INFINITY, f64::min)
    };
    let (one, two) = (fastest(1), fastest(2));
    let year = farm_year(&beds, &days, 2);
    println!(
        "{{\"one_core_ms\": {one:.1}, \"two_cores_ms\": {two:.1}, \"depletion_mm\": {:.8}, \"et_mm\": {:.8}, \"lost_below_mm\": {:.8}, \"stressed_d\": {:.8}}}",
        year.depletion_mm, year.et_mm, year.lost_below_mm, year.stressed_d
    );
}
