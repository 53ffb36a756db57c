//! Times water moving down a profile and prints times and errors as JSON, for `flow.sh`: a published
//! infiltration against its fine-grid profile (a CSV file, the first argument), and 200 draws of a day
//! with an irrigation.

use std::time::Instant;

use ground::water::flow::{
    Bottom, Case, Layer, Options, Period, Profile, Run, Solver, Spacing, Start, Surface, Top,
};
use ground::water::retention::{Curve, VanGenuchten};
use ground::water::{SoilWaterInput, soil_water};

fn infiltration(cells: f64) -> Case {
    let curve = Curve::VanGenuchten(VanGenuchten {
        theta_r: 0.102,
        theta_s: 0.368,
        alpha_per_cm: 0.0335,
        n: 2.0,
        ks_cm_h: 0.00922 * 3600.0,
        l: 0.5,
    });
    let layers = [Layer { thickness_cm: 100.0, curve }];
    Case {
        profile: Profile::new(&layers, Spacing::Even(100.0 / cells)).expect("a sound profile"),
        start: Start::Head(-1000.0),
        surface: Surface { top: Top::Head(-75.0), periods: vec![] },
        bottom: Bottom::Head(-1000.0),
        roots: None,
    }
}

/// Mean difference from the fine-grid profile at 24 h, read between the middles of cells.
fn error(run: &Run, rows: &[(f64, f64)]) -> f64 {
    let theta = &run.snapshots[0].theta;
    let sum: f64 = rows
        .iter()
        .map(|(depth, wanted)| {
            let below =
                run.depth_cm.iter().position(|centre| centre >= depth).unwrap_or(theta.len() - 1).max(1);
            let (upper, lower) = (run.depth_cm[below - 1], run.depth_cm[below]);
            let share = ((depth - upper) / (lower - upper)).clamp(0.0, 1.0);
            (theta[below - 1] + share * (theta[below] - theta[below - 1]) - wanted).abs()
        })
        .sum();
    sum / rows.len() as f64
}

/// A plot's draws: loams about one make-up, over a firmer subsoil with more clay; 25 mm in 5 h.
fn draw(place: u32) -> Option<Case> {
    let stray = |step: u32| f64::from((place * step) % 200) / 200.0 - 0.5;
    let soil = |sand: f64, clay: f64, firm: f64| {
        soil_water(&SoilWaterInput {
            sand_percent: sand + 24.0 * stray(7),
            clay_percent: clay + 12.0 * stray(11),
            organic_matter_percent: 2.5 + 2.0 * stray(13),
            gravel_mass_percent: 0.0,
            density_factor: firm + 0.1 * stray(17),
            ec_ds_m: 0.0,
        })
    };
    let layers = [
        Layer::of_soil_water(30.0, &soil(45.0, 18.0, 1.0)).ok()?,
        Layer::of_soil_water(30.0, &soil(38.0, 26.0, 1.05)).ok()?,
    ];
    Some(Case {
        profile: Profile::new(&layers, Spacing::Even(1.0)).expect("a sound profile"),
        start: Start::Head(-600.0),
        surface: Surface {
            top: Top::Open { pond_limit_cm: 0.5, driest_head_cm: -15_296.0 },
            periods: vec![Period { until_h: 5.0, water_cm_h: 0.5, ..Period::default() }],
        },
        bottom: Bottom::FreeDrainage,
        roots: None,
    })
}

/// Seconds to run all cases, and how many could not be finished.
fn run_all(cases: &[Case]) -> (f64, usize) {
    let (mut solver, mut run) = (Solver::new(), Run::new());
    let times: Vec<f64> = (1..=24).map(f64::from).collect();
    let started = Instant::now();
    let failed =
        cases.iter().filter(|case| solver.run(case, &Options::default(), &times, &mut run).is_err()).count();
    (started.elapsed().as_secs_f64(), failed)
}

fn main() {
    let path = std::env::args().nth(1).expect("the file of the fine-grid profile");
    let text = std::fs::read_to_string(path).expect("the file can be read");
    let number = |cell: Option<&str>| cell.and_then(|cell| cell.parse().ok()).expect("a number");
    let rows: Vec<(f64, f64)> = text
        .lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| (number(line.split(',').next()), number(line.split(',').nth(3))))
        .collect();
    let runs: Vec<String> = [(50.0, 1e-2), (100.0, 1e-2), (200.0, 5e-3)]
        .into_iter()
        .map(|(cells, step_error)| {
            let (mut solver, mut run) = (Solver::new(), Run::new());
            let case = infiltration(cells);
            let options = Options { step_error, ..Options::default() };
            let mut fastest = f64::INFINITY;
            for _ in 0..40 {
                let started = Instant::now();
                solver.run(&case, &options, &[24.0], &mut run).expect("it runs to its end");
                fastest = fastest.min(started.elapsed().as_secs_f64() * 1000.0);
            }
            format!(
                "{{\"cells\": {cells}, \"fastest_ms\": {fastest:.4}, \"mean_error\": {:.4e}}}",
                error(&run, &rows)
            )
        })
        .collect();
    let cases: Vec<Case> = (0..200).filter_map(draw).collect();
    let (one_core, failed) = run_all(&cases);
    let started = Instant::now();
    std::thread::scope(|scope| {
        for half in cases.chunks(cases.len().div_ceil(2)) {
            scope.spawn(|| run_all(half));
        }
    });
    let two_cores = started.elapsed().as_secs_f64();
    println!(
        "{{\"runs\": [{}], \"ensemble\": {{\"draws\": {}, \"cells\": 60, \"failed\": {failed}, \"one_core_s\": {one_core:.3}, \"two_cores_s\": {two_cores:.3}}}}}",
        runs.join(", "),
        cases.len()
    );
}
