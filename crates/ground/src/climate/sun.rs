//! Where the sun stands: sunlight above the air, and hours between sunrise and sunset (FAO-56 ch. 3).

use std::f64::consts::PI;

/// Solar constant, MJ/m²/min.
pub(crate) const SOLAR_CONSTANT: f64 = 0.0820;

/// The sun on one day at one latitude.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunDay {
    /// Inverse relative distance of earth and sun (eq. 23).
    pub inverse_distance: f64,
    /// Declination of the sun, rad (eq. 24).
    pub declination_rad: f64,
    /// Hour angle of sunset, rad; 0 in polar night, π in polar day (eq. 25).
    pub sunset_rad: f64,
    /// sin φ sin δ.
    pub rise: f64,
    /// cos φ cos δ.
    pub swing: f64,
}

impl SunDay {
    /// The sun at a latitude on a day of the year.
    #[must_use]
    pub fn new(latitude_rad: f64, day_of_year: f64) -> Self {
        let turn = 2.0 * PI * day_of_year / 365.0;
        let declination_rad = 0.409 * libm::sin(turn - 1.39);
        let (sin_lat, cos_lat) = libm::sincos(latitude_rad);
        let (sin_dec, cos_dec) = libm::sincos(declination_rad);
        let (rise, swing) = (sin_lat * sin_dec, cos_lat * cos_dec);
        Self {
            inverse_distance: 1.0 + 0.033 * libm::cos(turn),
            declination_rad,
            sunset_rad: hour_angle(-rise, swing),
            rise,
            swing,
        }
    }

    /// Sunlight above the air, MJ/m²/d (eq. 21).
    #[must_use]
    pub fn extraterrestrial_mj_m2_d(&self) -> f64 {
        let sum = self.sunset_rad * self.rise + self.swing * libm::sin(self.sunset_rad);
        (24.0 * 60.0 / PI * SOLAR_CONSTANT * self.inverse_distance * sum).max(0.0)
    }

    /// Hours from sunrise to sunset of the sun's centre, without the bending of light (eq. 34).
    #[must_use]
    pub fn geometric_hours(&self) -> f64 {
        24.0 * self.sunset_rad / PI
    }

    /// Hours between the sunrise and sunset an almanac prints: the sun's upper edge, its light bent by
    /// the air, together 0.833° below the horizon.
    #[must_use]
    pub fn almanac_hours(&self) -> f64 {
        let below = libm::sin((-0.833_f64).to_radians());
        24.0 * hour_angle(below - self.rise, self.swing) / PI
    }

    /// Sunlight above the air between two hour angles, MJ/m² (eq. 28); both are held between sunrise
    /// and sunset.
    #[must_use]
    pub fn extraterrestrial_between_mj_m2(&self, from_rad: f64, to_rad: f64) -> f64 {
        let from = from_rad.clamp(-self.sunset_rad, self.sunset_rad);
        let to = to_rad.clamp(-self.sunset_rad, self.sunset_rad);
        let sum = (to - from) * self.rise + self.swing * (libm::sin(to) - libm::sin(from));
        (12.0 * 60.0 / PI * SOLAR_CONSTANT * self.inverse_distance * sum).max(0.0)
    }
}

/// arccos of a quotient, held in its domain; a pole has no swing and is all day or all night.
fn hour_angle(above: f64, swing: f64) -> f64 {
    if swing.abs() < 1e-12 {
        return if above < 0.0 { PI } else { 0.0 };
    }
    libm::acos((above / swing).clamp(-1.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Both hemispheres see the same sun half a year apart in their day lengths: N(φ) + N(−φ) = 24.
        #[test]
        fn day_and_night_of_both_halves_make_a_day(lat in -89.0..89.0_f64, day in 1.0..366.0_f64) {
            let here = SunDay::new(lat.to_radians(), day);
            let there = SunDay::new((-lat).to_radians(), day);
            prop_assert!((here.geometric_hours() + there.geometric_hours() - 24.0).abs() < 1e-9);
            prop_assert!(here.almanac_hours() >= here.geometric_hours() - 1e-9);
            prop_assert!(here.extraterrestrial_mj_m2_d() >= 0.0);
        }

        /// The sum over short periods is the day.
        #[test]
        fn hours_add_up_to_the_day(lat in -66.0..66.0_f64, day in 1.0..366.0_f64) {
            let sun = SunDay::new(lat.to_radians(), day);
            let step = PI / 12.0;
            let sum: f64 = (-12..12)
                .map(|h| sun.extraterrestrial_between_mj_m2(f64::from(h) * step, f64::from(h + 1) * step))
                .sum();
            prop_assert!((sum - sun.extraterrestrial_mj_m2_d()).abs() < 1e-9);
        }
    }

    #[test]
    fn poles_do_not_break_it() {
        let pole = SunDay::new(90.0_f64.to_radians(), 172.0);
        assert!((pole.geometric_hours() - 24.0).abs() < 1e-9);
        assert_eq!(SunDay::new(90.0_f64.to_radians(), 355.0).geometric_hours(), 0.0);
        assert_eq!(SunDay::new((-90.0_f64).to_radians(), 172.0).extraterrestrial_mj_m2_d(), 0.0);
    }

    /// FAO-56 Annex 2, Table 2.6, 40° north, by month (recalled). The table is printed for the middle
    /// of each month on a day count of its own: up to 0.1 apart.
    #[test]
    fn sunlight_is_as_tabled() {
        let middles = [15.0, 46.0, 74.0, 105.0, 135.0, 166.0, 196.0, 227.0, 258.0, 288.0, 319.0, 349.0];
        let printed = [15.0, 20.4, 27.2, 34.7, 39.7, 41.9, 40.8, 36.7, 30.0, 22.5, 16.3, 13.6];
        for (day, value) in middles.into_iter().zip(printed) {
            let got = SunDay::new(40.0_f64.to_radians(), day).extraterrestrial_mj_m2_d();
            assert!((got - value).abs() < 0.1, "{day}: {got} {value}");
        }
    }
}
