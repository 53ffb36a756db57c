//! Closed lines round the part of a grid above a level (marching triangles).

use std::collections::BTreeMap;

use super::density::Grid;

/// A node of the grid by its silt and clay place.
type Node = (isize, isize);
/// An edge between two nodes, the lesser first.
type Edge = (Node, Node);

/// Rings of (silt %, clay %) round what is above `level`. Where the belief reaches the edge of
/// the triangle a ring runs just outside it; the picture clips it there.
pub(super) fn loops(grid: &Grid, level: f64) -> Vec<Vec<(f64, f64)>> {
    let steps = grid.steps() as isize;
    // Each crossed edge has two neighbours on its ring, one in each triangle it belongs to.
    let mut joined: BTreeMap<Edge, Vec<Edge>> = BTreeMap::new();
    let above = |(silt, clay): Node| grid.at(silt, clay) > level;
    for clay in -1..=steps {
        for silt in -1..=(steps - clay) {
            let (low, right) = ((silt, clay), (silt + 1, clay));
            let (top, far) = ((silt, clay + 1), (silt + 1, clay + 1));
            let all = above(low);
            if [right, top, far].into_iter().all(|node| above(node) == all) {
                continue;
            }
            for triangle in [[low, right, top], [right, far, top]] {
                let crossed = crossings(grid, level, triangle);
                if let [a, b] = crossed[..] {
                    joined.entry(a).or_default().push(b);
                    joined.entry(b).or_default().push(a);
                }
            }
        }
    }
    let mut rings = Vec::new();
    while let Some((&start, _)) = joined.iter().next() {
        let mut ring = Vec::new();
        let mut edge = start;
        // Walking off an edge takes it out of the map, so the walk ends where it began.
        while let Some(next) = joined.remove(&edge) {
            ring.push(point(grid, level, edge));
            match next.iter().find(|other| joined.contains_key(other)) {
                Some(other) => edge = *other,
                None => break,
            }
        }
        rings.push(ring);
    }
    rings
}

fn crossings(grid: &Grid, level: f64, [a, b, c]: [Node; 3]) -> Vec<Edge> {
    let above = |node: Node| grid.at(node.0, node.1) > level;
    [(a, b), (b, c), (c, a)]
        .into_iter()
        .filter(|(from, to)| above(*from) != above(*to))
        .map(|(from, to)| if from < to { (from, to) } else { (to, from) })
        .collect()
}

fn point(grid: &Grid, level: f64, (from, to): Edge) -> (f64, f64) {
    let (low, high) = (grid.at(from.0, from.1), grid.at(to.0, to.1));
    let share = ((level - low) / (high - low)).clamp(0.0, 1.0);
    let along = |a: isize, b: isize| (a as f64 + (b - a) as f64 * share) * grid.step();
    (along(from.0, to.0), along(from.1, to.1))
}

#[cfg(test)]
mod tests {
    use ground::texture::Composition;

    use super::super::Cloud;
    use super::*;

    /// Even-odd rule over all rings.
    fn holds(rings: &[Vec<(f64, f64)>], (x, y): (f64, f64)) -> bool {
        let mut inside = false;
        for ring in rings {
            for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                if (a.1 > y) != (b.1 > y) && x < (b.0 - a.0) * (y - a.1) / (b.1 - a.1) + a.0 {
                    inside = !inside;
                }
            }
        }
        inside
    }

    /// Draws on a sunflower spiral with normal radii: an even sample of a round normal cloud.
    fn cloud_at(sand: f64, clay: f64, sd: f64) -> Vec<Composition> {
        (0..4000)
            .map(|n| {
                let radius = sd * (-2.0 * (1.0 - (f64::from(n) + 0.5) / 4000.0).ln()).sqrt();
                let turn = f64::from(n) * 2.399_963;
                let (x, y) = (radius * turn.cos(), radius * turn.sin());
                let clay = clay + y / 0.866_025;
                let silt = 100.0 - sand - clay + x;
                Composition { sand: 100.0 - silt - clay, silt, clay }
            })
            .filter(|soil| soil.sand >= 0.0 && soil.silt >= 0.0 && soil.clay >= 0.0)
            .collect()
    }

    #[test]
    fn the_areas_hold_the_share_of_the_draws_that_the_key_says() {
        for (sand, clay, sd) in [(40.0, 22.0, 4.0), (20.0, 45.0, 1.0), (88.0, 5.0, 6.0), (40.0, 22.0, 12.0)] {
            let draws = cloud_at(sand, clay, sd);
            let weights = vec![1.0; draws.len()];
            let grid = Grid::of(&Cloud::new(&draws, &weights), 100.0).unwrap();
            for share in [0.5, 0.9] {
                let rings = loops(&grid, grid.level_holding(share));
                let held = draws.iter().filter(|soil| holds(&rings, (soil.silt, soil.clay))).count();
                let got = held as f64 / draws.len() as f64;
                assert!((got - share).abs() < 0.01, "sd {sd}: {share} asked, {got} held");
            }
        }
    }

    #[test]
    fn two_separate_clouds_give_two_rings() {
        let mut draws = cloud_at(80.0, 8.0, 1.5);
        draws.extend(cloud_at(15.0, 50.0, 1.5));
        let weights = vec![1.0; draws.len()];
        let grid = Grid::of(&Cloud::new(&draws, &weights), 100.0).unwrap();
        let rings = loops(&grid, grid.level_holding(0.9));
        assert!(rings.iter().filter(|ring| ring.len() > 6).count() >= 2, "{}", rings.len());
        assert!(rings.iter().all(|ring| ring.len() >= 3));
    }
}
