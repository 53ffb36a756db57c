//! What a plot is made of, from any mix of evidence, as a weighted ensemble.
//!
//! # Method
//! Bayes' rule in ilr coordinates. Prior: normal about 40 % sand, 40 % silt, 20 % clay with unit
//! covariance (our judgement: it reaches from loamy sand to clay). Measured evidence is a bivariate
//! Student's t with the reading's own covariance as scale (normal when asked), a named class enters
//! by its chance given the class of each draw, and an error that several readings share is one more
//! unknown. The posterior is sampled by mixture importance sampling, seeded from the evidence.
//!
//! Heavy tails are what makes contradiction visible: two normal readings far apart would give a
//! narrow belief half-way between them, which neither supports; two t readings give a wide one.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::disagreement::{self, Disagreement};
use super::ilr::{self, Point};
use super::sampling::{self, Sample};
use super::state::{self, Model};
use super::witness::{Account, Witness};
use crate::kit::Spread;
use crate::kit::chance::Fingerprint;
use crate::texture::{Class, Composition};

/// Draws in the ensemble of a farm's plot.
pub const DRAWS: usize = 4_000;
/// Degrees of freedom of the errors of a farm's evidence: heavy enough that five standard
/// deviations can happen (our judgement).
pub const TAILS: u32 = 5;

/// What was thought before any evidence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    /// Centre, ilr coordinates.
    pub centre: [f64; 2],
    /// Covariance in ilr coordinates.
    pub covariance: [[f64; 2]; 2],
}

impl Default for Prior {
    fn default() -> Self {
        let centre = ilr::to_ilr(Composition { sand: 40.0, silt: 40.0, clay: 20.0 });
        Self { centre: [centre.x, centre.y], covariance: [[1.0, 0.0], [0.0, 1.0]] }
    }
}

/// How to combine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Size of the ensemble; held to 200 .. 1,000,000.
    pub draws: usize,
    /// What was thought before.
    pub prior: Prior,
    /// Degrees of freedom of measured errors, 3 or more; `None` for normal tails.
    pub tail_degrees_of_freedom: Option<u32>,
    /// Whether to hold each witness against the rest. Costs about as much again as the belief.
    pub compare_witnesses: bool,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            draws: DRAWS,
            prior: Prior::default(),
            tail_degrees_of_freedom: Some(TAILS),
            compare_witnesses: true,
        }
    }
}

/// What is believed of a plot's make-up.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    /// Possible make-ups.
    pub draws: Vec<Composition>,
    /// The same in ilr coordinates.
    pub points: Vec<[f64; 2]>,
    /// Class of each draw.
    pub classes: Vec<Class>,
    /// Weight of each draw; they add to one.
    pub weights: Vec<f64>,
    /// Odds of each class that has any worth naming (above one in a million), most likely first.
    pub class_odds: Vec<(Class, f64)>,
    /// Sand, percent.
    pub sand: Spread,
    /// Silt, percent.
    pub silt: Spread,
    /// Clay, percent.
    pub clay: Spread,
    /// Make-up at the mean of the ilr coordinates.
    pub centre: Composition,
    /// Mean of the percentages: what a heap mixed from all that is possible would hold.
    pub mean: Composition,
    /// Covariance in ilr coordinates.
    pub covariance: [[f64; 2]; 2],
    /// Number of equally weighted draws that would tell as much.
    pub effective_draws: f64,
    /// Where witnesses do not agree, worst first.
    pub disagreements: Vec<Disagreement>,
    /// What the errors shared by several readings came to, one list a name.
    pub shared: Vec<SharedDraws>,
    /// Seed of the draws, a hash of the evidence.
    pub seed: u64,
    /// Identities of the witnesses that were used, in the order given.
    pub from: Vec<String>,
    /// Identities of witnesses left out because their numbers make no error ellipse.
    pub left_out: Vec<String>,
    /// Degrees of freedom used.
    pub tail_degrees_of_freedom: Option<u32>,
}

/// Values of one shared error over the draws of a belief.
#[derive(Debug, Clone, PartialEq)]
pub struct SharedDraws {
    /// Its name.
    pub name: String,
    /// Its value at each draw, ilr coordinates.
    pub values: Vec<[f64; 2]>,
}

impl Belief {
    /// The most likely class with its odds.
    #[must_use]
    pub fn class(&self) -> (Class, f64) {
        self.class_odds.first().copied().unwrap_or((Class::of(self.centre), 1.0))
    }

    /// Whether nothing is known: the belief is the prior.
    #[must_use]
    pub fn knows_nothing(&self) -> bool {
        self.from.is_empty()
    }

    /// Odds that a statement about the make-up holds.
    #[must_use]
    pub fn odds(&self, holds: impl Fn(Composition) -> bool) -> f64 {
        let odds: f64 =
            self.draws.iter().zip(&self.weights).filter(|(soil, _)| holds(**soil)).map(|(_, w)| w).sum();
        odds.clamp(0.0, 1.0)
    }

    /// What a page or a JSON answer shows of it.
    #[must_use]
    pub fn summary(&self) -> BeliefSummary {
        BeliefSummary {
            class: self.class().0,
            class_odds: self.class_odds.iter().map(|&(class, odds)| ClassOdds { class, odds }).collect(),
            sand_percent: self.sand,
            silt_percent: self.silt,
            clay_percent: self.clay,
            centre_percent: self.centre,
            mean_percent: self.mean,
            ilr_mean: {
                let at = ilr::to_ilr(self.centre);
                [at.x, at.y]
            },
            ilr_covariance: self.covariance,
            effective_draws: self.effective_draws,
            draws: self.draws.len(),
            disagreements: self.disagreements.clone(),
            seed: format!("{:016x}", self.seed),
            from: self.from.clone(),
        }
    }
}

/// Odds of one class.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ClassOdds {
    /// The class.
    pub class: Class,
    /// Its odds, 0 to 1.
    pub odds: f64,
}

/// A belief without its draws.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BeliefSummary {
    /// Most likely class.
    pub class: Class,
    /// Odds of the classes, most likely first.
    pub class_odds: Vec<ClassOdds>,
    /// Sand, median and 90 % range.
    pub sand_percent: Spread,
    /// Silt, median and 90 % range.
    pub silt_percent: Spread,
    /// Clay, median and 90 % range.
    pub clay_percent: Spread,
    /// Make-up at the mean of the ilr coordinates.
    pub centre_percent: Composition,
    /// Mean of the percentages.
    pub mean_percent: Composition,
    /// Mean of the ilr coordinates.
    pub ilr_mean: [f64; 2],
    /// Covariance in ilr coordinates.
    pub ilr_covariance: [[f64; 2]; 2],
    /// Number of equally weighted draws that would tell as much.
    pub effective_draws: f64,
    /// Size of the ensemble.
    pub draws: usize,
    /// Where witnesses do not agree, worst first.
    pub disagreements: Vec<Disagreement>,
    /// Seed of the draws, hexadecimal: the same evidence has the same seed.
    pub seed: String,
    /// Identities of the witnesses used.
    pub from: Vec<String>,
}

/// Combines the witnesses. Without any, the belief is the prior and [`Belief::knows_nothing`].
///
/// The answer depends on the numbers of the evidence alone: not on its order, its labels, the
/// machine or the day.
#[must_use]
pub fn believe(witnesses: &[Witness], options: &Options) -> Belief {
    let draws = options.draws.clamp(200, 1_000_000);
    let tails = options.tail_degrees_of_freedom.map(|freedom| freedom.max(3));
    let mut ordered: Vec<(u64, &Witness)> = witnesses.iter().map(|w| (fingerprint(&w.account), w)).collect();
    ordered.sort_by_key(|(print, _)| *print);
    let seed = seed_of(&ordered, options);
    let (model, used) = Model::new(
        options.prior.centre,
        options.prior.covariance,
        tails,
        ordered.iter().map(|(_, witness)| *witness),
    );
    let sample = sampling::sample(&model, draws, seed);

    let heard: Vec<&Witness> =
        ordered.iter().zip(&used).filter(|(_, used)| **used).map(|((_, witness), _)| *witness).collect();
    let disagreements =
        if options.compare_witnesses { disagreement::all(&model, &heard, seed) } else { Vec::new() };
    let is_used = |witness: &&Witness| heard.iter().any(|other| std::ptr::eq(*other, *witness));
    let identity = |witness: &Witness| witness.id.clone();
    let from = witnesses.iter().filter(is_used).map(identity).collect();
    let left_out = witnesses.iter().filter(|witness| !is_used(witness)).map(identity).collect();
    told(sample, &model, disagreements, seed, from, left_out)
}

fn told(
    sample: Sample,
    model: &Model,
    disagreements: Vec<Disagreement>,
    seed: u64,
    from: Vec<String>,
    left_out: Vec<String>,
) -> Belief {
    let (mean, covariance) = sample.moments();
    let spread = |part: fn(&Composition) -> f64| {
        let values: Vec<f64> = sample.soils.iter().map(part).collect();
        let mean = values.iter().zip(&sample.weights).map(|(v, w)| v * w).sum();
        Spread::of(&values, &sample.weights).unwrap_or(Spread { low: mean, median: mean, high: mean })
    };
    let (sand, silt, clay) = (spread(|soil| soil.sand), spread(|soil| soil.silt), spread(|soil| soil.clay));
    let shared = model
        .shared
        .iter()
        .enumerate()
        .map(|(place, (name, _))| SharedDraws {
            name: name.clone(),
            values: (0..sample.weights.len())
                .map(|draw| state::shared_at(sample.state(draw), place))
                .collect(),
        })
        .collect();
    Belief {
        class_odds: class_odds(&sample.classes, &sample.weights),
        sand,
        silt,
        clay,
        centre: ilr::from_ilr(Point::new(mean[0], mean[1])),
        mean: mean_soil(&sample),
        covariance: [[covariance[0], covariance[1]], [covariance[sample.size], covariance[sample.size + 1]]],
        effective_draws: sample.effective(),
        points: (0..sample.weights.len())
            .map(|draw| {
                let state = sample.state(draw);
                [state[0], state[1]]
            })
            .collect(),
        draws: sample.soils,
        classes: sample.classes,
        weights: sample.weights,
        disagreements,
        shared,
        seed,
        from,
        left_out,
        tail_degrees_of_freedom: model.tails,
    }
}

fn mean_soil(sample: &Sample) -> Composition {
    let mean = |part: fn(&Composition) -> f64| {
        sample.soils.iter().zip(&sample.weights).map(|(soil, weight)| part(soil) * weight).sum::<f64>()
    };
    Composition { sand: mean(|soil| soil.sand), silt: mean(|soil| soil.silt), clay: mean(|soil| soil.clay) }
}

/// Odds of each class that carries weight, most likely first.
pub(crate) fn class_odds(classes: &[Class], weights: &[f64]) -> Vec<(Class, f64)> {
    let mut odds = [0.0; 12];
    for (class, weight) in classes.iter().zip(weights) {
        odds[*class as usize] += weight;
    }
    // Less than one in a million is the sampler's own noise.
    let mut list: Vec<(Class, f64)> =
        Class::ALL.into_iter().zip(odds).filter(|(_, odds)| *odds > 1e-6).collect();
    list.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    list
}

fn fingerprint(account: &Account) -> u64 {
    let mut print = Fingerprint::new();
    match account {
        Account::Measured { centre, covariance, shared } => {
            print.bytes(b"measured");
            centre.iter().chain(covariance.iter().flatten()).for_each(|value| print.number(*value));
            if let Some(error) = shared {
                print.bytes(error.name.as_bytes());
                error.covariance.iter().flatten().for_each(|value| print.number(*value));
            }
        }
        Account::Named { class, likelihood } => {
            print.bytes(b"named");
            print.bytes(class.name().as_bytes());
            likelihood.iter().for_each(|value| print.number(*value));
        }
    }
    print.finish()
}

fn seed_of(ordered: &[(u64, &Witness)], options: &Options) -> u64 {
    let mut print = Fingerprint::new();
    for (one, _) in ordered {
        print.whole(*one);
    }
    options
        .prior
        .centre
        .iter()
        .chain(options.prior.covariance.iter().flatten())
        .for_each(|v| print.number(*v));
    print.whole(u64::from(options.tail_degrees_of_freedom.unwrap_or(0)));
    print.finish()
}

#[cfg(test)]
#[path = "believe_tests.rs"]
mod tests;
