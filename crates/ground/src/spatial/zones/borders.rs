//! Zones over the whole of a plot, their borders straightened to a stated tolerance.
//!
//! Zones made of cells have stepped borders, and they end where the map does. Here every cell of a box around the plot goes to
//! the zone nearest to it, borders are thinned between the corners where they meet, and the plot's own outline cuts them
//! off. Two zones share one border, so nothing lies between them and nothing in both.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use geo::algorithm::SimplifyIdx;
use geo::{Coord, LineString};

use super::outline::{Corner, placed, ring_corners, straightened};
use crate::spatial::outline::{Area, common, crossings, overlap_m2};
use crate::spatial::plane::signed_area_m2;
use crate::spatial::raster::Raster;
use crate::spatial::sites::Place;

/// A straightened border strays from the cells' by no more than this many cells (our judgement: a cell is far finer than
/// readings tell).
pub const TOLERANCE_CELLS: f64 = 1.0;

/// The zones' outlines, zone by zone from 0, over a plot; over the mapped cells where the plot has no outline. A zone in
/// several pieces keeps its largest. `None` where a zone has no ground.
#[must_use]
pub fn zone_areas(of_cell: &Raster<usize>, count: usize, plot: Option<&Area>) -> Option<Vec<Area>> {
    let reach = |fold: fn(f64, f64) -> f64, start: f64, axis: usize| {
        plot.map(|plot| plot.outer.iter().map(|at| at[axis]).fold(start, fold))
    };
    let whole = match (
        reach(f64::min, f64::INFINITY, 0),
        reach(f64::min, f64::INFINITY, 1),
        reach(f64::max, f64::NEG_INFINITY, 0),
        reach(f64::max, f64::NEG_INFINITY, 1),
    ) {
        (Some(west), Some(south), Some(east), Some(north)) => over_box(of_cell, [west, south], [east, north]),
        _ => of_cell.clone(),
    };
    let mut tolerance = TOLERANCE_CELLS;
    // Where a narrow neck makes thinned borders cross, they are thinned less; unthinned they cannot.
    for _ in 0..4 {
        let areas: Vec<Area> = (0..count).map(|zone| area(&whole, zone, tolerance)).collect::<Option<_>>()?;
        if sound(&areas) || tolerance <= 0.25 {
            return areas.into_iter().map(|area| cut(area, plot)).collect();
        }
        tolerance *= 0.5;
    }
    None
}

fn sound(areas: &[Area]) -> bool {
    areas.iter().all(|area| {
        std::iter::once(&area.outer)
            .chain(&area.holes)
            .all(|ring| ring.len() >= 3 && crossings(ring).is_empty())
    }) && areas
        .iter()
        .enumerate()
        .all(|(at, one)| areas[at + 1..].iter().all(|other| overlap_m2(one, other) < 1e-6 * one.area_m2()))
}

fn cut(area: Area, plot: Option<&Area>) -> Option<Area> {
    match plot {
        Some(plot) => common(&area, plot).into_iter().next(),
        None => Some(area),
    }
}

/// The cells of a box, on the same grid, each in the zone nearest to it by steps from cell to cell.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "cells by the thousand"
)]
fn over_box(of_cell: &Raster<usize>, low: Place, high: Place) -> Raster<usize> {
    let side = of_cell.cell_m;
    let held = [of_cell.columns, of_cell.rows()];
    let before = [0, 1].map(|axis| ((of_cell.corner[axis] - low[axis]) / side).ceil().max(0.0) as usize + 1);
    let after = [0, 1].map(|axis| {
        let end = of_cell.corner[axis] + held[axis] as f64 * side;
        ((high[axis] - end) / side).ceil().max(0.0) as usize + 1
    });
    let [columns, rows] = [0, 1].map(|axis| before[axis] + held[axis] + after[axis]);
    let mut whole = Raster {
        corner: [0, 1].map(|axis| of_cell.corner[axis] - before[axis] as f64 * side),
        cell_m: side,
        columns,
        cells: vec![None; columns * rows],
    };
    let mut next = VecDeque::new();
    for (cell, zone) in of_cell.cells.iter().enumerate() {
        if zone.is_some() {
            let (column, row) = (cell % held[0] + before[0], cell / held[0] + before[1]);
            whole.cells[row * columns + column] = *zone;
            next.push_back(row * columns + column);
        }
    }
    while let Some(cell) = next.pop_front() {
        let beside: Vec<usize> = whole.beside(cell).filter(|other| whole.cells[*other].is_none()).collect();
        for other in beside {
            whole.cells[other] = whole.cells[cell];
            next.push_back(other);
        }
    }
    whole
}

/// The outline of a zone with only the corners that are kept.
fn area(whole: &Raster<usize>, zone: usize, tolerance: f64) -> Option<Area> {
    let kept = kept_corners(whole, tolerance);
    let mut rings: Vec<Vec<Place>> = ring_corners(whole, zone)?
        .into_iter()
        .map(|ring| {
            let thinned: Vec<Corner> = ring.iter().copied().filter(|corner| kept.contains(corner)).collect();
            let ring = if thinned.len() >= 3 { thinned } else { straightened(&ring) };
            ring.into_iter().map(|corner| placed(whole, corner)).collect()
        })
        .collect();
    let outer = rings.iter().position(|ring| signed_area_m2(ring) > 0.0)?;
    let outer = rings.swap_remove(outer);
    Some(Area { outer, holes: rings })
}

/// Corners that stay when every border is thinned between the corners where borders meet (Douglas and Peucker 1973).
fn kept_corners(whole: &Raster<usize>, tolerance: f64) -> BTreeSet<Corner> {
    let mut beside = sides(whole);
    let mut kept: BTreeSet<Corner> =
        beside.iter().filter(|(_, to)| to.len() != 2).map(|(corner, _)| *corner).collect();
    let mut arcs: Vec<Vec<Corner>> = Vec::new();
    for start in kept.clone() {
        while let Some(arc) = walk(&mut beside, start, &kept) {
            arcs.push(arc);
        }
    }
    // What is left are rings that meet no other border: they are held at two corners far from each other.
    while let Some(start) = beside.iter().find(|(_, to)| !to.is_empty()).map(|(corner, _)| *corner) {
        let Some(ring) = walk(&mut beside, start, &BTreeSet::from([start])) else { break };
        let far = |corner: &Corner| corner.0.abs_diff(start.0).pow(2) + corner.1.abs_diff(start.1).pow(2);
        let middle = (0..ring.len()).max_by_key(|at| (far(&ring[*at]), usize::MAX - at)).unwrap_or(0);
        arcs.push(ring[..=middle].to_vec());
        arcs.push(ring[middle..].to_vec());
    }
    for arc in arcs {
        #[expect(clippy::cast_precision_loss, reason = "cells by the thousand")]
        let line: LineString<f64> =
            arc.iter().map(|corner| Coord { x: corner.0 as f64, y: corner.1 as f64 }).collect();
        kept.extend(line.simplify_idx(tolerance).into_iter().map(|at| arc[at]));
    }
    kept
}

/// Sides between unlike cells: each corner with the corners it is joined to.
fn sides(whole: &Raster<usize>) -> BTreeMap<Corner, Vec<Corner>> {
    let (columns, rows) = (whole.columns, whole.rows());
    let zone = |column: Option<usize>, row: Option<usize>| match (column, row) {
        (Some(column), Some(row)) if column < columns && row < rows => whole.cells[row * columns + column],
        _ => None,
    };
    let mut beside = BTreeMap::<Corner, Vec<Corner>>::new();
    let mut join = |a: Corner, b: Corner| {
        beside.entry(a).or_default().push(b);
        beside.entry(b).or_default().push(a);
    };
    for row in 0..=rows {
        for column in 0..=columns {
            if column < columns && zone(Some(column), row.checked_sub(1)) != zone(Some(column), Some(row)) {
                join((column, row), (column + 1, row));
            }
            if row < rows && zone(column.checked_sub(1), Some(row)) != zone(Some(column), Some(row)) {
                join((column, row), (column, row + 1));
            }
        }
    }
    beside
}

/// Along a border from a corner to the next that stops it, taking its sides away.
fn walk(
    beside: &mut BTreeMap<Corner, Vec<Corner>>,
    start: Corner,
    stops: &BTreeSet<Corner>,
) -> Option<Vec<Corner>> {
    let mut step = |from: Corner| -> Option<Corner> {
        let to = beside.get_mut(&from)?.pop()?;
        if let Some(back) = beside.get_mut(&to)
            && let Some(at) = back.iter().position(|corner| *corner == from)
        {
            back.remove(at);
        }
        Some(to)
    };
    let mut arc = vec![start, step(start)?];
    while let Some(here) = arc.last().copied().filter(|corner| !stops.contains(corner)) {
        arc.push(step(here)?);
    }
    Some(arc)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spatial::zones::drawn;
    use proptest::prelude::*;

    #[test]
    fn a_stair_becomes_a_line_and_the_plot_is_filled() {
        // A stair from the south-west to the north-east, a blank cell in the corner, and a plot a little larger.
        let map = drawn(&["0000011.", "0000111.", "0001111.", "00111111", "01111111"]);
        let plot = Area::new(vec![[9.0, 19.0], [27.5, 19.0], [27.5, 31.0], [9.0, 31.0]]);
        let zones = zone_areas(&map, 2, Some(&plot)).expect("two zones");
        let sum: f64 = zones.iter().map(Area::area_m2).sum();
        assert!((sum - plot.area_m2()).abs() < 1e-6, "{sum} of {}", plot.area_m2());
        assert!(overlap_m2(&zones[0], &zones[1]) < 1e-9);
        let corners: usize = zones.iter().map(|zone| zone.outer.len()).sum();
        assert!(corners <= 12, "{zones:?}");
    }

    #[test]
    fn an_island_stays_a_hole_and_without_a_plot_the_cells_count() {
        let map = drawn(&["000000", "001100", "011110", "001100", "000000"]);
        let zones = zone_areas(&map, 2, None).expect("two zones");
        assert_eq!((zones[0].holes.len(), zones[1].holes.len()), (1, 0));
        let sum: f64 = zones.iter().map(Area::area_m2).sum();
        assert!((sum - 120.0).abs() < 1e-6, "{zones:?}");
        assert!(zone_areas(&map, 3, None).is_none());
    }

    proptest! {
        /// Whatever the zones are, they part the plot: nothing in two of them, and a border no farther off than stated.
        #[test]
        fn zones_part_the_ground(levels in proptest::collection::vec(0_u8..4, 12..20), wave in 1.0..6.0_f64) {
            let columns = levels.len();
            let cells: Vec<Option<usize>> = (0..columns * 10)
                .map(|cell| {
                    let (column, row) = (cell % columns, cell / columns);
                    let lift = 2.0 * libm::sin(column as f64 / wave) + f64::from(levels[column]) * 0.5;
                    Some(usize::from(row as f64 > 4.0 + lift))
                })
                .collect();
            prop_assume!(cells.contains(&Some(0)) && cells.contains(&Some(1)));
            let map = Raster { corner: [0.0, 0.0], cell_m: 1.5, columns, cells };
            let Some(zones) = zone_areas(&map, 2, None) else { return Ok(()) };
            prop_assert!(overlap_m2(&zones[0], &zones[1]) < 1e-6);
            for (at, zone) in zones.iter().enumerate() {
                let exact = super::super::outline::outline(&map, at).unwrap();
                let exact = Area { outer: exact.0, holes: exact.1 };
                let perimeter = crate::spatial::plane::perimeter_m(&exact.outer);
                prop_assert!((zone.area_m2() - exact.area_m2()).abs() <= TOLERANCE_CELLS * 1.5 * perimeter);
            }
        }
    }
}
