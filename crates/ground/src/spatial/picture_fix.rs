//! Laying a picture over the ground by points whose place is known: two fix its place, turn and scale, three its
//! slant and stretch too.

use super::plane::{self, At};
use crate::kit::Refusal;

/// How pixels (x to the right, y down) become metres (east, north): east = a x + b y + c, north = d x + e y + f.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PictureFix {
    /// a, b, c.
    pub east: [f64; 3],
    /// d, e, f.
    pub north: [f64; 3],
    /// Scale along the width of the picture, metres a pixel.
    pub m_per_px: f64,
    /// How far the two ways of the picture differ in scale: 0 for a plain one.
    pub stretch_percent: f64,
    /// How far the three points lie from the best plain fit, root mean square. None with two points, which leave
    /// nothing to check.
    pub residual_m: Option<f64>,
}

impl PictureFix {
    /// Where a pixel lies on the ground.
    #[must_use]
    pub fn place(&self, [x, y]: At) -> At {
        let at = |row: &[f64; 3]| row[0] * x + row[1] * y + row[2];
        [at(&self.east), at(&self.north)]
    }

    /// The four corners of a picture, from the upper left on clockwise.
    #[must_use]
    pub fn corners(&self, width_px: f64, height_px: f64) -> [At; 4] {
        [[0.0, 0.0], [width_px, 0.0], [width_px, height_px], [0.0, height_px]].map(|at| self.place(at))
    }
}

/// Fixes a picture by two or three pairs of pixel and place.
///
/// # Errors
/// Fewer or more pairs, points that coincide, or three on one line.
pub fn fix_picture(pairs: &[(At, At)]) -> Result<PictureFix, Refusal> {
    let refused = |why: &str| {
        Refusal::new("fixed", why)
            .given(format!("{} points", pairs.len()))
            .accepted("two or three points, far apart and not on one line")
            .example("a gate post, the corner of the barn and the well")
    };
    match pairs {
        [one, two] => similar(*one, *two)
            .ok_or_else(|| refused("the two points coincide in the picture or on the ground")),
        [one, two, three] => affine(*one, *two, *three)
            .ok_or_else(|| refused("the three points lie on one line, or two of them coincide")),
        _ => Err(refused("a picture is fixed by two or three points")),
    }
}

/// Two points: a turn and a scale. Pixels run down, north runs up.
fn similar(one: (At, At), two: (At, At)) -> Option<PictureFix> {
    let p = [two.0[0] - one.0[0], -(two.0[1] - one.0[1])];
    let q = [two.1[0] - one.1[0], two.1[1] - one.1[1]];
    let square = p[0] * p[0] + p[1] * p[1];
    let scale = libm::hypot(q[0], q[1]) / square.sqrt();
    if square < 1.0 || !scale.is_finite() || scale < 1e-9 {
        return None;
    }
    // (q / p) as complex numbers.
    let re = (q[0] * p[0] + q[1] * p[1]) / square;
    let im = (q[1] * p[0] - q[0] * p[1]) / square;
    Some(finished([re, im], [im, -re], one, None))
}

fn finished([a, b]: [f64; 2], [d, e]: [f64; 2], one: (At, At), residual_m: Option<f64>) -> PictureFix {
    let [x, y] = one.0;
    let (wide, tall) = (libm::hypot(a, d), libm::hypot(b, e));
    PictureFix {
        east: [a, b, one.1[0] - a * x - b * y],
        north: [d, e, one.1[1] - d * x - e * y],
        m_per_px: wide,
        stretch_percent: 100.0 * (tall / wide - 1.0).abs(),
        residual_m,
    }
}

/// Three points: exactly. The residual is that of the best fit without slant and stretch.
fn affine(one: (At, At), two: (At, At), three: (At, At)) -> Option<PictureFix> {
    let less = |a: At, b: At| [a[0] - b[0], a[1] - b[1]];
    let (u, v) = (less(two.0, one.0), less(three.0, one.0));
    let (s, t) = (less(two.1, one.1), less(three.1, one.1));
    let det = u[0] * v[1] - u[1] * v[0];
    let ground = s[0] * t[1] - s[1] * t[0];
    let longest = [libm::hypot(u[0], u[1]), libm::hypot(v[0], v[1])].into_iter().fold(0.0, f64::max);
    let span = [libm::hypot(s[0], s[1]), libm::hypot(t[0], t[1])].into_iter().fold(0.0, f64::max);
    // A hundredth of the longest side off the line is too little to tell a slant.
    if det.abs() < 0.01 * longest * longest || ground.abs() < 0.01 * span * span || span <= 0.0 {
        return None;
    }
    let row = |s: f64, t: f64| [(s * v[1] - t * u[1]) / det, (t * u[0] - s * v[0]) / det];
    let residual = plain_residual_m(&[one, two, three]);
    Some(finished(row(s[0], t[0]), row(s[1], t[1]), one, Some(residual)))
}

/// Root mean square distance from the least-squares turn, scale and shift.
fn plain_residual_m(pairs: &[(At, At)]) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "three")]
    let count = pairs.len() as f64;
    let mean = |pick: fn(&(At, At)) -> At| {
        let sum = pairs.iter().map(pick).fold([0.0, 0.0], |sum, at| [sum[0] + at[0], sum[1] + at[1]]);
        [sum[0] / count, sum[1] / count]
    };
    let (p0, q0) = (mean(|pair| [pair.0[0], -pair.0[1]]), mean(|pair| pair.1));
    let (mut re, mut im, mut square) = (0.0, 0.0, 0.0);
    for (pixel, place) in pairs {
        let (p, q) = ([pixel[0] - p0[0], -pixel[1] - p0[1]], [place[0] - q0[0], place[1] - q0[1]]);
        re += q[0] * p[0] + q[1] * p[1];
        im += q[1] * p[0] - q[0] * p[1];
        square += p[0] * p[0] + p[1] * p[1];
    }
    let (re, im) = (re / square, im / square);
    let off: f64 = pairs
        .iter()
        .map(|(pixel, place)| {
            let p = [pixel[0] - p0[0], -pixel[1] - p0[1]];
            let fit = [q0[0] + re * p[0] - im * p[1], q0[1] + im * p[0] + re * p[1]];
            let far = plane::distance_m(fit, *place);
            far * far
        })
        .sum();
    (off / count).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: At, b: At) -> bool {
        plane::distance_m(a, b) < 1e-9
    }

    /// By hand: a picture of 1000 x 500 pixels at 0.1 m a pixel, north up, then turned by a right angle.
    #[test]
    fn two_points_turn_scale_and_shift() {
        let fix = fix_picture(&[([0.0, 500.0], [0.0, 0.0]), ([1000.0, 500.0], [100.0, 0.0])]).unwrap();
        assert!(near(fix.place([0.0, 0.0]), [0.0, 50.0]) && near(fix.place([500.0, 250.0]), [50.0, 25.0]));
        assert!((fix.m_per_px - 0.1).abs() < 1e-12 && fix.stretch_percent < 1e-9);
        assert!(fix.residual_m.is_none());
        let turned = fix_picture(&[([0.0, 0.0], [0.0, 0.0]), ([1000.0, 0.0], [0.0, 100.0])]).unwrap();
        // To the right is north, so down is east.
        assert!(near(turned.place([0.0, 500.0]), [50.0, 0.0]));
    }

    #[test]
    fn three_points_take_in_a_stretch_and_say_how_far() {
        let pairs =
            [([0.0, 0.0], [10.0, 90.0]), ([1000.0, 0.0], [110.0, 90.0]), ([0.0, 500.0], [10.0, 30.0])];
        let fix = fix_picture(&pairs).unwrap();
        for (pixel, place) in pairs {
            assert!(near(fix.place(pixel), place));
        }
        // 0.1 m a pixel across, 0.12 m down.
        assert!((fix.stretch_percent - 20.0).abs() < 1e-9, "{fix:?}");
        assert!(fix.residual_m.unwrap() > 1.0);
        let plain = fix_picture(&[
            ([0.0, 0.0], [0.0, 50.0]),
            ([1000.0, 0.0], [100.0, 50.0]),
            ([0.0, 500.0], [0.0, 0.0]),
        ]);
        assert!(plain.unwrap().residual_m.unwrap() < 1e-9);
    }

    #[test]
    fn points_that_fix_nothing_are_refused() {
        let same = ([5.0, 5.0], [1.0, 1.0]);
        assert!(fix_picture(&[same]).is_err());
        assert!(fix_picture(&[same, same]).is_err());
        let line = [([0.0, 0.0], [0.0, 0.0]), ([10.0, 0.0], [1.0, 0.0]), ([20.0, 0.0], [2.0, 0.0])];
        assert!(fix_picture(&line).is_err());
        assert!(fix_picture(&[([0.0, 0.0], [f64::NAN, 0.0]), ([9.0, 0.0], [1.0, 0.0])]).is_err());
    }
}
