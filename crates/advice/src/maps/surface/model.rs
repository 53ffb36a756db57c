//! The model behind a surface: its variogram, fitted or supposed, and how it tells readings that are left out.

use book::model::plan::Point;
use ground::spatial::kriging::Field;
use ground::spatial::kriging::left_out::LeftOut;
use ground::spatial::limits::Shown;
use ground::spatial::plane;
use ground::spatial::sites::extent_m;
use ground::spatial::variogram::empirical::{USUAL_LAGS, empirical, usual_cut_off_m};
use ground::spatial::variogram::fit::{FitWeights, Fitted, Seen, fit};
use ground::spatial::variogram::likelihood::reml_fit;
use ground::spatial::variogram::model::{Shape, Variogram};

use super::{SUPPOSED_NUGGET_SHARE, SUPPOSED_RANGE_SHARE};

/// Readings that a likelihood is fitted on at most.
const MOST_FOR_LIKELIHOOD: usize = 100;

/// The variogram: by restricted likelihood within bounds, or by the pairs; or supposed, which is told beside it.
pub(super) fn fitted(shown: Shown, at: &[Point], columns: &[Vec<f64>]) -> (Fitted, bool) {
    let extent = extent_m(at);
    let supposed = Fitted {
        variogram: Variogram {
            shape: Shape::Exponential,
            nugget: SUPPOSED_NUGGET_SHARE,
            partial_sill: 1.0 - SUPPOSED_NUGGET_SHARE,
            range_m: SUPPOSED_RANGE_SHARE * extent,
            smoothness: 0.5,
        },
        least: 0.0,
        at_bound: false,
    };
    let bounds = ((spacing_m(at) / 2.0).min(extent), extent);
    match shown {
        Shown::PointsOnly | Shown::PriorSurface => (supposed, true),
        Shown::FreeFit if columns.len() == 1 => {
            let seen: Vec<Seen> = empirical(at, &columns[0], usual_cut_off_m(at), USUAL_LAGS)
                .into_iter()
                .map(|lag| Seen {
                    #[expect(clippy::cast_precision_loss, reason = "pairs by the thousand")]
                    pairs: lag.pairs as f64,
                    distance_m: lag.mean_distance_m,
                    semivariance: lag.matheron,
                })
                .collect();
            (fit(&seen, Shape::Spherical, 0.5, FitWeights::PairsOverDistanceSquared, bounds), false)
        }
        Shown::BoundedFit | Shown::FreeFit => {
            let (at, columns) = at_most(MOST_FOR_LIKELIHOOD, at, columns);
            match reml_fit(&at, &columns, Shape::Spherical, bounds) {
                Some(found) => (found, false),
                None => (supposed, true),
            }
        }
    }
}

/// So many of the readings, evenly through their order: each trial of a likelihood takes the cube of their number.
fn at_most(most: usize, at: &[Point], columns: &[Vec<f64>]) -> (Vec<Point>, Vec<Vec<f64>>) {
    let count = at.len();
    let kept: Vec<usize> = (0..count.min(most)).map(|place| place * count / count.min(most)).collect();
    let of = |column: &Vec<f64>| kept.iter().map(|index| column[*index]).collect();
    (kept.iter().map(|index| at[*index]).collect(), columns.iter().map(of).collect())
}

/// What was left out, in deviations of its column from the column's mean.
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
pub(super) fn standard(column: &[f64], left: Vec<LeftOut>) -> Vec<LeftOut> {
    let count = column.len() as f64;
    let mean = column.iter().sum::<f64>() / count;
    let square = column.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / (count - 1.0);
    let deviation = square.sqrt().max(f64::MIN_POSITIVE);
    left.into_iter()
        .map(|one| LeftOut {
            reading: (one.reading - mean) / deviation,
            estimate: (one.estimate - mean) / deviation,
            variance: one.variance / square.max(f64::MIN_POSITIVE),
        })
        .collect()
}

/// Leave-one-out of a column with the variance that its own readings give.
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
pub(super) fn scaled(field: &Field, column: &[f64]) -> Vec<LeftOut> {
    let sill = (field.solve(column).square / (column.len() as f64 - 1.0)).max(f64::MIN_POSITIVE);
    field
        .left_out(column)
        .into_iter()
        .map(|left| LeftOut { variance: left.variance * sill, ..left })
        .collect()
}

/// Mean distance from a reading to its nearest neighbour, m.
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
pub(in crate::maps) fn spacing_m(at: &[Point]) -> f64 {
    let nearest = |one: usize| {
        at.iter()
            .enumerate()
            .filter(|(other, _)| *other != one)
            .map(|(_, other)| plane::distance_m(at[one], *other))
            .fold(f64::INFINITY, f64::min)
    };
    (0..at.len()).map(nearest).sum::<f64>() / at.len() as f64
}

#[cfg(test)]
mod tests {
    use ground::spatial::kriging::Nugget;
    use ground::spatial::kriging::left_out::cross_validation;

    use super::*;

    /// Twenty readings of noise in two columns of far apart means: neither column is told by its neighbours, so both
    /// together are not either (the definition of the share of squared error, one column at a time).
    #[test]
    fn columns_of_far_apart_means_are_not_told_by_the_distance_of_the_means() {
        let at: Vec<Point> = (0..20).map(|i| [f64::from(i % 5) * 10.0, f64::from(i / 5) * 10.0]).collect();
        let noise = |seed: u32| -> Vec<f64> {
            (0..20_u32).map(|i| f64::from((i * 7919 + seed * 104_729) % 97) / 97.0 - 0.5).collect()
        };
        let (one, other) = (noise(1), noise(2).iter().map(|value| value + 50.0).collect::<Vec<f64>>());
        let (found, supposed) = fitted(Shown::PriorSurface, &at, &[one.clone(), other.clone()]);
        assert!(supposed);
        let field = Field::new(&at, found.variogram, Nugget::ReadingError).unwrap();
        let alone = |column: &Vec<f64>| cross_validation(&scaled(&field, column)).explained;
        let both: Vec<LeftOut> =
            [&one, &other].into_iter().flat_map(|column| standard(column, scaled(&field, column))).collect();
        let together = cross_validation(&both).explained;
        let (low, high) = (alone(&one).min(alone(&other)), alone(&one).max(alone(&other)));
        assert!((low - 0.05..=high + 0.05).contains(&together), "{low} {together} {high}");
        let mixed: Vec<LeftOut> =
            [&one, &other].into_iter().flat_map(|column| scaled(&field, column)).collect();
        assert!(cross_validation(&mixed).explained > 0.9, "what it would have boasted");
    }

    #[test]
    fn a_likelihood_takes_so_many_readings_and_no_more() {
        let at: Vec<Point> = (0..250).map(|i| [f64::from(i), 0.0]).collect();
        let column: Vec<f64> = (0..250).map(f64::from).collect();
        let (some, columns) = at_most(100, &at, &[column]);
        assert_eq!((some.len(), columns[0].len()), (100, 100));
        assert!(some.windows(2).all(|pair| pair[1][0] > pair[0][0]) && some[99][0] > 240.0);
        assert_eq!(at_most(100, &at[..30], &[vec![0.0; 30]]).0.len(), 30);
    }
}
