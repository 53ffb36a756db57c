//! The rank test of Mann and Kendall: does a reading go steadily up or down?

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Up to this many years without ties the test is exact.
pub const EXACT_TO: usize = 10;

/// What the ranks say.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RankTest {
    /// Pairs that rise less pairs that fall.
    pub s: i64,
    /// Its variance where nothing changes, ties counted.
    pub variance: f64,
    /// S, drawn in by one for continuity, over its standard deviation.
    pub z: f64,
    /// Chance of a rise or fall as steady as this where nothing changes, two-sided.
    pub p_two_sided: f64,
    /// The same to the side that the readings went; a half and more where they went to neither.
    pub p_one_sided: f64,
    /// Is that chance exact, or by the normal approximation?
    pub exact: bool,
    /// S over the number of pairs, equal readings left as they are (tau-a).
    pub tau_a: f64,
    /// S over what the ties leave of it (tau-b); none where all readings are equal.
    pub tau_b: Option<f64>,
}

/// The test of readings in the order of their years; at least two.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "years by the dozen")]
pub fn rank_test(values: &[f64]) -> RankTest {
    let n = values.len();
    let mut s = 0_i64;
    for (at, value) in values.iter().enumerate() {
        for then in &values[at + 1..] {
            s += i64::from(then > value) - i64::from(then < value);
        }
    }
    let ties = tied_groups(values);
    let variance = variance(n, &ties);
    let exact = ties.is_empty() && n <= EXACT_TO;
    let z = if s == 0 || variance <= 0.0 {
        0.0
    } else {
        (s.unsigned_abs() as f64 - 1.0) / variance.sqrt() * if s > 0 { 1.0 } else { -1.0 }
    };
    let p_one_sided =
        if exact { exact_tail(n, s) } else { 0.5 * libm::erfc(z.abs() / std::f64::consts::SQRT_2) };
    let pairs = (n * n.saturating_sub(1) / 2) as f64;
    let tied: f64 = ties.iter().map(|t| (t * (t - 1) / 2) as f64).sum();
    RankTest {
        s,
        variance,
        z,
        p_two_sided: (2.0 * p_one_sided).min(1.0),
        p_one_sided,
        exact,
        tau_a: if pairs > 0.0 { s as f64 / pairs } else { 0.0 },
        // The years never tie.
        tau_b: (pairs > tied).then(|| s as f64 / (pairs * (pairs - tied)).sqrt()),
    }
}

/// Sizes of the groups of equal readings.
fn tied_groups(values: &[f64]) -> Vec<usize> {
    let mut values = values.to_vec();
    values.sort_by(f64::total_cmp);
    values.chunk_by(|one, next| one == next).map(<[f64]>::len).filter(|size| *size > 1).collect()
}

#[expect(clippy::cast_precision_loss, reason = "years by the dozen")]
fn variance(n: usize, ties: &[usize]) -> f64 {
    let term = |n: usize| (n * n.saturating_sub(1) * (2 * n + 5)) as f64;
    (term(n) - ties.iter().map(|t| term(*t)).sum::<f64>()) / 18.0
}

/// Chance that as many pairs or more go one way where nothing changes: by counting the orders of `n` readings,
/// none of them equal, with each number of falling pairs. At most 20 readings.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "20! fits")]
pub fn exact_tail(n: usize, s: i64) -> f64 {
    let mut orders = vec![1_u64];
    for k in 2..=n.min(20) {
        let mut next = vec![0_u64; orders.len() + k - 1];
        for (falls, count) in orders.iter().enumerate() {
            for more in 0..k {
                next[falls + more] += count;
            }
        }
        orders = next;
    }
    let pairs = orders.len() - 1;
    let wanted = s.unsigned_abs();
    // With f falling pairs of N, S = N − 2f.
    let tail: u64 = orders
        .iter()
        .enumerate()
        .filter(|(falls, _)| pairs >= 2 * falls && (pairs - 2 * falls) as u64 >= wanted)
        .map(|(_, count)| count)
        .sum();
    let all: u64 = orders.iter().sum();
    tail as f64 / all as f64
}
