//! Seeded draws of numbers known by their 90 % range.

use ground::belief::Known;
use ground::kit::chance::{Chance, Fingerprint};

/// Reach of 90 % of a normal distribution, in standard deviations.
const REACH: f64 = 1.644_853_627;

/// A stream of chance of its own for a purpose, so that a change of one thing does not move another.
pub(super) fn stream(purpose: &str, seed: u64) -> Chance {
    let mut print = Fingerprint::new();
    print.bytes(b"watering ");
    print.bytes(purpose.as_bytes());
    print.whole(seed);
    Chance::new(print.finish())
}

/// `count` draws: two half normals that meet at the likely value, held to `least ..= most`.
pub(super) fn drawn(known: Known, count: usize, least: f64, most: f64, chance: &mut Chance) -> Vec<f64> {
    (0..count)
        .map(|_| {
            let normal = chance.normal();
            let reach = if normal < 0.0 { known.likely - known.low } else { known.high - known.likely };
            (known.likely + normal * reach / REACH).clamp(least, most)
        })
        .collect()
}
