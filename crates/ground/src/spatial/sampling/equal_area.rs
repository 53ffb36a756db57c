//! Cells parted into compact parts of equal area.
//!
//! Each centre gets a weight that is taken off its squared distances, raised where its part is too small and lowered
//! where it is too large; what is still uneven is passed on along the cheapest chains of neighbours, one cell at a time,
//! so that in the end no two parts differ by more than a cell.

use super::cells::Cells;
use super::means::{Parted, move_to_middles};
use super::shape::{Place, gap_squared};

/// Rounds of moving the centres.
const ROUNDS: usize = 12;
/// Rounds of weighing in each.
const WEIGHINGS: usize = 25;

/// Parts the cells evenly among as many compact parts as there are centres to start from. Needs a cell for each centre.
#[must_use]
pub(crate) fn even_out(cells: &Cells, mut centres: Vec<Place>) -> Parted {
    let mut weights = vec![0.0; centres.len()];
    let mut best: Option<Parted> = None;
    for _ in 0..ROUNDS {
        let mut owner = weigh(cells, &centres, &mut weights);
        pass_on(cells, &centres, &mut owner);
        move_to_middles(cells, &owner, &mut centres, 0);
        let squared =
            owner.iter().enumerate().map(|(cell, own)| gap_squared(cells.at(cell), centres[*own as usize]));
        let mean = squared.sum::<f64>() / cells.len() as f64;
        if best.as_ref().is_some_and(|best| mean >= best.mean_squared_m2 * (1.0 - 1e-6)) {
            break;
        }
        best = Some(Parted { centres: centres.clone(), owner, mean_squared_m2: mean });
    }
    best.unwrap_or_else(|| unreachable!("one round is always made"))
}

/// Finds weights that make the parts about equal.
fn weigh(cells: &Cells, centres: &[Place], weights: &mut [f64]) -> Vec<u32> {
    let even = cells.len() as f64 / centres.len() as f64;
    let cell_m2 = cells.size_m * cells.size_m;
    let mut owner = vec![0_u32; cells.len()];
    let mut counts = vec![0.0; centres.len()];
    for _ in 0..WEIGHINGS {
        counts.fill(0.0);
        for ((x, y), owner) in cells.x.iter().zip(&cells.y).zip(owner.iter_mut()) {
            let (mut best, mut least) = (0_u32, f64::INFINITY);
            for ((at, centre), weight) in (0_u32..).zip(centres).zip(weights.iter()) {
                let (off_x, off_y) = (x - centre[0], y - centre[1]);
                let cost = off_x * off_x + off_y * off_y - weight;
                if cost < least {
                    least = cost;
                    best = at;
                }
            }
            *owner = best;
            counts[best as usize] += 1.0;
        }
        let worst = counts.iter().map(|count| (count - even).abs()).fold(0.0, f64::max);
        if worst < 1.0 {
            break;
        }
        // A border between centres D apart moves by δ / 2D for a weight δ, along a rim of about 4D: twice δ in area.
        for (weight, count) in weights.iter_mut().zip(&counts) {
            *weight += 0.4 * (even - count) * cell_m2;
        }
    }
    owner
}

/// Makes the parts exactly equal, to a cell, at the least cost in squared distance.
fn pass_on(cells: &Cells, centres: &[Place], owner: &mut [u32]) {
    let parts = centres.len();
    let mut counts = vec![0_usize; parts];
    for own in owner.iter() {
        counts[*own as usize] += 1;
    }
    // The parts that are largest already get the cells left over.
    let mut order: Vec<usize> = (0..parts).collect();
    order.sort_by_key(|part| std::cmp::Reverse(counts[*part]));
    let mut wanted = vec![cells.len() / parts; parts];
    for part in order.iter().take(cells.len() % parts) {
        wanted[*part] += 1;
    }
    while let Some(from) = (0..parts).find(|part| counts[*part] > wanted[*part]) {
        let (price, cheapest) = prices(cells, centres, owner);
        let Some(chain) = cheapest_chain(&price, parts, from, |part| counts[part] < wanted[part]) else {
            return;
        };
        for pair in chain.windows(2) {
            let Some(cell) = cheapest[pair[0] * parts + pair[1]] else { return };
            #[expect(clippy::cast_possible_truncation, reason = "500 parts at most")]
            let to = pair[1] as u32;
            owner[cell] = to;
        }
        let end = chain[chain.len() - 1];
        counts[from] -= 1;
        counts[end] += 1;
    }
}

/// What the cheapest cell costs to hand from each part to each other, and which it is.
fn prices(cells: &Cells, centres: &[Place], owner: &[u32]) -> (Vec<f64>, Vec<Option<usize>>) {
    let parts = centres.len();
    let mut price = vec![f64::INFINITY; parts * parts];
    let mut cheapest = vec![None; parts * parts];
    for (cell, own) in owner.iter().enumerate() {
        let own = *own as usize;
        let here = gap_squared(cells.at(cell), centres[own]);
        for (to, centre) in centres.iter().enumerate() {
            let cost = gap_squared(cells.at(cell), *centre) - here;
            if to != own && cost < price[own * parts + to] {
                price[own * parts + to] = cost;
                cheapest[own * parts + to] = Some(cell);
            }
        }
    }
    (price, cheapest)
}

/// The cheapest chain of parts from one with too much to one with too little (Bellman and Ford).
fn cheapest_chain(
    price: &[f64],
    parts: usize,
    from: usize,
    short: impl Fn(usize) -> bool,
) -> Option<Vec<usize>> {
    let mut cost = vec![f64::INFINITY; parts];
    let mut before = vec![usize::MAX; parts];
    cost[from] = 0.0;
    for _ in 1..parts {
        let mut better = false;
        for one in 0..parts {
            for other in 0..parts {
                let through = cost[one] + price[one * parts + other];
                if other != from && through < cost[other] - 1e-9 {
                    cost[other] = through;
                    before[other] = one;
                    better = true;
                }
            }
        }
        if !better {
            break;
        }
    }
    let end = (0..parts).filter(|part| short(*part)).min_by(|a, b| cost[*a].total_cmp(&cost[*b]))?;
    let mut chain = vec![end];
    while chain[chain.len() - 1] != from {
        let next = before[chain[chain.len() - 1]];
        // Rounding could close a ring that gains nothing: then the way is straight.
        if next == usize::MAX || chain.len() > parts {
            return Some(vec![from, end]);
        }
        chain.push(next);
    }
    chain.reverse();
    Some(chain)
}

#[cfg(test)]
mod tests {
    use super::super::ground_to_sample::Ground;
    use super::super::shape::Area;
    use super::*;

    #[test]
    fn parts_are_equal_to_a_cell() {
        let area = Area {
            outer: vec![[0.0, 0.0], [100.0, 0.0], [100.0, 40.0], [60.0, 40.0], [60.0, 90.0], [0.0, 90.0]],
            holes: vec![],
        };
        let cells = Cells::within(&Ground::whole(area), 2.0);
        // Centres heaped up in a corner: the worst start there is.
        let heap: Vec<Place> = (0..7).map(|at| [f64::from(at), 1.0]).collect();
        let parted = even_out(&cells, heap);
        let mut counts = [0_usize; 7];
        for own in &parted.owner {
            counts[*own as usize] += 1;
        }
        let (least, most) = (counts.iter().min().unwrap(), counts.iter().max().unwrap());
        assert!(most - least <= 1, "{counts:?}");
        // Compact too: within a third of the bound that no design of seven parts can pass.
        assert!(parted.mean_squared_m2 < 1.33 * 0.160_375 * 7000.0 / 7.0, "{}", parted.mean_squared_m2);
    }
}
