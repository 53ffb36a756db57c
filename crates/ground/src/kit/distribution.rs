//! Tails and quantiles of the normal distribution and of Student's.

/// Share of a standard normal below `z`.
#[must_use]
pub fn normal_below(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// Density of a standard normal.
#[must_use]
pub fn normal_density(z: f64) -> f64 {
    libm::exp(-0.5 * z * z) / (2.0 * std::f64::consts::PI).sqrt()
}

/// The value that a share of a standard normal lies below.
#[must_use]
pub fn normal_quantile(share: f64) -> f64 {
    halved(-9.0, 9.0, |z| normal_below(z) < share)
}

/// Share of Student's t with `freedom` degrees of freedom below `t`.
#[must_use]
pub fn student_below(t: f64, freedom: f64) -> f64 {
    let tail = 0.5 * beta_share(freedom / (freedom + t * t), 0.5 * freedom, 0.5);
    if t > 0.0 { 1.0 - tail } else { tail }
}

/// The value that a share of Student's t with `freedom` degrees of freedom lies below.
#[must_use]
pub fn student_quantile(share: f64, freedom: f64) -> f64 {
    // One degree of freedom reaches 318 at 99.9 %.
    halved(-1e4, 1e4, |t| student_below(t, freedom) < share)
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
        density * normal_below(t * scale - shift)
    };
    let inner: f64 = (1..PANELS).map(|panel| if panel % 2 == 1 { 4.0 } else { 2.0 } * at(panel)).sum();
    ((at(0) + inner + at(PANELS)) * step / 3.0).clamp(0.0, 1.0)
}

/// Where a rule that holds below a value and not above it turns.
fn halved(mut low: f64, mut high: f64, below: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..90 {
        let middle = f64::midpoint(low, high);
        if below(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// Regularised incomplete beta function, by its continued fraction.
fn beta_share(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let front = libm::exp(
        libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b) + a * libm::log(x) + b * libm::log1p(-x),
    );
    // The fraction settles fast on one side of the mean only; the other is its mirror image.
    if x < (a + 1.0) / (a + b + 2.0) {
        front * fraction(x, a, b) / a
    } else {
        1.0 - front * fraction(1.0 - x, b, a) / b
    }
}

/// Lentz's way through the continued fraction of the incomplete beta function.
fn fraction(x: f64, a: f64, b: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let off_nought = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut c = 1.0;
    let mut d = 1.0 / off_nought(1.0 - (a + b) * x / (a + 1.0));
    let mut sum = d;
    for round in 1..500 {
        let m = f64::from(round);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / off_nought(1.0 + even * d);
        c = off_nought(1.0 + even / c);
        sum *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / off_nought(1.0 + odd * d);
        c = off_nought(1.0 + odd / c);
        let step = d * c;
        sum *= step;
        if (step - 1.0).abs() < 1e-15 {
            break;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_meet_the_printed_tables() {
        // Any table of the normal: 1.2816, 1.6449, 1.9600, 2.5758.
        for (share, z) in [(0.9, 1.2816), (0.95, 1.6449), (0.975, 1.9600), (0.995, 2.5758)] {
            assert!((normal_quantile(share) - z).abs() < 6e-5, "{share}: {}", normal_quantile(share));
        }
        // Any table of Student's t, one-sided 5 % and 2.5 %.
        for (freedom, t) in [(1, 6.314), (4, 2.132), (9, 1.833), (11, 1.796), (20, 1.725), (60, 1.671)] {
            let ours = student_quantile(0.95, f64::from(freedom));
            assert!((ours - t).abs() < 6e-4, "{freedom}: {ours}");
        }
        for (freedom, t) in [(1, 12.706), (7, 2.365), (9, 2.262), (30, 2.042)] {
            let ours = student_quantile(0.975, f64::from(freedom));
            assert!((ours - t).abs() < 6e-4, "{freedom}: {ours}");
        }
    }

    #[test]
    fn student_s_t_of_one_degree_is_cauchy_s() {
        for t in [-3.0_f64, -0.4, 0.0, 0.7, 12.0] {
            let cauchy = 0.5 + libm::atan(t) / std::f64::consts::PI;
            assert!((student_below(t, 1.0) - cauchy).abs() < 1e-12, "{t}");
        }
    }

    #[test]
    fn without_a_shift_the_two_are_one() {
        for (t, freedom) in [(0.3, 1.0), (2.0, 3.0), (-1.5, 7.0), (1.1, 40.0)] {
            let (plain, shifted) = (student_below(t, freedom), shifted_student_below(t, freedom, 0.0));
            assert!((plain - shifted).abs() < 1e-8, "{t} {freedom}: {plain} {shifted}");
        }
    }
}
