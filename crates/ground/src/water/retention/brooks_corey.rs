//! The curve of Brooks and Corey.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::curve::{CurvePoint, Retention, inside};

/// Which theory of pores gives the conductivity from the curve.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Theory {
    /// K = Ks Se^(3 + 2/λ).
    #[default]
    Burdine,
    /// K = Ks Se^(2.5 + 2/λ).
    Mualem,
}

impl Theory {
    /// Exponent of effective saturation in the conductivity.
    #[must_use]
    pub fn exponent(self, lambda: f64) -> f64 {
        2.0 / lambda
            + match self {
                Self::Burdine => 3.0,
                Self::Mualem => 2.5,
            }
    }
}

/// Brooks and Corey's curve: Se = (ψb/ψ)^λ for suctions ψ beyond ψb, full nearer \[BrooksCorey1964\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BrooksCorey {
    /// Residual water content, m³/m³.
    pub theta_r: f64,
    /// Saturated water content, m³/m³; above `theta_r`.
    pub theta_s: f64,
    /// Bubbling suction ψb, cm; above 0.
    pub bubbling_cm: f64,
    /// Pore-size index λ; above 0.
    pub lambda: f64,
    /// Conductivity when full, cm/h.
    pub ks_cm_h: f64,
    /// Theory behind the conductivity.
    pub theory: Theory,
}

impl Retention for BrooksCorey {
    fn point(&self, head_cm: f64) -> CurvePoint {
        let suction = -head_cm;
        if suction <= self.bubbling_cm {
            return CurvePoint {
                theta: self.theta_s,
                conductivity_cm_h: self.ks_cm_h,
                ..CurvePoint::default()
            };
        }
        let log = libm::log(self.bubbling_cm / suction);
        let held = (self.theta_s - self.theta_r) * libm::exp(self.lambda * log);
        let fall = self.lambda * self.theory.exponent(self.lambda);
        let conductivity = self.ks_cm_h * libm::exp(fall * log);
        CurvePoint {
            theta: self.theta_r + held,
            capacity_per_cm: held * self.lambda / suction,
            conductivity_cm_h: conductivity,
            conductivity_slope_per_h: conductivity * fall / suction,
        }
    }

    fn head_at(&self, theta: f64) -> f64 {
        let se = inside(theta, self.theta_r, self.theta_s);
        -self.bubbling_cm * libm::exp(-libm::log(se) / self.lambda)
    }

    fn corner_cm(&self) -> Option<f64> {
        Some(-self.bubbling_cm)
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
