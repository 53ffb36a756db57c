//! Beliefs against closed forms and grids worked outside this program.

use super::*;
use crate::belief::{Level, SharedError};

fn measured(id: &str, soil: [f64; 3], covariance: [[f64; 2]; 2], shared: Option<SharedError>) -> Witness {
    let at = ilr::to_ilr(Composition { sand: soil[0], silt: soil[1], clay: soil[2] });
    Witness {
        id: id.into(),
        label: format!("the {id}"),
        account: Account::Measured { centre: [at.x, at.y], covariance, shared },
    }
}

fn diagonal(a: f64, b: f64) -> [[f64; 2]; 2] {
    [[a, 0.0], [0.0, b]]
}

fn normal(draws: usize) -> Options {
    Options { draws, tail_degrees_of_freedom: None, ..Options::default() }
}

fn odds_of(belief: &Belief, class: Class) -> f64 {
    belief.class_odds.iter().find(|(other, _)| *other == class).map_or(0.0, |(_, odds)| *odds)
}

/// Closed form and a grid with steps of 0.01, both computed outside this program.
#[test]
fn normal_evidence_gives_the_closed_form() {
    let belief = believe(
        &[
            measured("jar", [42.0, 37.0, 21.0], diagonal(0.09, 0.16), None),
            measured("lab report", [50.0, 30.0, 20.0], diagonal(0.01, 0.02), None),
        ],
        &normal(100_000),
    );
    let centre = ilr::to_ilr(belief.centre);
    // Four standard errors of a mean of 80,000 effective draws with SD 0.13.
    assert!((centre.x - 0.331_070_5).abs() < 0.002, "{centre:?}");
    assert!((centre.y - 0.537_292_0).abs() < 0.002, "{centre:?}");
    assert!((belief.covariance[0][0] - 0.008_919_72).abs() < 2e-4);
    assert!((belief.covariance[1][1] - 0.017_467_25).abs() < 4e-4);
    for (class, odds) in [
        (Class::Loam, 0.7491),
        (Class::SandyLoam, 0.1453),
        (Class::SandyClayLoam, 0.0993),
        (Class::ClayLoam, 0.0063),
    ] {
        assert!((odds_of(&belief, class) - odds).abs() < 0.007, "{class:?} {}", odds_of(&belief, class));
    }
    assert!(belief.effective_draws > 70_000.0, "{}", belief.effective_draws);
    assert!(belief.disagreements.is_empty(), "{:?}", belief.disagreements);
}

#[test]
fn nothing_known_is_the_prior() {
    let belief = believe(&[], &Options::default());
    assert!(belief.knows_nothing());
    assert!(belief.class().1 < 0.5);
    assert!((belief.covariance[0][0] - 1.0).abs() < 0.15, "{:?}", belief.covariance);
}

#[test]
fn the_same_evidence_in_any_order_gives_the_same_belief() {
    let one = measured("jar", [42.0, 37.0, 21.0], diagonal(0.09, 0.16), None);
    let two = measured("lab", [50.0, 30.0, 20.0], diagonal(0.01, 0.02), None);
    let here = believe(&[one.clone(), two.clone()], &Options::default());
    let there = believe(&[two, one], &Options::default());
    assert_eq!(here.weights, there.weights);
    assert_eq!(here.draws, there.draws);
    assert_eq!(here.seed, there.seed);
}

#[test]
fn contradiction_widens_and_is_told() {
    let near = measured("lab of 2023", [60.0, 25.0, 15.0], diagonal(0.01, 0.01), None);
    let far = measured("jar of 3 May", [25.0, 35.0, 40.0], diagonal(0.02, 0.02), None);
    let agreed = believe(&[near.clone(), near.clone()], &Options::default());
    let torn = believe(&[near.clone(), far.clone()], &Options::default());
    assert!(torn.clay.width() > 2.0 * agreed.clay.width(), "{:?} {:?}", torn.clay, agreed.clay);
    assert!(torn.effective_draws > 800.0, "{}", torn.effective_draws);
    assert_eq!(torn.disagreements.len(), 2);
    assert_eq!(torn.disagreements[0].level, Level::Contradicts);

    let outvoted = believe(&[near.clone(), near.clone(), near, far], &Options::default());
    let worst = &outvoted.disagreements[0];
    assert_eq!(worst.id, "jar of 3 May");
    assert_eq!(worst.level, Level::Contradicts);
    assert!(
        worst
            .sentence
            .starts_with("The jar of 3 May says much less sand (25 %) than the other three readings allow"),
        "{}",
        worst.sentence
    );
    assert!((outvoted.sand.median - 60.0).abs() < 3.0, "{:?}", outvoted.sand);
}

/// Ten jars with a shared packing error of variance 0.09 leave that variance standing.
#[test]
fn a_shared_error_is_not_averaged_away() {
    let packing = SharedError { name: "jar packing".into(), covariance: diagonal(0.09, 0.09) };
    let jars: Vec<Witness> = (0..10)
        .map(|_| measured("jar", [40.0, 40.0, 20.0], diagonal(0.01, 0.01), Some(packing.clone())))
        .collect();
    let belief = believe(&jars, &normal(40_000));
    // Closed form: 1 / (1 / 1 + 1 / (0.09 + 0.01 / 10)).
    let expected = 1.0 / (1.0 + 1.0 / 0.091);
    for i in 0..2 {
        assert!((belief.covariance[i][i] / expected - 1.0).abs() < 0.04, "{:?}", belief.covariance);
    }
    let heavy = believe(&jars, &Options::default());
    assert!(heavy.covariance[0][0] > 0.06, "{:?}", heavy.covariance);
    assert!(heavy.effective_draws > 800.0, "{}", heavy.effective_draws);
}

#[test]
fn unusable_numbers_are_left_out_and_said() {
    let sound = measured("lab", [50.0, 30.0, 20.0], diagonal(0.01, 0.02), None);
    let broken = measured("broken", [50.0, 30.0, 20.0], diagonal(f64::NAN, 0.02), None);
    let flat = measured("flat", [50.0, 30.0, 20.0], diagonal(0.0, 0.02), None);
    let belief = believe(&[broken, sound, flat], &Options::default());
    assert_eq!(belief.from, ["lab"]);
    assert_eq!(belief.left_out, ["broken", "flat"]);
}
