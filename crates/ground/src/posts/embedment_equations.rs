//! The equations of the building code for posts under sideways load, solved in closed form.
//!
//! The equations keep their units: kN, m and kPa/m give metres. `bearing` is the lateral bearing for each metre of
//! depth, `width` the diameter, or the diagonal of a square post.

/// Equation 18-1: 2.34 / S₁ = 2.34 × 3 / (s d).
const SHEAR: f64 = 2.34 * 3.0;
/// 2.34 × 3 × 4.36 / 4.
const MOMENT: f64 = SHEAR * 4.36 / 4.0;
/// Equation 18-2.
const RESTRAINED: f64 = 4.25;

/// Depth of a post that nothing holds at the ground, m: the positive root of
/// s b d³ = 7.02 P d + 7.6518 P h.
#[must_use]
pub fn depth_free(load_kn: f64, height_m: f64, width_m: f64, bearing_kpa_m: f64) -> f64 {
    // d³ − αd − β = 0 with α, β ≥ 0 has one positive root, 2√(α/3) times a hyperbolic or plain cosine.
    let alpha = SHEAR * load_kn / (bearing_kpa_m * width_m);
    let scale = 2.0 * libm::sqrt(alpha / 3.0);
    let x = 1.5 * (MOMENT / SHEAR) * height_m * libm::sqrt(3.0 / alpha);
    scale * if x >= 1.0 { libm::cosh(libm::acosh(x) / 3.0) } else { libm::cos(libm::acos(x) / 3.0) }
}

/// Depth of a post held at the ground by a rigid floor, m: equation 18-2.
#[must_use]
pub fn depth_restrained(load_kn: f64, height_m: f64, width_m: f64, bearing_kpa_m: f64) -> f64 {
    libm::cbrt(RESTRAINED * load_kn * height_m / (bearing_kpa_m * width_m))
}

/// Sideways load that a free post of this depth may carry, kN.
#[must_use]
pub fn capacity_free(depth_m: f64, height_m: f64, width_m: f64, bearing_kpa_m: f64) -> f64 {
    bearing_kpa_m * width_m * depth_m * depth_m * depth_m / (SHEAR * depth_m + MOMENT * height_m)
}

/// Sideways load that a post held at the ground may carry, kN; not finite at height 0.
#[must_use]
pub fn capacity_restrained(depth_m: f64, height_m: f64, width_m: f64, bearing_kpa_m: f64) -> f64 {
    bearing_kpa_m * width_m * depth_m * depth_m * depth_m / (RESTRAINED * height_m)
}

/// What equation 18-1 gives at a trial depth, as permit sheets evaluate it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trial {
    /// Pressure allowed at a third of the trial depth, kPa.
    pub third_kpa: f64,
    /// The term A, m.
    pub a_m: f64,
    /// Depth that the equation asks for, m.
    pub required_m: f64,
}

/// Equation 18-1 at a trial depth.
#[must_use]
pub fn trial(depth_m: f64, load_kn: f64, height_m: f64, width_m: f64, bearing_kpa_m: f64) -> Trial {
    let third_kpa = bearing_kpa_m * depth_m / 3.0;
    let a_m = 2.34 * load_kn / (third_kpa * width_m);
    let required_m = 0.5 * a_m * (1.0 + libm::sqrt(1.0 + 4.36 * height_m / a_m));
    Trial { third_kpa, a_m, required_m }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The code's own way: guess, compute, guess again (halfway, or it swings) until nothing changes.
    fn iterated(load: f64, height: f64, width: f64, bearing: f64) -> f64 {
        let mut depth = 1.0;
        for _ in 0..400 {
            depth = 0.5 * (depth + trial(depth, load, height, width, bearing).required_m);
        }
        depth
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]

        #[test]
        fn closed_form_is_the_iterated_code_equation(
            load in 0.001..100.0_f64, height in 0.0..15.0_f64, width in 0.01..1.5_f64, bearing in 1.0..400.0_f64
        ) {
            let depth = depth_free(load, height, width, bearing);
            prop_assert!((depth - iterated(load, height, width, bearing)).abs() <= 1e-9 * depth.max(1.0));
            let back = capacity_free(depth, height, width, bearing);
            prop_assert!((back - load).abs() <= 1e-9 * load, "{back} {load}");
        }

        #[test]
        fn more_load_needs_more_depth_and_a_floor_saves_some(
            load in 0.001..100.0_f64, height in 0.01..15.0_f64, width in 0.01..1.5_f64, bearing in 1.0..400.0_f64
        ) {
            let depth = depth_free(load, height, width, bearing);
            prop_assert!(depth_free(1.1 * load, height, width, bearing) > depth);
            prop_assert!(depth_free(load, height, width, 1.5 * bearing) < depth);
            let held = depth_restrained(load, height, width, bearing);
            prop_assert!(held < depth);
            prop_assert!((capacity_restrained(held, height, width, bearing) - load).abs() <= 1e-9 * load);
        }
    }
}
