//! The belief's draws as a smooth density on a triangular lattice.
//!
//! Each draw shares its weight between the three nodes round it; then the lattice is smoothed by
//! as many passes of a seven-point kernel as match a normal kernel of Silverman's width
//! (Silverman 1986, ch. 4, from memory: h = σ · n^(-1/6) in two dimensions; n is the effective number
//! of draws).
//! The level of an area is taken at the draws themselves, so it holds the share of the weight that
//! the key says however much the smoothing blurs a tight belief.

use super::{Cloud, plane};

/// Variance that one pass of the kernel (1/4 at the node, 1/8 at each of six neighbours) adds
/// along any direction, in squared lattice steps: 6 · 1/8 · 1/2.
const PASS_VARIANCE: f64 = 0.375;
const NEIGHBOURS: [(isize, isize); 6] = [(1, 0), (-1, 0), (0, 1), (0, -1), (1, -1), (-1, 1)];

/// Weight at the nodes of a lattice over the triangle, with one ring of empty nodes round it.
pub(super) struct Grid {
    /// Steps along a side.
    steps: usize,
    /// Row-major over silt and clay places, the ring included.
    weight: Vec<f64>,
    /// Density and share of weight of each draw, densest first.
    draws: Vec<(f64, f64)>,
}

impl Grid {
    /// At most `finest` steps along a side. `None` when no draw carries weight.
    pub(super) fn of(cloud: &Cloud<'_>, finest: f64) -> Option<Self> {
        let draws: Vec<(f64, f64, f64)> = cloud
            .draws
            .iter()
            .zip(cloud.weights)
            .filter(|(soil, weight)| plane::inside(**soil) && weight.is_finite() && **weight > 0.0)
            .map(|(soil, weight)| (soil.silt.clamp(0.0, 100.0), soil.clay.clamp(0.0, 100.0), *weight))
            .collect();
        let total: f64 = draws.iter().map(|draw| draw.2).sum();
        if total <= 0.0 {
            return None;
        }
        let width = kernel_width(&draws, total).max(60.0 / finest);
        // About one and a half steps to the kernel's width.
        let steps = (150.0 / width).round().clamp(30.0, finest) as usize;
        let mut grid = Self { steps, weight: vec![0.0; (steps + 3) * (steps + 3)], draws: Vec::new() };
        for &(silt, clay, weight) in &draws {
            grid.put(silt, clay, weight / total);
        }
        let passes = ((width * steps as f64 / 100.0).powi(2) / PASS_VARIANCE).round().clamp(1.0, 40.0);
        for _ in 0..passes as usize {
            grid.smooth();
        }
        let level = |&(silt, clay, weight): &(f64, f64, f64)| (grid.between(silt, clay), weight / total);
        let mut levels: Vec<(f64, f64)> = draws.iter().map(level).collect();
        levels.sort_unstable_by(|a, b| b.0.total_cmp(&a.0));
        grid.draws = levels;
        Some(grid)
    }

    pub(super) fn steps(&self) -> usize {
        self.steps
    }

    /// Percent of one step.
    pub(super) fn step(&self) -> f64 {
        100.0 / self.steps as f64
    }

    /// Weight at a node; places from -1 to steps + 1.
    pub(super) fn at(&self, silt: isize, clay: isize) -> f64 {
        self.place(silt, clay).map_or(0.0, |place| self.weight[place])
    }

    /// The level above which stands `share` of the weight of the draws.
    pub(super) fn level_holding(&self, share: f64) -> f64 {
        let mut held = 0.0;
        for (rank, (level, weight)) in self.draws.iter().enumerate() {
            held += weight;
            if held >= share {
                // Between this draw and the next, so that this one lies inside.
                return f64::midpoint(*level, self.draws.get(rank + 1).map_or(0.0, |next| next.0));
            }
        }
        0.0
    }

    /// Weight at any place, straight between the three nodes round it.
    fn between(&self, silt: f64, clay: f64) -> f64 {
        self.nodes_round(silt, clay).into_iter().map(|(i, j, share)| share * self.at(i, j)).sum()
    }

    fn place(&self, silt: isize, clay: isize) -> Option<usize> {
        let side = self.steps as isize + 3;
        let (row, column) = (clay + 1, silt + 1);
        ((0..side).contains(&row) && (0..side).contains(&column)).then(|| (row * side + column) as usize)
    }

    fn is_soil(&self, silt: isize, clay: isize) -> bool {
        silt >= 0 && clay >= 0 && silt + clay <= self.steps as isize
    }

    /// The three nodes round a place, with the share each has in it.
    fn nodes_round(&self, silt: f64, clay: f64) -> [(isize, isize, f64); 3] {
        let (silt, clay) = (silt / self.step(), clay / self.step());
        let (across, up) = (silt.floor(), clay.floor());
        let (right, above) = (silt - across, clay - up);
        let (i, j) = (across as isize, up as isize);
        if right + above <= 1.0 {
            [(i, j, 1.0 - right - above), (i + 1, j, right), (i, j + 1, above)]
        } else {
            [(i + 1, j + 1, right + above - 1.0), (i, j + 1, 1.0 - right), (i + 1, j, 1.0 - above)]
        }
    }

    /// Shares a draw between the three nodes of its small triangle.
    fn put(&mut self, silt: f64, clay: f64, weight: f64) {
        for (i, j, share) in self.nodes_round(silt, clay) {
            // A closure a hair over 100 may reach past the edge with next to nothing.
            if let Some(place) = self.place(i, j).filter(|_| self.is_soil(i, j)) {
                self.weight[place] += weight * share;
            }
        }
    }

    /// One pass of the kernel. What would leave the triangle stays at its node.
    fn smooth(&mut self) {
        let mut next = vec![0.0; self.weight.len()];
        let steps = self.steps as isize;
        for clay in 0..=steps {
            for silt in 0..=(steps - clay) {
                let weight = self.at(silt, clay);
                if weight == 0.0 {
                    continue;
                }
                let mut kept = weight * 0.25;
                for (right, up) in NEIGHBOURS {
                    let to = (silt + right, clay + up);
                    match self.place(to.0, to.1).filter(|_| self.is_soil(to.0, to.1)) {
                        Some(place) => next[place] += weight * 0.125,
                        None => kept += weight * 0.125,
                    }
                }
                if let Some(place) = self.place(silt, clay) {
                    next[place] += kept;
                }
            }
        }
        self.weight = next;
    }
}

/// Silverman's width in percentage points, from the scatter in the plane of the triangle.
fn kernel_width(draws: &[(f64, f64, f64)], total: f64) -> f64 {
    let (mut x, mut y, mut square) = (0.0, 0.0, 0.0);
    for (silt, clay, weight) in draws {
        x += (silt + clay / 2.0) * weight / total;
        y += clay * 0.866_025_403_784 * weight / total;
        square += (weight / total).powi(2);
    }
    let mut variance = 0.0;
    for (silt, clay, weight) in draws {
        let (across, up) = (silt + clay / 2.0 - x, clay * 0.866_025_403_784 - y);
        variance += (across * across + up * up) / 2.0 * weight / total;
    }
    variance.sqrt() * square.powf(1.0 / 6.0)
}

#[cfg(test)]
mod tests {
    use ground::texture::Composition;

    use super::*;

    #[test]
    fn smoothing_keeps_the_weight() {
        let draws = [
            Composition { sand: 100.0, silt: 0.0, clay: 0.0 },
            Composition { sand: 33.3, silt: 33.3, clay: 33.4 },
            Composition { sand: 0.0, silt: 0.5, clay: 99.5 },
        ];
        let grid = Grid::of(&Cloud::new(&draws, &[1.0, 2.0, 3.0]), 100.0).unwrap();
        assert!((grid.weight.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn nothing_to_draw_is_no_grid() {
        let soil = [Composition { sand: f64::NAN, silt: 0.0, clay: 0.0 }];
        assert!(Grid::of(&Cloud::new(&soil, &[1.0]), 100.0).is_none());
        assert!(Grid::of(&Cloud::new(&[], &[]), 100.0).is_none());
    }
}
