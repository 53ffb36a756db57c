//! Whole profiles against fine-grid solutions and exact ones.
//!
//! The tables in `tests/data` say how they were computed. What is asked of cells of 1 cm: a mean
//! difference of at most 0.003 in water content, infiltration and storage within 1 %, fronts within
//! 1 cm, and a water balance closed to a millionth of what moved.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use ground::texture::Class;
use ground::water::flow::{
    Bottom, Case, Layer, Options, Period, Profile, Run, Solver, Spacing, Start, Surface, Top,
};
use ground::water::retention::{ClassSet, Curve, Gardner, Haverkamp, VanGenuchten};

/// Columns of a table: depths, and a profile a time.
fn table(text: &str) -> (Vec<f64>, Vec<Vec<f64>>) {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let rows: Vec<Vec<f64>> =
        reader.records().map(|row| row.unwrap().iter().map(|cell| cell.parse().unwrap()).collect()).collect();
    let depths = rows.iter().map(|row| row[0]).collect();
    let times = (1..rows[0].len()).map(|at| rows.iter().map(|row| row[at]).collect()).collect();
    (depths, times)
}

/// Mean difference between a snapshot and a table, each table row read between the middles of the
/// two cells around it, or in its own cell where a layer ends between them.
fn mean_difference(run: &Run, snapshot: usize, depths: &[f64], theta: &[f64], layer_end: f64) -> f64 {
    let own = &run.snapshots[snapshot].theta;
    let sum: f64 = depths
        .iter()
        .zip(theta)
        .map(|(depth, wanted)| {
            let below =
                run.depth_cm.iter().position(|centre| centre >= depth).unwrap_or(own.len() - 1).max(1);
            let (upper, lower) = (run.depth_cm[below - 1], run.depth_cm[below]);
            let got = if upper < layer_end && lower > layer_end {
                run.theta_at(snapshot, *depth).unwrap()
            } else {
                let share = ((depth - upper) / (lower - upper)).clamp(0.0, 1.0);
                own[below - 1] + share * (own[below] - own[below - 1])
            };
            (got - wanted).abs()
        })
        .sum();
    sum / f64::from(u32::try_from(depths.len()).unwrap())
}

fn run(case: &Case, times: &[f64]) -> Run {
    run_within(Options::default().step_error, case, times)
}

fn run_within(step_error: f64, case: &Case, times: &[f64]) -> Run {
    let mut run = Run::new();
    Solver::new().run(case, &Options { step_error, ..Options::default() }, times, &mut run).unwrap();
    for at in &run.snapshots {
        let error = at.totals.balance_error_cm().abs();
        assert!(error < 1e-6 * at.totals.moved_cm(), "balance off by {error} cm at {} h", at.time_h);
    }
    println!("{} steps, {} repeated, {} corrections", run.steps, run.repeated, run.corrections);
    run
}

fn within(got: f64, wanted: f64, tolerance: f64, what: &str) {
    println!("{what}: {got:.5}, wanted {wanted:.5}, off by {:.5}", got - wanted);
    assert!((got - wanted).abs() <= tolerance, "{what}: {got}, wanted {wanted} within {tolerance}");
}

fn held(curve: Curve, depth_cm: f64, cell_cm: f64, start: f64, top: f64, bottom: f64) -> Case {
    Case {
        profile: Profile::new(&[Layer { thickness_cm: depth_cm, curve }], Spacing::Even(cell_cm)).unwrap(),
        start: Start::Head(start),
        surface: Surface { top: Top::Head(top), periods: vec![] },
        bottom: Bottom::Head(bottom),
        roots: None,
    }
}

#[test]
fn haverkamp_sand() {
    let curve = Curve::Haverkamp(Haverkamp {
        theta_r: 0.075,
        theta_s: 0.287,
        water_scale: 1.611e6,
        water_power: 3.96,
        ks_cm_h: 0.00944 * 3600.0,
        conductivity_scale: 1.175e6,
        conductivity_power: 4.74,
    });
    let run = run(&held(curve, 40.0, 1.0, -61.5, -20.7, -61.5), &[60.0 / 3600.0, 0.05, 0.1]);
    let (depths, times) = table(include_str!("data/flow_haverkamp_sand.csv"));
    for (at, (infiltration, outflow, front)) in
        [(0.79775, 0.00220, 5.590), (1.52496, 0.00660, 10.462), (2.38118, 0.01319, 15.996)]
            .into_iter()
            .enumerate()
    {
        let mean = mean_difference(&run, at, &depths, &times[at], f64::MAX);
        within(mean, 0.0, 0.003, "mean difference");
        let totals = run.snapshots[at].totals;
        within(totals.infiltration_cm, infiltration, 0.01 * infiltration, "infiltration");
        within(totals.drainage_cm, outflow, 0.01 * outflow, "outflow");
        within(run.front_cm(at, 0.15).unwrap(), front, 1.0, "front");
    }
}

#[test]
fn celia_new_mexico() {
    let curve = Curve::VanGenuchten(VanGenuchten {
        theta_r: 0.102,
        theta_s: 0.368,
        alpha_per_cm: 0.0335,
        n: 2.0,
        ks_cm_h: 0.00922 * 3600.0,
        l: 0.5,
    });
    let run = run(&held(curve, 100.0, 1.0, -1000.0, -75.0, -1000.0), &[6.0, 12.0, 24.0]);
    let (depths, times) = table(include_str!("data/flow_celia_newmexico.csv"));
    for (at, (infiltration, front)) in
        [(1.7402, 22.546), (2.6331, 33.739), (4.1128, 51.785)].into_iter().enumerate()
    {
        let mean = mean_difference(&run, at, &depths, &times[at], f64::MAX);
        within(mean, 0.0, 0.003, "mean difference");
        within(run.snapshots[at].totals.infiltration_cm, infiltration, 0.01 * infiltration, "infiltration");
        within(run.front_cm(at, 0.15).unwrap(), front, 1.0, "front");
    }
}

#[test]
fn layered_pulse() {
    let layer = |thickness_cm, class| Layer {
        thickness_cm,
        curve: ClassSet::CarselParrish1988.curve(class).unwrap(),
    };
    let layers = [layer(30.0, Class::SandyLoam), layer(70.0, Class::ClayLoam)];
    let case = Case {
        profile: Profile::new(&layers, Spacing::Even(1.0)).unwrap(),
        start: Start::Head(-200.0),
        surface: Surface {
            top: Top::Open { pond_limit_cm: 0.0, driest_head_cm: -15_000.0 },
            periods: vec![Period { until_h: 4.0, water_cm_h: 1.0, ..Period::default() }],
        },
        bottom: Bottom::FreeDrainage,
        roots: None,
    };
    let run = run(&case, &[1.0, 4.0, 8.0, 24.0, 72.0]);
    let (depths, times) = table(include_str!("data/flow_layered_pulse.csv"));
    let storage = [3.8768, 6.8767, 6.8765, 6.3645, 5.4105];
    let outflow = [0.00029, 0.00115, 0.00230, 0.00691, 0.02072];
    for at in 0..5 {
        let mean = mean_difference(&run, at, &depths, &times[at], 30.0);
        within(mean, 0.0, 0.003, "mean difference");
        within(
            run.water_between_cm(at, 0.0, 30.0).unwrap(),
            storage[at],
            0.01 * storage[at],
            "storage above 30 cm",
        );
        within(run.snapshots[at].totals.drainage_cm, outflow[at], 6e-6, "outflow");
        assert_eq!(run.snapshots[at].totals.runoff_cm, 0.0);
    }
}

/// Srivastava and Yeh 1991, by their series: heads at 10, 30, 50, 70 and 90 cm depth.
#[test]
fn srivastava_and_yeh() {
    let curve = Curve::Gardner(Gardner { theta_r: 0.06, theta_s: 0.40, alpha_per_cm: 0.1, ks_cm_h: 1.0 });
    let profile = Profile::new(&[Layer { thickness_cm: 100.0, curve }], Spacing::Even(0.25)).unwrap();
    let start = profile
        .centres_cm()
        .iter()
        .map(|depth| libm::log(0.1 + 0.9 * libm::exp(-0.1 * (100.0 - depth))) / 0.1)
        .collect();
    let case = Case {
        profile,
        start: Start::CellHeads(start),
        surface: Surface {
            top: Top::Open { pond_limit_cm: 0.0, driest_head_cm: -1e5 },
            periods: vec![Period { until_h: 200.0, water_cm_h: 0.9, ..Period::default() }],
        },
        bottom: Bottom::Head(0.0),
        roots: None,
    };
    let run = run_within(1e-5, &case, &[5.0, 10.0, 20.0, 100.0]);
    let wanted = [
        [-6.000, -15.331, -21.523, -19.305, -8.414],
        [-3.106, -7.563, -14.190, -17.484, -8.335],
        [-1.604, -2.921, -5.429, -8.487, -6.047],
        [-1.054, -1.053, -1.048, -1.003, -0.657],
    ];
    for (at, wanted) in wanted.iter().enumerate() {
        for (depth, wanted) in [10.0, 30.0, 50.0, 70.0, 90.0].into_iter().zip(wanted) {
            let below = run.depth_cm.iter().position(|centre| *centre > depth).unwrap();
            let heads = &run.snapshots[at].head_cm;
            // The depths asked for lie on faces: half way between two cells.
            within(0.5 * (heads[below - 1] + heads[below]), *wanted, 0.01, "head");
        }
    }
}

/// Gardner's steady flux over a water table: h = ln[q/Ks + (1 − q/Ks) e^(−αz)]/α.
#[test]
fn gardner_steady() {
    let curve = Curve::Gardner(Gardner { theta_r: 0.06, theta_s: 0.40, alpha_per_cm: 0.05, ks_cm_h: 1.0 });
    let profile = Profile::new(&[Layer { thickness_cm: 120.0, curve }], Spacing::Even(0.5)).unwrap();
    let case = Case {
        profile,
        start: Start::WaterTable(120.0),
        surface: Surface {
            top: Top::Open { pond_limit_cm: 0.0, driest_head_cm: -1e5 },
            periods: vec![Period { until_h: 2000.0, water_cm_h: 0.2, ..Period::default() }],
        },
        bottom: Bottom::Head(0.0),
        roots: None,
    };
    let run = run(&case, &[2000.0]);
    for (z, wanted) in [(10.0, -7.5602), (50.0, -26.5102), (100.0, -31.6569)] {
        let below = run.depth_cm.iter().position(|centre| *centre > 120.0 - z).unwrap();
        let heads = &run.snapshots[0].head_cm;
        within(0.5 * (heads[below - 1] + heads[below]), wanted, 0.01, "head");
    }
}
