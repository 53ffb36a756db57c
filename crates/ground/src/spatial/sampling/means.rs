//! Cells of a grid parted among centres (k-means after Lloyd), each to its nearest.

use super::cells::Cells;
use super::shape::{Place, gap_squared};
use crate::kit::chance::Chance;

/// Cells parted among centres.
#[derive(Debug, Clone)]
pub struct Parted {
    /// The centres.
    pub centres: Vec<Place>,
    /// Which centre each cell belongs to.
    pub owner: Vec<u32>,
    /// Mean squared distance from a cell to its centre.
    pub mean_squared_m2: f64,
}

/// Centres to start from: each new one drawn in proportion to the squared distance from those there are (Arthur and
/// Vassilvitskii 2007). The first `fixed` ones are kept as they are.
#[must_use]
pub(crate) fn start(cells: &Cells, fixed: &[Place], count: usize, chance: &mut Chance) -> Vec<Place> {
    let mut centres = fixed.to_vec();
    let mut nearest: Vec<f64> = (0..cells.len())
        .map(|cell| {
            fixed.iter().map(|centre| gap_squared(cells.at(cell), *centre)).fold(f64::INFINITY, f64::min)
        })
        .collect();
    while centres.len() < fixed.len() + count {
        let place = if centres.is_empty() {
            cells.at(drawn(chance, cells.len()))
        } else {
            let mut left = chance.uniform() * nearest.iter().sum::<f64>();
            let found = nearest.iter().position(|gap| {
                left -= gap;
                left <= 0.0
            });
            cells.at(found.unwrap_or(cells.len() - 1))
        };
        for (cell, gap) in nearest.iter_mut().enumerate() {
            *gap = gap.min(gap_squared(cells.at(cell), place));
        }
        centres.push(place);
    }
    centres
}

/// A number below `count`, each as likely.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of a count")]
pub(crate) fn drawn(chance: &mut Chance, count: usize) -> usize {
    ((chance.uniform() * count as f64) as usize).min(count - 1)
}

/// Moves centres to the middle of their cells until no cell changes hands, or `rounds` are over. The first `fixed`
/// centres stay where they are.
#[must_use]
pub(crate) fn settle(cells: &Cells, mut centres: Vec<Place>, fixed: usize, rounds: usize) -> Parted {
    let count = cells.len();
    let mut owner = vec![u32::MAX; count];
    let mut gaps = vec![0.0; count];
    let mut before = f64::INFINITY;
    for round in 0.. {
        let changed = assign(cells, &centres, &mut owner, &mut gaps);
        let mean = gaps.iter().sum::<f64>() / count as f64;
        // A gain below a millionth is a few cells at a border swinging to and fro.
        if !changed || round + 1 >= rounds || mean > before * (1.0 - 1e-7) {
            return Parted { centres, owner, mean_squared_m2: mean };
        }
        before = mean;
        move_to_middles(cells, &owner, &mut centres, fixed);
    }
    unreachable!("the rounds are counted")
}

/// Gives each cell to its nearest centre; was any given away?
pub(crate) fn assign(cells: &Cells, centres: &[Place], owner: &mut [u32], gaps: &mut [f64]) -> bool {
    let mut changed = false;
    for (((x, y), owner), gap) in cells.x.iter().zip(&cells.y).zip(owner.iter_mut()).zip(gaps.iter_mut()) {
        let (mut best, mut least) = (0_u32, f64::INFINITY);
        for (at, centre) in (0_u32..).zip(centres) {
            let (off_x, off_y) = (x - centre[0], y - centre[1]);
            let squared = off_x * off_x + off_y * off_y;
            if squared < least {
                least = squared;
                best = at;
            }
        }
        changed |= *owner != best;
        *owner = best;
        *gap = least;
    }
    changed
}

/// Puts each centre but the first `fixed` in the middle of its cells; one without cells stays.
pub(crate) fn move_to_middles(cells: &Cells, owner: &[u32], centres: &mut [Place], fixed: usize) {
    let mut sums = vec![[0.0; 3]; centres.len()];
    for ((x, y), owner) in cells.x.iter().zip(&cells.y).zip(owner) {
        let sum = &mut sums[*owner as usize];
        sum[0] += x;
        sum[1] += y;
        sum[2] += 1.0;
    }
    for (centre, [x, y, n]) in centres.iter_mut().zip(sums).skip(fixed) {
        if n > 0.0 {
            *centre = [x / n, y / n];
        }
    }
}

/// The cell of each centre's own that lies nearest to it: where a centre has no ground under it, its point goes there.
#[must_use]
pub(crate) fn nearest_cells(cells: &Cells, parted: &Parted) -> Vec<Option<usize>> {
    let mut best: Vec<(f64, Option<usize>)> = vec![(f64::INFINITY, None); parted.centres.len()];
    for (cell, owner) in parted.owner.iter().enumerate() {
        let owner = *owner as usize;
        let gap = gap_squared(cells.at(cell), parted.centres[owner]);
        if gap < best[owner].0 {
            best[owner] = (gap, Some(cell));
        }
    }
    best.into_iter().map(|pair| pair.1).collect()
}
