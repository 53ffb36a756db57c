//! Where points lie as a tape finds them: so far along a side of the plot from one corner, so far across from it.
//! Each is counted from the same corner, so that no error is carried from point to point.

use book::model::{EntryId, Frame, Point, SamplingPlan, Shape};
use book::{Held, Snapshot};
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem};
use ground::spatial::plane;
use serde::Serialize;

use crate::plan::FarmPlan;

/// Sides so near to the longest are as good as it.
const AS_LONG: f64 = 0.98;
/// A corner so near to the line of its neighbours, as a share of the size of the plot, is none.
const STRAIGHT: f64 = 0.01;
const EIGHT: [&str; 8] =
    ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];

/// The corner that the points of a plan are counted from, A on the picture, and the side that leads away from it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Corner {
    /// The corner, A.
    pub at: Point,
    /// The other end of its side, B.
    pub towards: Point,
    /// One metre across, at right angles to the side and into the plot.
    #[serde(skip)]
    across: [f64; 2],
    /// "south-west"; nothing where nobody knows where north is.
    pub named: Option<&'static str>,
    /// Where the side runs, "north"; nothing where nobody knows where north is.
    pub runs: Option<&'static str>,
    /// Is it a corner that is drawn, and not any corner of a rectangle?
    pub drawn: bool,
}

impl Corner {
    /// The corner of a drawn plot: an end of its longest side, that nearest to `first`. Of a plot that was parted it is that
    /// of the zone that `first` lies in.
    #[must_use]
    pub fn of_drawn(farm: &FarmPlan, plot: EntryId, first: Option<Point>) -> Option<Self> {
        let zone = || {
            farm.parts
                .iter()
                .filter(|part| part.zone_of == Some(plot))
                .filter_map(|part| farm.area_of(part.plot?))
                .find(|(outer, holes)| first.is_some_and(|first| plane::encloses(outer, holes, first)))
        };
        let (outer, _) = farm.area_of(plot).or_else(zone)?;
        let ring = straightened(outer);
        let middle = plane::centre(&ring)?;
        let sides: Vec<(Point, Point)> = plane::corners(&ring).map(|(a, b)| (*a, *b)).collect();
        let longest = sides.iter().map(|(a, b)| plane::distance_m(*a, *b)).fold(0.0, f64::max);
        if longest <= 0.0 {
            return None;
        }
        let first = first.unwrap_or(ring[0]);
        let ends = sides
            .iter()
            .filter(|(a, b)| plane::distance_m(*a, *b) >= AS_LONG * longest)
            .flat_map(|(a, b)| [(*a, *b), (*b, *a)]);
        let (at, towards) = ends
            .min_by(|(a, _), (b, _)| plane::distance_m(*a, first).total_cmp(&plane::distance_m(*b, first)))?;
        let long = plane::distance_m(at, towards);
        let along = [0, 1].map(|axis| (towards[axis] - at[axis]) / long);
        let left = [-along[1], along[0]];
        let side = left[0] * (middle[0] - at[0]) + left[1] * (middle[1] - at[1]);
        let across = if side < 0.0 { left.map(|axis| -axis) } else { left };
        let north = farm.origin.is_some();
        // As though the plot were square, or both ends of a narrow one had the same name.
        let outwards = [0, 1].map(|axis| -along[axis] - across[axis]);
        Some(Self {
            at,
            towards,
            across,
            named: north.then(|| heading([0.0, 0.0], outwards)),
            runs: north.then(|| heading(at, towards)),
            drawn: true,
        })
    }

    /// A corner of a plot that is not drawn, the first number along its longer side.
    #[must_use]
    pub fn of_sides(long_m: f64) -> Self {
        Self {
            at: [0.0, 0.0],
            towards: [long_m, 0.0],
            across: [0.0, 1.0],
            named: None,
            runs: None,
            drawn: false,
        }
    }

    /// The corner of a kept plan; nothing where the plot it was drawn on is gone.
    #[must_use]
    pub fn of_plan(snapshot: &Snapshot, farm: &FarmPlan, held: &Held<SamplingPlan>) -> Option<Self> {
        let plan = &held.body;
        let first = plan.points.first()?;
        if plan.frame == Frame::PlotCorner {
            let sides = match snapshot.plot(plan.plot).map(|plot| plot.body.shape) {
                Some(Shape::Rectangle { length_m, width_m }) => length_m.get().max(width_m.get()),
                _ => plan.points.iter().map(|point| point.at[0]).fold(1.0, f64::max),
            };
            return Some(Self::of_sides(sides));
        }
        Self::of_drawn(farm, plan.plot, farm.on_its_sheet(plan, first.at))
    }

    /// Metres along the side and across from it.
    #[must_use]
    pub fn to(&self, at: Point) -> [f64; 2] {
        let long = plane::distance_m(self.at, self.towards);
        let from = [at[0] - self.at[0], at[1] - self.at[1]];
        let along = [0, 1].map(|axis| (self.towards[axis] - self.at[axis]) / long);
        [along, self.across].map(|way| way[0] * from[0] + way[1] * from[1])
    }

    /// How its points are found.
    #[must_use]
    pub fn words(&self, units: UnitSystem) -> String {
        let long = tape(plane::distance_m(self.at, self.towards), units);
        match (self.drawn, self.named, self.runs) {
            (true, Some(named), Some(runs)) => format!(
                "Every point is counted from A, the {named} corner of the plot: so far along the side that runs {runs} to B, {long} away, then so far across, square to that side."
            ),
            (true, ..) => format!(
                "Every point is counted from A, the corner marked on the picture: so far along the side that runs to B, {long} away, then so far across, square to that side."
            ),
            // Of the two ways to lay a rectangle on its corner the picture shows one.
            (false, ..) => format!(
                "Every point is counted from A, a corner that you choose, mark with a stake and keep to: the plot lies on your left as you look along its longer side to its other end B, {long} away. So far along that side, then so far across, square to it."
            ),
        }
    }
}

/// "64 ft along, 12 ft across".
#[must_use]
pub fn place_words([along, across]: [f64; 2], units: UnitSystem) -> String {
    format!("{}, {}", along_words(along, units), across_words(across, units))
}

/// "64 ft along"; of a place before the corner, "12 ft back from A".
#[must_use]
pub fn along_words(along: f64, units: UnitSystem) -> String {
    let far = tape(along.abs(), units);
    if along < 0.0 && !is_nothing(&far) { format!("{far} back from A") } else { format!("{far} along") }
}

/// "12 ft across"; of a place on the other side of its line, "12 ft outwards".
#[must_use]
pub fn across_words(across: f64, units: UnitSystem) -> String {
    let far = tape(across.abs(), units);
    if across < 0.0 && !is_nothing(&far) { format!("{far} outwards") } else { format!("{far} across") }
}

fn is_nothing(far: &str) -> bool {
    far.starts_with("0 ") || far.starts_with("0.0 ")
}

/// A distance on a tape: whole feet, or metres to the decimetre.
#[must_use]
pub fn tape(metres: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::UsCustomary => format!("{:.0} ft", metres / 0.3048),
        UnitSystem::Metric => {
            ground::kit::units::show((metres * 10.0).round() / 10.0, Dimension::Length, units)
        }
    }
}

/// The one of eight directions that lies nearest.
#[must_use]
pub fn heading(from: Point, to: Point) -> &'static str {
    let degrees = libm::atan2(to[0] - from[0], to[1] - from[1]).to_degrees().rem_euclid(360.0);
    EIGHT
        .iter()
        .zip(0_i32..)
        .min_by(|(_, one), (_, other)| {
            let off = |eighth: &i32| {
                let gap = (degrees - 45.0 * f64::from(*eighth)).abs();
                gap.min(360.0 - gap)
            };
            off(one).total_cmp(&off(other))
        })
        .map_or(EIGHT[0], |(word, _)| word)
}

/// The ring without corners that hardly turn, as a side traced on foot has them by the dozen.
fn straightened(ring: &[Point]) -> Vec<Point> {
    let size = ring.iter().map(|at| plane::distance_m(*at, ring[0])).fold(0.0, f64::max);
    let mut kept = ring.to_vec();
    while kept.len() > 3 {
        let flat = (0..kept.len())
            .map(|at| {
                let before = kept[(at + kept.len() - 1) % kept.len()];
                (at, off_line(kept[at], before, kept[(at + 1) % kept.len()]))
            })
            .min_by(|(_, one), (_, other)| one.total_cmp(other));
        match flat {
            Some((at, off)) if off < STRAIGHT * size => drop(kept.remove(at)),
            _ => break,
        }
    }
    kept
}

/// How far a place lies from the line through two others.
fn off_line(at: Point, from: Point, to: Point) -> f64 {
    let long = plane::distance_m(from, to);
    if long <= 0.0 {
        return 0.0;
    }
    ((to[0] - from[0]) * (from[1] - at[1]) - (from[0] - at[0]) * (to[1] - from[1])).abs() / long
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_are_those_of_the_compass() {
        for (to, word) in [
            ([0.0, 5.0], "north"),
            ([5.0, 5.0], "north-east"),
            ([5.0, 0.0], "east"),
            ([-5.0, -5.0], "south-west"),
            ([-1.0, 5.0], "north"),
            ([-5.0, 4.0], "north-west"),
        ] {
            assert_eq!(heading([0.0, 0.0], to), word, "{to:?}");
        }
    }

    #[test]
    fn a_side_traced_on_foot_is_one_side() {
        let ring = [[0.0, 0.0], [10.0, 0.1], [20.0, -0.1], [30.0, 0.0], [30.0, 12.0], [0.0, 12.0]];
        assert_eq!(straightened(&ring), [[0.0, 0.0], [30.0, 0.0], [30.0, 12.0], [0.0, 12.0]]);
    }
}
