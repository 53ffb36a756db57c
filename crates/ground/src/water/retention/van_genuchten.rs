//! The curve of van Genuchten with Mualem's conductivity.

use super::curve::{CurvePoint, Retention, inside};

/// Van Genuchten's curve, m = 1 − 1/n, with Mualem's conductivity.
///
/// # Method
/// Se = \[1 + (α|h|)ⁿ\]⁻ᵐ and K = Ks Seˡ \[1 − (1 − Se^(1/m))ᵐ\]² \[vanGenuchten1980, Mualem1976\].
/// With x = (α|h|)ⁿ the inner bracket is x/(1+x), which is computed as such: 1 − Se^(1/m) loses all
/// its digits near saturation, and 1 − (x/(1+x))ᵐ in dry ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VanGenuchten {
    /// Residual water content, m³/m³.
    pub theta_r: f64,
    /// Saturated water content, m³/m³; above `theta_r`.
    pub theta_s: f64,
    /// Inverse of a suction near air entry, 1/cm; above 0.
    pub alpha_per_cm: f64,
    /// Steepness; above 1.
    pub n: f64,
    /// Conductivity when full, or the matching-point conductivity that goes with `l`, cm/h.
    pub ks_cm_h: f64,
    /// Exponent of effective saturation in the conductivity.
    pub l: f64,
}

/// From here on 1 − (x/(1+x))ᵐ is taken from its series in 1/x, which then has all its digits.
const DRY: f64 = 1e3;

impl VanGenuchten {
    /// m = 1 − 1/n.
    #[must_use]
    pub fn m(&self) -> f64 {
        1.0 - 1.0 / self.n
    }

    fn unsaturated(&self, suction: f64, scaled: f64, x: f64, se: f64) -> CurvePoint {
        let (m, span) = (self.m(), self.theta_s - self.theta_r);
        let share = self.n * m / ((1.0 + x) * suction);
        let slope = se * x * share;
        let bracket = x / scaled * se;
        let gate = if x < DRY {
            1.0 - bracket
        } else {
            let y = 1.0 / x;
            let b = m * y * (1.0 - y * (0.5 - y * (1.0 / 3.0 - 0.25 * y)));
            b * (1.0 - b * (0.5 - b * (1.0 / 6.0 - b / 24.0)))
        };
        let tortuous = if self.l == 0.5 { se.sqrt() } else { libm::exp(self.l * libm::log(se)) };
        let conductivity = self.ks_cm_h * tortuous * gate * gate;
        CurvePoint {
            theta: self.theta_r + span * se,
            capacity_per_cm: span * slope,
            conductivity_cm_h: conductivity,
            conductivity_slope_per_h: conductivity * share * (self.l * x + 2.0 * bracket / gate),
        }
    }
}

impl Retention for VanGenuchten {
    fn point(&self, head_cm: f64) -> CurvePoint {
        let suction = -head_cm;
        if suction <= 0.0 {
            return CurvePoint {
                theta: self.theta_s,
                conductivity_cm_h: self.ks_cm_h,
                ..CurvePoint::default()
            };
        }
        let scaled = self.alpha_per_cm * suction;
        // exp(n ln) is several times as fast as pow and keeps all the digits that are needed here.
        let x = libm::exp(self.n * libm::log(scaled));
        if x < 1e-14 {
            return CurvePoint {
                theta: self.theta_s,
                conductivity_cm_h: self.ks_cm_h,
                ..CurvePoint::default()
            };
        }
        let se = libm::exp(-self.m() * libm::log1p(x));
        self.unsaturated(suction, scaled, x, se)
    }

    fn head_at(&self, theta: f64) -> f64 {
        let se = inside(theta, self.theta_r, self.theta_s);
        let x = libm::expm1(-libm::log(se) / self.m());
        if x <= 0.0 { 0.0 } else { -libm::exp(libm::log(x) / self.n) / self.alpha_per_cm }
    }

    fn point_at(&self, theta: f64) -> (f64, CurvePoint) {
        let se = inside(theta, self.theta_r, self.theta_s);
        let x = libm::expm1(-libm::log(se) / self.m());
        if x < 1e-14 {
            return (0.0, self.point(0.0));
        }
        let scaled = libm::exp(libm::log(x) / self.n);
        let suction = scaled / self.alpha_per_cm;
        (-suction, self.unsaturated(suction, scaled, x, se))
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
