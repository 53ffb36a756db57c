//! What holds of every belief, whatever the evidence.

use ground::belief::{Account, Beside, Ensemble, Options, SharedError, Witness, believe};
use ground::texture::Class;
use ground::water::{Scatter, WaterEnsemble};
use proptest::prelude::*;

fn covariance() -> impl Strategy<Value = [[f64; 2]; 2]> {
    // From a reading sharper than any laboratory's to one that says next to nothing.
    (-8.0..1.5f64, -8.0..1.5f64, -0.95..0.95f64).prop_map(|(a, b, correlation)| {
        let (a, b) = (libm::pow(10.0, a), libm::pow(10.0, b));
        let cross = correlation * (a * b).sqrt();
        [[a, cross], [cross, b]]
    })
}

fn account() -> impl Strategy<Value = Account> {
    let measured = (-4.0..4.0f64, -4.0..4.0f64, covariance(), proptest::option::of(covariance())).prop_map(
        |(x, y, covariance, shared)| Account::Measured {
            centre: [x, y],
            covariance,
            shared: shared.map(|covariance| SharedError { name: "packing".into(), covariance }),
        },
    );
    let named = (0..12usize, proptest::array::uniform12(0.0..1.0f64))
        .prop_map(|(class, likelihood)| Account::Named { class: Class::ALL[class], likelihood });
    prop_oneof![3 => measured, 1 => named]
}

fn witnesses() -> impl Strategy<Value = Vec<Witness>> {
    proptest::collection::vec(account(), 0..7).prop_map(|accounts| {
        let number = |(place, account)| {
            let id = format!("{place}");
            Witness { label: format!("reading {id}"), id, account }
        };
        accounts.into_iter().enumerate().map(number).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_evidence_gives_a_sound_belief(witnesses in witnesses(), normal in any::<bool>()) {
        let options = Options {
            draws: 400,
            tail_degrees_of_freedom: (!normal).then_some(5),
            ..Options::default()
        };
        let belief = believe(&witnesses, &options);
        prop_assert_eq!(belief.draws.len(), 400);
        let total: f64 = belief.weights.iter().sum();
        prop_assert!((total - 1.0).abs() < 1e-9, "{}", total);
        let odds: f64 = belief.class_odds.iter().map(|(_, odds)| odds).sum();
        prop_assert!((odds - 1.0).abs() < 2e-5, "{}", odds);
        prop_assert!(belief.class_odds.windows(2).all(|pair| pair[0].1 >= pair[1].1));
        for soil in &belief.draws {
            prop_assert!((soil.sand + soil.silt + soil.clay - 100.0).abs() < 1e-6, "{:?}", soil);
        }
        for spread in [belief.sand, belief.silt, belief.clay] {
            prop_assert!(0.0 <= spread.low && spread.low <= spread.median, "{:?}", spread);
            prop_assert!(spread.median <= spread.high && spread.high <= 100.0, "{:?}", spread);
        }
        prop_assert_eq!(belief.from.len() + belief.left_out.len(), witnesses.len());

        let mut reversed = witnesses.clone();
        reversed.reverse();
        let again = believe(&reversed, &options);
        prop_assert_eq!(&again.weights, &belief.weights);
        prop_assert_eq!(&again.disagreements.len(), &belief.disagreements.len());

        let water = WaterEnsemble::of(&Ensemble::of(&belief, &Beside::default()), Scatter::OfRealSoils);
        let summary = water.summary(300.0);
        for share in [summary.share_outside_range, summary.share_without_available, summary.share_without_conductivity] {
            prop_assert!((0.0..=1.0).contains(&share));
        }
    }
}
