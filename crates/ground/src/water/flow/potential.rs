//! Conductivity summed over head, so that the flux between two cells is right however steeply
//! conductivity falls between them.
//!
//! # Method
//! With Φ = ∫ K dh the steady flux through a thin layer between two heads is the difference of Φ over
//! its thickness. The plain mean of the two conductivities lets several times too much into dry
//! ground, and that water stays in the balance for good: at a wetting front the integral mean is 20
//! times as accurate on the same cells. Φ of each curve is tabled at even steps of the logarithm of
//! suction and read by cubics that have the conductivity itself as their slope; conductivity between
//! the table's points is then right to about 0.1 % even where it falls by half from one to the next,
//! and the balance of water to the last digit.

use crate::water::retention::Retention;

/// Suctions tabled: from a micrometre to past oven-dry, in cm.
const FIRST: f64 = 1e-4;
const PARTS: usize = 480;
const STEP: f64 = 0.05;

/// Φ of one curve, from 0 at a water table downward into the negative.
#[derive(Debug, Clone, Default)]
pub(super) struct Potential {
    values: Vec<f64>,
    slopes: Vec<f64>,
    full: f64,
    /// From this head on the ground is full.
    full_from: f64,
}

impl Potential {
    pub(super) fn prepare(&mut self, curve: &impl Retention) {
        self.full_from = curve.corner_cm().unwrap_or(0.0);
        self.full = curve.saturated_conductivity_cm_h();
        self.values.clear();
        self.slopes.clear();
        let at = |log: f64| {
            let suction = libm::exp(log);
            curve.conductivity_cm_h(-suction) * suction
        };
        let mut log = libm::log(FIRST);
        let mut slope = at(log);
        let mut value = -0.5 * (self.full * FIRST + slope);
        self.values.push(value);
        self.slopes.push(-slope);
        for _ in 0..PARTS {
            let middle = at(log + STEP / 2.0);
            log += STEP;
            let next = at(log);
            value -= STEP / 6.0 * (slope + 4.0 * middle + next);
            slope = next;
            self.values.push(value);
            self.slopes.push(-slope);
        }
    }

    /// Conductivity of the face between two heads, `gap` apart in depth, and its slopes over both.
    ///
    /// The mean is one of both sides alike, and next to saturation, where some curves lose half their
    /// conductivity within a micrometre, that would make a full cell draw the more water from above
    /// the fuller it is. Where water sinks into a cell that is all but full and wetter than the one
    /// above, conductivity is therefore that of the cell it comes from.
    pub(super) fn face(&self, above: Summed, below: Summed, gap: f64) -> (f64, f64, f64) {
        let (mean, by_above, by_below) = above.mean_to(below);
        let rise = below.head - above.head;
        let near = below.head - (self.full_from - gap);
        if rise <= 0.0 || rise >= gap || near <= 0.0 {
            return (mean, by_above, by_below);
        }
        let weight = (near / gap).min(1.0);
        let slope = if weight < 1.0 { (above.k - mean) / gap } else { 0.0 };
        (
            mean + weight * (above.k - mean),
            by_above + weight * (above.dk - by_above),
            by_below * (1.0 - weight) + slope,
        )
    }

    /// Φ at a head, cm²/h, and its slope there: the conductivity, cm/h.
    pub(super) fn at(&self, head: f64) -> Summed {
        let suction = -head;
        if head >= 0.0 {
            return Summed { head, phi: self.full * head, k: self.full, dk: 0.0 };
        }
        if suction <= FIRST {
            // Some curves lose half their conductivity within the first micrometre: a straight line
            // from full ground on keeps conductivity whole where a full column drains under gravity.
            let dk = (self.full + self.slopes[0] / FIRST) / FIRST;
            return Summed { head, phi: (self.full + 0.5 * dk * head) * head, k: self.full + dk * head, dk };
        }
        let place = (libm::log(suction) - libm::log(FIRST)) / STEP;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "above 0, and held below"
        )]
        let part = (place as usize).min(PARTS - 1);
        #[expect(clippy::cast_precision_loss, reason = "a few hundred")]
        let t = (place - part as f64).min(1.0);
        let (low, high) = (self.values[part], self.values[part + 1]);
        let (from, to) = (self.slopes[part] * STEP, self.slopes[part + 1] * STEP);
        let bend = 3.0 * (high - low) - 2.0 * from - to;
        let twist = 2.0 * (low - high) + from + to;
        let k = -(from + t * (2.0 * bend + t * 3.0 * twist)) / (STEP * suction);
        let bent = (2.0 * bend + t * 6.0 * twist) / (STEP * STEP * suction);
        Summed {
            head,
            phi: low + t * (from + t * (bend + t * twist)),
            k,
            dk: (bent / suction + k / suction).max(0.0),
        }
    }
}

/// A head with Φ and its slope.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Summed {
    pub(super) head: f64,
    pub(super) phi: f64,
    pub(super) k: f64,
    /// Slope of conductivity over head, 1/h.
    pub(super) dk: f64,
}

impl Summed {
    /// Conductivity and its slope within the first micrometre of suction, where the curve itself may
    /// fall without bound.
    pub(super) fn near_full(self) -> Option<(f64, f64)> {
        (self.head >= -FIRST).then_some((self.k, self.dk))
    }

    /// Mean conductivity from here to another head of the same soil, and its slopes over both.
    ///
    /// The slopes are those of the cubics themselves: only so does Newton's iteration settle.
    pub(super) fn mean_to(self, other: Self) -> (f64, f64, f64) {
        let apart = self.head - other.head;
        if apart.abs() < 1e-5 * (1e-3 + self.head.abs()) {
            return (0.5 * (self.k + other.k), 0.5 * self.dk, 0.5 * other.dk);
        }
        let mean = (self.phi - other.phi) / apart;
        (mean, (self.k - mean) / apart, (mean - other.k) / apart)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::water::retention::{Gardner, VanGenuchten};

    /// Of Gardner's exponential the sum is known: (K(h) − Ks)/α.
    #[test]
    fn agrees_with_the_exact_sum() {
        let curve = Gardner { theta_r: 0.06, theta_s: 0.4, alpha_per_cm: 0.05, ks_cm_h: 2.0 };
        let mut potential = Potential::default();
        potential.prepare(&curve);
        for head in [-1e-5, -0.3, -7.0, -33.3, -250.0, -5000.0, 0.0, 12.0] {
            let exact = if head > 0.0 { 2.0 * head } else { 2.0 * libm::expm1(0.05 * head) / 0.05 };
            let at = potential.at(head);
            let got = at.phi;
            assert!((at.k - curve.conductivity_cm_h(head)).abs() < 1e-3 * at.k + 1e-9);
            assert!((got - exact).abs() < 2e-5 * (1.0 + exact.abs()), "{head}: {got} {exact}");
        }
    }

    /// What no flux may do: rise with the head it flows towards. Asked of a full cell under one that is
    /// all but full, in a clay whose conductivity collapses within a micrometre of suction.
    #[test]
    fn a_full_cell_draws_no_more_the_fuller_it_is() {
        let clay = VanGenuchten {
            theta_r: 0.068,
            theta_s: 0.38,
            alpha_per_cm: 0.008,
            n: 1.09,
            ks_cm_h: 0.2,
            l: 0.5,
        };
        let mut potential = Potential::default();
        potential.prepare(&clay);
        for above in [-1e-5, -3e-4, -0.02, -0.5] {
            let flux = |below: f64| {
                let faced = potential.face(potential.at(above), potential.at(below), 1.0);
                faced.0 * (1.0 - (below - above))
            };
            assert!(flux(above + 1.0).abs() < 1e-12);
            let mut before = flux(0.0);
            for part in 1..=20 {
                let now = flux(f64::from(part) * 0.05 * (above + 1.0));
                assert!(now <= before && now >= -1e-12, "{above}: {now} after {before}");
                before = now;
            }
        }
    }
}
