//! Search over the two numbers that shape a variogram once its sill is known: the nugget's share and the range.

/// Where a function of nugget share (0 to 1) and range is least.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Least {
    pub(super) nugget_share: f64,
    pub(super) range_m: f64,
    pub(super) value: f64,
}

/// Starts that are followed to their end.
const STARTS: usize = 4;
const SHARES: usize = 8;
const RANGES: usize = 14;

/// The least value found from several starts: a coarse grid first, then the simplex of Nelder and Mead (1965) from
/// the best places of the grid that have no better neighbour. The range stays between its bounds.
pub(super) fn least(low_m: f64, high_m: f64, mut value: impl FnMut(f64, f64) -> f64) -> Least {
    let (low, high) = (libm::log(low_m), libm::log(high_m.max(low_m)));
    let mut at = |point: [f64; 2]| {
        let found = value(point[0], libm::exp(point[1]));
        if found.is_finite() { found } else { f64::INFINITY }
    };
    #[expect(clippy::cast_precision_loss, reason = "a small grid")]
    let place = |share: usize, range: usize| {
        [share as f64 / SHARES as f64, low + (high - low) * range as f64 / RANGES as f64]
    };
    let mut grid = vec![[0.0; RANGES + 1]; SHARES + 1];
    for (share, row) in grid.iter_mut().enumerate() {
        for (range, cell) in row.iter_mut().enumerate() {
            *cell = at(place(share, range));
        }
    }
    let mut starts: Vec<(f64, usize, usize)> = Vec::new();
    for share in 0..=SHARES {
        for range in 0..=RANGES {
            let here = grid[share][range];
            let lowest = (share.saturating_sub(1)..=(share + 1).min(SHARES))
                .flat_map(|s| (range.saturating_sub(1)..=(range + 1).min(RANGES)).map(move |r| (s, r)))
                .all(|(s, r)| here <= grid[s][r]);
            if lowest {
                starts.push((here, share, range));
            }
        }
    }
    starts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut best = ([0.5, low], f64::INFINITY);
    for (_, share, range) in starts.into_iter().take(STARTS) {
        let mut found = (place(share, range), grid[share][range]);
        // A fresh simplex where the last one ended, in case it lay flat against a bound.
        for size in [0.08, 0.02, 0.002] {
            found = simplex(found.0, size, low, high, &mut at);
        }
        if found.1 < best.1 {
            best = found;
        }
    }
    Least { nugget_share: best.0[0], range_m: libm::exp(best.0[1]), value: best.1 }
}

fn simplex(
    start: [f64; 2],
    size: f64,
    low: f64,
    high: f64,
    at: &mut impl FnMut([f64; 2]) -> f64,
) -> ([f64; 2], f64) {
    let held = |point: [f64; 2]| [point[0].clamp(0.0, 1.0), point[1].clamp(low, high)];
    let step = |from: f64, by: f64, top: f64| if from + by <= top { from + by } else { from - by };
    let mut corners = [
        start,
        held([step(start[0], size, 1.0), start[1]]),
        held([start[0], step(start[1], size * (high - low).max(1e-6), high)]),
    ]
    .map(|point| (point, at(point)));
    for _ in 0..140 {
        corners.sort_by(|a, b| a.1.total_cmp(&b.1));
        let [best, second, worst] = corners;
        let spread = (worst.0[0] - best.0[0]).abs().max((worst.0[1] - best.0[1]).abs());
        if spread < 1e-10 {
            break;
        }
        let middle = [0, 1].map(|axis| f64::midpoint(best.0[axis], second.0[axis]));
        let along = |by: f64| held([0, 1].map(|axis| middle[axis] + by * (middle[axis] - worst.0[axis])));
        let mut tried = |by: f64| {
            let point = along(by);
            (point, at(point))
        };
        let mirrored = tried(1.0);
        corners[2] = if mirrored.1 < best.1 {
            let further = tried(2.0);
            if further.1 < mirrored.1 { further } else { mirrored }
        } else if mirrored.1 < second.1 {
            mirrored
        } else {
            let nearer = if mirrored.1 < worst.1 { tried(0.5) } else { tried(-0.5) };
            if nearer.1 < worst.1.min(mirrored.1) {
                nearer
            } else {
                for corner in &mut corners[1..] {
                    corner.0 = [0, 1].map(|axis| f64::midpoint(corner.0[axis], best.0[axis]));
                    corner.1 = at(corner.0);
                }
                continue;
            }
        };
    }
    corners.sort_by(|a, b| a.1.total_cmp(&b.1));
    corners[0]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_finds_the_lower_of_two_hollows_and_a_bound() {
        let hollow = |share: f64, range: f64| {
            let x = libm::log(range);
            let (a, b) = (x - libm::log(20.0), x - libm::log(200.0));
            (a * a * b * b) + 0.1 * a * a + (share - 0.3) * (share - 0.3)
        };
        let found = least(1.0, 1000.0, hollow);
        assert!((found.range_m - 20.0).abs() < 1e-3 && (found.nugget_share - 0.3).abs() < 1e-4, "{found:?}");
        let edge = least(1.0, 1000.0, |share, range| share - 1e-3 * range);
        assert!(edge.nugget_share.abs() < 1e-9 && (edge.range_m - 1000.0).abs() < 1e-6, "{edge:?}");
    }
}
