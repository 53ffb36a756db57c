//! The outline of a zone, along the sides of its cells.

use std::collections::BTreeMap;

use crate::spatial::plane::signed_area_m2;
use crate::spatial::raster::Raster;
use crate::spatial::sites::Place;

/// Corners of a ring; the last is not the first again.
pub type Ring = Vec<Place>;

/// A corner of the cells: column and row.
pub(super) type Corner = (usize, usize);

/// The outer ring of a zone (anticlockwise) and its holes (clockwise). A zone in several pieces gives the outer ring
/// of the largest and only the holes within it. `None` where no cell is of the zone.
#[must_use]
pub fn outline(of_cell: &Raster<usize>, zone: usize) -> Option<(Ring, Vec<Ring>)> {
    let mut rings: Vec<Ring> = ring_corners(of_cell, zone)?
        .into_iter()
        .map(|ring| straightened(&ring).into_iter().map(|corner| placed(of_cell, corner)).collect())
        .collect();
    let outer = rings.iter().position(|ring: &Ring| signed_area_m2(ring) > 0.0)?;
    let outer = rings.swap_remove(outer);
    Some((outer, rings))
}

/// The rings of the largest piece of a zone, every corner of a cell on the way.
pub(super) fn ring_corners(of_cell: &Raster<usize>, zone: usize) -> Option<Vec<Vec<Corner>>> {
    let (_, piece) = super::cluster::pieces(of_cell)
        .into_iter()
        .filter(|one| one.0 == zone)
        .max_by_key(|one| one.1.len())?;
    let mut inside = vec![false; of_cell.cells.len()];
    for cell in piece {
        inside[cell] = true;
    }
    Some(rings(of_cell.columns, &inside))
}

#[expect(clippy::cast_precision_loss, reason = "cells by the thousand")]
pub(super) fn placed<T>(raster: &Raster<T>, corner: Corner) -> Place {
    [raster.corner[0] + corner.0 as f64 * raster.cell_m, raster.corner[1] + corner.1 as f64 * raster.cell_m]
}

/// The sides between inside and outside, walked with the inside on the left.
fn rings(columns: usize, inside: &[bool]) -> Vec<Vec<Corner>> {
    let rows = inside.len() / columns;
    let is = |column: Option<usize>, row: Option<usize>| match (column, row) {
        (Some(column), Some(row)) if column < columns && row < rows => inside[row * columns + column],
        _ => false,
    };
    let mut from = BTreeMap::<Corner, Vec<Corner>>::new();
    let mut side = |a: Corner, b: Corner| from.entry(a).or_default().push(b);
    for (cell, _) in inside.iter().enumerate().filter(|one| *one.1) {
        let (column, row) = (cell % columns, cell / columns);
        if !is(Some(column), row.checked_sub(1)) {
            side((column, row), (column + 1, row));
        }
        if !is(Some(column + 1), Some(row)) {
            side((column + 1, row), (column + 1, row + 1));
        }
        if !is(Some(column), Some(row + 1)) {
            side((column + 1, row + 1), (column, row + 1));
        }
        if !is(column.checked_sub(1), Some(row)) {
            side((column, row + 1), (column, row));
        }
    }
    let mut rings = Vec::new();
    while let Some((start, first)) = from.iter().find_map(|(corner, to)| Some((*corner, *to.first()?))) {
        take(&mut from, start, first);
        let mut ring = vec![start];
        let (mut before, mut here) = (start, first);
        while here != start {
            ring.push(here);
            // Where two cells touch at a corner alone, keep round the same cell: turn left.
            let next =
                from.get(&here).and_then(|to| to.iter().copied().max_by_key(|to| turn(before, here, *to)));
            let Some(next) = next else { break };
            take(&mut from, here, next);
            (before, here) = (here, next);
        }
        rings.push(ring);
    }
    rings
}

fn take(from: &mut BTreeMap<Corner, Vec<Corner>>, corner: Corner, to: Corner) {
    if let Some(list) = from.get_mut(&corner) {
        list.retain(|one| *one != to);
        if list.is_empty() {
            from.remove(&corner);
        }
    }
}

/// Above nothing for a turn to the left.
#[expect(clippy::cast_possible_wrap, reason = "cells by the thousand")]
fn turn(a: Corner, b: Corner, c: Corner) -> i64 {
    let step = |from: Corner, to: Corner| (to.0 as i64 - from.0 as i64, to.1 as i64 - from.1 as i64);
    let (one, two) = (step(a, b), step(b, c));
    (one.0 * two.1 - one.1 * two.0).signum()
}

/// Corners where the ring turns.
pub(super) fn straightened(ring: &[Corner]) -> Vec<Corner> {
    let count = ring.len();
    (0..count)
        .filter(|at| turn(ring[(at + count - 1) % count], ring[*at], ring[(at + 1) % count]) != 0)
        .map(|at| ring[at])
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spatial::zones::drawn;

    #[test]
    fn a_ring_with_a_hole_and_cells_that_touch_at_corners() {
        let map = drawn(&["00000", "01100", "01010", "00010", "00000"]);
        let (outer, holes) = outline(&map, 0).unwrap();
        assert_eq!(outer, vec![[10.0, 20.0], [20.0, 20.0], [20.0, 30.0], [10.0, 30.0]]);
        let area = signed_area_m2(&outer) + holes.iter().map(|hole| signed_area_m2(hole)).sum::<f64>();
        let cells = map.cells.iter().filter(|cell| **cell == Some(0)).count();
        assert!((area - 4.0 * cells as f64).abs() < 1e-9, "{area} of {cells} cells, {holes:?}");
        // Zone 1 touches itself at a corner: two pieces, the larger is outlined.
        let (outer, holes) = outline(&map, 1).unwrap();
        assert_eq!((signed_area_m2(&outer), holes.len()), (12.0, 0));
        assert_eq!(outline(&map, 7), None);
    }
}
