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
        let total: f64 = pairs.iter().map(|pair| pair.1).sum();
        if pairs.is_empty() || total <= 0.0 {
            return None;
        }
        // The median parts the list; the other two are then sought in their own half only.
        let end = pairs.len();
        let median = select(&mut pairs, Part { from: 0, to: end, below: 0.0 }, 0.50 * total);
        let high = if median.centre >= 0.95 * total || median.at + 1 == end {
            Found { value: between(&pairs, &median, 0.95 * total), ..median }
        } else {
            let above = Part { from: median.at + 1, to: end, below: median.below + pairs[median.at].1 };
            select(&mut pairs, above, 0.95 * total)
        };
        let low = select(&mut pairs, Part { from: 0, to: median.at + 1, below: 0.0 }, 0.05 * total);
        Some(Self { low: low.value, median: median.value, high: high.value })
    }

    /// 5th, 50th and 95th percentiles of draws that count alike; the draws change places. Agrees with
    /// [`of`](Self::of) under equal weights, in a fraction of the time. `None` when there are none.
    #[must_use]
    pub fn of_equal(values: &mut [f64]) -> Option<Self> {
        if values.is_empty() {
            return None;
        }
        #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
        let count = values.len() as f64;
        let place = |share: f64| (share * count - 0.5).clamp(0.0, count - 1.0);
        if values.len() <= SHORT {
            let [low, median, high] = [0.05, 0.50, 0.95].map(|share| nth(values, place(share)));
            return Some(Self { low, median, high });
        }
        let median = nth(values, place(0.50));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the list")]
        let half = place(0.50) as usize;
        // All before `half` are no more than it, all after no less; neither of the others stands there.
        let low = nth(&mut values[..=half], place(0.05));
        #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
        let high = nth(&mut values[half..], place(0.95) - half as f64);
        Some(Self { low, median, high })
    }

    /// Width of the 90 % range.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.high - self.low
    }
}

/// The value at a place in the order, straight lines between whole places.
fn nth(values: &mut [f64], place: f64) -> f64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in the list")]
    let below = (place as usize).min(values.len() - 1);
    let (_, low, after) = values.select_nth_unstable_by(below, f64::total_cmp);
    let high = after.iter().copied().min_by(f64::total_cmp).unwrap_or(*low);
    *low + (high - *low) * place.fract()
}

/// A run of the list with the weight that lies below it. All before it are no more than any in it.
struct Part {
    from: usize,
    to: usize,
    below: f64,
}

/// A weighted quantile: its value, and the first pair whose middle lies at or beyond it.
struct Found {
    value: f64,
    at: usize,
    /// Weight of all before that pair.
    below: f64,
    /// Weight up to the middle of that pair.
    centre: f64,
}

/// Runs no longer than this are put in order.
const SHORT: usize = 32;

/// Weighted quantile with each value standing at the middle of its own weight, straight lines
/// between them. Only the run that holds it is ever put in order.
fn select(pairs: &mut [(f64, f64)], part: Part, target: f64) -> Found {
    let by_value = |a: &(f64, f64), b: &(f64, f64)| a.0.total_cmp(&b.0);
    let Part { mut from, mut to, mut below } = part;
    while to - from > SHORT {
        let middle = usize::midpoint(from, to);
        pairs[from..to].select_nth_unstable_by(middle - from, by_value);
        let before: f64 = pairs[from..middle].iter().map(|pair| pair.1).sum();
        let weight = pairs[middle].1;
        if below + before + weight / 2.0 >= target {
            to = middle + 1;
        } else {
            below += before + weight;
            from = middle + 1;
        }
    }
    pairs[from..to].sort_unstable_by(by_value);
    // Rounding may leave the target beyond the last middle: then the last one it is.
    let mut at = from;
    while at + 1 < to && below + pairs[at].1 / 2.0 < target {
        below += pairs[at].1;
        at += 1;
    }
    let found = Found { value: pairs[at].0, at, below, centre: below + pairs[at].1 / 2.0 };
    Found { value: between(pairs, &found, target), ..found }
}

/// The value at a target at or before the middle of the pair found.
fn between(pairs: &[(f64, f64)], found: &Found, target: f64) -> f64 {
    let (value, _) = pairs[found.at];
    let Some((last, weight)) = found.at.checked_sub(1).map(|before| pairs[before]) else { return value };
    let last_centre = found.below - weight / 2.0;
    if target >= found.centre || found.centre <= last_centre {
        return value;
    }
    last + (value - last) * (target - last_centre) / (found.centre - last_centre)
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

    /// Against the definition: sort, add up, and take the straight line.
    #[test]
    fn selecting_finds_what_sorting_finds() {
        let mut chance = crate::kit::chance::Chance::new(5);
        for n in [1_usize, 2, 31, 33, 100, 1000, 4001] {
            for weighting in 0..4 {
                let mut pairs: Vec<(f64, f64)> = (0..n)
                    .map(|at| {
                        let weight = match weighting {
                            0 => 1.0,
                            1 => chance.uniform(),
                            2 => libm::exp(4.0 * chance.normal()),
                            _ if at == n / 3 => 50.0 * n as f64,
                            _ => 1.0,
                        };
                        (chance.normal(), weight)
                    })
                    .collect();
                let (values, weights): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
                let found = Spread::of(&values, &weights).unwrap();
                pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
                let total: f64 = weights.iter().sum();
                for (share, got) in [(0.05, found.low), (0.5, found.median), (0.95, found.high)] {
                    let (mut below, mut previous, mut wanted) = (0.0, None, pairs[n - 1].0);
                    for (value, weight) in &pairs {
                        let centre = below + weight / 2.0;
                        if centre >= share * total {
                            wanted = previous.map_or(*value, |(last, at): (f64, f64)| {
                                last + (value - last) * (share * total - at) / (centre - at)
                            });
                            break;
                        }
                        previous = Some((*value, centre));
                        below += weight;
                    }
                    assert!((got - wanted).abs() < 1e-6, "{n} {weighting} {share}: {got} {wanted}");
                }
            }
        }
    }

    #[test]
    fn values_that_do_not_exist_carry_no_weight() {
        let spread = Spread::of(&[f64::NAN, 3.0, 3.0], &[10.0, 1.0, 1.0]).unwrap();
        assert_eq!(spread.median, 3.0);
        assert!(Spread::of(&[f64::NAN], &[1.0]).is_none());
        assert!(Spread::of(&[], &[]).is_none());
    }
}
