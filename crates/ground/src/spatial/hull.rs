//! The hull around the readings, and how far a place lies beyond it.

use super::plane::ring_area_m2;
use super::sites::Place;

/// The convex hull of places: corners anticlockwise, or fewer than three where they lie in a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Hull {
    corners: Vec<Place>,
}

impl Hull {
    /// Around places: the lower and the upper chain of the sorted places (Andrew 1979).
    #[must_use]
    pub fn around(places: &[Place]) -> Self {
        let mut sorted = places.to_vec();
        sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
        sorted.dedup();
        if sorted.len() < 3 {
            return Self { corners: sorted };
        }
        let chain = |places: &mut dyn Iterator<Item = Place>| {
            let mut chain: Vec<Place> = Vec::new();
            for place in places {
                while let [.., before, last] = chain[..]
                    && turn(before, last, place) <= 0.0
                {
                    chain.pop();
                }
                chain.push(place);
            }
            chain.pop();
            chain
        };
        let mut corners = chain(&mut sorted.iter().copied());
        corners.extend(chain(&mut sorted.iter().rev().copied()));
        Self { corners }
    }

    /// Its corners.
    #[must_use]
    pub fn corners(&self) -> &[Place] {
        &self.corners
    }

    /// Area within, m².
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        ring_area_m2(&self.corners)
    }

    /// How far beyond the hull a place lies, m; nothing within. Without end where there is no reading.
    #[must_use]
    pub fn beyond_m(&self, place: Place) -> f64 {
        let count = self.corners.len();
        let edges = || (0..count).map(|at| (self.corners[at], self.corners[(at + 1) % count]));
        if count >= 3 && edges().all(|(from, to)| turn(from, to, place) >= 0.0) {
            return 0.0;
        }
        edges().map(|(from, to)| to_edge_m(from, to, place)).fold(f64::INFINITY, f64::min)
    }
}

/// Twice the area of the triangle; above nothing where it turns left.
fn turn(from: Place, over: Place, to: Place) -> f64 {
    (over[0] - from[0]) * (to[1] - from[1]) - (over[1] - from[1]) * (to[0] - from[0])
}

/// Distance of a place from an edge, m.
fn to_edge_m(from: Place, to: Place, place: Place) -> f64 {
    let along = [to[0] - from[0], to[1] - from[1]];
    let length = along[0] * along[0] + along[1] * along[1];
    let share = if length > 0.0 {
        (((place[0] - from[0]) * along[0] + (place[1] - from[1]) * along[1]) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    super::sites::distance_m(place, [from[0] + share * along[0], from[1] + share * along[1]])
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::{Area, ConvexHull, MultiPoint};
    use proptest::prelude::*;

    #[test]
    fn a_square_with_a_place_within() {
        let hull =
            Hull::around(&[[0.0, 0.0], [10.0, 0.0], [4.0, 5.0], [10.0, 10.0], [0.0, 10.0], [5.0, 0.0]]);
        assert_eq!(hull.corners().len(), 4);
        assert_eq!(hull.area_m2(), 100.0);
        assert_eq!(hull.beyond_m([4.0, 4.0]), 0.0);
        assert_eq!(hull.beyond_m([13.0, 14.0]), 5.0);
        assert_eq!(hull.beyond_m([5.0, -2.0]), 2.0);
        // In a line, at one place, and none at all.
        assert_eq!(Hull::around(&[[0.0, 0.0], [4.0, 0.0], [2.0, 0.0]]).beyond_m([2.0, 3.0]), 3.0);
        assert_eq!(Hull::around(&[[1.0, 1.0]]).beyond_m([1.0, 3.0]), 2.0);
        assert!(Hull::around(&[]).beyond_m([1.0, 3.0]).is_infinite());
    }

    proptest! {
        /// Against the hull of the `geo` library.
        #[test]
        fn its_area_is_that_of_a_general_library(places in proptest::collection::vec((0.0..90.0_f64, 0.0..50.0_f64), 3..40)) {
            let theirs = MultiPoint::from(places.clone()).convex_hull().unsigned_area();
            let places: Vec<Place> = places.into_iter().map(|(east, north)| [east, north]).collect();
            prop_assert!((Hull::around(&places).area_m2() - theirs).abs() < 1e-9 * theirs.max(1.0));
        }
    }
}
