//! Water vapour in the air and the pressure it is under (FAO-56 chapter 3).

/// Air pressure at a height above the sea, kPa (eq. 7).
#[must_use]
pub fn pressure_kpa(elevation_m: f64) -> f64 {
    101.3 * libm::pow((293.0 - 0.0065 * elevation_m) / 293.0, 5.26)
}

/// Psychrometric constant, kPa/°C (eq. 8).
#[must_use]
pub fn psychrometric_kpa_c(pressure_kpa: f64) -> f64 {
    0.665e-3 * pressure_kpa
}

/// Saturation vapour pressure, kPa (eq. 11).
#[must_use]
pub fn saturation_kpa(temperature_c: f64) -> f64 {
    0.6108 * libm::exp(17.27 * temperature_c / (temperature_c + 237.3))
}

/// Mean saturation vapour pressure of a day, kPa: the mean of both ends, not that of the mean
/// temperature, which is too low (eq. 12).
#[must_use]
pub fn mean_saturation_kpa(tmax_c: f64, tmin_c: f64) -> f64 {
    f64::midpoint(saturation_kpa(tmax_c), saturation_kpa(tmin_c))
}

/// Slope of the saturation curve, kPa/°C (eq. 13).
#[must_use]
pub fn slope_kpa_c(temperature_c: f64) -> f64 {
    let above = temperature_c + 237.3;
    4098.0 * saturation_kpa(temperature_c) / (above * above)
}

/// Least relative humidity of a day whose dew point is known, % (eq. 63); with the lowest temperature
/// in its place it is eq. 64.
#[must_use]
pub fn minimum_humidity_percent(tmax_c: f64, dew_point_c: f64) -> f64 {
    (100.0 * saturation_kpa(dew_point_c) / saturation_kpa(tmax_c)).min(100.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// The printed slope (eq. 13) is the derivative of the printed curve (eq. 11), to its rounding.
        #[test]
        fn the_slope_is_the_curve_s_own(t in -40.0..50.0_f64) {
            let h = 1e-4;
            let numeric = (saturation_kpa(t + h) - saturation_kpa(t - h)) / (2.0 * h);
            prop_assert!((slope_kpa_c(t) / numeric - 1.0).abs() < 1e-3);
        }

        #[test]
        fn air_thins_with_height(z in -400.0..5000.0_f64) {
            prop_assert!(pressure_kpa(z) > pressure_kpa(z + 100.0));
        }
    }

    /// Annex 2, Table 2.3 (recalled): 0 °C 0.611, 20 °C 2.338, 40 °C 7.376 kPa.
    #[test]
    fn saturation_is_as_tabled() {
        for (t, kpa) in [(0.0, 0.611), (20.0, 2.338), (40.0, 7.376)] {
            assert!((saturation_kpa(t) - kpa).abs() < 0.001, "{t}");
        }
    }
}
