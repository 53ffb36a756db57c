//! What must hold of every curve and every run, whatever the soil: the invariants of the flow equation.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use ground::texture::Class;
use ground::water::flow::{
    Bottom, Case, Layer, Options, Period, Profile, ProfileQuestion, RootShape, Roots, Run, Solver, Spacing,
    Start, Surface, Top, Uptake, csv,
};
use ground::water::retention::{
    BrooksCorey, ClassSet, Curve, Gardner, Haverkamp, Retention, TextureCurve, Theory, VanGenuchten,
};
use ground::water::{SoilWaterInput, soil_water};
use proptest::prelude::*;

fn texture(sand: f64, clay: f64, om: f64, firm: f64, gravel: f64) -> Option<Curve> {
    let water = soil_water(&SoilWaterInput {
        sand_percent: sand,
        clay_percent: clay.min(100.0 - sand),
        organic_matter_percent: om,
        gravel_mass_percent: gravel,
        density_factor: firm,
        ec_ds_m: 0.0,
    });
    TextureCurve::of(&water).ok().map(Curve::Texture)
}

fn any_texture() -> impl Strategy<Value = Curve> {
    (0.0..95.0, 2.0..60.0, 0.5..8.0, 0.9..1.2, 0.0..50.0)
        .prop_filter_map("the equations give a curve", |(sand, clay, om, firm, gravel)| {
            texture(sand, clay, om, firm, gravel)
        })
}

fn any_curve() -> impl Strategy<Value = Curve> {
    let class = (0_usize..12, 0_usize..4)
        .prop_filter_map("a row", |(class, set)| ClassSet::ALL[set].curve(Class::ALL[class]));
    let free = (0.0..0.1, 0.3..0.6, 0.002..0.2, 1.05..4.0, 0.01..50.0).prop_map(|(r, s, a, n, k)| {
        Curve::VanGenuchten(VanGenuchten { theta_r: r, theta_s: s, alpha_per_cm: a, n, ks_cm_h: k, l: 0.5 })
    });
    let corey = (0.0..0.1, 0.3..0.6, 2.0..80.0, 0.08..2.0, 0.01..50.0).prop_map(|(r, s, b, lambda, k)| {
        Curve::BrooksCorey(BrooksCorey {
            theta_r: r,
            theta_s: s,
            bubbling_cm: b,
            lambda,
            ks_cm_h: k,
            theory: Theory::Mualem,
        })
    });
    let gardner = (0.005..0.2, 0.01..50.0).prop_map(|(alpha, k)| {
        Curve::Gardner(Gardner { theta_r: 0.05, theta_s: 0.4, alpha_per_cm: alpha, ks_cm_h: k })
    });
    let haverkamp = Just(Curve::Haverkamp(Haverkamp {
        theta_r: 0.075,
        theta_s: 0.287,
        water_scale: 1.611e6,
        water_power: 3.96,
        ks_cm_h: 34.0,
        conductivity_scale: 1.175e6,
        conductivity_power: 4.74,
    }));
    prop_oneof![class, free, corey, gardner, haverkamp, any_texture()]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn curves_rise_with_the_head_and_never_pass_saturation(curve in any_curve(), first in -5.0..4.0_f64, more in 0.0..3.0_f64) {
        let (dry, wet) = (-libm::pow(10.0, first + more), -libm::pow(10.0, first));
        let (dry, wet) = (curve.point(dry), curve.point(wet));
        prop_assert!(dry.theta <= wet.theta && wet.theta <= curve.saturation() && dry.theta >= curve.residual());
        prop_assert!(wet.conductivity_cm_h <= curve.saturated_conductivity_cm_h() * (1.0 + 1e-12));
        prop_assert!(dry.conductivity_cm_h <= wet.conductivity_cm_h * (1.0 + 1e-9));
        for point in [dry, wet, curve.point(0.0), curve.point(50.0)] {
            prop_assert!(point.capacity_per_cm >= 0.0 && point.conductivity_slope_per_h >= 0.0);
            prop_assert!(point.conductivity_slope_per_h.is_finite() && point.capacity_per_cm.is_finite());
        }
    }

    #[test]
    fn slopes_and_the_way_back_belong_to_the_curve(curve in any_curve(), log in 0.0..3.5_f64) {
        let head = -libm::pow(10.0, log);
        let at = curve.point(head);
        let step = 1e-5 * head.abs();
        let (low, high) = (curve.point(head - step), curve.point(head + step));
        let slope = (high.theta - low.theta) / (2.0 * step);
        // A corner of a curve may lie within the step.
        let corner = (high.capacity_per_cm - low.capacity_per_cm).abs() > 1e-3 * at.capacity_per_cm;
        prop_assert!(corner || (slope - at.capacity_per_cm).abs() <= 1e-4 * at.capacity_per_cm + 1e-11);
        if at.capacity_per_cm > 1e-6 {
            let (back, point) = curve.point_at(at.theta);
            prop_assert!((back / head - 1.0).abs() < 1e-5, "{} {}", back, head);
            prop_assert!((point.conductivity_cm_h / at.conductivity_cm_h - 1.0).abs() < 1e-3);
        }
    }
}

fn run(case: &Case, times: &[f64]) -> Run {
    let mut run = Run::new();
    Solver::new().run(case, &Options::default(), times, &mut run).unwrap();
    run
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn water_is_neither_made_nor_lost(
        upper in any_texture(), lower in any_texture(), head in prop_oneof![-3000.0..-30.0_f64, -30.0..0.0_f64],
        rain in 0.05..4.0_f64, hours in 0.5..8.0_f64, pond in 0.0..2.0_f64, closed in any::<bool>(),
    ) {
        let layers = [Layer { thickness_cm: 25.0, curve: upper }, Layer { thickness_cm: 35.0, curve: lower }];
        let case = Case {
            profile: Profile::new(&layers, Spacing::Growing { first_cm: 0.5, factor: 1.1, greatest_cm: 2.0 }).unwrap(),
            start: Start::Head(head),
            surface: Surface {
                top: Top::Open { pond_limit_cm: pond, driest_head_cm: -15_000.0 },
                periods: vec![
                    Period { until_h: hours, water_cm_h: rain, ..Period::default() },
                    Period { until_h: 40.0, water_cm_h: 0.0, evaporation_cm_h: 0.03, transpiration_cm_h: 0.02 },
                ],
            },
            bottom: if closed { Bottom::Closed } else { Bottom::FreeDrainage },
            roots: Some(Roots { depth_cm: 30.0, shape: RootShape::Thinning, uptake: Uptake::default() }),
        };
        let run = run(&case, &[hours, 12.0 + hours, 36.0]);
        let mut before = 0.0;
        for at in &run.snapshots {
            let t = at.totals;
            prop_assert!(t.balance_error_cm().abs() < 1e-6 * t.moved_cm() + 1e-9, "{:?}", t);
            prop_assert!(t.runoff_cm >= -1e-9 && t.standing_cm <= pond + 1e-9 && t.standing_cm >= -1e-9);
            prop_assert!(t.evaporation_cm >= before - 1e-9);
            before = t.evaporation_cm;
            for (cell, theta) in at.theta.iter().enumerate() {
                let curve = case.profile.curves()[case.profile.layer_of(cell)];
                prop_assert!(*theta <= curve.saturation() + 1e-5 && *theta > 0.0);
            }
        }
        prop_assert!((run.snapshots[0].totals.applied_cm - rain * hours).abs() < 1e-9 * rain * hours);
    }

    #[test]
    fn a_profile_at_rest_stays_at_rest(upper in any_texture(), lower in any_texture(), table in 5.0..200.0_f64) {
        let layers = [Layer { thickness_cm: 20.0, curve: upper }, Layer { thickness_cm: 40.0, curve: lower }];
        let case = Case {
            profile: Profile::new(&layers, Spacing::Even(2.0)).unwrap(),
            start: Start::WaterTable(table),
            surface: Surface { top: Top::Open { pond_limit_cm: 1.0, driest_head_cm: -1e5 }, periods: vec![] },
            bottom: Bottom::Closed,
            roots: None,
        };
        let run = run(&case, &[100.0]);
        for (head, depth) in run.snapshots[0].head_cm.iter().zip(&run.depth_cm) {
            prop_assert!((head - (depth - table)).abs() < 1e-6, "{} {}", head, depth - table);
        }
        prop_assert_eq!(run.snapshots[0].totals.drainage_cm, 0.0);
    }
}

/// However much is poured on, no more enters than the ground takes, and over a closed pan it stands.
#[test]
fn a_tight_pan_lets_water_stand_and_run_off() {
    let curve = ClassSet::CarselParrish1988.curve(Class::Loam).unwrap();
    let case = Case {
        profile: Profile::new(&[Layer { thickness_cm: 40.0, curve }], Spacing::Even(1.0)).unwrap(),
        start: Start::Head(-200.0),
        surface: Surface {
            top: Top::Open { pond_limit_cm: 0.5, driest_head_cm: -15_000.0 },
            periods: vec![Period { until_h: 30.0, water_cm_h: 2.0, ..Period::default() }],
        },
        bottom: Bottom::Closed,
        roots: None,
    };
    let run = run(&case, &[30.0]);
    let t = run.snapshots[0].totals;
    let room = 40.0 * 0.43 - t.storage_at_start_cm;
    assert!((t.storage_cm - 40.0 * 0.43).abs() < 2e-3, "{t:?}");
    assert!((t.standing_cm - 0.5).abs() < 1e-9);
    assert!((t.runoff_cm - (60.0 - room - 0.5)).abs() < 2e-3, "{t:?}");
    // Full ground over a pan is at rest under its own weight.
    for (head, depth) in run.snapshots[0].head_cm.iter().zip(&run.depth_cm) {
        assert!((head - (depth + 0.5)).abs() < 0.05, "{head} {depth}");
    }
}

/// The clays of the sets, whose conductivity collapses next to saturation, and the curves with a corner
/// at air entry run through all the same, from dry to full and over any lower end.
#[test]
fn every_class_of_every_set_takes_a_storm() {
    let (mut solver, mut run) = (Solver::new(), Run::new());
    for set in ClassSet::ALL {
        for curve in Class::ALL.iter().filter_map(|class| set.curve(*class)) {
            let bottoms = [Bottom::FreeDrainage, Bottom::Closed, Bottom::Head(0.0)];
            let starts = [-15_000.0, -300.0, -100.0, -10.0, -1.0, 0.0];
            for (head, bottom) in starts.into_iter().flat_map(|head| bottoms.map(|bottom| (head, bottom))) {
                let case = Case {
                    profile: Profile::new(&[Layer { thickness_cm: 60.0, curve }], Spacing::Even(1.0))
                        .unwrap(),
                    start: Start::Head(head),
                    surface: Surface {
                        top: Top::Open { pond_limit_cm: 0.5, driest_head_cm: -15_000.0 },
                        periods: vec![
                            Period { until_h: 2.0, water_cm_h: 2.5, ..Period::default() },
                            Period { until_h: 48.0, evaporation_cm_h: 0.03, ..Period::default() },
                        ],
                    },
                    bottom,
                    roots: None,
                };
                let done = solver.run(&case, &Options::default(), &[2.0, 48.0], &mut run);
                assert!(done.is_ok(), "{set:?} {curve:?} {head} {bottom:?}: {done:?}");
                assert!(
                    run.snapshots[1].totals.balance_error_cm().abs()
                        < 1e-6 * run.snapshots[1].totals.moved_cm()
                );
                println!(
                    "{} {head} {bottom:?}: {} steps, {} corrections",
                    set.words(),
                    run.steps,
                    run.corrections
                );
            }
        }
    }
}

const CASE: &str = r#"
start = { head_cm = -336.5 }
bottom = "free_drainage"
times_h = [1, 24]
pond_limit_mm = 5

[[layers]]
thickness_cm = 30
soil = { texture = { sand_percent = 40, clay_percent = 20, organic_matter_percent = 2.5 } }

[[layers]]
thickness_cm = 30
soil = { class = { texture = "clay loam", set = "schaap2001" } }

[[periods]]
until_h = 4
water_mm_h = 6
"#;

#[test]
fn a_case_file_is_read_run_and_written() {
    let (run, _) = ProfileQuestion::from_toml(CASE).unwrap().run().unwrap();
    let text = csv(&run);
    let rows: Vec<&str> = text.lines().collect();
    assert_eq!(rows.len(), 1 + 2 * 60);
    assert!(rows[0].starts_with("time_h,depth_cm,water_content_m3_m3,head_cm,applied_mm"));
    assert!(rows[61].starts_with("24,0.5"), "{}", rows[61]);
    assert!((run.snapshots[1].totals.applied_cm - 2.4).abs() < 1e-9);
}

#[test]
fn a_wrong_case_names_the_layer_and_the_field() {
    let refused = |from: &str, to: &str| {
        let refusal = ProfileQuestion::from_toml(&CASE.replace(from, to))
            .and_then(|question| question.run().map(|_| ()))
            .unwrap_err();
        assert!(!refusal.message.is_empty());
        refusal.field
    };
    assert_eq!(refused("sand_percent = 40", "sand_percent = 140"), "layers[0].soil.texture.sand_percent");
    assert_eq!(refused("clay_percent = 20", "clay_percent = 75"), "layers[0].soil.texture.clay_percent");
    assert_eq!(
        refused(
            "clay_percent = 20, organic_matter_percent = 2.5",
            "clay_percent = 60, organic_matter_percent = 5"
        ),
        "layers[0].soil.texture"
    );
    assert_eq!(refused("thickness_cm = 30", "thickness_cm = -3"), "layers[0].thickness_cm");
    assert_eq!(refused("[1, 24]", "[24, 1]"), "times_h[1]");
    assert_eq!(refused("head_cm = -336.5", "layer_water_m3_m3 = [0.2]"), "start.layer_water_m3_m3");
    assert_eq!(refused("head_cm = -336.5", "layer_water_m3_m3 = [0.2, 0.9]"), "start.layer_water_m3_m3[1]");
    assert_eq!(refused("bottom", "botom"), "botom");
    assert_eq!(refused("pond_limit_mm = 5", "surface_head_cm = -5"), "surface_head_cm");
    assert_eq!(refused("start", "= ="), "");
}
