//! Ordinary kriging over readings drawn at random: it honours them where there is no nugget, its weights add to one, its
//! variance is never below nothing, and it solves the bordered system that a general-purpose library solves.

use ground::spatial::kriging::{Field, Nugget};
use ground::spatial::variogram::model::{Shape, Variogram};
use nalgebra::{DMatrix, DVector};
use proptest::prelude::*;

type Place = [f64; 2];

#[derive(Debug)]
struct Case {
    at: Vec<Place>,
    values: Vec<f64>,
    model: Variogram,
    places: Vec<Place>,
}

fn case(nugget: impl Strategy<Value = f64>) -> impl Strategy<Value = Case> {
    let shape = prop_oneof![Just(Shape::Spherical), Just(Shape::Exponential)];
    let place = || (0.0..120.0_f64, 0.0..80.0_f64);
    (
        proptest::collection::vec((place(), -3.0..9.0_f64), 3..25),
        proptest::collection::vec(place(), 1..8),
        shape,
        nugget,
        0.2..4.0_f64,
        5.0..150.0_f64,
    )
        .prop_filter_map("readings stand apart", |(readings, places, shape, nugget, sill, range_m)| {
            let at: Vec<Place> = readings.iter().map(|one| [one.0.0, one.0.1]).collect();
            let apart = |a: &Place, b: &Place| libm::hypot(a[0] - b[0], a[1] - b[1]) > 1.0;
            let all_apart = at
                .iter()
                .enumerate()
                .all(|(first, one)| at[first + 1..].iter().all(|other| apart(one, other)));
            all_apart.then(|| Case {
                values: readings.iter().map(|one| one.1).collect(),
                model: Variogram { shape, nugget, partial_sill: sill, range_m, smoothness: 0.5 },
                places: places.into_iter().map(|(east, north)| [east, north]).collect(),
                at,
            })
        })
}

/// The bordered system of ordinary kriging by LU decomposition: weights and the multiplier.
fn solved_by_library(case: &Case, place: Place) -> (DVector<f64>, f64) {
    let n = case.at.len();
    let covariance = |a: Place, b: Place| {
        let apart = libm::hypot(a[0] - b[0], a[1] - b[1]);
        case.model.partial_sill * case.model.correlation(apart)
            + if apart < 1e-9 { case.model.nugget } else { 0.0 }
    };
    let matrix = DMatrix::from_fn(n + 1, n + 1, |row, column| match (row == n, column == n) {
        (true, true) => 0.0,
        (true, false) | (false, true) => 1.0,
        (false, false) => covariance(case.at[row], case.at[column]),
    });
    let right =
        DVector::from_fn(n + 1, |row, _| if row == n { 1.0 } else { covariance(case.at[row], place) });
    let solved = matrix.lu().solve(&right).expect("a sound system");
    (solved.rows(0, n).into_owned(), solved[n])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn readings_are_honoured_without_a_nugget(case in case(Just(0.0))) {
        let field = Field::new(&case.at, case.model, Nugget::Variation).expect("a sound covariance");
        let solved = field.solve(&case.values);
        for (place, value) in case.at.iter().zip(&case.values) {
            let there = field.estimate(&solved, *place);
            prop_assert!((there.value - value).abs() < 1e-6, "{there:?} is not {value}");
            prop_assert!(there.variance.abs() < 1e-6, "{there:?}");
        }
    }

    #[test]
    fn weights_add_to_one_and_no_variance_is_below_nothing(case in case(0.0..1.0_f64)) {
        for nugget in [Nugget::Variation, Nugget::ReadingError] {
            let field = Field::new(&case.at, case.model, nugget).expect("a sound covariance");
            // Weights that add to one give back what is the same everywhere, and shift with the readings.
            let level = field.solve(&vec![7.25; case.at.len()]);
            let plain = field.solve(&case.values);
            let raised: Vec<f64> = case.values.iter().map(|value| value + 100.0).collect();
            let raised = field.solve(&raised);
            for place in &case.places {
                prop_assert!((field.estimate(&level, *place).value - 7.25).abs() < 1e-8);
                let (one, other) = (field.estimate(&plain, *place), field.estimate(&raised, *place));
                prop_assert!((other.value - one.value - 100.0).abs() < 1e-7);
                prop_assert!(one.variance >= 0.0 && one.variance.is_finite());
                let most = field.prior_variance() + field.mean_variance();
                prop_assert!(one.variance <= most * (1.0 + 1e-9), "{} above {most}", one.variance);
            }
        }
    }

    /// Against `nalgebra`'s LU decomposition of the textbook's bordered system.
    #[test]
    fn it_is_what_a_general_library_solves(case in case(0.01..1.0_f64)) {
        let field = Field::new(&case.at, case.model, Nugget::Variation).expect("a sound covariance");
        let solved = field.solve(&case.values);
        for place in &case.places {
            let (weights, multiplier) = solved_by_library(&case, *place);
            prop_assert!((weights.sum() - 1.0).abs() < 1e-9);
            let value = weights.dot(&DVector::from_column_slice(&case.values));
            let with: f64 = case
                .at
                .iter()
                .zip(weights.iter())
                .map(|(site, weight)| {
                    let apart = libm::hypot(site[0] - place[0], site[1] - place[1]);
                    let same = if apart < 1e-9 { case.model.nugget } else { 0.0 };
                    weight * (case.model.partial_sill * case.model.correlation(apart) + same)
                })
                .sum();
            let variance = case.model.sill() - with - multiplier;
            let ours = field.estimate(&solved, *place);
            prop_assert!((ours.value - value).abs() < 1e-7, "{} and {value}", ours.value);
            prop_assert!((ours.variance - variance).abs() < 1e-7, "{} and {variance}", ours.variance);
        }
    }
}
