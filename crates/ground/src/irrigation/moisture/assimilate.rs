//! The reckoning corrected by a reading.
//!
//! # Method
//! An ensemble square-root update [WhitakerHamill2002] of the share of the available water that is
//! used, with the reading put to each draw's own soil. With P the variance of the reckoning over the
//! draws and R that of the reading, K = P / (P + R):
//! * the mean moves by K times how far the reading lies from it;
//! * the draws' own departures shrink by 1 − K / (1 + √(R / (P + R))), and K times the departure of
//!   what the reading says of each draw's soil is added;
//! * shares are held to 0..1 with the mean kept where the update put it.
//!
//! A reckoning whose draws happen to agree (just after a soaking) is still not exact: P is never
//! taken below [`LEAST_RECKONING_ERROR`] squared, and the draws are spread to match. There is no chance
//! in it beyond a stream seeded by the reading, so the same book gives the same answer.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::observation::Observed;
use crate::irrigation::balance::RootZone;
use crate::kit::Spread;
use crate::kit::chance::{Chance, Fingerprint};

/// Least standard deviation of a reckoning, as a share of the available water (judgement): leaks,
/// clogged emitters and missed showers are in no ensemble.
pub const LEAST_RECKONING_ERROR: f64 = 0.05;

/// How far off the reckoning was.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Correction {
    /// Depletion as reckoned.
    pub before_mm: Spread,
    /// Depletion as the reading has it, its own error left out.
    pub observed_mm: Spread,
    /// Depletion after the correction.
    pub after_mm: Spread,
    /// How much drier than reckoned the ground is by the reading; below 0 it is wetter.
    pub drier_by_mm: f64,
    /// Mean share of the available water used, as reckoned.
    pub before_share: f64,
    /// The same by the reading.
    pub observed_share: f64,
    /// The same after the correction.
    pub after_share: f64,
    /// Weight of the reading, 0 to 1.
    pub weight: f64,
    /// How far the reading lies from the reckoning, in standard deviations of both. Beyond 2 something
    /// is amiss: a watering not written down, a flow not as reckoned, another soil, a faulty sensor.
    pub surprise: f64,
}

/// Corrects the root zone by what was observed. `None` where there are no draws, or `observed` is of
/// an ensemble of another size.
pub fn correct(zone: &mut RootZone, observed: &Observed) -> Option<Correction> {
    if zone.draws() == 0 || zone.draws() != observed.used_shares.len() {
        return None;
    }
    let reckoned = zone.used_shares();
    let (mean, spread) = moments(&reckoned);
    let (seen, _) = moments(&observed.used_shares);
    let r = (observed.error * observed.error).max(1e-8);
    let p = spread.max(LEAST_RECKONING_ERROR * LEAST_RECKONING_ERROR);
    let gain = p / (p + r);
    let own = 1.0 - gain / (1.0 + libm::sqrt(r / (p + r)));
    let mut shares: Vec<f64> = reckoned
        .iter()
        .zip(&observed.used_shares)
        .map(|(share, reading)| own * (share - mean) + gain * (reading - seen))
        .collect();
    widen(&mut shares, (1.0 - gain) * p, observed);
    let target = mean + gain * (seen - mean);
    for share in &mut shares {
        *share += target;
    }
    hold(&mut shares, target);

    let total = &zone.total_available_mm;
    let mm =
        |shares: &[f64]| -> Vec<f64> { shares.iter().zip(total).map(|(share, all)| share * all).collect() };
    let before_mm = zone.depletion()?;
    let observed_mm = Spread::of_equal(&mut mm(&observed.used_shares))?;
    let after = mm(&shares);
    let after_mm = Spread::of_equal(&mut after.clone())?;
    zone.depletion_mm = after;
    Some(Correction {
        before_mm,
        observed_mm,
        after_mm,
        drier_by_mm: observed_mm.median - before_mm.median,
        before_share: mean,
        observed_share: seen,
        after_share: moments(&shares).0,
        weight: gain,
        surprise: (seen - mean).abs() / libm::sqrt(p + r),
    })
}

fn moments(values: &[f64]) -> (f64, f64) {
    #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    (mean, values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / n)
}

/// Spreads departures that are closer than `variance` allows.
fn widen(departures: &mut [f64], variance: f64, observed: &Observed) {
    let missing = variance - moments(departures).1;
    if missing <= 0.0 || departures.len() < 2 {
        return;
    }
    let mut print = Fingerprint::new();
    print.bytes(b"moisture correction");
    print.number(observed.error);
    observed.used_shares.iter().take(8).for_each(|share| print.number(*share));
    let mut chance = Chance::new(print.finish());
    let noise: Vec<f64> = departures.iter().map(|_| chance.normal()).collect();
    let (mean, spread) = moments(&noise);
    let scale = libm::sqrt(missing / spread);
    for (departure, noise) in departures.iter_mut().zip(noise) {
        *departure += scale * (noise - mean);
    }
}

/// Holds shares to 0..1 while their mean stays at `target`, itself within 0..1: all are shifted alike by
/// what makes it so, found by halving.
fn hold(shares: &mut [f64], target: f64) {
    let held = |shift: f64| -> f64 {
        let sum: f64 = shares.iter().map(|share| (share + shift).clamp(0.0, 1.0)).sum();
        #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
        let n = shares.len() as f64;
        sum / n
    };
    let most = 1.0 + shares.iter().map(|share| share.abs()).fold(0.0, f64::max);
    let (mut low, mut high) = (-most, most);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if held(middle) < target {
            low = middle;
        } else {
            high = middle;
        }
    }
    for share in shares.iter_mut() {
        *share = (*share + high).clamp(0.0, 1.0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holding_keeps_the_mean() {
        for target in [0.0, 0.02, 0.5, 0.97, 1.0] {
            let mut shares: Vec<f64> = (0..100).map(|i| target + 0.01 * f64::from(i) - 0.495).collect();
            hold(&mut shares, target);
            assert!(shares.iter().all(|share| (0.0..=1.0).contains(share)));
            assert!((moments(&shares).0 - target).abs() < 1e-6, "{target} {}", moments(&shares).0);
        }
    }
}
