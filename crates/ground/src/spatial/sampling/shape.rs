//! Outlines in metres east and north: what they hold, and how far off they are.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Bounded, Refusal};

/// Metres east and north of an origin.
pub type Place = [f64; 2];

crate::quantity! {
    /// Metres east or north of an origin.
    pub struct Coordinate: "place, metres east or north of an origin", "m", -1000000.0 ..= 1000000.0, example 25.0;
}

/// A place as it is given.
pub type GivenPlace = [Coordinate; 2];

/// What a piece of ground or an obstacle looks like, metres.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A spot.
    Point(Place),
    /// A line through places.
    Line(Vec<Place>),
    /// A piece of ground.
    Area(Area),
}

/// A piece of ground. Rings are not closed: the last corner is joined to the first. Where an outline crosses itself,
/// what lies inside an odd number of its loops counts.
#[derive(Debug, Clone, PartialEq)]
pub struct Area {
    /// Corners in order.
    pub outer: Vec<Place>,
    /// What is cut out.
    pub holes: Vec<Vec<Place>>,
}

impl Area {
    /// A rectangle of these sides, its first corner at the origin.
    #[must_use]
    pub fn rectangle(length_m: f64, width_m: f64) -> Self {
        Self {
            outer: vec![[0.0, 0.0], [length_m, 0.0], [length_m, width_m], [0.0, width_m]],
            holes: Vec::new(),
        }
    }

    /// Its rings, the outer one first.
    pub fn rings(&self) -> impl Iterator<Item = &[Place]> {
        std::iter::once(self.outer.as_slice()).chain(self.holes.iter().map(Vec::as_slice))
    }

    /// Every side of every ring.
    pub fn sides(&self) -> impl Iterator<Item = (Place, Place)> + '_ {
        self.rings().flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| (*a, *b)))
    }

    /// Does it hold the place?
    #[must_use]
    pub fn holds(&self, at: Place) -> bool {
        self.sides().fold(false, |inside, side| inside ^ crosses(at, side))
    }

    /// Does it hold the place, and how far (squared) is its nearest side? In one walk round it.
    pub(crate) fn holds_and_nearest(&self, at: Place) -> (bool, f64) {
        self.sides().fold((false, f64::INFINITY), |(inside, nearest), side| {
            (inside ^ crosses(at, side), nearest.min(to_segment_squared(at, side.0, side.1)))
        })
    }

    /// West, south, east and north ends.
    #[must_use]
    pub fn bounds(&self) -> [f64; 4] {
        self.outer.iter().fold(
            [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY],
            |[w, s, e, n], [x, y]| [w.min(*x), s.min(*y), e.max(*x), n.max(*y)],
        )
    }
}

impl Shape {
    /// Metres from a place to the nearest of it; 0 inside an area.
    #[must_use]
    pub fn distance_m(&self, at: Place) -> f64 {
        match self {
            Self::Point(point) => gap_squared(at, *point).sqrt(),
            Self::Line(through) => match through.as_slice() {
                [only] => gap_squared(at, *only).sqrt(),
                _ => through
                    .windows(2)
                    .map(|pair| to_segment_squared(at, pair[0], pair[1]))
                    .fold(f64::INFINITY, f64::min)
                    .sqrt(),
            },
            Self::Area(area) => match area.holds_and_nearest(at) {
                (true, _) => 0.0,
                (false, squared) => squared.sqrt(),
            },
        }
    }
}

/// Does the ray to the east of `at` cross the side? A corner counts to one of its two sides.
fn crosses(at: Place, (a, b): (Place, Place)) -> bool {
    (a[1] > at[1]) != (b[1] > at[1]) && at[0] < a[0] + (b[0] - a[0]) * (at[1] - a[1]) / (b[1] - a[1])
}

/// Squared distance of two places.
#[must_use]
pub(crate) fn gap_squared(a: Place, b: Place) -> f64 {
    let (x, y) = (a[0] - b[0], a[1] - b[1]);
    x * x + y * y
}

fn to_segment_squared(at: Place, a: Place, b: Place) -> f64 {
    let along = [b[0] - a[0], b[1] - a[1]];
    let length = along[0] * along[0] + along[1] * along[1];
    let share = if length > 0.0 {
        (((at[0] - a[0]) * along[0] + (at[1] - a[1]) * along[1]) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    gap_squared(at, [a[0] + share * along[0], a[1] + share * along[1]])
}

/// A piece of ground as it is given to a method.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenArea {
    /// Corners in order, metres east and north; the last is joined to the first.
    pub outer: Vec<GivenPlace>,
    /// What is cut out of it, the same way.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub holes: Vec<Vec<GivenPlace>>,
}

impl GivenArea {
    /// One written in this program.
    pub(crate) fn literal(outer: &[Place]) -> Self {
        Self { outer: outer.iter().map(|place| given(*place)).collect(), holes: Vec::new() }
    }

    /// Its plain numbers.
    ///
    /// # Errors
    /// A ring of fewer than three corners, or of more than 5,000.
    pub fn area(&self, field: &str) -> Result<Area, Refusal> {
        for (at, ring) in std::iter::once(&self.outer).chain(&self.holes).enumerate() {
            if !(3..=5_000).contains(&ring.len()) {
                let place =
                    if at == 0 { format!("{field}.outer") } else { format!("{field}.holes[{}]", at - 1) };
                return Err(Refusal::new(place, format!("an outline cannot have {} corners", ring.len()))
                    .given(ring.len())
                    .accepted("3 to 5000 corners")
                    .example("[[0, 0], [30, 0], [30, 10], [0, 10]]"));
            }
        }
        let plain = |ring: &Vec<GivenPlace>| ring.iter().map(|place| place.map(Bounded::get)).collect();
        Ok(Area { outer: plain(&self.outer), holes: self.holes.iter().map(plain).collect() })
    }
}

/// A place written in this program, for an example.
pub(crate) fn given(place: Place) -> GivenPlace {
    place.map(Coordinate::literal)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hole_is_not_held() {
        let mut area = Area::rectangle(10.0, 10.0);
        area.holes.push(vec![[4.0, 4.0], [6.0, 4.0], [6.0, 6.0], [4.0, 6.0]]);
        assert!(area.holds([1.0, 1.0]) && !area.holds([5.0, 5.0]) && !area.holds([11.0, 5.0]));
        assert!((Shape::Area(area).distance_m([5.0, 5.0]) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn distances_to_spots_and_lines() {
        assert!((Shape::Point([3.0, 4.0]).distance_m([0.0, 0.0]) - 5.0).abs() < 1e-12);
        let line = Shape::Line(vec![[0.0, 0.0], [10.0, 0.0], [10.0, 10.0]]);
        assert!((line.distance_m([5.0, 2.0]) - 2.0).abs() < 1e-12);
        assert!((line.distance_m([13.0, 14.0]) - 5.0).abs() < 1e-12);
    }
}
