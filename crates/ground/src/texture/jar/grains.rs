//! How much of sand, silt and clay is down when a given size has just finished falling.
//!
//! Everything coarser than the cut is down. A finer grain of diameter d falls (d / cut)² as far in
//! the same time, so that share of its kind, the part that started near the deposit, is down too:
//! the fines carried down into the layer below.
//!
//! Inside a class the mass over the logarithm of size goes as d^tilt: even when the tilt is zero,
//! leaning to the coarse end when it is positive.

/// Diameter that parts sand from silt, µm (USDA).
pub(super) const SAND_FROM_SILT_UM: f64 = 50.0;
/// Diameter that parts silt from clay, µm.
pub(super) const SILT_FROM_CLAY_UM: f64 = 2.0;
/// Coarsest sand, µm.
const COARSEST_UM: f64 = 2000.0;
// Their natural logarithms: thousands of draws need them.
const LOG_2000: f64 = 7.600_902_459_542_082;
const LOG_50: f64 = 3.912_023_005_428_146;
const LOG_2: f64 = std::f64::consts::LN_2;

/// One class between two sizes.
#[derive(Debug, Clone, Copy)]
struct Kind {
    low: f64,
    high: f64,
    tilt: f64,
    low_power: f64,
    high_power: f64,
}

impl Kind {
    /// Between two sizes, each given with its logarithm.
    fn new((low, log_low): (f64, f64), (high, log_high): (f64, f64), tilt: f64) -> Self {
        // A tilt of exactly zero would divide by zero; this one differs from it by less than 1e-5.
        let tilt = if tilt.abs() < 1e-6 { 1e-6 } else { tilt };
        Self { low, high, tilt, low_power: libm::exp(tilt * log_low), high_power: libm::exp(tilt * log_high) }
    }

    /// Share of the class that is down when `cut`, whose logarithm is given, has just finished.
    fn down(&self, cut: f64, log_cut: f64) -> f64 {
        if cut <= self.low {
            return 1.0;
        }
        let (edge, edge_power) = if cut >= self.high {
            (self.high, self.high_power)
        } else {
            (cut, libm::exp(self.tilt * log_cut))
        };
        let coarser = (self.high_power - edge_power) / self.tilt;
        let carried = (edge * edge * edge_power - self.low * self.low * self.low_power)
            / ((self.tilt + 2.0) * cut * cut);
        let whole = (self.high_power - self.low_power) / self.tilt;
        (coarser + carried) / whole
    }
}

/// The grains of a soil inside their classes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Grains {
    kinds: [Kind; 3],
}

impl Grains {
    /// From the tilts of sand, silt and clay and the logarithm of the finest clay's size in µm.
    pub(super) fn new(tilts: [f64; 3], log_finest_um: f64) -> Self {
        let sand_from_silt = (SAND_FROM_SILT_UM, LOG_50);
        let silt_from_clay = (SILT_FROM_CLAY_UM, LOG_2);
        let finest = (libm::exp(log_finest_um), log_finest_um);
        Self {
            kinds: [
                Kind::new(sand_from_silt, (COARSEST_UM, LOG_2000), tilts[0]),
                Kind::new(silt_from_clay, sand_from_silt, tilts[1]),
                Kind::new(finest, silt_from_clay, tilts[2]),
            ],
        }
    }

    /// Shares of sand, silt and clay that are down when `cut_um` has just finished falling.
    pub(super) fn down(&self, cut_um: f64) -> [f64; 3] {
        let log_cut = libm::log(cut_um);
        self.kinds.map(|kind| kind.down(cut_um, log_cut))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn even_grains_follow_the_closed_form() {
        // Computed outside this program for log-uniform classes: 15.5 % of silt 2-50 µm is down at the 50 µm mark,
        // 21 % of clay 0.2-2 µm at the 2 µm mark.
        let grains = Grains::new([0.0; 3], libm::log(0.2));
        assert!((grains.down(50.0)[1] - 0.155).abs() < 0.0005, "{:?}", grains.down(50.0));
        assert!((grains.down(2.0)[2] - 0.215).abs() < 0.0005, "{:?}", grains.down(2.0));
        assert_eq!(grains.down(50.0)[0], 1.0);
        assert_eq!(grains.down(2.0)[1], 1.0);
    }

    #[test]
    fn the_logarithms_are_those_of_the_limits() {
        for (log, size) in [(LOG_2000, COARSEST_UM), (LOG_50, SAND_FROM_SILT_UM), (LOG_2, SILT_FROM_CLAY_UM)]
        {
            assert!((log - libm::log(size)).abs() < 1e-14, "{size}");
        }
    }

    #[test]
    fn a_tilted_class_matches_its_integral() {
        let kind = Kind::new((2.0, LOG_2), (50.0, LOG_50), 0.7);
        for cut in [3.0, 11.0, 49.0, 80.0] {
            // Midpoint rule over the logarithm of size.
            let steps = 200_000;
            let (mut whole, mut down) = (0.0, 0.0);
            let (low, high) = (libm::log(2.0), libm::log(50.0));
            for i in 0..steps {
                let d = libm::exp(low + (high - low) * (f64::from(i) + 0.5) / f64::from(steps));
                let mass = libm::pow(d, 0.7);
                whole += mass;
                down += mass * if d >= cut { 1.0 } else { (d / cut) * (d / cut) };
            }
            assert!((kind.down(cut, libm::log(cut)) - down / whole).abs() < 1e-5, "{cut}");
        }
    }

    #[test]
    fn more_is_down_at_a_finer_cut() {
        let grains = Grains::new([0.3, -0.4, 0.2], libm::log(0.1));
        let mut last = [0.0; 3];
        for cut in [400.0, 100.0, 50.0, 20.0, 5.0, 2.0, 1.0, 0.5, 0.2] {
            let down = grains.down(cut);
            for (now, before) in down.iter().zip(last) {
                assert!(*now >= before && *now <= 1.0 + 1e-9, "{cut}: {down:?}");
            }
            last = down;
        }
    }
}
