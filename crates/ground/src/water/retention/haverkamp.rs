//! The form of Haverkamp and others, in which a well-known experiment is written.

use super::curve::{CurvePoint, Retention, inside};

/// θ = θr + a (θs − θr)/(a + |h|^b), K = Ks A/(A + |h|^g), h in cm \[Haverkamp1977\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Haverkamp {
    /// Residual water content, m³/m³.
    pub theta_r: f64,
    /// Saturated water content, m³/m³; above `theta_r`.
    pub theta_s: f64,
    /// a, in cm to the power b; above 0.
    pub water_scale: f64,
    /// b; above 0.
    pub water_power: f64,
    /// Conductivity when full, cm/h.
    pub ks_cm_h: f64,
    /// A, in cm to the power g; above 0.
    pub conductivity_scale: f64,
    /// g; above 0.
    pub conductivity_power: f64,
}

impl Retention for Haverkamp {
    fn point(&self, head_cm: f64) -> CurvePoint {
        let suction = -head_cm;
        if suction <= 0.0 {
            return CurvePoint {
                theta: self.theta_s,
                conductivity_cm_h: self.ks_cm_h,
                ..CurvePoint::default()
            };
        }
        let log = libm::log(suction);
        let water = libm::exp(self.water_power * log) / self.water_scale;
        let speed = libm::exp(self.conductivity_power * log) / self.conductivity_scale;
        let held = (self.theta_s - self.theta_r) / (1.0 + water);
        let conductivity = self.ks_cm_h / (1.0 + speed);
        CurvePoint {
            theta: self.theta_r + held,
            capacity_per_cm: held * self.water_power * water / ((1.0 + water) * suction),
            conductivity_cm_h: conductivity,
            conductivity_slope_per_h: conductivity * self.conductivity_power * speed
                / ((1.0 + speed) * suction),
        }
    }

    fn head_at(&self, theta: f64) -> f64 {
        let se = inside(theta, self.theta_r, self.theta_s);
        let water = self.water_scale * (1.0 - se) / se;
        if water <= 0.0 { 0.0 } else { -libm::exp(libm::log(water) / self.water_power) }
    }

    fn residual(&self) -> f64 {
        self.theta_r
    }

    fn saturation(&self) -> f64 {
        self.theta_s
    }

    fn saturated_conductivity_cm_h(&self) -> f64 {
        self.ks_cm_h
    }
}
