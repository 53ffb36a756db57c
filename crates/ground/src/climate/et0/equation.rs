//! The FAO-56 Penman-Monteith equation and the radiation balance that feeds it.

/// Stefan-Boltzmann constant, MJ/K⁴/m²/d.
pub(crate) const STEFAN_BOLTZMANN_DAY: f64 = 4.903e-9;

/// Share of the light that the reference sward throws back.
pub(crate) const ALBEDO: f64 = 0.23;

/// mm of water evaporated by 1 MJ/m² (eq. 20).
pub const MM_PER_MJ: f64 = 0.408;

/// Least wind at 2 m in the equation, m/s: still air is moved by its own warmth (FAO-56 p. 63).
pub const CALMEST_M_S: f64 = 0.5;

/// Ends of the cloud ratio Rs/Rso, dense cloud and clear sky (FAO-56 chapter 3).
pub const CLOUD_RATIO: (f64, f64) = (0.33, 1.0);

/// What the equation is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// Mean air temperature, °C.
    pub mean_c: f64,
    /// Slope of the saturation curve, kPa/°C.
    pub slope_kpa_c: f64,
    /// Psychrometric constant, kPa/°C.
    pub psychrometric_kpa_c: f64,
    /// Net radiation less what warms the ground, MJ/m²/d.
    pub available_mj_m2_d: f64,
    /// Wind at 2 m, m/s.
    pub wind_2m_m_s: f64,
    /// Vapour pressure deficit, kPa.
    pub deficit_kpa: f64,
}

/// Reference evapotranspiration, mm/d (eq. 6). May be below zero when dew forms.
#[must_use]
pub fn penman_monteith_mm_d(b: &Balance) -> f64 {
    penman_monteith(b, 900.0)
}

/// The equation with its aerodynamic constant, 900 by day and 37 by hour (eq. 6 and 53).
pub(super) fn penman_monteith(b: &Balance, constant: f64) -> f64 {
    let radiation = MM_PER_MJ * b.slope_kpa_c * b.available_mj_m2_d;
    let air = b.psychrometric_kpa_c * constant / (b.mean_c + 273.0) * b.wind_2m_m_s * b.deficit_kpa;
    (radiation + air) / (b.slope_kpa_c + b.psychrometric_kpa_c * (1.0 + 0.34 * b.wind_2m_m_s))
}

/// What a wind at `height_m` is multiplied by to be that at 2 m (eq. 47).
#[must_use]
pub fn wind_factor(height_m: f64) -> f64 {
    4.87 / libm::log(67.8 * height_m - 5.42)
}

/// Heat that a day radiates away, net, MJ/m²/d (eq. 39). `cloud_ratio` is Rs/Rso, held between dense
/// cloud and clear sky.
#[must_use]
pub fn net_longwave_mj_m2_d(tmax_c: f64, tmin_c: f64, actual_kpa: f64, cloud_ratio: f64) -> f64 {
    let warmth = f64::midpoint(fourth(tmax_c + 273.16), fourth(tmin_c + 273.16));
    STEFAN_BOLTZMANN_DAY * warmth * emission(actual_kpa, cloud_ratio)
}

/// The two brackets of eq. 39: moist air and cloud hold heat back.
pub(super) fn emission(actual_kpa: f64, cloud_ratio: f64) -> f64 {
    let (dense, clear) = CLOUD_RATIO;
    (0.34 - 0.14 * actual_kpa.max(0.0).sqrt()) * (1.35 * cloud_ratio.clamp(dense, clear) - 0.35)
}

pub(super) fn fourth(x: f64) -> f64 {
    (x * x) * (x * x)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn balance() -> impl Strategy<Value = Balance> {
        (-5.0..40.0_f64, 60.0..101.0_f64, 0.0..22.0_f64, 0.5..8.0_f64, 0.0..4.0_f64).prop_map(
            |(mean_c, pressure, available_mj_m2_d, wind_2m_m_s, deficit_kpa)| Balance {
                mean_c,
                slope_kpa_c: crate::climate::vapour::slope_kpa_c(mean_c),
                psychrometric_kpa_c: crate::climate::vapour::psychrometric_kpa_c(pressure),
                available_mj_m2_d,
                wind_2m_m_s,
                deficit_kpa,
            },
        )
    }

    proptest! {
        #[test]
        fn more_light_or_drier_air_never_lowers_it(b in balance()) {
            let here = penman_monteith_mm_d(&b);
            let brighter = Balance { available_mj_m2_d: b.available_mj_m2_d + 1.0, ..b };
            let drier = Balance { deficit_kpa: b.deficit_kpa + 0.1, ..b };
            prop_assert!(here >= 0.0);
            prop_assert!(penman_monteith_mm_d(&brighter) > here);
            prop_assert!(penman_monteith_mm_d(&drier) > here);
        }

        #[test]
        fn cloud_and_moisture_hold_heat_back(tmax in 0.0..45.0_f64, ea in 0.1..3.5_f64, ratio in 0.33..0.95_f64) {
            let loss = net_longwave_mj_m2_d(tmax, tmax - 10.0, ea, ratio);
            prop_assert!(loss > 0.0);
            prop_assert!(net_longwave_mj_m2_d(tmax, tmax - 10.0, ea, ratio + 0.05) > loss);
            prop_assert!(net_longwave_mj_m2_d(tmax, tmax - 10.0, ea + 0.1, ratio) < loss);
        }

        /// Energy is kept: without wind nothing but the radiation term is left, and it is less than all of it.
        #[test]
        fn radiation_alone_cannot_evaporate_more_than_its_energy(b in balance()) {
            let still = Balance { wind_2m_m_s: 0.0, deficit_kpa: 0.0, ..b };
            prop_assert!(penman_monteith_mm_d(&still) <= MM_PER_MJ * b.available_mj_m2_d + 1e-12);
        }
    }
}
