//! The modified Bessel function of the second kind, for the Matérn model.

/// Step of the trapezoid rule. The integrand is analytic in a strip of half width π/2, so the error of the rule
/// falls as exp(−π²/step): far below the last digit.
const STEP: f64 = 0.125;

/// K of order `order` at `x` > 0, from its integral ∫ exp(−x cosh t) cosh(order · t) dt over t ≥ 0.
pub(super) fn bessel_k(order: f64, x: f64) -> f64 {
    let mut sum = 0.5 * libm::exp(-x);
    let mut t = STEP;
    loop {
        let term = libm::exp(order * t - x * libm::cosh(t));
        // Once the term falls it falls faster and faster.
        let both = 0.5 * (term + libm::exp(-order * t - x * libm::cosh(t)));
        sum += both;
        if x * libm::sinh(t) > order && both <= 1e-18 * sum {
            return STEP * sum;
        }
        t += STEP;
        if t > 800.0 {
            return STEP * sum;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_meets_the_closed_forms_and_the_tables() {
        let half = |x: f64| (std::f64::consts::FRAC_PI_2 / x).sqrt() * libm::exp(-x);
        for x in [1e-6, 0.01, 0.5, 1.0, 3.0, 20.0] {
            // K of order 1/2 and 3/2 in closed form.
            assert!((bessel_k(0.5, x) / half(x) - 1.0).abs() < 1e-12, "{x}");
            assert!((bessel_k(1.5, x) / (half(x) * (1.0 + 1.0 / x)) - 1.0).abs() < 1e-12, "{x}");
        }
        // Abramowitz and Stegun, table 9.8, recalled: K0(1) = 0.42102 44382, K1(1) = 0.60190 72302.
        assert!((bessel_k(0.0, 1.0) - 0.421_024_438_2).abs() < 1e-10);
        assert!((bessel_k(1.0, 1.0) - 0.601_907_230_2).abs() < 1e-10);
    }
}
