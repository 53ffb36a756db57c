//! A fine grid over the ground to sample.

use super::ground_to_sample::Ground;
use super::shape::Place;
use super::slabs::Slabs;

/// Middles of the cells of a square grid that lie on the ground to sample, row by row.
#[derive(Debug, Clone)]
pub struct Cells {
    /// Metres east.
    pub x: Vec<f64>,
    /// Metres north.
    pub y: Vec<f64>,
    /// Side of a cell.
    pub size_m: f64,
}

/// Most cells of a grid over the whole box of a plot, so that no outline can ask for more memory than there is.
const MOST: f64 = 4e6;

impl Cells {
    /// The cells of side `size_m`; coarser where the box round the plot would hold more than four million.
    #[must_use]
    pub fn within(ground: &Ground, size_m: f64) -> Self {
        let [west, south, east, north] = ground.plot.bounds();
        let whole = (east - west) * (north - south) / (size_m * size_m);
        let size_m = if whole > MOST { size_m * (whole / MOST).sqrt() } else { size_m };
        let count = |length: f64| {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "four million at most"
            )]
            let count = (length / size_m - 1e-9).ceil().max(1.0) as u32;
            count
        };
        let (mut x, mut y) = (Vec::new(), Vec::new());
        for row in 0..count(north - south) {
            let at_y = south + (f64::from(row) + 0.5) * size_m;
            for column in 0..count(east - west) {
                let at_x = west + (f64::from(column) + 0.5) * size_m;
                if ground.allows([at_x, at_y]) {
                    x.push(at_x);
                    y.push(at_y);
                }
            }
        }
        Self { x, y, size_m }
    }

    /// About so many cells, whatever share of the plot is left to sample.
    #[must_use]
    pub fn about(ground: &Ground, count: f64) -> Self {
        let plot = Slabs::of(&ground.plot).area_m2().max(1e-6);
        let cells = Self::within(ground, (plot / count).sqrt());
        let found = cells.len();
        if found as f64 >= 0.5 * count {
            return cells;
        }
        // Margins ate into it: a finer grid, by what was found on a grid fine enough to tell.
        let finer = (count / (found as f64).max(count / 60.0)).sqrt();
        Self::within(ground, cells.size_m / finer)
    }

    /// Number of cells.
    #[must_use]
    pub fn len(&self) -> usize {
        self.x.len()
    }

    /// Is there none?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.x.is_empty()
    }

    /// Middle of a cell.
    #[must_use]
    pub fn at(&self, cell: usize) -> Place {
        [self.x[cell], self.y[cell]]
    }

    /// Area of all cells.
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        self.len() as f64 * self.size_m * self.size_m
    }
}

#[cfg(test)]
mod tests {
    use super::super::shape::Area;
    use super::*;

    #[test]
    fn cells_cover_the_ground_and_no_more() {
        let cells = Cells::within(&Ground::whole(Area::rectangle(10.0, 4.0)), 1.0);
        assert_eq!((cells.len(), cells.at(0), cells.at(39)), (40, [0.5, 0.5], [9.5, 3.5]));
        let narrow = Ground { margin_m: 4.0, ..Ground::whole(Area::rectangle(100.0, 10.0)) };
        let cells = Cells::about(&narrow, 3000.0);
        assert!((1500..6000).contains(&cells.len()), "{}", cells.len());
        assert!((cells.area_m2() - 92.0 * 2.0).abs() < 8.0, "{}", cells.area_m2());
    }
}
