//! Evaporation from the surface layer [Fao56, chapter 7]: the plain functions.

/// Wind and humidity as eq. 72 takes them, and the crop's height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Wind at 2 m, m/s.
    pub wind_m_s: f64,
    /// Least relative humidity of the day, percent.
    pub rh_min_percent: f64,
}

/// The climate for which the coefficients are tabulated: light wind, a sub-humid afternoon.
pub const STANDARD_AIR: Air = Air { wind_m_s: 2.0, rh_min_percent: 45.0 };

/// Most that crop and wet ground can lose, as a coefficient (eq. 72). Wind is held to 1 to 6 m/s and
/// humidity to 20 to 80 %; height 0 is bare ground.
#[must_use]
pub fn ceiling(basal: f64, height_m: f64, air: Air) -> f64 {
    let wind = air.wind_m_s.clamp(1.0, 6.0);
    let humidity = air.rh_min_percent.clamp(20.0, 80.0);
    let climate = 0.04 * (wind - 2.0) - 0.004 * (humidity - 45.0);
    let tall = libm::pow(height_m.clamp(0.0, 10.0) / 3.0, 0.3);
    (1.2 + climate * tall).max(basal + 0.05)
}

/// Share of the ground that a crop covers, from its basal coefficient (eq. 76).
#[must_use]
pub fn cover_from(basal: f64, least: f64, ceiling: f64, height_m: f64) -> f64 {
    let share = (basal - least).max(0.01) / (ceiling - least).max(0.01);
    libm::pow(share.clamp(0.0, 1.0), 1.0 + 0.5 * height_m).min(0.99)
}

/// Share of the ground both bare to the sun and wetted (eq. 75), never quite nothing.
#[must_use]
pub fn exposed_and_wetted(cover: f64, wetted: f64) -> f64 {
    (1.0 - cover).min(wetted).clamp(0.01, 1.0)
}

/// Wetted share that still lies open when drip wets the ground under the plants (p. 149).
#[must_use]
pub fn under_canopy(wetted: f64, cover: f64) -> f64 {
    wetted * (1.0 - 2.0 / 3.0 * cover)
}

/// How far a drying surface holds evaporation down (eq. 74).
#[must_use]
pub fn reduction(surface_mm: f64, evaporable_mm: f64, readily_mm: f64) -> f64 {
    if surface_mm <= readily_mm {
        return 1.0;
    }
    let span = evaporable_mm - readily_mm;
    if span <= 0.0 { 0.0 } else { ((evaporable_mm - surface_mm) / span).max(0.0) }
}

/// Evaporation coefficient Ke (eq. 71).
#[must_use]
pub fn coefficient(reduction: f64, ceiling: f64, basal: f64, exposed: f64) -> f64 {
    (reduction * (ceiling - basal)).min(exposed * ceiling).max(0.0)
}

/// Water the surface layer can lose in all, mm (eq. 73).
#[must_use]
pub fn evaporable_mm(field_capacity: f64, wilting_point: f64, layer_m: f64) -> f64 {
    1000.0 * (field_capacity - 0.5 * wilting_point) * layer_m
}
