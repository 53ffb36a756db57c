//! How high, and how fast, water climbs from a water table by itself.

use super::curve::Retention;

/// Suction at the top of the climb, cm: about the wilting point.
pub const TOP_SUCTION_CM: f64 = 16000.0;

/// Height (cm) above a water table to which a steady flux (cm/h, upward) can climb:
/// ∫ dψ / (1 + q/K(ψ)) from 0 to [`TOP_SUCTION_CM`].
#[must_use]
pub fn height_cm(curve: &impl Retention, flux_cm_h: f64) -> f64 {
    let share = |suction: f64| -> f64 {
        let conductivity = curve.conductivity_cm_h(-suction);
        conductivity / (conductivity + flux_cm_h)
    };
    // Even steps in the logarithm follow the curve from a hair's breadth to the wilting point.
    let (from, to) = (1e-4_f64, TOP_SUCTION_CM);
    let (first, last) = (libm::log(from), libm::log(to));
    let parts = 2000;
    let step = (last - first) / f64::from(parts);
    let mut sum = 0.0;
    for part in 0..=parts {
        let suction = libm::exp(first + step * f64::from(part));
        let weight = match part {
            0 => 1.0,
            end if end == parts => 1.0,
            odd if odd % 2 == 1 => 4.0,
            _ => 2.0,
        };
        sum += weight * share(suction) * suction;
    }
    from * share(0.0) + sum * step / 3.0
}

/// Greatest steady flux (cm/h, upward) from a water table at a depth (cm); `None` where it is below
/// a billionth of the saturated conductivity.
#[must_use]
pub fn greatest_flux_cm_h(curve: &impl Retention, depth_cm: f64) -> Option<f64> {
    let full = curve.saturated_conductivity_cm_h();
    // The height falls as the flux grows: halve the logarithm of the flux.
    let (mut low, mut high) = (libm::log(full) - 21.0, libm::log(full) + 21.0);
    if height_cm(curve, libm::exp(low)) < depth_cm {
        return None;
    }
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if height_cm(curve, libm::exp(middle)) > depth_cm {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(libm::exp(0.5 * (low + high)))
}

/// The constant of Gardner's greatest flux, \[π / (n sin(π/n))\]ⁿ, for K = a/ψⁿ with n above 1:
/// q = constant × a / Dⁿ \[Gardner1958\].
#[must_use]
pub fn gardner_constant(power: f64) -> f64 {
    let angle = std::f64::consts::PI / power;
    libm::pow(angle / libm::sin(angle), power)
}
