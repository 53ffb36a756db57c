//! What is wrong with an outline.

use geo::BooleanOps;

use super::Area;
use crate::spatial::plane::{self, At};

/// Smaller than this (a quarter of a square metre), an area is a slip of the hand.
pub const TINY_M2: f64 = 0.25;
/// Points nearer than this are one.
const SAME_M: f64 = 0.005;

/// Something wrong with an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fault {
    /// Two of its sides cross at a place.
    CrossesItself {
        /// The first crossing found.
        at: At,
        /// How many crossings there are.
        count: usize,
    },
    /// Corners stand twice in a row.
    RepeatedCorners {
        /// How many.
        count: usize,
    },
    /// It encloses next to nothing.
    Tiny {
        /// Its area.
        area_m2: f64,
    },
    /// A hole does not lie inside.
    HoleOutside,
}

/// Everything wrong with an area.
#[must_use]
pub fn faults(area: &Area) -> Vec<Fault> {
    let mut found = Vec::new();
    let repeated: usize = std::iter::once(&area.outer)
        .chain(&area.holes)
        .map(|ring| plane::corners(ring).filter(|(a, b)| plane::distance_m(**a, **b) < SAME_M).count())
        .sum();
    let crossings: Vec<At> =
        std::iter::once(&area.outer).chain(&area.holes).flat_map(|ring| crossings(ring)).collect();
    if let Some(at) = crossings.first() {
        found.push(Fault::CrossesItself { at: *at, count: crossings.len() });
    }
    if repeated > 0 {
        found.push(Fault::RepeatedCorners { count: repeated });
    }
    let area_m2 = area.area_m2();
    if crossings.is_empty() && area_m2 < TINY_M2 {
        found.push(Fault::Tiny { area_m2 });
    }
    if area.holes.iter().flatten().any(|at| !plane::inside(&area.outer, *at) && !on_edge(&area.outer, *at)) {
        found.push(Fault::HoleOutside);
    }
    found
}

/// Where sides of a ring cross; ends that merely touch their neighbours do not count.
#[must_use]
pub fn crossings(ring: &[At]) -> Vec<At> {
    let sides: Vec<(At, At)> = plane::corners(ring)
        .map(|(a, b)| (*a, *b))
        .filter(|(a, b)| plane::distance_m(*a, *b) >= SAME_M)
        .collect();
    let count = sides.len();
    let mut order: Vec<usize> = (0..count).collect();
    let west = |side: usize| sides[side].0[0].min(sides[side].1[0]);
    let east = |side: usize| sides[side].0[0].max(sides[side].1[0]);
    order.sort_by(|a, b| west(*a).total_cmp(&west(*b)));
    let mut found = Vec::new();
    // Only sides that reach over the same stretch from west to east can cross.
    for (place, &i) in order.iter().enumerate() {
        let reach = east(i);
        for &j in order[place + 1..].iter().take_while(|j| west(**j) <= reach) {
            let apart = i.abs_diff(j);
            if apart <= 1 || apart == count - 1 {
                continue;
            }
            if let Some(at) = crossing(sides[i], sides[j]) {
                found.push(at);
            }
        }
    }
    found
}

/// Where two sides cross or touch.
fn crossing((a, b): (At, At), (c, d): (At, At)) -> Option<At> {
    let (r, s) = ([b[0] - a[0], b[1] - a[1]], [d[0] - c[0], d[1] - c[1]]);
    let cross = r[0] * s[1] - r[1] * s[0];
    if cross == 0.0 {
        return None;
    }
    let from = [c[0] - a[0], c[1] - a[1]];
    let t = (from[0] * s[1] - from[1] * s[0]) / cross;
    let u = (from[0] * r[1] - from[1] * r[0]) / cross;
    let within = |share: f64| (0.0..=1.0).contains(&share);
    (within(t) && within(u)).then(|| [a[0] + t * r[0], a[1] + t * r[1]])
}

fn on_edge(ring: &[At], at: At) -> bool {
    plane::corners(ring).any(|(a, b)| {
        let long = plane::distance_m(*a, *b);
        (plane::distance_m(*a, at) + plane::distance_m(at, *b) - long).abs() < 1e-6 * (1.0 + long)
    })
}

/// Ground that two areas share, m².
#[must_use]
pub fn overlap_m2(one: &Area, two: &Area) -> f64 {
    let reach = |ring: &[At]| {
        ring.iter().fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |r, at| {
            [r[0].min(at[0]), r[1].min(at[1]), r[2].max(at[0]), r[3].max(at[1])]
        })
    };
    let (a, b) = (reach(&one.outer), reach(&two.outer));
    if a[0] >= b[2] || b[0] >= a[2] || a[1] >= b[3] || b[1] >= a[3] {
        return 0.0;
    }
    super::areas(&one.polygon().intersection(&two.polygon())).iter().map(Area::area_m2).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(west: f64, south: f64, side: f64) -> Area {
        Area::new(vec![
            [west, south],
            [west + side, south],
            [west + side, south + side],
            [west, south + side],
        ])
    }

    /// By hand: a bow tie of 10 m crosses at (5, 5); squares of 10 m shifted by 4 m share 6 x 6 m.
    #[test]
    fn faults_are_found() {
        assert!(faults(&square(0.0, 0.0, 10.0)).is_empty());
        let bow = Area::new(vec![[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 10.0]]);
        assert_eq!(faults(&bow), [Fault::CrossesItself { at: [5.0, 5.0], count: 1 }]);
        let mut repeated = square(0.0, 0.0, 10.0);
        repeated.outer.insert(1, [0.0, 0.001]);
        assert_eq!(faults(&repeated), [Fault::RepeatedCorners { count: 1 }]);
        assert!(matches!(faults(&square(0.0, 0.0, 0.1))[..], [Fault::Tiny { .. }]));
        let holed = Area { holes: vec![square(20.0, 20.0, 1.0).outer], ..square(0.0, 0.0, 10.0) };
        assert_eq!(faults(&holed), [Fault::HoleOutside]);
        assert!((overlap_m2(&square(0.0, 0.0, 10.0), &square(4.0, 4.0, 10.0)) - 36.0).abs() < 1e-3);
        assert_eq!(overlap_m2(&square(0.0, 0.0, 10.0), &square(10.0, 0.0, 10.0)), 0.0);
    }

    #[test]
    fn a_ring_of_five_thousand_corners_is_looked_through_at_once() {
        let ring: Vec<At> = (0..5000)
            .map(|i| {
                let (sin, cos) = libm::sincos(f64::from(i) / 5000.0 * std::f64::consts::TAU);
                [100.0 * cos, 100.0 * sin]
            })
            .collect();
        assert!(crossings(&ring).is_empty());
    }
}
