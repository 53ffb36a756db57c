//! A map in square cells.

use serde::Serialize;

use super::sites::Place;

/// Square cells over a piece of ground, row by row from the south-west; those off the ground hold nothing.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Raster<T> {
    /// South-west corner of the first cell.
    pub corner: Place,
    /// Side of a cell, m.
    pub cell_m: f64,
    /// Cells from west to east.
    pub columns: usize,
    /// What each cell holds.
    pub cells: Vec<Option<T>>,
}

impl<T> Raster<T> {
    /// Rows from south to north.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.cells.len().checked_div(self.columns).unwrap_or(0)
    }

    /// Middle of a cell.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "cells by the thousand")]
    pub fn middle(&self, cell: usize) -> Place {
        let (column, row) = (cell % self.columns, cell / self.columns);
        [
            self.corner[0] + (column as f64 + 0.5) * self.cell_m,
            self.corner[1] + (row as f64 + 0.5) * self.cell_m,
        ]
    }

    /// The cell that a place lies in.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "above nothing and inside")]
    pub fn cell_of(&self, place: Place) -> Option<usize> {
        let east = (place[0] - self.corner[0]) / self.cell_m;
        let north = (place[1] - self.corner[1]) / self.cell_m;
        if !(east >= 0.0 && north >= 0.0) {
            return None;
        }
        let (column, row) = (east as usize, north as usize);
        (column < self.columns && row < self.rows()).then(|| row * self.columns + column)
    }

    /// Cells that share a side with a cell.
    pub(crate) fn beside(&self, cell: usize) -> impl Iterator<Item = usize> + use<T> {
        let (column, row) = (cell % self.columns, cell / self.columns);
        let (columns, rows) = (self.columns, self.rows());
        [
            (row > 0).then(|| cell - columns),
            (column > 0).then(|| cell - 1),
            (column + 1 < columns).then(|| cell + 1),
            (row + 1 < rows).then(|| cell + columns),
        ]
        .into_iter()
        .flatten()
    }

    /// The same cells with something else in them.
    #[must_use]
    pub fn with<U>(&self, cells: Vec<Option<U>>) -> Raster<U> {
        Raster { corner: self.corner, cell_m: self.cell_m, columns: self.columns, cells }
    }
}

/// Most cells to a side.
const MOST_A_SIDE: usize = 400;

impl Raster<Place> {
    /// Cells over a box, about `wanted` of them, each with its middle; those for which `on_ground` says no are empty.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "cells by the thousand"
    )]
    pub fn over(low: Place, high: Place, wanted: usize, on_ground: impl Fn(Place) -> bool) -> Self {
        let sides = [(high[0] - low[0]).max(0.1), (high[1] - low[1]).max(0.1)];
        let fine = (sides[0] * sides[1] / wanted.max(1) as f64).sqrt();
        let cell_m = fine.max(sides[0].max(sides[1]) / MOST_A_SIDE as f64);
        let count = |side: f64| ((side / cell_m).ceil() as usize).max(1);
        let (columns, rows) = (count(sides[0]), count(sides[1]));
        // The cells stand evenly over the box.
        let corner = [
            low[0] - 0.5 * (columns as f64 * cell_m - sides[0]),
            low[1] - 0.5 * (rows as f64 * cell_m - sides[1]),
        ];
        let mut raster = Self { corner, cell_m, columns, cells: vec![None; columns * rows] };
        for cell in 0..raster.cells.len() {
            let middle = raster.middle(cell);
            raster.cells[cell] = on_ground(middle).then_some(middle);
        }
        raster
    }
}
