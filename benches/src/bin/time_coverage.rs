//! Spatial coverage of a five-acre polygon with 20 points: the fastest of several runs on one core, and how well it
//! covers, as JSON for `coverage.sh`.

use std::time::Instant;

use ground::spatial::sampling::coverage::{Coverage, Spreading, spread};
use ground::spatial::sampling::ground_to_sample::Ground;
use ground::spatial::sampling::shape::Area;

/// Five acres and a little, with a bite out of it.
const CORNERS: [[f64; 2]; 8] = [
    [0.0, 0.0],
    [150.0, -20.0],
    [190.0, 40.0],
    [150.0, 60.0],
    [170.0, 110.0],
    [80.0, 150.0],
    [10.0, 140.0],
    [-15.0, 70.0],
];
const POINTS: usize = 20;
const RUNS: usize = 15;

fn main() {
    let ground = Ground::whole(Area { outer: CORNERS.to_vec(), holes: Vec::new() });
    let Some((plain_ms, plain)) = fastest(&ground, false) else { return };
    let Some((equal_ms, equal)) = fastest(&ground, true) else { return };
    println!(
        "{{\"fastest_ms\": {plain_ms}, \"equal_area_ms\": {equal_ms}, \"mean_squared_m2\": {}, \"equal_mean_squared_m2\": {}, \
         \"bound_m2\": {}}}",
        plain.mean_squared_m2, equal.mean_squared_m2, plain.bound_m2
    );
}

fn fastest(ground: &Ground, equal_area: bool) -> Option<(f64, Coverage)> {
    (0..RUNS)
        .filter_map(|_| {
            let start = Instant::now();
            let found = spread(ground, POINTS, &Spreading { equal_area, seed: 5, ..Spreading::default() })?;
            Some((start.elapsed().as_secs_f64() * 1000.0, found))
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))
}
