//! What holds of every post, tunnel and pull.

use ground::belief::{Beside, Ensemble, Options, believe};
use ground::posts::building_class::BuildingClass;
use ground::posts::class_odds::ClassOdds;
use ground::posts::depth_odds::{GroundDraw, PushedPost, depth_for_odds_m, needed_depth_m};
use ground::posts::post_uplift::{Foot, allowable_pull, concrete_weight, ground_hold};
use ground::posts::screw_anchor::anchor_pull;
use ground::posts::strength::Strength;
use ground::posts::tunnel_shape::Tunnel;
use ground::posts::tunnel_wind::{
    Holds, Place, post_demand, pressure_of_letting_go, pressure_within_margins,
};
use ground::posts::wind_pressure::{
    Edition, Exposure, exposure_factor, speed_of_pressure, velocity_pressure_kpa,
};
use proptest::prelude::*;

fn strength() -> impl Strategy<Value = Strength> {
    prop_oneof![
        (8.0..22.0_f64, 20.0..45.0_f64).prop_map(|(unit_weight_kn_m3, friction_degrees)| Strength::Sand {
            unit_weight_kn_m3,
            friction_degrees
        }),
        (8.0..22.0_f64, 5.0..200.0_f64).prop_map(|(unit_weight_kn_m3, undrained_kpa)| Strength::Clay {
            unit_weight_kn_m3,
            undrained_kpa
        }),
    ]
}

fn foot() -> impl Strategy<Value = Foot> {
    prop_oneof![
        (0.02..0.3_f64).prop_map(|width_m| Foot::Driven { width_m }),
        (0.1..0.6_f64).prop_map(|width_m| Foot::Collar { width_m }),
        (0.1..0.4_f64, 1.1..2.5_f64)
            .prop_map(|(shaft_m, flare)| Foot::Belled { bell_m: shaft_m * flare, shaft_m }),
    ]
}

proptest! {
    #[test]
    fn deeper_feet_hold_more_and_margins_are_kept(foot in foot(), ground in strength(), depth in 0.4..2.5_f64) {
        let (hold, _) = ground_hold(foot, depth, 0.15, ground);
        let (deeper, _) = ground_hold(foot, depth + 0.2, 0.15, ground);
        prop_assert!(hold >= 0.0 && deeper >= hold, "{hold} {deeper}");
        let weight = concrete_weight(foot, depth, false);
        prop_assert!(concrete_weight(foot, depth, true) <= weight);
        prop_assert!(allowable_pull(weight, hold) <= weight + hold);
    }

    #[test]
    fn a_second_helix_never_weakens_a_deep_anchor(ground in strength(), diameter in 0.1..0.3_f64) {
        let one = anchor_pull(&[(diameter, 2.5)], ground);
        let two = anchor_pull(&[(diameter, 2.5 - 3.0 * diameter), (diameter, 2.5)], ground);
        prop_assert!(one > 0.0 && two >= one);
    }

    /// At the speed of letting go, what pulls is what holds; margins are used up before.
    #[test]
    fn at_the_speed_found_load_and_hold_balance(
        span_m in 4.0..12.0_f64, wall_m in 0.0..2.0_f64, share in 0.15..0.55_f64, bay in 0.6..2.5_f64,
        hold in 0.1..20.0_f64, dead in 0.0..1.0_f64, push in 0.1..20.0_f64
    ) {
        let tunnel = Tunnel { span_m, wall_m, rise_m: share * span_m };
        for (place, open) in [(Place::Side, false), (Place::WindwardEdge, false), (Place::DoorEnd, true)] {
            let demand = post_demand(&tunnel, bay, place, open);
            let side = post_demand(&tunnel, bay, Place::Side, false);
            prop_assert!(demand.up_m2 >= side.up_m2 && demand.sideways_m2 >= side.sideways_m2);
            let holds = Holds {
                up_allowable_kn: hold / 3.0,
                up_ultimate_kn: hold,
                sideways_allowable_kn: Some(push / 3.0),
                sideways_ultimate_kn: Some(push),
                dead_kn: dead,
            };
            let (within, _) = pressure_within_margins(demand, &holds);
            let (letting_go, by_uplift) = pressure_of_letting_go(demand, &holds);
            prop_assert!(within < letting_go, "{within} {letting_go}");
            let kz = exposure_factor(Exposure::C, tunnel.mean_height_m(), Edition::Asce2016);
            let speed = speed_of_pressure(letting_go, kz, 1.0);
            let pressure = velocity_pressure_kpa(speed, kz, 1.0);
            let (load, held) = if by_uplift {
                (pressure * demand.up_m2, hold + dead)
            } else {
                (pressure * demand.sideways_m2, push)
            };
            prop_assert!((load - held).abs() <= 1e-9 * held, "{load} {held}");
        }
    }

    #[test]
    fn depth_for_odds_suffices_in_that_share_of_grounds(
        draws in proptest::collection::vec((5.0..40.0_f64, 0.0..0.5_f64, 0.01..1.0_f64), 1..60), odds in 0.05..0.99_f64
    ) {
        let post = PushedPost { load_kn: 0.8, height_m: 1.5, width_m: 0.2, restrained: false };
        let needed: Vec<f64> = draws
            .iter()
            .map(|(bearing_kpa_m, ignored_top_m, _)| {
                needed_depth_m(&post, &GroundDraw { bearing_kpa_m: *bearing_kpa_m, ignored_top_m: *ignored_top_m })
            })
            .collect();
        let weights: Vec<f64> = draws.iter().map(|draw| draw.2).collect();
        let depth = depth_for_odds_m(&needed, &weights, odds).expect("weights are above nought");
        let total: f64 = weights.iter().sum();
        let share = |deep: f64| {
            needed.iter().zip(&weights).filter(|(need, _)| **need <= deep).map(|(_, weight)| weight).sum::<f64>() / total
        };
        prop_assert!(share(depth) >= odds - 1e-6);
        prop_assert!(needed.iter().filter(|need| **need < depth).all(|need| share(*need) < odds + 1e-6));
    }
}

/// A plot of which nothing is known is built on as silt and clay.
#[test]
fn not_knowing_is_building_on_the_softer_class() {
    let ensemble = Ensemble::of(&believe(&[], &Options::default()), &Beside::default());
    let draws = ensemble.draws.iter().zip(&ensemble.weights);
    let odds = ClassOdds::of(draws.map(|(draw, weight)| (draw.soil, draw.gravel_mass_percent, *weight)));
    assert!((odds.sand + odds.silt_and_clay - 1.0).abs() < 1e-12);
    assert!(odds.silt_and_clay > 0.3 && odds.silt_and_clay < 0.95, "{odds:?}");
    assert_eq!(odds.conservative(), BuildingClass::SiltAndClay);
}
