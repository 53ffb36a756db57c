//! Grouping the cells of a map by value and place (k-means), each zone one piece.

use crate::kit::chance::Chance;
use crate::spatial::raster::Raster;

/// What place counts beside the value where nothing is said: half.
pub const USUAL_COMPACTNESS: f64 = 0.5;
/// Starts of the grouping; the best one stands.
const STARTS: u32 = 12;
const ROUNDS: usize = 100;
const MENDING_ROUNDS: usize = 8;

/// The zones of a map, numbered from the lowest mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Zones {
    /// Zone of each cell, from 0.
    pub of_cell: Raster<usize>,
    /// Mean value of each zone.
    pub means: Vec<f64>,
    /// Area of each zone, m².
    pub areas_m2: Vec<f64>,
    /// Share of the map's variance that lies between zones.
    pub explained: f64,
}

/// Features of a cell: value and place, scaled.
type Feature = [f64; 3];

/// Groups a map into `count` zones, value and place weighed by `compactness` (0: value alone). Pieces that lie apart
/// from the largest of their zone go to the zone they border most. `None` where there are fewer cells than zones, or
/// all are alike.
#[must_use]
pub fn suggest(map: &Raster<f64>, count: usize, compactness: f64, seed: u64) -> Option<Zones> {
    let cells: Vec<usize> = (0..map.cells.len()).filter(|cell| map.cells[*cell].is_some()).collect();
    if count < 1 || cells.len() < count {
        return None;
    }
    let features = features(map, &cells, compactness)?;
    let mut chance = Chance::new(seed);
    let mut best: Option<(f64, Vec<usize>)> = None;
    for _ in 0..STARTS {
        let (loss, groups) = grouped(&features, count, &mut chance);
        if best.as_ref().is_none_or(|best| loss < best.0 - 1e-12) {
            best = Some((loss, groups));
        }
    }
    let mut of_cell = map.with(vec![None; map.cells.len()]);
    for (cell, group) in cells.iter().zip(best?.1) {
        of_cell.cells[*cell] = Some(group);
    }
    for _ in 0..MENDING_ROUNDS {
        if !join_islands(&mut of_cell, count) {
            break;
        }
    }
    Some(summed(map, of_cell))
}

#[expect(clippy::cast_precision_loss, reason = "cells by the thousand")]
fn features(map: &Raster<f64>, cells: &[usize], compactness: f64) -> Option<Vec<Feature>> {
    let n = cells.len() as f64;
    let raw: Vec<Feature> = cells
        .iter()
        .map(|cell| {
            let [east, north] = map.middle(*cell);
            [map.cells[*cell].unwrap_or_default(), east, north]
        })
        .collect();
    let mean = [0, 1, 2].map(|axis| raw.iter().map(|one| one[axis]).sum::<f64>() / n);
    let variance = [0, 1, 2].map(|axis| {
        raw.iter().map(|one| (one[axis] - mean[axis]) * (one[axis] - mean[axis])).sum::<f64>() / n
    });
    if variance[0] <= 0.0 || !variance[0].is_finite() {
        return None;
    }
    // Places on one scale in both directions, so that zones are not stretched.
    let reach = (variance[1] + variance[2]).sqrt().max(1e-9);
    let scale = [1.0 / variance[0].sqrt(), compactness / reach, compactness / reach];
    Some(raw.into_iter().map(|one| [0, 1, 2].map(|axis| (one[axis] - mean[axis]) * scale[axis])).collect())
}

fn apart(a: &Feature, b: &Feature) -> f64 {
    (0..3).map(|axis| (a[axis] - b[axis]) * (a[axis] - b[axis])).sum()
}

/// One run from starts spread by chance in proportion to squared distance (Arthur and Vassilvitskii 2007).
fn grouped(features: &[Feature], count: usize, chance: &mut Chance) -> (f64, Vec<usize>) {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "an index into the list"
    )]
    let any = |share: f64| ((share * features.len() as f64) as usize).min(features.len() - 1);
    let mut centres = vec![features[any(chance.uniform())]];
    while centres.len() < count {
        let far: Vec<f64> = features
            .iter()
            .map(|one| centres.iter().map(|centre| apart(one, centre)).fold(f64::INFINITY, f64::min))
            .collect();
        let mut left = chance.uniform() * far.iter().sum::<f64>();
        let chosen = far.iter().position(|weight| {
            left -= weight;
            left <= 0.0
        });
        centres.push(features[chosen.unwrap_or(features.len() - 1)]);
    }
    let mut groups = vec![usize::MAX; features.len()];
    let mut loss = f64::INFINITY;
    for _ in 0..ROUNDS {
        let mut moved = false;
        loss = 0.0;
        for (one, group) in features.iter().zip(&mut groups) {
            let (nearest, far) = centres
                .iter()
                .map(|centre| apart(one, centre))
                .enumerate()
                .min_by(|a, b| a.1.total_cmp(&b.1))
                .unwrap_or((0, 0.0));
            moved |= *group != nearest;
            *group = nearest;
            loss += far;
        }
        if !moved {
            break;
        }
        for (index, centre) in centres.iter_mut().enumerate() {
            let mut sum = [0.0; 3];
            let mut held = 0.0;
            for one in features.iter().zip(&groups).filter(|(_, group)| **group == index).map(|pair| pair.0) {
                for (sum, part) in sum.iter_mut().zip(one) {
                    *sum += part;
                }
                held += 1.0;
            }
            if held > 0.0 {
                *centre = sum.map(|sum| sum / held);
            }
        }
    }
    (loss, groups)
}

/// Pieces of a zone apart from its largest go to the zone they border most. Did any?
fn join_islands(of_cell: &mut Raster<usize>, count: usize) -> bool {
    let pieces = pieces(of_cell);
    let mut largest = vec![None; count];
    for (at, (zone, cells)) in pieces.iter().enumerate() {
        let best: &mut Option<usize> = &mut largest[*zone];
        if best.is_none_or(|best: usize| cells.len() > pieces[best].1.len()) {
            *best = Some(at);
        }
    }
    let mut changed = false;
    for (at, (zone, cells)) in pieces.iter().enumerate() {
        if largest[*zone] == Some(at) {
            continue;
        }
        let mut borders = vec![0_usize; count];
        for cell in cells {
            for other in of_cell.beside(*cell).filter_map(|other| of_cell.cells[other]) {
                if other != *zone {
                    borders[other] += 1;
                }
            }
        }
        let most = borders.iter().enumerate().max_by_key(|(zone, sides)| (**sides, usize::MAX - zone));
        if let Some((to, sides)) = most
            && *sides > 0
        {
            for cell in cells {
                of_cell.cells[*cell] = Some(to);
            }
            changed = true;
        }
    }
    changed
}

/// The pieces of all zones: cells of one zone that hang together by their sides.
pub(crate) fn pieces(of_cell: &Raster<usize>) -> Vec<(usize, Vec<usize>)> {
    let mut seen = vec![false; of_cell.cells.len()];
    let mut pieces = Vec::new();
    for start in 0..of_cell.cells.len() {
        let Some(zone) = of_cell.cells[start].filter(|_| !seen[start]) else { continue };
        let mut piece = Vec::new();
        let mut open = vec![start];
        seen[start] = true;
        while let Some(cell) = open.pop() {
            piece.push(cell);
            for other in of_cell.beside(cell) {
                if !seen[other] && of_cell.cells[other] == Some(zone) {
                    seen[other] = true;
                    open.push(other);
                }
            }
        }
        pieces.push((zone, piece));
    }
    pieces
}

/// Means, areas and what the zones explain; zones numbered anew from the lowest mean, those without a cell left out.
fn summed(map: &Raster<f64>, of_cell: Raster<usize>) -> Zones {
    let mut sums = std::collections::BTreeMap::<usize, (f64, f64)>::new();
    let (mut all, mut total) = (0.0, 0.0);
    for (zone, value) in
        of_cell.cells.iter().zip(&map.cells).filter_map(|(zone, value)| Some(((*zone)?, (*value)?)))
    {
        let sum = sums.entry(zone).or_default();
        sum.0 += 1.0;
        sum.1 += value;
        all += 1.0;
        total += value;
    }
    let mean = total / all;
    let mut order: Vec<(usize, f64, f64)> =
        sums.into_iter().map(|(zone, (held, sum))| (zone, held, sum / held)).collect();
    order.sort_by(|a, b| a.2.total_cmp(&b.2));
    let between: f64 = order.iter().map(|(_, held, own)| held * (own - mean) * (own - mean)).sum();
    let within: f64 = map
        .cells
        .iter()
        .flatten()
        .map(|value| (value - mean) * (value - mean))
        .sum::<f64>()
        .max(f64::MIN_POSITIVE);
    let cells = of_cell
        .cells
        .iter()
        .map(|zone| zone.and_then(|zone| order.iter().position(|one| one.0 == zone)))
        .collect();
    Zones {
        means: order.iter().map(|one| one.2).collect(),
        areas_m2: order.iter().map(|one| one.1 * map.cell_m * map.cell_m).collect(),
        explained: (between / within).clamp(0.0, 1.0),
        of_cell: of_cell.with(cells),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn map(columns: usize, value: impl Fn(usize, usize) -> f64, rows: usize) -> Raster<f64> {
        let cells = (0..rows * columns).map(|cell| Some(value(cell % columns, cell / columns))).collect();
        Raster { corner: [0.0, 0.0], cell_m: 2.0, columns, cells }
    }

    #[test]
    fn two_halves_are_found_and_an_island_joins_its_neighbour() {
        let halves =
            map(20, |column, row| if (column, row) == (3, 5) || column >= 12 { 8.0 } else { 2.0 }, 10);
        let zones = suggest(&halves, 2, USUAL_COMPACTNESS, 3).unwrap();
        assert_eq!(zones.areas_m2, vec![480.0, 320.0]);
        assert_eq!(zones.of_cell.cells[5 * 20 + 3], Some(0));
        assert_eq!(pieces(&zones.of_cell).len(), 2);
        assert!(zones.explained > 0.95);
    }

    #[test]
    fn a_map_without_differences_has_no_zones() {
        assert_eq!(suggest(&map(5, |_, _| 3.0, 5), 2, 0.5, 1), None);
        assert_eq!(suggest(&map(1, |_, _| 3.0, 1), 2, 0.5, 1), None);
    }

    #[test]
    fn every_zone_is_one_piece() {
        let waves = map(30, |column, row| libm::sin(column as f64 * 0.7) + libm::cos(row as f64 * 0.5), 24);
        for count in 2..=4 {
            let zones = suggest(&waves, count, USUAL_COMPACTNESS, 9).unwrap();
            assert_eq!(pieces(&zones.of_cell).len(), zones.means.len(), "{count}");
            assert!((zones.areas_m2.iter().sum::<f64>() - 30.0 * 24.0 * 4.0).abs() < 1e-9);
            assert!(zones.means.windows(2).all(|pair| pair[0] <= pair[1]));
        }
    }
}
