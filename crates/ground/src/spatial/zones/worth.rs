//! Are several zones better than one? Asked of the readings, not of the map that was made from them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Zones must take away this share of the squared error of one mean to be worth their trouble.
pub const WORTH_FROM: f64 = 0.10;

/// How zones fare against one mean.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ZoneWorth {
    /// Root mean square error of a reading told by the mean of all others.
    pub error_of_one_mean: f64,
    /// The same by the mean of the others in its zone.
    pub error_of_zones: f64,
    /// Share of the squared error that the zones take away.
    pub explained: f64,
    /// Is that enough?
    pub better_than_one: bool,
    /// Readings in each zone.
    pub readings: Vec<usize>,
}

/// Each reading told from the others, by their mean and by that of its zone. A reading alone in its zone is told by the
/// mean of all. `None` for fewer than three readings.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
pub fn worth(values: &[f64], zones: &[usize]) -> Option<ZoneWorth> {
    let n = values.len();
    if n < 3 || zones.len() != n {
        return None;
    }
    let count = zones.iter().max().map_or(0, |zone| zone + 1);
    let mut readings = vec![0_usize; count];
    let mut sums = vec![0.0; count];
    for (value, zone) in values.iter().zip(zones) {
        readings[*zone] += 1;
        sums[*zone] += value;
    }
    let total: f64 = values.iter().sum();
    let (mut one, mut several) = (0.0, 0.0);
    for (value, zone) in values.iter().zip(zones) {
        let of_all = (total - value) / (n - 1) as f64;
        let of_zone = match readings[*zone] {
            1 => of_all,
            held => (sums[*zone] - value) / (held - 1) as f64,
        };
        one += (value - of_all) * (value - of_all);
        several += (value - of_zone) * (value - of_zone);
    }
    let explained = if one > 0.0 { 1.0 - several / one } else { 0.0 };
    Some(ZoneWorth {
        error_of_one_mean: (one / n as f64).sqrt(),
        error_of_zones: (several / n as f64).sqrt(),
        explained,
        better_than_one: explained >= WORTH_FROM,
        readings,
    })
}
