//! Times ordinary kriging of 500 readings to a grid of 200 × 200 and prints times and the first estimates as JSON, for
//! `kriging.sh`. Readings come on the command line as a CSV file, so that both sides have the same.

use std::fmt::Write;
use std::time::Instant;

use ground::spatial::kriging::{Field, Nugget};
use ground::spatial::variogram::model::{Shape, Variogram};

const SIDE: u32 = 200;
const EXTENT_M: f64 = 1000.0;
const RUNS: usize = 9;

fn main() {
    let path = std::env::args().nth(1).expect("the file of readings");
    let text = std::fs::read_to_string(path).expect("a file that can be read");
    let rows: Vec<[f64; 3]> = text
        .lines()
        .map(|line| {
            let mut parts = line.split(',').map(|part| part.parse().expect("a number"));
            [(); 3].map(|()| parts.next().expect("three numbers"))
        })
        .collect();
    let at: Vec<[f64; 2]> = rows.iter().map(|row| [row[0], row[1]]).collect();
    let values: Vec<f64> = rows.iter().map(|row| row[2]).collect();
    let step = EXTENT_M / f64::from(SIDE - 1);
    let places: Vec<[f64; 2]> =
        (0..SIDE * SIDE).map(|cell| [f64::from(cell % SIDE) * step, f64::from(cell / SIDE) * step]).collect();
    let mut runs = String::new();
    for (name, shape, range_m) in
        [("spherical", Shape::Spherical, 300.0), ("exponential", Shape::Exponential, 100.0)]
    {
        let model = Variogram { shape, nugget: 0.1, partial_sill: 0.9, range_m, smoothness: 0.5 };
        let mut fastest = f64::INFINITY;
        let mut told = Vec::new();
        for _ in 0..RUNS {
            let began = Instant::now();
            let field = Field::new(&at, model, Nugget::Variation).expect("a sound covariance");
            let solved = field.solve(&values);
            told = field.estimate_all(&solved, &places);
            fastest = fastest.min(began.elapsed().as_secs_f64());
        }
        let list = |of: fn(&ground::spatial::kriging::Estimate) -> f64| {
            told.iter().map(|one| format!("{:e}", of(one))).collect::<Vec<_>>().join(",")
        };
        let comma = if runs.is_empty() { "" } else { "," };
        write!(
            runs,
            "{comma}{{\"model\":\"{name}\",\"fastest_s\":{fastest},\"value\":[{}],\"variance\":[{}]}}",
            list(|one| one.value),
            list(|one| one.variance)
        )
        .expect("a string takes it");
    }
    println!("[{runs}]");
}
