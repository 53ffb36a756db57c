//! Outlines that are not sound: what is wrong with them, and how each can be mended.

mod faults;
mod repair;
mod simplify;

use geo::{Coord, LineString, MultiPolygon, Polygon};

use super::plane::At;

pub use faults::{Fault, TINY_M2, crossings, faults, overlap_m2};
pub use repair::{common, cut_away, snapped, split_at_crossings, united, without_repeats};
pub use simplify::{Simplified, simplified};

/// An outline in local metres: outer ring and holes, neither closed.
#[derive(Debug, Clone, PartialEq)]
pub struct Area {
    /// Outer ring.
    pub outer: Vec<At>,
    /// Holes.
    pub holes: Vec<Vec<At>>,
}

impl Area {
    /// An area without holes.
    #[must_use]
    pub fn new(outer: Vec<At>) -> Self {
        Self { outer, holes: Vec::new() }
    }

    /// Its area, m².
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        super::plane::area_m2(&self.outer, &self.holes)
    }

    pub(crate) fn polygon(&self) -> Polygon<f64> {
        Polygon::new(closed(&self.outer), self.holes.iter().map(|hole| closed(hole)).collect())
    }

    fn of(polygon: &Polygon<f64>) -> Self {
        Self { outer: open(polygon.exterior()), holes: polygon.interiors().iter().map(open).collect() }
    }
}

pub(crate) fn areas(found: &MultiPolygon<f64>) -> Vec<Area> {
    let mut areas: Vec<Area> =
        found.0.iter().map(Area::of).filter(|area| area.outer.len() > 2 && area.area_m2() > 1e-4).collect();
    areas.sort_by(|a, b| b.area_m2().total_cmp(&a.area_m2()));
    areas
}

fn closed(ring: &[At]) -> LineString<f64> {
    let mut line: Vec<Coord<f64>> = ring.iter().map(|at| Coord { x: at[0], y: at[1] }).collect();
    if let Some(first) = line.first().copied() {
        line.push(first);
    }
    LineString(line)
}

fn open(line: &LineString<f64>) -> Vec<At> {
    let mut ring: Vec<At> = line.0.iter().map(|at| [at.x, at.y]).collect();
    if ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    ring
}
