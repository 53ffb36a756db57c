//! Gardner's exponential, for which the flow equation has exact solutions.

use super::curve::{CurvePoint, Retention, inside};

/// K = Ks e^(αh), and θ = θr + (θs − θr) e^(αh), h below 0 \[Gardner1958\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gardner {
    /// Residual water content, m³/m³.
    pub theta_r: f64,
    /// Saturated water content, m³/m³; above `theta_r`.
    pub theta_s: f64,
    /// α, 1/cm; above 0.
    pub alpha_per_cm: f64,
    /// Conductivity when full, cm/h.
    pub ks_cm_h: f64,
}

impl Retention for Gardner {
    fn point(&self, head_cm: f64) -> CurvePoint {
        if head_cm >= 0.0 {
            return CurvePoint {
                theta: self.theta_s,
                conductivity_cm_h: self.ks_cm_h,
                ..CurvePoint::default()
            };
        }
        let share = libm::exp(self.alpha_per_cm * head_cm);
        let held = (self.theta_s - self.theta_r) * share;
        let conductivity = self.ks_cm_h * share;
        CurvePoint {
            theta: self.theta_r + held,
            capacity_per_cm: self.alpha_per_cm * held,
            conductivity_cm_h: conductivity,
            conductivity_slope_per_h: self.alpha_per_cm * conductivity,
        }
    }

    fn head_at(&self, theta: f64) -> f64 {
        libm::log(inside(theta, self.theta_r, self.theta_s)) / self.alpha_per_cm
    }

    fn corner_cm(&self) -> Option<f64> {
        Some(0.0)
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
