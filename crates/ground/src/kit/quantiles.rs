//! Quantiles of the laws that intervals are made of: the normal and Student's t.
//!
//! Student's distribution function is the regularised incomplete beta function, taken by its continued
//! fraction (modified Lentz); the quantile is found by Newton's steps kept inside a bracket.

/// Share of a standard normal law at or below `z`.
#[must_use]
pub fn normal_share(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// Density of a standard normal law.
#[must_use]
pub fn normal_density(z: f64) -> f64 {
    libm::exp(-0.5 * z * z) / (2.0 * std::f64::consts::PI).sqrt()
}

/// The value that a standard normal law stays below with probability `share`, 0 < `share` < 1.
#[must_use]
pub fn normal(share: f64) -> f64 {
    invert(share, 0.0, normal_share, normal_density)
}

/// Share of Student's t law at or below `t`, `freedom` > 0 degrees of freedom.
#[must_use]
pub fn student_share(t: f64, freedom: f64) -> f64 {
    // Near the middle from the middle, far out from the end: each is told to its last digit.
    if t * t < freedom {
        let middle = 0.5 * incomplete_beta(t * t / (freedom + t * t), 0.5, freedom / 2.0);
        return if t > 0.0 { 0.5 + middle } else { 0.5 - middle };
    }
    let tail = 0.5 * incomplete_beta(freedom / (freedom + t * t), freedom / 2.0, 0.5);
    if t > 0.0 { 1.0 - tail } else { tail }
}

/// The value that Student's t law stays below with probability `share`, 0 < `share` < 1.
#[must_use]
pub fn student(share: f64, freedom: f64) -> f64 {
    let scale = libm::lgamma(f64::midpoint(freedom, 1.0)) - libm::lgamma(freedom / 2.0);
    let top = libm::exp(scale) / (freedom * std::f64::consts::PI).sqrt();
    let density = |t: f64| top * libm::pow(1.0 + t * t / freedom, -f64::midpoint(freedom, 1.0));
    invert(share, normal(share), |t| student_share(t, freedom), density)
}

/// The two-sided value: the law lies within ± it with probability `confidence`.
#[must_use]
pub fn student_within(confidence: f64, freedom: f64) -> f64 {
    student(f64::midpoint(1.0, confidence), freedom)
}

/// Share of the non-central t with `freedom` degrees of freedom, shifted by `shift`, below `t`: the normal above its
/// own scale, summed over the scales that χ² allows.
#[must_use]
pub fn shifted_student_below(t: f64, freedom: f64, shift: f64) -> f64 {
    const PANELS: u32 = 2000;
    let half = 0.5 * freedom;
    let constant = std::f64::consts::LN_2 + half * libm::log(half) - libm::lgamma(half);
    let most = 1.0 + 10.0 / (2.0 * freedom).sqrt();
    let step = most / f64::from(PANELS);
    let at = |panel: u32| {
        let scale = f64::from(panel) * step;
        let log = if scale > 0.0 { (freedom - 1.0) * libm::log(scale) } else { 0.0 };
        // Below two degrees of freedom the density does not vanish at nought.
        let density = if scale == 0.0 && freedom > 1.0 {
            0.0
        } else {
            libm::exp(constant + log - half * scale * scale)
        };
        density * normal_share(t * scale - shift)
    };
    let inner: f64 = (1..PANELS).map(|panel| if panel % 2 == 1 { 4.0 } else { 2.0 } * at(panel)).sum();
    ((at(0) + inner + at(PANELS)) * step / 3.0).clamp(0.0, 1.0)
}

/// Where `below` reaches `share`.
fn invert(share: f64, start: f64, below: impl Fn(f64) -> f64, density: impl Fn(f64) -> f64) -> f64 {
    if share.is_nan() || share <= 0.0 || share >= 1.0 {
        return f64::NAN;
    }
    let (mut low, mut high) = (-1.0, 1.0);
    while below(low) > share {
        low *= 2.0;
    }
    while below(high) < share {
        high *= 2.0;
    }
    let mut at = start.clamp(low, high);
    for _ in 0..200 {
        let off = below(at) - share;
        if off > 0.0 {
            high = at;
        } else {
            low = at;
        }
        let step = at - off / density(at);
        // Newton where it stays inside the bracket; it overshoots in the tails of few degrees of freedom.
        let next = if step > low && step < high { step } else { f64::midpoint(low, high) };
        if (next - at).abs() <= 1e-13 * next.abs().max(1.0) {
            return next;
        }
        at = next;
    }
    at
}

/// Regularised incomplete beta function, for 0 ≤ `x` ≤ 1.
fn incomplete_beta(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let front = libm::exp(
        libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b) + a * libm::log(x) + b * libm::log1p(-x),
    );
    // The fraction converges fast on this side of the mean; the other side is its mirror.
    if x < (a + 1.0) / (a + b + 2.0) {
        front * fraction(x, a, b) / a
    } else {
        1.0 - front * fraction(1.0 - x, b, a) / b
    }
}

fn fraction(x: f64, a: f64, b: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let away = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut c = 1.0;
    let mut d = 1.0 / away(1.0 - (a + b) * x / (a + 1.0));
    let mut sum = d;
    for m in 1..10_000 {
        let m = f64::from(m);
        for term in [
            m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0)),
        ] {
            d = 1.0 / away(1.0 + term * d);
            c = away(1.0 + term / c);
            sum *= d * c;
        }
        if (d * c - 1.0).abs() < 1e-15 {
            break;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn student_meets_the_printed_tables() {
        // Any table of Student's t, two-sided 5 %: 12.706, 4.303, 2.571, 2.228, 2.042, 1.980; one-sided 10 % at 71
        // degrees 1.2936 (sample-adequacy report); 2.201 at 11 (water-content note); 2.570582 at 5 (two libraries).
        for (freedom, t) in [
            (1.0, 12.706),
            (2.0, 4.303),
            (5.0, 2.571),
            (10.0, 2.228),
            (11.0, 2.201),
            (30.0, 2.042),
            (120.0, 1.980),
        ] {
            assert!((student_within(0.95, freedom) - t).abs() < 5e-4, "{freedom}");
        }
        assert!((student(0.90, 71.0) - 1.2936).abs() < 5e-5);
        assert!((student_within(0.95, 5.0) - 2.570_582).abs() < 5e-7);
    }

    #[test]
    fn closed_forms_of_one_and_two_degrees() {
        for share in [0.001_f64, 0.2, 0.5, 0.8, 0.975, 0.9999] {
            let one = libm::tan(std::f64::consts::PI * (share - 0.5));
            assert!((student(share, 1.0) - one).abs() < 1e-9 * one.abs().max(1.0), "{share}");
            let two = (2.0 * share - 1.0) * (2.0 / (4.0 * share * (1.0 - share))).sqrt();
            assert!((student(share, 2.0) - two).abs() < 1e-9 * two.abs().max(1.0), "{share}");
        }
    }

    #[test]
    fn normal_meets_the_printed_table() {
        // Any table of the normal law.
        for (share, z) in
            [(0.5, 0.0), (0.9, 1.281_552), (0.95, 1.644_854), (0.975, 1.959_964), (0.995, 2.575_829)]
        {
            assert!((normal(share) - z).abs() < 5e-7, "{share}");
        }
        assert!((student(0.975, 1e7) - normal(0.975)).abs() < 1e-6, "many degrees are the normal law");
        assert!(normal(0.0).is_nan() && normal(1.0).is_nan());
    }

    #[test]
    fn student_s_t_of_one_degree_is_cauchy_s() {
        for t in [-3.0_f64, -0.4, 0.0, 0.7, 12.0] {
            let cauchy = 0.5 + libm::atan(t) / std::f64::consts::PI;
            assert!((student_share(t, 1.0) - cauchy).abs() < 1e-12, "{t}");
        }
    }

    #[test]
    fn without_a_shift_the_two_are_one() {
        for (t, freedom) in [(0.3, 1.0), (2.0, 3.0), (-1.5, 7.0), (1.1, 40.0)] {
            let (plain, shifted) = (student_share(t, freedom), shifted_student_below(t, freedom, 0.0));
            assert!((plain - shifted).abs() < 1e-8, "{t} {freedom}: {plain} {shifted}");
        }
    }
}
