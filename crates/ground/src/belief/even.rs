//! Simulation with little chance in it: places spread evenly over a plane, normals spread evenly over
//! their distribution, and a mean that a known mean corrects.

use crate::kit::chance::Chance;

/// Strips of the path over the plane: about as many as there are results along each.
const STRIPS: usize = 9;

/// Places of the points along a path that winds over the plane, up one strip and down the next:
/// every so many steps along it is even over the plane.
pub(super) fn winding(points: &[[f64; 2]]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..points.len()).collect();
    order.sort_by(|a, b| points[*a][0].total_cmp(&points[*b][0]).then(a.cmp(b)));
    let strip = points.len().div_ceil(STRIPS).max(1);
    for (place, part) in order.chunks_mut(strip).enumerate() {
        part.sort_by(|a, b| {
            let up = points[*a][1].total_cmp(&points[*b][1]).then(a.cmp(b));
            if place % 2 == 0 { up } else { up.reverse() }
        });
    }
    order
}

/// Pairs of standard normals that fill their distribution evenly: a two-dimensional additive
/// recurrence with a random start, through the transform of Box and Muller.
pub(super) struct Even {
    at: [f64; 2],
}

/// Steps of the recurrence: powers of the inverse of the real root of x³ = x + 1, which spreads the
/// points evenly over the unit square.
const STEPS: [f64; 2] = [0.754_877_666_246_692_7, 0.569_840_290_998_053_2];

impl Even {
    pub(super) fn new(chance: &mut Chance) -> Self {
        Self { at: [chance.uniform(), chance.uniform()] }
    }

    pub(super) fn next_normals(&mut self) -> [f64; 2] {
        for (at, step) in self.at.iter_mut().zip(STEPS) {
            *at = (*at + step) % 1.0;
        }
        let radius = (-2.0 * libm::log(self.at[0].max(f64::MIN_POSITIVE))).sqrt();
        let (sin, cos) = libm::sincos(std::f64::consts::TAU * self.at[1]);
        [radius * cos, radius * sin]
    }
}

/// Sums for a mean with a control variate: odds after a result have today's odds for their mean, so
/// what the simulated ones are off tells what the doubt is off.
#[derive(Debug, Clone, Default)]
pub(super) struct Control {
    count: f64,
    odds: f64,
    doubt: f64,
    odds_squared: f64,
    product: f64,
}

impl Control {
    pub(super) fn add(&mut self, odds: f64, doubt: f64) {
        self.count += 1.0;
        self.odds += odds;
        self.doubt += doubt;
        self.odds_squared += odds * odds;
        self.product += odds * doubt;
    }

    pub(super) fn mean_doubt(&self, today: f64) -> f64 {
        let (odds, doubt) = (self.odds / self.count, self.doubt / self.count);
        let variance = self.odds_squared / self.count - odds * odds;
        if variance <= 1e-12 {
            return doubt;
        }
        let slope = (self.product / self.count - odds * doubt) / variance;
        doubt - slope * (odds - today)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_path_passes_each_place_once_and_every_step_is_even() {
        let mut chance = Chance::new(1);
        let points: Vec<[f64; 2]> = (0..900).map(|_| [chance.uniform(), chance.uniform()]).collect();
        let order = winding(&points);
        let mut places = order.clone();
        places.sort_unstable();
        assert_eq!(places, (0..900).collect::<Vec<_>>());
        // Of 81 places taken along it about 20 stand in each quarter of the square; by chance alone the
        // standard deviation would be 4.
        for [low, left] in [[0.0, 0.0], [0.0, 0.5], [0.5, 0.0], [0.5, 0.5]] {
            let inside =
                |at: &[f64; 2]| (low..low + 0.5).contains(&at[0]) && (left..left + 0.5).contains(&at[1]);
            let taken = (0..81).filter(|step| inside(&points[order[step * 900 / 81]])).count();
            let expected = 81 * points.iter().filter(|at| inside(at)).count() / 900;
            assert!(taken.abs_diff(expected) <= 3, "{taken} of {expected}");
        }
    }

    /// Mean 0, variance 1, fourth moment 3: those of the standard normal.
    #[test]
    fn even_normals_have_the_moments_of_a_normal() {
        let mut even = Even::new(&mut Chance::new(7));
        let all: Vec<f64> = (0..2_000).flat_map(|_| even.next_normals()).collect();
        let moment =
            |power: i32| all.iter().map(|value| libm::pow(*value, f64::from(power))).sum::<f64>() / 4_000.0;
        assert!(moment(1).abs() < 0.01 && (moment(2) - 1.0).abs() < 0.02, "{} {}", moment(1), moment(2));
        assert!((moment(4) - 3.0).abs() < 0.2, "{}", moment(4));
    }

    #[test]
    fn a_doubt_that_goes_with_the_odds_is_put_right_exactly() {
        let mut control = Control::default();
        for odds in [0.1, 0.2, 0.4] {
            control.add(odds, 3.0 * odds);
        }
        assert!((control.mean_doubt(0.3) - 0.9).abs() < 1e-12);
    }
}
