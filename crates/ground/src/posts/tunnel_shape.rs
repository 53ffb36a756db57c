//! What wind across a tunnel does to its two sides: statics of walls and an arch.
//!
//! Loads are for one unit of velocity pressure: metres, which times kPa give kN for each metre of tunnel.

/// A tunnel in section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tunnel {
    /// Width from side to side.
    pub span_m: f64,
    /// Height of the upright side walls; 0 where the arch springs from the ground.
    pub wall_m: f64,
    /// Height of the arch above them.
    pub rise_m: f64,
}

/// Coefficients of pressure on the three parts of an arch, outward negative.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArchCoefficients {
    /// Quarter of the arc that faces the wind.
    pub windward: f64,
    /// Half in the middle.
    pub centre: f64,
    /// Quarter in the lee.
    pub leeward: f64,
}

/// Load on one metre of tunnel for 1 kPa of velocity pressure, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnitLoad {
    /// Sideways push on the whole.
    pub sideways_m: f64,
    /// Pull up on the windward side.
    pub windward_up_m: f64,
    /// Pull up on the leeward side.
    pub leeward_up_m: f64,
}

impl UnitLoad {
    /// Pull up on both sides together.
    #[must_use]
    pub fn total_up_m(&self) -> f64 {
        self.windward_up_m + self.leeward_up_m
    }

    /// Pull up on the worse side.
    #[must_use]
    pub fn most_up_m(&self) -> f64 {
        self.windward_up_m.max(self.leeward_up_m)
    }
}

/// Gust factor of a stiff building.
pub const GUST: f64 = 0.85;
/// Pressure on the wall that faces the wind.
const WINDWARD_WALL: f64 = 0.8;
/// Suction on the wall in the lee.
const LEEWARD_WALL: f64 = -0.5;
/// Suction on a flat roof near the end that faces wind along the ridge.
const ALONG_RIDGE: f64 = -0.9;

impl Tunnel {
    /// Rise over span of the arch.
    #[must_use]
    pub fn rise_over_span(&self) -> f64 {
        self.rise_m / self.span_m
    }

    /// Mean height of the roof.
    #[must_use]
    pub fn mean_height_m(&self) -> f64 {
        self.wall_m + self.rise_m / 2.0
    }

    /// Coefficients of the load standard: one case, or two where it asks for both. Rise over span up to 0.6.
    #[must_use]
    pub fn coefficients(&self) -> (ArchCoefficients, Option<ArchCoefficients>) {
        let r = self.rise_over_span();
        let with = |windward: f64| ArchCoefficients { windward, centre: -0.7 - r, leeward: -0.5 };
        match r {
            _ if self.wall_m <= 0.0 => (with(1.4 * r), None),
            r if r < 0.2 => (with(-0.9), None),
            r if r < 0.3 => (with(1.5 * r - 0.3), Some(with(6.0 * r - 2.1))),
            r => (with(2.75 * r - 0.7), None),
        }
    }

    /// Wind across the tunnel. `inside` is the internal pressure coefficient, outward positive.
    #[must_use]
    pub fn across(&self, arch: ArchCoefficients, inside: f64) -> UnitLoad {
        let half = self.span_m / 2.0;
        let radius = (half * half + self.rise_m * self.rise_m) / (2.0 * self.rise_m);
        let centre_height = self.wall_m + self.rise_m - radius;
        let angle = libm::atan2(half, radius - self.rise_m);
        // A quarter of the arc at each side, seen from above and from the side.
        let quarter_wide = radius * (libm::sin(angle) - libm::sin(angle / 2.0));
        let quarter_high = radius * (libm::cos(angle / 2.0) - libm::cos(angle));
        let middle_wide = 2.0 * radius * libm::sin(angle / 2.0);

        let arch_sideways = GUST * (arch.windward - arch.leeward) * quarter_high;
        let wall_sideways = GUST * (WINDWARD_WALL - LEEWARD_WALL) * self.wall_m;
        let up = -GUST * ((arch.windward + arch.leeward) * quarter_wide + arch.centre * middle_wide)
            + inside * self.span_m;
        // Every pressure on the arc points through its centre: together they act there, and the pull up in the middle.
        let overturning = wall_sideways * self.wall_m / 2.0 + arch_sideways * centre_height;
        UnitLoad {
            sideways_m: arch_sideways + wall_sideways,
            windward_up_m: up / 2.0 + overturning / self.span_m,
            leeward_up_m: up / 2.0 - overturning / self.span_m,
        }
    }

    /// Wind along the ridge, on the bows near the end that faces it.
    #[must_use]
    pub fn along_up_m(&self, inside: f64) -> f64 {
        (-GUST * ALONG_RIDGE + inside) * self.span_m / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Cut into little pieces and added up about the foot in the lee, without any geometry of arcs.
    fn added_up(tunnel: Tunnel, arch: ArchCoefficients, inside: f64) -> UnitLoad {
        let half = tunnel.span_m / 2.0;
        let radius = (half * half + tunnel.rise_m * tunnel.rise_m) / (2.0 * tunnel.rise_m);
        let low = tunnel.wall_m + tunnel.rise_m - radius;
        let angle = libm::atan2(half, radius - tunnel.rise_m);
        let (mut sideways, mut up, mut turning) = (0.0, 0.0, 0.0);
        let mut push = |outward: f64, length: f64, normal: (f64, f64), at: (f64, f64)| {
            let force = (outward * length * normal.0, outward * length * normal.1);
            sideways += force.0;
            up += force.1;
            // About the foot in the lee, the sense in which a push from the wind side turns.
            turning += force.0 * at.1 + force.1 * (half - at.0);
        };
        let pieces = 20_000_i32;
        for piece in 0..pieces {
            let share = (f64::from(piece) + 0.5) / f64::from(pieces);
            let theta = -angle + 2.0 * angle * share;
            let cp = match share {
                s if s < 0.25 => arch.windward,
                s if s < 0.75 => arch.centre,
                _ => arch.leeward,
            };
            let (sin, cos) = libm::sincos(theta);
            let length = 2.0 * angle * radius / f64::from(pieces);
            push(inside - GUST * cp, length, (sin, cos), (radius * sin, low + radius * cos));
        }
        let middle = tunnel.wall_m / 2.0;
        push(inside - GUST * 0.8, tunnel.wall_m, (-1.0, 0.0), (-half, middle));
        push(inside + GUST * 0.5, tunnel.wall_m, (1.0, 0.0), (half, middle));
        let windward_up_m = turning / tunnel.span_m;
        UnitLoad { sideways_m: sideways, windward_up_m, leeward_up_m: up - windward_up_m }
    }

    #[test]
    fn closed_form_is_the_sum_of_little_pieces() {
        for (span_m, wall_m, rise_m) in [(9.0, 1.2, 2.4), (6.0, 0.0, 3.2), (7.5, 1.8, 1.2), (5.0, 0.5, 2.5)] {
            let tunnel = Tunnel { span_m, wall_m, rise_m };
            let (first, second) = tunnel.coefficients();
            for arch in [Some(first), second].into_iter().flatten() {
                for inside in [0.18, -0.18, 0.55] {
                    let (got, wanted) = (tunnel.across(arch, inside), added_up(tunnel, arch, inside));
                    for (a, b) in [
                        (got.sideways_m, wanted.sideways_m),
                        (got.windward_up_m, wanted.windward_up_m),
                        (got.leeward_up_m, wanted.leeward_up_m),
                    ] {
                        assert!((a - b).abs() < 2e-3, "{tunnel:?} {arch:?}: {got:?} {wanted:?}");
                    }
                }
            }
        }
    }
}
