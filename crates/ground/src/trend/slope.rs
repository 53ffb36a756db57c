//! The slope of Theil and Sen: the median of the slopes of all pairs of years, with its interval.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::Spread;

/// z of a two-sided 90 % interval.
const Z_90: f64 = 1.644_854;
/// z of a two-sided 95 % interval.
const Z_95: f64 = 1.959_964;

/// How fast a reading goes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SenSlope {
    /// Median slope of all pairs, in a year, with its 90 % interval.
    pub slope_per_year: Spread,
    /// Lower end of its 95 % interval.
    pub slope_low_95: f64,
    /// Upper end of its 95 % interval.
    pub slope_high_95: f64,
    /// Median of the readings less the slope times the median of the years.
    pub intercept: f64,
}

impl SenSlope {
    /// Where the line stands in a year.
    #[must_use]
    pub fn at(&self, year: f64) -> f64 {
        self.intercept + self.slope_per_year.median * year
    }
}

/// The slope of readings (year, value) with the years rising, at least two of them; `variance` is that of S.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "pairs by the thousand")]
pub fn sen_slope(readings: &[(f64, f64)], variance: f64) -> Option<SenSlope> {
    let mut slopes = Vec::with_capacity(readings.len() * readings.len() / 2);
    for (at, (year, value)) in readings.iter().enumerate() {
        slopes.extend(readings[at + 1..].iter().map(|(later, then)| (then - value) / (later - year)));
    }
    slopes.sort_by(f64::total_cmp);
    let middle = median(&slopes)?;
    let count = slopes.len();
    // The ranks (N ∓ z√variance) / 2, to the nearest slope outwards by one.
    let ends = |z: f64| {
        let half = z * variance.max(0.0).sqrt();
        let low = slopes[rank(((count as f64 - half) / 2.0).round_ties_even() - 1.0, count)];
        let high = slopes[rank(((count as f64 + half) / 2.0).round_ties_even(), count)];
        (low, high)
    };
    let (low, high) = ends(Z_90);
    let (slope_low_95, slope_high_95) = ends(Z_95);
    let sorted = |of: fn(&(f64, f64)) -> f64| {
        let mut values: Vec<f64> = readings.iter().map(of).collect();
        values.sort_by(f64::total_cmp);
        median(&values)
    };
    Some(SenSlope {
        slope_per_year: Spread { low, median: middle, high },
        slope_low_95,
        slope_high_95,
        intercept: sorted(|one| one.1)? - middle * sorted(|one| one.0)?,
    })
}

fn median(sorted: &[f64]) -> Option<f64> {
    let count = sorted.len();
    (count > 0).then(|| f64::midpoint(sorted[(count - 1) / 2], sorted[count / 2]))
}

#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a rank, held inside its list"
)]
fn rank(place: f64, count: usize) -> usize {
    place.clamp(0.0, (count - 1) as f64) as usize
}
