//! A value with how surely it is known.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Median and central 90 % range of a weighted ensemble.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Spread {
    /// 5th percentile.
    pub low: f64,
    /// Median.
    pub median: f64,
    /// 95th percentile.
    pub high: f64,
}

impl Spread {
    /// Weighted 5th, 50th and 95th percentiles. `None` when no finite value carries weight.
    ///
    /// Values that are not finite (a method's "no value") are left out together with their weight.
    #[must_use]
    pub fn of(values: &[f64], weights: &[f64]) -> Option<Self> {
        let mut pairs: Vec<(f64, f64)> = values
            .iter()
            .copied()
            .zip(weights.iter().copied())
            .filter(|(value, weight)| value.is_finite() && *weight > 0.0)
            .collect();
        pairs.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
        let total: f64 = pairs.iter().map(|pair| pair.1).sum();
        if pairs.is_empty() || total <= 0.0 {
            return None;
        }
        Some(Self {
            low: quantile(&pairs, total, 0.05),
            median: quantile(&pairs, total, 0.50),
            high: quantile(&pairs, total, 0.95),
        })
    }

    /// Width of the 90 % range.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.high - self.low
    }
}

/// Weighted quantile with each value standing at the middle of its own weight, straight lines
/// between them.
fn quantile(sorted: &[(f64, f64)], total: f64, share: f64) -> f64 {
    let target = share * total;
    let mut below = 0.0;
    let mut previous: Option<(f64, f64)> = None;
    for &(value, weight) in sorted {
        let centre = below + weight / 2.0;
        if centre >= target {
            return match previous {
                Some((last_value, last_centre)) if centre > last_centre => {
                    last_value + (value - last_value) * (target - last_centre) / (centre - last_centre)
                }
                _ => value,
            };
        }
        previous = Some((value, centre));
        below += weight;
    }
    sorted.last().map_or(f64::NAN, |pair| pair.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_weights_give_ordinary_percentiles() {
        let values: Vec<f64> = (0..=100).map(f64::from).collect();
        let spread = Spread::of(&values, &vec![1.0; 101]).unwrap();
        assert!((spread.median - 50.0).abs() < 1e-9);
        assert!((spread.low - 4.55).abs() < 0.01, "{spread:?}");
        assert!((spread.high - 95.45).abs() < 0.01, "{spread:?}");
    }

    #[test]
    fn values_that_do_not_exist_carry_no_weight() {
        let spread = Spread::of(&[f64::NAN, 3.0, 3.0], &[10.0, 1.0, 1.0]).unwrap();
        assert_eq!(spread.median, 3.0);
        assert!(Spread::of(&[f64::NAN], &[1.0]).is_none());
        assert!(Spread::of(&[], &[]).is_none());
    }
}
