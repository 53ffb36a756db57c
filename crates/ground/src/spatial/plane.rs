//! Lengths and areas in local metres, east and north. Over one farm they agree with the ellipsoid to
//! some parts in a thousand million, so drawing and advice work in the plane.

/// A point in local metres: east, north.
pub type At = [f64; 2];

/// Area between the corners of a ring, m², by the surveyor's formula; the last corner is joined to the first.
#[must_use]
pub fn ring_area_m2(ring: &[At]) -> f64 {
    signed_area_m2(ring).abs()
}

/// The same, positive where the corners run against the clock.
#[must_use]
pub fn signed_area_m2(ring: &[At]) -> f64 {
    let Some(first) = ring.first() else { return 0.0 };
    // Seen from the first corner, so that a farm far from the origin keeps its digits.
    let seen = |at: &At| (at[0] - first[0], at[1] - first[1]);
    let twice: f64 = corners(ring)
        .map(|(from, to)| {
            let ((x, y), (u, v)) = (seen(from), seen(to));
            x * v - u * y
        })
        .sum();
    twice / 2.0
}

/// Area of an outline less its holes, m².
#[must_use]
pub fn area_m2(outer: &[At], holes: &[Vec<At>]) -> f64 {
    ring_area_m2(outer) - holes.iter().map(|hole| ring_area_m2(hole)).sum::<f64>()
}

/// Way once round a ring, m.
#[must_use]
pub fn perimeter_m(ring: &[At]) -> f64 {
    corners(ring).map(|(from, to)| distance_m(*from, *to)).sum()
}

/// Length of a line, m.
#[must_use]
pub fn length_m(line: &[At]) -> f64 {
    line.windows(2).map(|leg| distance_m(leg[0], leg[1])).sum()
}

/// Distance between two points, m.
#[must_use]
pub fn distance_m(from: At, to: At) -> f64 {
    libm::hypot(to[0] - from[0], to[1] - from[1])
}

/// Centre of gravity of a ring; the mean of its corners where it has no area.
#[must_use]
pub fn centre(ring: &[At]) -> Option<At> {
    let first = *ring.first()?;
    let area = signed_area_m2(ring);
    #[expect(clippy::cast_precision_loss, reason = "corners by the hundred")]
    let count = ring.len() as f64;
    if area.abs() < 1e-9 {
        let sum = ring.iter().fold([0.0, 0.0], |sum, at| [sum[0] + at[0], sum[1] + at[1]]);
        return Some([sum[0] / count, sum[1] / count]);
    }
    let sum = corners(ring).fold([0.0, 0.0], |sum, (from, to)| {
        let (x, y, u, v) = (from[0] - first[0], from[1] - first[1], to[0] - first[0], to[1] - first[1]);
        let cross = x * v - u * y;
        [sum[0] + (x + u) * cross, sum[1] + (y + v) * cross]
    });
    Some([first[0] + sum[0] / (6.0 * area), first[1] + sum[1] / (6.0 * area)])
}

/// Does the point lie inside the ring? On the edge it may be said either way.
#[must_use]
pub fn inside(ring: &[At], at: At) -> bool {
    corners(ring).fold(false, |inside, (from, to)| {
        let between = (from[1] > at[1]) != (to[1] > at[1]);
        let crosses = between && at[0] < (to[0] - from[0]) * (at[1] - from[1]) / (to[1] - from[1]) + from[0];
        inside != crosses
    })
}

/// Does the point lie in the area: inside the outer ring, and in no hole?
#[must_use]
pub fn encloses(outer: &[At], holes: &[Vec<At>], at: At) -> bool {
    inside(outer, at) && !holes.iter().any(|hole| inside(hole, at))
}

/// The sides of a ring, the one back to the first corner last.
pub fn corners(ring: &[At]) -> impl Iterator<Item = (&At, &At)> {
    ring.iter().zip(ring.iter().cycle().skip(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a 3-4-5 triangle has 6 m², and an L of 10 x 10 less 5 x 5 has 75 m².
    #[test]
    fn areas_ways_and_centres() {
        let triangle = [[0.0, 0.0], [3.0, 0.0], [0.0, 4.0]];
        assert_eq!(ring_area_m2(&triangle), 6.0);
        assert_eq!(perimeter_m(&triangle), 12.0);
        assert_eq!(length_m(&triangle), 8.0);
        assert_eq!(centre(&triangle), Some([1.0, 4.0 / 3.0]));
        let far: Vec<At> = triangle.iter().map(|at| [at[0] + 1e6, at[1] - 1e6]).collect();
        assert_eq!(ring_area_m2(&far), 6.0);
        let l = [[0.0, 0.0], [10.0, 0.0], [10.0, 5.0], [5.0, 5.0], [5.0, 10.0], [0.0, 10.0]];
        assert_eq!(ring_area_m2(&l), 75.0);
        assert!(inside(&l, [2.0, 8.0]) && !inside(&l, [8.0, 8.0]));
        assert_eq!(ring_area_m2(&[]), 0.0);
        assert_eq!(centre(&[]), None);
    }
}
