//! Student's t: its law and its quantiles, for whole degrees of freedom.

use std::f64::consts::FRAC_2_PI;

/// Chance that |t| stays below `t` with `freedom` degrees of freedom: the finite sums of the law
/// (Abramowitz and Stegun, 26.7.3 and 26.7.4, recalled).
#[must_use]
pub fn within(t: f64, freedom: u32) -> f64 {
    let angle = libm::atan(t.abs() / f64::from(freedom).sqrt());
    let (sin, cos) = libm::sincos(angle);
    let odd = freedom % 2 == 1;
    let (mut term, mut sum) = if odd { (cos, if freedom > 1 { cos } else { 0.0 }) } else { (1.0, 1.0) };
    let mut at = if odd { 3 } else { 2 };
    while at < freedom {
        term *= cos * cos * f64::from(at - 1) / f64::from(at);
        sum += term;
        at += 2;
    }
    if odd { FRAC_2_PI * (angle + sin * sum) } else { sin * sum }
}

/// The t that |t| stays below with chance `share` (0 to 1, both left out): 0.90 gives the half width of a
/// central 90 % range in standard errors. No degrees of freedom are taken as one.
#[must_use]
pub fn half_width(share: f64, freedom: u32) -> f64 {
    let freedom = freedom.max(1);
    let share = share.clamp(0.0, 1.0 - 1e-12);
    let (mut low, mut high) = (0.0, 1.0);
    while within(high, freedom) < share && high < 1e13 {
        low = high;
        high *= 2.0;
    }
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if within(middle, freedom) < share { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_meet_the_printed_table() {
        // Any printed table of Student's t, two-sided 5 % and 10 %.
        for (freedom, t95, t90) in [
            (1, 12.706, 6.314),
            (2, 4.303, 2.920),
            (5, 2.571, 2.015),
            (10, 2.228, 1.812),
            (11, 2.201, 1.796),
            (30, 2.042, 1.697),
            (120, 1.980, 1.658),
        ] {
            assert!((half_width(0.95, freedom) - t95).abs() < 6e-4, "{freedom}");
            assert!((half_width(0.90, freedom) - t90).abs() < 6e-4, "{freedom}");
        }
    }
}
