//! Importance sampling of a [`Model`] from a mixture of laws that are known exactly.
//!
//! # Method
//! The proposal mixes the prior, each witness alone, all but one and all together, each a normal (or
//! t) law in closed form, so that no part of a contradictory posterior is missed. A first pass shows
//! how much each part explains; the second draws from the parts that matter and from a law fitted to
//! the first pass (adaptive mixture importance sampling [Cappe2008]). Every draw is weighted by
//! target over mixture density [OwenZhou2000], so the answer does not depend on how good the parts
//! are, only its noise does.

use super::ilr::{self, Point};
use super::state::{Component, Heard, Model};
use crate::kit::chance::Chance;
use crate::texture::{Class, Composition};

/// Draws of the first pass.
const PILOT: usize = 600;
/// Share of the second pass spread evenly over the parts kept, whatever the first pass found.
const DEFENSIVE: f64 = 0.15;
/// Parts that explain less than this of the first pass are dropped, the prior excepted.
const NEGLIGIBLE: f64 = 0.01;

/// A weighted sample of states.
pub(crate) struct Sample {
    /// States one after the other, `size` numbers each.
    pub(crate) states: Vec<f64>,
    pub(crate) size: usize,
    /// Add to one.
    pub(crate) weights: Vec<f64>,
    /// Make-up at each state.
    pub(crate) soils: Vec<Composition>,
    /// Class at each state.
    pub(crate) classes: Vec<Class>,
}

impl Sample {
    pub(crate) fn state(&self, draw: usize) -> &[f64] {
        &self.states[draw * self.size..(draw + 1) * self.size]
    }

    /// Number of equally weighted draws that would carry as much.
    pub(crate) fn effective(&self) -> f64 {
        1.0 / self.weights.iter().map(|w| w * w).sum::<f64>()
    }

    /// Weighted mean and covariance of the whole state.
    pub(crate) fn moments(&self) -> (Vec<f64>, Vec<f64>) {
        let size = self.size;
        let mut mean = vec![0.0; size];
        for (draw, weight) in self.weights.iter().enumerate() {
            for (sum, value) in mean.iter_mut().zip(self.state(draw)) {
                *sum += weight * value;
            }
        }
        let mut covariance = vec![0.0; size * size];
        for (draw, weight) in self.weights.iter().enumerate() {
            let state = self.state(draw);
            for i in 0..size {
                for j in 0..size {
                    covariance[i * size + j] += weight * (state[i] - mean[i]) * (state[j] - mean[j]);
                }
            }
        }
        (mean, covariance)
    }
}

/// Draws `draws` states from the model's posterior.
pub(crate) fn sample(model: &Model, draws: usize, seed: u64) -> Sample {
    let mut chance = Chance::new(seed);
    let parts = parts_of(model);
    if parts.len() == 1 && !model.names_a_class() && model.heard.is_empty() && model.tails.is_none() {
        return pass(model, &parts, &[1.0], draws, &mut chance).0;
    }
    let even = vec![1.0 / as_f64(parts.len()); parts.len()];
    let (pilot, explained) = pass(model, &parts, &even, PILOT.min(draws), &mut chance);

    let (mut kept, mut shares): (Vec<Component>, Vec<f64>) = parts
        .into_iter()
        .zip(explained)
        .enumerate()
        .filter(|(place, (_, share))| *place == 0 || *share >= NEGLIGIBLE)
        .map(|(_, part)| part)
        .unzip();
    // A handful of effective draws fits nothing; the exact parts carry on alone then.
    if pilot.effective() > 8.0 * as_f64(model.size()) && needs_a_fit(model) {
        let (mean, mut covariance) = pilot.moments();
        for value in &mut covariance {
            *value *= 1.3;
        }
        let exact: f64 = shares.iter().sum();
        kept.push(Component::from_moments(mean, covariance));
        shares.push(exact);
    }
    let total: f64 = shares.iter().sum();
    let floor = DEFENSIVE / as_f64(kept.len());
    for share in &mut shares {
        *share = (1.0 - DEFENSIVE) * *share / total + floor;
    }
    pass(model, &kept, &shares, draws, &mut chance).0
}

/// Normal evidence alone has its posterior in closed form, as one of the parts.
fn needs_a_fit(model: &Model) -> bool {
    model.tails.is_some() || model.names_a_class()
}

/// The parts of the proposal: the prior first.
fn parts_of(model: &Model) -> Vec<Component> {
    let measured: Vec<usize> = model
        .heard
        .iter()
        .enumerate()
        .filter(|(_, heard)| matches!(heard, Heard::Measured(_)))
        .map(|(place, _)| place)
        .collect();
    let mut parts = vec![model.component(|_| false)];
    if !measured.is_empty() {
        parts.push(model.component(|_| true));
    }
    // Normal tails cannot be contradictory: the closed form above is already the whole posterior.
    if measured.len() > 1 && model.tails.is_some() {
        parts.extend(measured.iter().map(|&one| model.component(|place| place == one)));
        if (3..=8).contains(&measured.len()) {
            parts.extend(measured.iter().map(|&one| model.component(|place| place != one)));
        }
    }
    parts
}

/// One pass: the sample, and the share of it that each part explains.
fn pass(
    model: &Model,
    parts: &[Component],
    shares: &[f64],
    draws: usize,
    chance: &mut Chance,
) -> (Sample, Vec<f64>) {
    let size = model.size();
    let mut states = vec![0.0; draws * size];
    let mut log_weights = Vec::with_capacity(draws);
    let mut owned = vec![0.0; draws * parts.len()];
    let mut soils = Vec::with_capacity(draws);
    let mut classes = Vec::with_capacity(draws);
    let (mut part, mut passed) = (0, shares[0]);
    for draw in 0..draws {
        // Each part draws its exact share of the sample, which is less noisy than tossing for it.
        let place = (as_f64(draw) + 0.5) / as_f64(draws);
        while place > passed && part + 1 < parts.len() {
            part += 1;
            passed += shares[part];
        }
        let state = &mut states[draw * size..(draw + 1) * size];
        parts[part].draw(chance, model.tails, state);
        let soil = ilr::from_ilr(Point::new(state[0], state[1]));
        let class = Class::of(soil);
        let own = &mut owned[draw * parts.len()..(draw + 1) * parts.len()];
        for ((slot, component), share) in own.iter_mut().zip(parts).zip(shares) {
            *slot = share * component.density(state, model.tails);
        }
        // Never nothing: the part that made the draw is among them.
        let mixture: f64 = own.iter().sum();
        for slot in own.iter_mut() {
            *slot /= mixture;
        }
        log_weights.push(model.log_target(state, class) - libm::log(mixture));
        soils.push(soil);
        classes.push(class);
    }
    let weights = normalised(&log_weights);
    let mut explained = vec![0.0; parts.len()];
    for (draw, weight) in weights.iter().enumerate() {
        for (sum, share) in explained.iter_mut().zip(&owned[draw * parts.len()..]) {
            *sum += weight * share;
        }
    }
    (Sample { states, size, weights, soils, classes }, explained)
}

/// Weights that add to one from their logarithms.
fn normalised(logs: &[f64]) -> Vec<f64> {
    let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut weights: Vec<f64> = logs.iter().map(|log| libm::exp(log - top)).collect();
    let total: f64 = weights.iter().sum();
    for weight in &mut weights {
        *weight /= total;
    }
    weights
}

#[expect(clippy::cast_precision_loss, reason = "counts of draws and parts")]
pub(crate) fn as_f64(count: usize) -> f64 {
    count as f64
}
