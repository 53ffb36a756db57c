//! Hooghoudt's drain spacing: plain functions.
//!
//! # Method
//! L² = (8 Kb d h + 4 Ka h²) / q [Hooghoudt1940], with the equivalent depth d depending on L; L is found
//! by halving, since d grows with L more slowly than L itself.

use std::f64::consts::{E, PI};

use super::equivalent_depth::DepthEquation;

/// Parallel drains in two layers that part at drain depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drains {
    /// Conductivity above the drains, m/d.
    pub above_m_d: f64,
    /// Conductivity below the drains, m/d.
    pub below_m_d: f64,
    /// Depth from the drains to the impermeable layer, m; infinite in deep ground.
    pub depth_below_m: f64,
    /// Effective radius, m.
    pub radius_m: f64,
    /// Equation of the equivalent depth.
    pub equation: DepthEquation,
}

impl Drains {
    /// Least spacing for which the equation is made, m: nearer, the equivalent depth would grow as drains
    /// draw nearer.
    #[must_use]
    pub fn nearest_m(&self) -> f64 {
        E * PI * self.radius_m
    }

    /// Water led to the drains, m/d, when the table stands `height_m` above them midway.
    #[must_use]
    pub fn discharge_m_d(&self, spacing_m: f64, height_m: f64) -> f64 {
        let depth = self.equivalent_depth_m(spacing_m);
        let flow = 8.0 * self.below_m_d * depth * height_m + 4.0 * self.above_m_d * height_m * height_m;
        flow / (spacing_m * spacing_m)
    }

    /// Equivalent depth at a spacing, m.
    #[must_use]
    pub fn equivalent_depth_m(&self, spacing_m: f64) -> f64 {
        if self.below_m_d > 0.0 {
            self.equation.equivalent_depth_m(spacing_m, self.depth_below_m, self.radius_m)
        } else {
            0.0
        }
    }

    /// Widest spacing that keeps the table `height_m` above the drains midway under a steady recharge,
    /// m. `None` where drains would have to lie closer than about nine radii, or wider than 100 km.
    #[must_use]
    pub fn spacing_m(&self, recharge_m_d: f64, height_m: f64) -> Option<f64> {
        let enough = |spacing: f64| self.discharge_m_d(spacing, height_m) >= recharge_m_d;
        let mut low = self.nearest_m();
        if !enough(low) {
            return None;
        }
        let mut high = 2.0 * low;
        while enough(high) {
            low = high;
            high *= 2.0;
            if high > 1e5 {
                return None;
            }
        }
        for _ in 0..80 {
            let middle = 0.5 * (low + high);
            if enough(middle) {
                low = middle;
            } else {
                high = middle;
            }
            if high - low <= 1e-12 * high {
                break;
            }
        }
        Some(low)
    }

    /// Height of the table above the drains midway at a spacing and recharge, m. `None` where nothing
    /// conducts.
    #[must_use]
    pub fn height_m(&self, recharge_m_d: f64, spacing_m: f64) -> Option<f64> {
        // 4 Ka h² + 8 Kb d h = q L², solved so that it holds for Ka = 0 as well.
        let deep = 8.0 * self.below_m_d * self.equivalent_depth_m(spacing_m);
        let drained = recharge_m_d * spacing_m * spacing_m;
        let root = (deep * deep + 16.0 * self.above_m_d * drained).sqrt();
        (deep + root > 0.0).then(|| 2.0 * drained / (deep + root))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn any_drains() -> impl Strategy<Value = Drains> {
        (0.01..3.0_f64, 0.01..3.0_f64, 0.0..20.0_f64, 0.03..0.12_f64).prop_map(
            |(above, below, depth, radius)| Drains {
                above_m_d: above,
                below_m_d: below,
                depth_below_m: depth,
                radius_m: radius,
                equation: DepthEquation::ClosedForm,
            },
        )
    }

    proptest! {
        #[test]
        fn spacing_and_height_undo_each_other(
            drains in any_drains(), recharge in 0.001..0.02_f64, height in 0.1..1.5_f64,
        ) {
            if let Some(spacing) = drains.spacing_m(recharge, height) {
                let back = drains.height_m(recharge, spacing).unwrap();
                prop_assert!((back - height).abs() < 1e-6 * height, "{} {}", back, height);
                let wetter = drains.spacing_m(1.5 * recharge, height).unwrap_or(0.0);
                prop_assert!(wetter < spacing);
                let faster = Drains { below_m_d: 2.0 * drains.below_m_d, above_m_d: 2.0 * drains.above_m_d, ..drains };
                prop_assert!(faster.spacing_m(recharge, height).unwrap() > spacing);
            }
        }
    }

    #[test]
    fn on_the_impermeable_layer_it_is_the_plain_ellipse() {
        let drains = Drains {
            above_m_d: 0.5,
            below_m_d: 0.5,
            depth_below_m: 0.0,
            radius_m: 0.05,
            equation: DepthEquation::ClosedForm,
        };
        let spacing = drains.spacing_m(0.007, 0.6).unwrap();
        assert!((spacing - (4.0 * 0.5 * 0.36 / 0.007_f64).sqrt()).abs() < 1e-9);
        let dead = Drains { above_m_d: 0.0, below_m_d: 0.0, ..drains };
        assert!(dead.spacing_m(0.007, 0.6).is_none() && dead.height_m(0.007, 20.0).is_none());
    }
}
