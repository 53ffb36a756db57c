//! The plot as an ensemble: each draw a whole soil, from which anything else can be computed.
//!
//! The make-up comes from a [`Belief`]; organic matter, stones, packing and salts are drawn beside it
//! from what is known of them, or from a wide range of ordinary vegetable ground where nothing is.
//! They are drawn independently of the make-up.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::believe::Belief;
use crate::kit::chance::{Chance, Fingerprint};
use crate::kit::{Provenance, Refusal, Spread};
use crate::texture::{Class, Composition};
use crate::water::equations::{gravel_mass, normal_density};

/// A number known within limits: one time in twenty it is below `low`, one in twenty above `high`,
/// and as often above `likely` as below.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Known {
    /// 5th percentile.
    pub low: f64,
    /// Median.
    pub likely: f64,
    /// 95th percentile.
    pub high: f64,
}

/// Standard normal quantile of 95 %.
const Z_95: f64 = 1.644_853_626_951_472_2;

impl Known {
    /// A value with its standard error.
    #[must_use]
    pub fn about(value: f64, standard_error: f64) -> Self {
        Self { low: value - Z_95 * standard_error, likely: value, high: value + Z_95 * standard_error }
    }

    /// A value taken as exact.
    #[must_use]
    pub fn exactly(value: f64) -> Self {
        Self { low: value, likely: value, high: value }
    }

    /// Refuses limits out of order or outside `least ..= most`.
    ///
    /// # Errors
    /// A refusal at `field`.
    pub fn checked(self, field: &str, least: f64, most: f64) -> Result<Self, Refusal> {
        let ordered = self.low <= self.likely && self.likely <= self.high;
        if ordered && self.low >= least && self.high <= most {
            return Ok(self);
        }
        Err(Refusal::new(
            field,
            format!(
                "low, likely and high must rise and lie within {least} to {most}, but {}, {} and {} were given",
                self.low, self.likely, self.high
            ),
        )
        .given(format!("{}, {}, {}", self.low, self.likely, self.high))
        .accepted(format!("low <= likely <= high, {least} to {most}"))
        .example(format!("{least}, {}, {most}", (least + most) / 2.0)))
    }

    /// Two half normals that meet at the median, held to `least ..= most`.
    pub(crate) fn draw(self, normal: f64, least: f64, most: f64) -> f64 {
        let reach = if normal < 0.0 { self.likely - self.low } else { self.high - self.likely };
        (self.likely + normal * reach / Z_95).clamp(least, most)
    }

    fn print(self, print: &mut Fingerprint) {
        [self.low, self.likely, self.high].into_iter().for_each(|value| print.number(value));
    }
}

/// How stones are known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stones {
    /// Percent of the whole soil by mass.
    MassPercent(Known),
    /// Percent of the whole soil by volume.
    VolumePercent(Known),
}

/// How packing is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Packing {
    /// Density relative to the normal density of that texture.
    Factor(Known),
    /// Dry density of the soil without stones, g/cm³.
    DensityGCm3(Known),
}

/// What is known of a plot beside its make-up. `None` means nothing was measured.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Beside {
    /// Organic matter, percent by mass.
    pub organic_matter_percent: Option<Known>,
    /// Stones.
    pub stones: Option<Stones>,
    /// Packing.
    pub packing: Option<Packing>,
    /// Electrical conductivity of the saturation extract, dS/m.
    pub ec_ds_m: Option<Known>,
}

/// What stands in for something not measured, with why. All four are our judgement of ordinary
/// vegetable ground; a page that leans on one says so.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Assumed {
    /// What it is, in a sentence: "organic matter".
    pub what: &'static str,
    /// The range.
    pub known: Known,
    /// Unit, may be empty.
    pub unit: &'static str,
    /// Where it is from.
    pub provenance: Provenance,
}

const fn assumed(what: &'static str, low: f64, likely: f64, high: f64, unit: &'static str) -> Assumed {
    Assumed { what, known: Known { low, likely, high }, unit, provenance: Provenance::Judgement }
}

/// Organic matter of cropped vegetable ground.
pub const ORGANIC_MATTER_ASSUMED: Assumed = assumed("organic matter", 1.0, 2.5, 6.0, "%");
/// Stones of ground that is cropped to vegetables.
pub const STONES_ASSUMED: Assumed = assumed("stones by mass", 0.0, 2.0, 15.0, "%");
/// Packing of ground neither freshly dug nor driven over.
pub const PACKING_ASSUMED: Assumed = assumed("packing", 0.93, 1.0, 1.1, "times normal density");
/// Salts of ground that nobody complains of.
pub const SALTS_ASSUMED: Assumed = assumed("salts", 0.2, 0.8, 2.0, "dS/m");

/// One possible plot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// Make-up of the fine earth.
    pub soil: Composition,
    /// Its class.
    pub class: Class,
    /// Organic matter, percent by mass.
    pub organic_matter_percent: f64,
    /// Stones, percent of the whole soil by mass.
    pub gravel_mass_percent: f64,
    /// Density relative to normal.
    pub density_factor: f64,
    /// Salts, dS/m.
    pub ec_ds_m: f64,
}

/// A plot as weighted draws.
#[derive(Debug, Clone, PartialEq)]
pub struct Ensemble {
    /// Possible plots, in the order of the belief's draws.
    pub draws: Vec<Draw>,
    /// Weights; they add to one.
    pub weights: Vec<f64>,
    /// What was not measured and had to be assumed.
    pub assumed: Vec<Assumed>,
    /// Seed of the draws.
    pub seed: u64,
}

impl Ensemble {
    /// The ensemble of a plot.
    #[must_use]
    pub fn of(belief: &Belief, beside: &Beside) -> Self {
        let seed = seed(belief.seed, beside);
        let mut chance = Chance::new(seed);
        let mut missing = Vec::new();
        let mut known = |given: Option<Known>, default: Assumed| {
            given.unwrap_or_else(|| {
                missing.push(default);
                default.known
            })
        };
        let organic = known(beside.organic_matter_percent, ORGANIC_MATTER_ASSUMED);
        let stones = match beside.stones {
            Some(stones) => stones,
            None => Stones::MassPercent(known(None, STONES_ASSUMED)),
        };
        let packing = match beside.packing {
            Some(packing) => packing,
            None => Packing::Factor(known(None, PACKING_ASSUMED)),
        };
        let salts = known(beside.ec_ds_m, SALTS_ASSUMED);
        let draws = belief
            .draws
            .iter()
            .zip(&belief.classes)
            .map(|(&soil, &class)| {
                let organic_matter_percent = organic.draw(chance.normal(), 0.0, 100.0);
                let normal = || normal_density(soil.sand, soil.clay, organic_matter_percent);
                let density_factor = match packing {
                    Packing::Factor(factor) => factor.draw(chance.normal(), 0.5, 2.0),
                    Packing::DensityGCm3(density) => {
                        (density.draw(chance.normal(), 0.3, 2.2) / normal()).clamp(0.5, 2.0)
                    }
                };
                let gravel_mass_percent = match stones {
                    Stones::MassPercent(mass) => mass.draw(chance.normal(), 0.0, 98.0),
                    Stones::VolumePercent(volume) => {
                        let volume = volume.draw(chance.normal(), 0.0, 95.0) / 100.0;
                        (100.0 * gravel_mass(volume, normal() * density_factor)).clamp(0.0, 98.0)
                    }
                };
                let ec_ds_m = salts.draw(chance.normal(), 0.0, 200.0);
                Draw { soil, class, organic_matter_percent, gravel_mass_percent, density_factor, ec_ds_m }
            })
            .collect();
        Self { draws, weights: belief.weights.clone(), assumed: missing, seed }
    }

    /// Median and 90 % range of something computed from each draw; `None` where no draw has a value.
    #[must_use]
    pub fn spread(&self, value: impl Fn(&Draw) -> f64) -> Option<Spread> {
        let values: Vec<f64> = self.draws.iter().map(value).collect();
        Spread::of(&values, &self.weights)
    }
}

fn seed(of_belief: u64, beside: &Beside) -> u64 {
    let mut print = Fingerprint::new();
    print.whole(of_belief);
    let mut add = |kind: u64, known: Option<Known>| {
        print.whole(kind);
        if let Some(known) = known {
            known.print(&mut print);
        }
    };
    add(1, beside.organic_matter_percent);
    match beside.stones {
        None => add(2, None),
        Some(Stones::MassPercent(known)) => add(3, Some(known)),
        Some(Stones::VolumePercent(known)) => add(4, Some(known)),
    }
    match beside.packing {
        None => add(5, None),
        Some(Packing::Factor(known)) => add(6, Some(known)),
        Some(Packing::DensityGCm3(known)) => add(7, Some(known)),
    }
    add(8, beside.ec_ds_m);
    print.finish()
}

/// Weighted odds of statements about a plot.
pub struct Odds;

impl Odds {
    /// Share of the ensemble for which `holds`, 0 to 1.
    #[must_use]
    pub fn of(ensemble: &Ensemble, holds: impl Fn(&Draw) -> bool) -> f64 {
        let each = ensemble.draws.iter().zip(&ensemble.weights);
        each.filter(|(draw, _)| holds(draw)).map(|(_, weight)| weight).sum::<f64>().clamp(0.0, 1.0)
    }

    /// Share of the weight for which a truth worked out draw by draw holds, 0 to 1.
    #[must_use]
    pub fn of_truths(weights: &[f64], truths: &[bool]) -> f64 {
        let each = truths.iter().zip(weights);
        each.filter(|(truth, _)| **truth).map(|(_, weight)| weight).sum::<f64>().clamp(0.0, 1.0)
    }

    /// Odds that a value worked out draw by draw passes a test, among the draws that have a value.
    /// `None` where none has.
    #[must_use]
    pub fn of_values(weights: &[f64], values: &[f64], holds: impl Fn(f64) -> bool) -> Option<f64> {
        let (mut yes, mut all) = (0.0, 0.0);
        for (value, weight) in values.iter().zip(weights).filter(|(value, _)| value.is_finite()) {
            all += weight;
            if holds(*value) {
                yes += weight;
            }
        }
        (all > 0.0).then(|| (yes / all).clamp(0.0, 1.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::belief::{Options, believe};

    #[test]
    fn what_is_known_comes_back_as_its_own_spread() {
        let belief = believe(&[], &Options { draws: 40_000, ..Options::default() });
        let beside = Beside {
            organic_matter_percent: Some(Known { low: 2.0, likely: 3.0, high: 6.0 }),
            stones: Some(Stones::VolumePercent(Known { low: 5.0, likely: 10.0, high: 15.0 })),
            packing: Some(Packing::DensityGCm3(Known::about(1.4, 0.05))),
            ec_ds_m: None,
        };
        let ensemble = Ensemble::of(&belief, &beside);
        assert_eq!(ensemble.assumed.len(), 1);
        let organic = ensemble.spread(|draw| draw.organic_matter_percent).unwrap();
        assert!((organic.low - 2.0).abs() < 0.05 && (organic.median - 3.0).abs() < 0.05, "{organic:?}");
        assert!((organic.high - 6.0).abs() < 0.1, "{organic:?}");
        let density = ensemble
            .spread(|d| d.density_factor * normal_density(d.soil.sand, d.soil.clay, d.organic_matter_percent))
            .unwrap();
        assert!((density.median - 1.4).abs() < 0.005, "{density:?}");
        assert!((density.high - 1.482).abs() < 0.006, "{density:?}");
    }

    #[test]
    fn limits_out_of_order_are_refused_at_their_field() {
        let refusal = Known { low: 3.0, likely: 2.0, high: 4.0 }.checked("ec_ds_m", 0.0, 50.0).unwrap_err();
        assert_eq!(refusal.field, "ec_ds_m");
        assert!(Known { low: f64::NAN, likely: 2.0, high: 4.0 }.checked("ec_ds_m", 0.0, 50.0).is_err());
        assert!(Known::exactly(2.0).checked("ec_ds_m", 0.0, 50.0).is_ok());
    }

    #[test]
    fn odds_add_to_one_with_their_opposite() {
        let ensemble = Ensemble::of(&believe(&[], &Options::default()), &Beside::default());
        let more = Odds::of(&ensemble, |draw| draw.soil.clay > 20.0);
        let less = Odds::of(&ensemble, |draw| draw.soil.clay <= 20.0);
        assert!((more + less - 1.0).abs() < 1e-12);
        assert!((more - 0.5).abs() < 0.1, "{more}");
    }
}
