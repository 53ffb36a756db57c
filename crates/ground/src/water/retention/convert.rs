//! From van Genuchten's parameters to those of Brooks and Corey, and back.

/// m of van Genuchten from n.
fn m_of(n: f64) -> f64 {
    1.0 - 1.0 / n
}

/// ψb = 1/α, λ = n − 1: the two curves alike in dry ground. Suction in cm.
#[must_use]
pub fn simple_to_brooks_corey(alpha_per_cm: f64, n: f64) -> (f64, f64) {
    (1.0 / alpha_per_cm, n - 1.0)
}

/// α = 1/ψb, n = λ + 1: the same the other way.
#[must_use]
pub fn simple_to_van_genuchten(bubbling_cm: f64, lambda: f64) -> (f64, f64) {
    (1.0 / bubbling_cm, lambda + 1.0)
}

/// Bubbling suction (cm) and λ that match the middle of the curve \[Lenhard1989\].
#[must_use]
pub fn lenhard_to_brooks_corey(alpha_per_cm: f64, n: f64) -> (f64, f64) {
    let m = m_of(n);
    let lambda = m / (1.0 - m) * (1.0 - libm::pow(0.5, 1.0 / m));
    let square = n * n;
    let at = 0.72 - 0.35 * libm::exp(-square * square);
    let suction =
        libm::pow(at, 1.0 / lambda) / alpha_per_cm * libm::pow(libm::pow(at, -1.0 / m) - 1.0, 1.0 - m);
    (suction, lambda)
}

/// α (1/cm) and n whose conversion by [`lenhard_to_brooks_corey`] gives these back. `None` where no n
/// from 1.01 to 20 has this λ.
#[must_use]
pub fn lenhard_to_van_genuchten(bubbling_cm: f64, lambda: f64) -> Option<(f64, f64)> {
    let of = |n: f64| lenhard_to_brooks_corey(1.0, n).1;
    let (mut low, mut high) = (1.01, 20.0);
    if !(of(low)..=of(high)).contains(&lambda) {
        return None;
    }
    // λ rises with n over this range.
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if of(middle) < lambda {
            low = middle;
        } else {
            high = middle;
        }
    }
    let n = 0.5 * (low + high);
    Some((lenhard_to_brooks_corey(1.0, n).0 / bubbling_cm, n))
}

/// Capillary drive of van Genuchten's curve, cm: the integral of relative conductivity over suction,
/// as a fitted fraction \[MorelSeytoux1996\].
#[must_use]
pub fn drive_of_van_genuchten(alpha_per_cm: f64, n: f64) -> f64 {
    let m = m_of(n);
    m * (0.046 + m * (2.07 + m * 19.5)) / ((1.0 + m * (4.7 + m * 16.0)) * alpha_per_cm)
}

/// Capillary drive of Brooks and Corey's curve with Burdine's conductivity, cm: ψb (2 + 3λ)/(1 + 3λ).
#[must_use]
pub fn drive_of_brooks_corey(bubbling_cm: f64, lambda: f64) -> f64 {
    bubbling_cm * (2.0 + 3.0 * lambda) / (1.0 + 3.0 * lambda)
}

/// Bubbling suction (cm) and λ that keep the capillary drive and the exponent of conductivity,
/// 3 + 2/λ = 1 + 2/m \[MorelSeytoux1996\]. `None` unless n is above 1 (m between 0 and 1).
#[must_use]
pub fn drive_to_brooks_corey(alpha_per_cm: f64, n: f64) -> Option<(f64, f64)> {
    let m = m_of(n);
    if m <= 0.0 || m >= 1.0 {
        return None;
    }
    let lambda = m / (1.0 - m);
    let drive = drive_of_van_genuchten(alpha_per_cm, n);
    Some((drive * (1.0 + 3.0 * lambda) / (2.0 + 3.0 * lambda), lambda))
}

/// α (1/cm) and n that keep the capillary drive and the exponent of conductivity.
#[must_use]
pub fn drive_to_van_genuchten(bubbling_cm: f64, lambda: f64) -> (f64, f64) {
    let n = 1.0 + lambda;
    (drive_of_van_genuchten(1.0, n) / drive_of_brooks_corey(bubbling_cm, lambda), n)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::water::retention::{CurvePoint, Retention, VanGenuchten};

    /// The fitted fraction against the integral it stands for, worked here.
    #[test]
    fn the_drive_is_the_integral_of_relative_conductivity() {
        for (alpha_per_cm, n) in [(0.036, 1.56), (0.0335, 2.0), (0.145, 2.68)] {
            let curve = VanGenuchten { theta_r: 0.05, theta_s: 0.4, alpha_per_cm, n, ks_cm_h: 1.0, l: 0.5 };
            let conductivity = |t: f64| -> f64 {
                let CurvePoint { conductivity_cm_h, .. } = curve.point(-libm::exp(t));
                conductivity_cm_h * libm::exp(t)
            };
            let (from, to, parts) = (-16.0, 12.0, 4000);
            let step = (to - from) / f64::from(parts);
            let integral: f64 =
                (0..parts).map(|part| step * conductivity(from + step * (f64::from(part) + 0.5))).sum();
            let fitted = drive_of_van_genuchten(alpha_per_cm, n);
            assert!((fitted / integral - 1.0).abs() < 0.02, "{alpha_per_cm} {n}: {fitted} {integral}");
        }
    }

    #[test]
    fn there_and_back_is_the_same_curve() {
        for (alpha, n) in [(0.036, 1.56), (0.145, 2.68), (0.008, 1.09), (0.02, 1.41)] {
            let (suction, lambda) = lenhard_to_brooks_corey(alpha, n);
            let (back, again) = lenhard_to_van_genuchten(suction, lambda).unwrap();
            assert!((back / alpha - 1.0).abs() < 1e-9 && (again / n - 1.0).abs() < 1e-9);
            let (suction, lambda) = drive_to_brooks_corey(alpha, n).unwrap();
            let (back, again) = drive_to_van_genuchten(suction, lambda);
            assert!((back / alpha - 1.0).abs() < 1e-9 && (again / n - 1.0).abs() < 1e-9);
        }
        assert_eq!(lenhard_to_van_genuchten(10.0, 900.0), None);
    }
}
