//! The search against plain reasoning: small questions whose answer can be counted out by hand.

use std::ops::ControlFlow;

use super::give_way::Side;
use super::plan::{BlendPlan, PlanStatus, Planned, Standing};
use super::problem::{
    BedAreaM2, BedNeed, BlendBed, BlendMaterial, BlendProblem, ContentKgKg, GapPercent, Kilograms, PackKg,
    Price,
};
use super::{Carried, whole_bag_plan};
use crate::kit::Bounded;

fn material(name: &str, content: &[(Carried, f64)], pack: f64, price: f64, hand: f64) -> BlendMaterial {
    BlendMaterial {
        name: name.to_owned(),
        content_kg_kg: content
            .iter()
            .map(|&(carried, share)| (carried, ContentKgKg::literal(share)))
            .collect(),
        pack_kg: PackKg::literal(pack),
        price_per_pack: Price::literal(price),
        in_hand_kg: Kilograms::literal(hand),
        most_packs: None,
        organic: false,
        spreading_price_per_kg: Price::literal(0.0),
    }
}

fn need(carried: Carried, least: f64, most: f64) -> BedNeed {
    BedNeed {
        carried,
        target_kg: Kilograms::literal(least),
        at_least_kg: None,
        at_most_kg: Some(Kilograms::literal(most)),
        price_under_per_kg: Price::literal(0.0),
        price_over_per_kg: Price::literal(0.0),
    }
}

fn bed(name: &str, needs: Vec<BedNeed>) -> BlendBed {
    BlendBed {
        name: name.to_owned(),
        area_m2: BedAreaM2::literal(30.0),
        needs,
        organic_only: false,
        never: Vec::new(),
        most_materials: None,
    }
}

fn planned(problem: &BlendProblem) -> Planned {
    whole_bag_plan(problem, GapPercent::literal(0.0), &mut |_| ControlFlow::Continue(())).unwrap()
}

fn plan(problem: &BlendProblem) -> BlendPlan {
    match planned(problem) {
        Planned::Plan(plan) => plan,
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_is_in_hand_is_used_before_a_bag_is_bought() {
    // 5 kg N wanted; 4 kg of urea in hand brings 1.8, one bag of ten brings 4.5: one bag, 2.9 kg left.
    let question = BlendProblem {
        materials: vec![material("urea", &[(Carried::N, 0.45)], 10.0, 20.0, 4.0)],
        beds: vec![bed("A", vec![need(Carried::N, 3.0, 3.2)]), bed("B", vec![need(Carried::N, 2.0, 2.2)])],
    };
    let plan = plan(&question);
    assert_eq!(plan.status, PlanStatus::ProvenOptimal);
    assert_eq!((plan.materials[0].packs, plan.to_pay), (1, 20.0));
    assert!((plan.materials[0].from_hand_kg - 4.0).abs() < 1e-9);
    assert!((plan.materials[0].left_kg - (14.0 - 5.0 / 0.45)).abs() < 1e-6, "{plan:?}");
}

#[test]
fn whole_bags_are_not_the_rounded_mixture() {
    // By the kg, A is cheaper (1.00 against 1.10); but for 12 kg two bags of A cost 20, and one of B 13.2.
    let question = BlendProblem {
        materials: vec![
            material("A", &[(Carried::N, 0.1)], 10.0, 10.0, 0.0),
            material("B", &[(Carried::N, 0.1)], 12.0, 13.2, 0.0),
        ],
        beds: vec![bed("one", vec![need(Carried::N, 1.2, 1.3)])],
    };
    let plan = plan(&question);
    assert_eq!(plan.materials.len(), 1);
    assert_eq!((plan.materials[0].name.as_str(), plan.materials[0].packs), ("B", 1));
}

#[test]
fn organic_beds_get_only_what_is_allowed() {
    let mut meal = material("meal", &[(Carried::N, 0.09)], 20.0, 40.0, 0.0);
    meal.organic = true;
    let mut organic = bed("organic", vec![need(Carried::N, 0.9, 1.0)]);
    organic.organic_only = true;
    let question = BlendProblem {
        materials: vec![material("urea", &[(Carried::N, 0.45)], 20.0, 20.0, 100.0), meal],
        beds: vec![organic, bed("other", vec![need(Carried::N, 0.9, 1.0)])],
    };
    let plan = plan(&question);
    assert_eq!(plan.beds[0].spread[0].material, "meal");
    assert_eq!(plan.beds[1].spread[0].material, "urea");
    assert_eq!(plan.to_pay, 40.0);
}

#[test]
fn a_bed_gets_no_more_materials_than_it_may() {
    // N, P and K apart would take three; the only pair that does it all is the dear compound and potash.
    let mut one = bed(
        "one",
        vec![need(Carried::N, 1.0, 1.2), need(Carried::P2o5, 1.0, 1.2), need(Carried::K2o, 1.0, 1.2)],
    );
    one.most_materials = Some(2);
    let question = BlendProblem {
        materials: vec![
            material("n", &[(Carried::N, 0.4)], 1.0, 1.0, 0.0),
            material("p", &[(Carried::P2o5, 0.4)], 1.0, 1.0, 0.0),
            material("k", &[(Carried::K2o, 0.5)], 1.0, 1.0, 0.0),
            material("np", &[(Carried::N, 0.1), (Carried::P2o5, 0.1)], 1.0, 9.0, 0.0),
        ],
        beds: vec![one],
    };
    let plan = plan(&question);
    let names: Vec<_> = plan.beds[0].spread.iter().map(|spread| spread.material.as_str()).collect();
    assert_eq!(names, ["np", "k"]);
    assert_eq!(plan.to_pay, 92.0);

    let mut never = question;
    never.beds[0].most_materials = Some(1);
    match planned(&never) {
        Planned::Conflicts(conflicts) => {
            assert_eq!(conflicts[0].most_materials, Some(1));
            assert!(conflicts[0].words.contains("1 material"), "{}", conflicts[0].words);
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn beds_alike_get_the_same_for_their_size() {
    let mut twice = bed("twice", vec![need(Carried::N, 2.0, 2.4)]);
    twice.area_m2 = BedAreaM2::literal(60.0);
    let question = BlendProblem {
        materials: vec![material("urea", &[(Carried::N, 0.45)], 25.0, 20.0, 0.0)],
        beds: vec![bed("once", vec![need(Carried::N, 1.0, 1.2)]), twice],
    };
    let plan = plan(&question);
    assert!((2.0 * plan.beds[0].spread[0].kg - plan.beds[1].spread[0].kg).abs() < 1e-9);
}

#[test]
fn a_price_for_falling_short_is_weighed_against_another_bag() {
    let mut soft = need(Carried::N, 1.0, 1.2);
    soft.at_least_kg = Some(Kilograms::literal(0.0));
    soft.price_under_per_kg = Price::literal(5.0);
    let question = BlendProblem {
        materials: vec![material("urea", &[(Carried::N, 0.45)], 25.0, 20.0, 1.0)],
        beds: vec![bed("one", vec![soft])],
    };
    let plan = plan(&question);
    assert_eq!(plan.to_pay, 0.0);
    assert_eq!(plan.beds[0].brought[0].standing, Standing::Short);
    assert!((plan.cost - 5.0 * 0.55).abs() < 1e-6);
}

#[test]
fn too_few_bags_to_be_had_are_told_as_such() {
    let mut urea = material("urea", &[(Carried::N, 0.5)], 2.0, 20.0, 0.0);
    urea.most_packs = Some(1);
    let question = BlendProblem {
        materials: vec![urea],
        beds: vec![bed("A", vec![need(Carried::N, 0.9, 1.0)]), bed("B", vec![need(Carried::N, 0.3, 0.4)])],
    };
    match planned(&question) {
        Planned::Conflicts(conflicts) => {
            let [only] = conflicts[0].gives_way.as_slice() else { panic!("{conflicts:?}") };
            assert_eq!(only.side, Side::AtLeast);
            assert!((only.gives_way_kg - 0.2).abs() < 1e-6, "{conflicts:?}");
            assert!(conflicts[0].words.contains("does not reach"));
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_limit_on_phosphorus_is_named_where_it_binds() {
    let question = BlendProblem {
        materials: vec![material(
            "compost",
            &[(Carried::N, 0.0008), (Carried::P2o5, 0.006)],
            500.0,
            30.0,
            0.0,
        )],
        beds: vec![bed(
            "tunnel",
            vec![need(Carried::N, 0.3, 0.4), {
                let mut limit = need(Carried::P2o5, 0.0, 0.1);
                limit.target_kg = Kilograms::literal(0.0);
                limit
            }],
        )],
    };
    match planned(&question) {
        Planned::Conflicts(conflicts) => {
            assert!(
                conflicts[0].words.contains("limit on phosphorus is what binds"),
                "{}",
                conflicts[0].words
            );
            assert_eq!(conflicts[0].gives_way[0].carried, Carried::N);
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_search_that_is_stopped_at_once_says_so() {
    let question = BlendProblem {
        materials: vec![
            material("A", &[(Carried::N, 0.1)], 10.0, 10.0, 0.0),
            material("B", &[(Carried::N, 0.13)], 12.0, 13.2, 0.0),
        ],
        beds: vec![bed("one", vec![need(Carried::N, 5.03, 5.3)])],
    };
    let mut asked = 0;
    let answer = whole_bag_plan(&question, GapPercent::literal(0.0), &mut |_| {
        asked += 1;
        ControlFlow::Break(())
    })
    .unwrap();
    assert!(asked > 0);
    assert!(matches!(answer, Planned::Plan(_) | Planned::Nothing));
}

#[test]
fn contradictions_are_refused_with_their_field() {
    let mut crossed = need(Carried::N, 1.0, 1.2);
    crossed.at_most_kg = Some(Kilograms::literal(0.5));
    let question = BlendProblem {
        materials: vec![material("urea", &[(Carried::N, 0.45)], 25.0, 20.0, 0.0)],
        beds: vec![bed("one", vec![crossed])],
    };
    let refusal =
        whole_bag_plan(&question, GapPercent::literal(1.0), &mut |_| ControlFlow::Continue(())).unwrap_err();
    assert_eq!(refusal.field, "beds[0].needs[0].at_most_kg");
}
