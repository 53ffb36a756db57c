//! The non-central t, by which the power of a test of means is found.

use crate::kit::quantiles::normal_share;

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::quantiles::student_share;

    #[test]
    fn without_a_shift_it_is_student_s() {
        for (t, freedom) in [(0.3, 1.0), (2.0, 3.0), (-1.5, 7.0), (1.1, 40.0)] {
            let (plain, shifted) = (student_share(t, freedom), shifted_student_below(t, freedom, 0.0));
            assert!((plain - shifted).abs() < 1e-8, "{t} {freedom}: {plain} {shifted}");
        }
    }
}
