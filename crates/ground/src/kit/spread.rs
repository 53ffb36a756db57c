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

    /// 5th, 50th and 95th percentiles of draws that count alike; the draws are put in order. Agrees with
    /// [`of`](Self::of) under equal weights, in a fraction of the time. `None` when there are none.
    #[must_use]
    pub fn of_equal(values: &mut [f64]) -> Option<Self> {
        values.sort_unstable_by(f64::total_cmp);
        #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
        let count = values.len() as f64;
        let at = |share: f64| {
            let place = (share * count - 0.5).clamp(0.0, (count - 1.0).max(0.0));
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "clamped to the list"
            )]
            let below = place as usize;
            let low = *values.get(below)?;
            let high = values.get(below + 1).copied().unwrap_or(low);
            Some(low + (high - low) * place.fract())
        };
        Some(Self { low: at(0.05)?, median: at(0.50)?, high: at(0.95)? })
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
    fn the_fast_way_agrees_with_the_weighted_one() {
        for n in [1_u32, 2, 7, 100, 2001] {
            let mut values: Vec<f64> = (0..n).map(|i| f64::from((i * 7919) % 1009)).collect();
            let weighted = Spread::of(&values, &vec![1.0; values.len()]).unwrap();
            let fast = Spread::of_equal(&mut values).unwrap();
            for (a, b) in
                [(fast.low, weighted.low), (fast.median, weighted.median), (fast.high, weighted.high)]
            {
                assert!((a - b).abs() < 1e-9, "{n}: {fast:?} {weighted:?}");
            }
        }
        assert!(Spread::of_equal(&mut []).is_none());
    }

    #[test]
    fn values_that_do_not_exist_carry_no_weight() {
        let spread = Spread::of(&[f64::NAN, 3.0, 3.0], &[10.0, 1.0, 1.0]).unwrap();
        assert_eq!(spread.median, 3.0);
        assert!(Spread::of(&[f64::NAN], &[1.0]).is_none());
        assert!(Spread::of(&[], &[]).is_none());
    }
}
