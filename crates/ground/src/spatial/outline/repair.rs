//! Ways to mend an outline.

use geo::BooleanOps;
use geo::MultiPolygon;

use super::{Area, areas};
use crate::spatial::plane::{self, At};

/// The parts of an outline that crosses itself, the largest first: cut at each crossing (even-odd rule).
#[must_use]
pub fn split_at_crossings(area: &Area) -> Vec<Area> {
    let nothing = MultiPolygon::<f64>(Vec::new());
    areas(&area.polygon().union(&nothing))
}

/// Corners that stand twice in a row, once.
#[must_use]
pub fn without_repeats(area: &Area) -> Area {
    let thinned = |ring: &[At]| {
        let mut kept: Vec<At> = Vec::with_capacity(ring.len());
        for at in ring {
            if kept.last().is_none_or(|last| plane::distance_m(*last, *at) >= 0.005) {
                kept.push(*at);
            }
        }
        while kept.len() > 3 && plane::distance_m(kept[0], kept[kept.len() - 1]) < 0.005 {
            kept.pop();
        }
        kept
    };
    Area { outer: thinned(&area.outer), holes: area.holes.iter().map(|hole| thinned(hole)).collect() }
}

/// Two areas as one; several parts where they do not touch.
#[must_use]
pub fn united(one: &Area, two: &Area) -> Vec<Area> {
    areas(&one.polygon().union(&two.polygon()))
}

/// What two areas share, the largest part first.
#[must_use]
pub fn common(one: &Area, two: &Area) -> Vec<Area> {
    areas(&one.polygon().intersection(&two.polygon()))
}

/// What is left of one area where another lies over it.
#[must_use]
pub fn cut_away(one: &Area, other: &Area) -> Vec<Area> {
    areas(&one.polygon().difference(&other.polygon()))
}

/// The corners of one area moved onto the nearest corner, or else side, of another, where nearer than `within_m`.
#[must_use]
pub fn snapped(area: &Area, to: &Area, within_m: f64) -> Area {
    let pulled = |at: &At| {
        let corner = to
            .outer
            .iter()
            .map(|corner| (plane::distance_m(*corner, *at), *corner))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((far, corner)) = corner
            && far <= within_m
        {
            return corner;
        }
        plane::corners(&to.outer)
            .map(|(a, b)| nearest_on(*a, *b, *at))
            .map(|foot| (plane::distance_m(foot, *at), foot))
            .filter(|(far, _)| *far <= within_m)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map_or(*at, |(_, foot)| foot)
    };
    Area { outer: area.outer.iter().map(pulled).collect(), holes: area.holes.clone() }
}

fn nearest_on(a: At, b: At, at: At) -> At {
    let (along, to) = ([b[0] - a[0], b[1] - a[1]], [at[0] - a[0], at[1] - a[1]]);
    let square = along[0] * along[0] + along[1] * along[1];
    if square == 0.0 {
        return a;
    }
    let share = ((to[0] * along[0] + to[1] * along[1]) / square).clamp(0.0, 1.0);
    [a[0] + share * along[0], a[1] + share * along[1]]
}

#[cfg(test)]
mod tests {
    use super::super::{faults, overlap_m2};
    use super::*;

    fn square(west: f64, south: f64, side: f64) -> Area {
        Area::new(vec![
            [west, south],
            [west + side, south],
            [west + side, south + side],
            [west, south + side],
        ])
    }

    /// By hand: the bow tie of 10 m falls into two triangles of 25 m²; two squares of 10 m that share 6 x 6 m make
    /// 164 m² together, and 64 m² of one are left.
    #[test]
    fn outlines_are_mended() {
        let bow = Area::new(vec![[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 10.0]]);
        let parts = split_at_crossings(&bow);
        assert_eq!(parts.len(), 2);
        assert!(
            parts.iter().all(|part| (part.area_m2() - 25.0).abs() < 1e-3 && faults(part).is_empty()),
            "{parts:?}"
        );
        let (one, two) = (square(0.0, 0.0, 10.0), square(4.0, 4.0, 10.0));
        let both: f64 = united(&one, &two).iter().map(Area::area_m2).sum();
        assert!((both - 164.0).abs() < 1e-3);
        let left: f64 = cut_away(&one, &two).iter().map(Area::area_m2).sum();
        assert!((left - 64.0).abs() < 1e-3);
        let shared: f64 = common(&one, &two).iter().map(Area::area_m2).sum();
        assert!((shared - 36.0).abs() < 1e-3);
        let near = square(10.2, 0.1, 10.0);
        let snapped = snapped(&near, &one, 0.5);
        assert_eq!(snapped.outer[0], [10.0, 0.0]);
        assert_eq!(snapped.outer[3], [10.0, 10.0]);
        assert_eq!(overlap_m2(&snapped, &one), 0.0);
        let mut repeated = square(0.0, 0.0, 10.0);
        repeated.outer.push([0.0, 0.001]);
        assert_eq!(without_repeats(&repeated), square(0.0, 0.0, 10.0));
    }
}
