//! What would settle it: how much doubt each next measurement may be expected to remove, for its cost.
//!
//! # Method
//! Preposterior analysis [RaiffaSchlaifer1961]. A question is a truth worked out for each draw. Its
//! doubt is the loss to be expected from answering it as well as one can today: min(p × loss of a
//! wrong no, (1 − p) × loss of a wrong yes). For a measurement, results are simulated from the belief
//! itself, the belief is updated by each, and the doubt then left is averaged. The drop is the
//! expected value of sample information for that choice between two answers.
//!
//! A named class is summed exactly over its twelve results. A measured result is simulated from a
//! thinned ensemble, each draw judged by the others and never by itself, which would flatter it. An
//! error shared with earlier readings keeps the value it has in each draw, so a repeat is worth less
//! than a first, and rightly.
//!
//! Three things keep the chance of the simulation small: the draws are taken evenly over the plane of
//! compositions and their errors evenly over the normal distribution; every candidate meets the same
//! draws and the same errors up to scale, so that comparing two is comparing them alone; and the mean
//! odds after a result, known to be today's, serve as a control variate.

use super::believe::Belief;
use super::even::{Control, Even, winding};
use super::sampling::as_f64;
use super::state::{inverse, minus, raised};
use super::witness::SharedError;
use crate::kit::chance::{Chance, Fingerprint};
use crate::texture::Class;
use crate::texture::feel::{self, Hand};

/// Odds from which an answer counts as settled, either way.
pub const SETTLED: f64 = 0.95;
/// Draws kept of the ensemble, and results simulated from them.
const KEPT: usize = 1_000;
const SIMULATED: usize = 80;
/// Least cost of anything, in money: ranking must not divide by nothing.
const LEAST_COST: f64 = 0.01;

/// Something still to be decided.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Its name.
    pub name: String,
    /// Whether the answer is yes, for each draw of the belief.
    pub truth: Vec<bool>,
    /// What is lost by acting on yes when it is no.
    pub loss_if_wrongly_yes: f64,
    /// What is lost by acting on no when it is yes.
    pub loss_if_wrongly_no: f64,
}

impl Question {
    /// A question whose wrong answers cost the same.
    #[must_use]
    pub fn new(name: impl Into<String>, truth: Vec<bool>, stake: f64) -> Self {
        Self { name: name.into(), truth, loss_if_wrongly_yes: stake, loss_if_wrongly_no: stake }
    }

    /// Expected loss of the better answer when yes has odds `p`.
    fn doubt(&self, p: f64) -> f64 {
        ((1.0 - p) * self.loss_if_wrongly_yes).min(p * self.loss_if_wrongly_no)
    }
}

/// What kind of result a measurement gives.
#[derive(Debug, Clone, PartialEq)]
pub enum Gives {
    /// A composition with a normal error in ilr coordinates.
    Measured {
        /// Covariance of the error that is its own.
        covariance: [[f64; 2]; 2],
        /// Error it shares with other readings of its kind, past or future.
        shared: Option<SharedError>,
    },
    /// A class name: chance of each name, given each true class (rows), both in the order of
    /// [`Class::ALL`].
    Named {
        /// Rows add to one.
        chances: Box<[[f64; 12]; 12]>,
    },
}

impl Gives {
    /// A texture named by feel.
    #[must_use]
    pub fn named_by(hand: Hand) -> Self {
        let mut chances = Box::new([[0.0; 12]; 12]);
        for name in Class::ALL {
            for (truth, chance) in feel::likelihood(&[name], hand).into_iter().enumerate() {
                chances[truth][name as usize] = chance;
            }
        }
        Self::Named { chances }
    }
}

/// A measurement that could be made next.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// Its name.
    pub name: String,
    /// Fee or material.
    pub cost_money: f64,
    /// Hands-on time.
    pub minutes: f64,
    /// What it gives.
    pub gives: Gives,
}

/// What a measurement may be expected to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// The candidate's name.
    pub name: String,
    /// Expected drop of doubt over all questions, in the unit of the stakes; never below 0.
    pub gain: f64,
    /// Doubt before, over all questions.
    pub doubt_before: f64,
    /// Money plus time at the stated hourly worth.
    pub cost: f64,
    /// Gain over cost, by which the list is ranked.
    pub gain_per_cost: f64,
    /// Question by question.
    pub questions: Vec<QuestionWorth>,
}

/// What a measurement may be expected to do for one question.
#[derive(Debug, Clone, PartialEq)]
pub struct QuestionWorth {
    /// The question's name.
    pub name: String,
    /// Odds of yes today.
    pub odds: f64,
    /// Doubt today.
    pub before: f64,
    /// Doubt to be expected after.
    pub after: f64,
    /// Chance that the answer will then be settled ([`SETTLED`] either way).
    pub chance_settled: f64,
}

/// Ranks candidates by what they may be expected to settle for their cost, best first.
///
/// `hour_worth` is what an hour of the grower's time is worth, in the same money. A question whose
/// truth does not have one value a draw is left out.
#[must_use]
pub fn worth(
    belief: &Belief,
    questions: &[Question],
    candidates: &[Candidate],
    hour_worth: f64,
) -> Vec<Worth> {
    let questions: Vec<&Question> =
        questions.iter().filter(|question| question.truth.len() == belief.weights.len()).collect();
    let thinned = Thinned::of(belief, &questions);
    let mut list: Vec<Worth> = candidates
        .iter()
        .map(|candidate| {
            let each = match &candidate.gives {
                Gives::Named { chances } => after_name(belief, &questions, chances),
                Gives::Measured { covariance, shared } => {
                    thinned.after_reading(belief, &questions, *covariance, shared.as_ref())
                }
            };
            let cost = (candidate.cost_money + candidate.minutes / 60.0 * hour_worth).max(LEAST_COST);
            let gain = each.iter().map(|one| (one.before - one.after).max(0.0)).sum();
            Worth {
                name: candidate.name.clone(),
                gain,
                doubt_before: each.iter().map(|one| one.before).sum(),
                cost,
                gain_per_cost: gain / cost,
                questions: each,
            }
        })
        .collect();
    list.sort_by(|a, b| {
        b.gain_per_cost
            .total_cmp(&a.gain_per_cost)
            .then_with(|| a.cost.total_cmp(&b.cost))
            .then_with(|| a.name.cmp(&b.name))
    });
    list
}

/// Sums over results: doubt left and chance of being settled.
struct Tally {
    after: Vec<f64>,
    settled: Vec<f64>,
}

impl Tally {
    fn new(count: usize) -> Self {
        Self { after: vec![0.0; count], settled: vec![0.0; count] }
    }

    fn add(&mut self, place: usize, question: &Question, chance: f64, odds: f64) {
        self.after[place] += chance * question.doubt(odds);
        if odds >= SETTLED || odds <= 1.0 - SETTLED {
            self.settled[place] += chance;
        }
    }

    fn told(self, questions: &[&Question], odds: &[f64]) -> Vec<QuestionWorth> {
        questions
            .iter()
            .enumerate()
            .map(|(place, question)| QuestionWorth {
                name: question.name.clone(),
                odds: odds[place],
                before: question.doubt(odds[place]),
                after: self.after[place],
                chance_settled: self.settled[place].clamp(0.0, 1.0),
            })
            .collect()
    }
}

/// Exact over the twelve names: only the joint odds of class and answer matter.
fn after_name(belief: &Belief, questions: &[&Question], chances: &[[f64; 12]; 12]) -> Vec<QuestionWorth> {
    let mut of_class = [0.0; 12];
    let mut yes = vec![[0.0; 12]; questions.len()];
    for (draw, weight) in belief.weights.iter().enumerate() {
        let class = belief.classes[draw] as usize;
        of_class[class] += weight;
        for (sums, question) in yes.iter_mut().zip(questions) {
            if question.truth[draw] {
                sums[class] += weight;
            }
        }
    }
    let mut tally = Tally::new(questions.len());
    for name in 0..12 {
        let sum =
            |parts: &[f64; 12]| -> f64 { parts.iter().zip(chances).map(|(p, row)| p * row[name]).sum() };
        let chance = sum(&of_class);
        if chance <= 0.0 {
            continue;
        }
        for (place, question) in questions.iter().enumerate() {
            tally.add(place, question, chance, (sum(&yes[place]) / chance).clamp(0.0, 1.0));
        }
    }
    let odds: Vec<f64> = yes.iter().map(|sums| sums.iter().sum()).collect();
    tally.told(questions, &odds)
}

/// A few equally weighted draws that stand for the ensemble.
struct Thinned {
    /// Which draw of the belief each is; the same one may stand here several times.
    from: Vec<usize>,
    /// 1 where the answer is yes, one list a question.
    truths: Vec<Vec<f64>>,
    odds: Vec<f64>,
}

impl Thinned {
    fn of(belief: &Belief, questions: &[&Question]) -> Self {
        let kept = KEPT.min(belief.weights.len());
        let mut from = Vec::with_capacity(kept);
        let (mut draw, mut passed) = (0, belief.weights.first().copied().unwrap_or(1.0));
        for place in 0..kept {
            let target = (as_f64(place) + 0.5) / as_f64(kept);
            while passed < target && draw + 1 < belief.weights.len() {
                draw += 1;
                passed += belief.weights[draw];
            }
            from.push(draw);
        }
        let truths: Vec<Vec<f64>> = questions
            .iter()
            .map(|question| from.iter().map(|&draw| f64::from(u8::from(question.truth[draw]))).collect())
            .collect();
        let odds = truths.iter().map(|truth: &Vec<f64>| truth.iter().sum::<f64>() / as_f64(kept)).collect();
        Self { from, truths, odds }
    }

    fn after_reading(
        &self,
        belief: &Belief,
        questions: &[&Question],
        covariance: [[f64; 2]; 2],
        shared: Option<&SharedError>,
    ) -> Vec<QuestionWorth> {
        let known = shared.and_then(|error| belief.shared.iter().find(|known| known.name == error.name));
        // A shared error that no reading has carried yet is as good as the reading's own.
        let mut error = covariance;
        if let (Some(new), None) = (shared, known) {
            for (line, more) in error.iter_mut().zip(new.covariance) {
                line[0] += more[0];
                line[1] += more[1];
            }
        }
        let Some(precision) = inverse(error) else {
            return Tally { after: self.doubts(questions), settled: vec![0.0; questions.len()] }
                .told(questions, &self.odds);
        };
        let centres: Vec<[f64; 2]> = self
            .from
            .iter()
            .map(|&draw| {
                let bias = known.map_or([0.0; 2], |known| known.values[draw]);
                [belief.points[draw][0] + bias[0], belief.points[draw][1] + bias[1]]
            })
            .collect();
        // The same stream for every candidate: common random numbers.
        let mut chance = Chance::new(seed(belief.seed));
        let simulated = SIMULATED.min(self.from.len());
        let order = winding(&centres);
        let mut even = Even::new(&mut chance);
        let start = chance.uniform();
        let mut tally = Tally::new(questions.len());
        let mut control = vec![Control::default(); questions.len()];
        let mut weights = vec![0.0; self.from.len()];
        let mut counted = 0.0;
        for result in 0..simulated {
            let truth = order[(result * order.len() + truncated(start * as_f64(order.len()))) / simulated];
            let stretch = chance.stretch(belief.tail_degrees_of_freedom);
            let noise = noise(error, even.next_normals(), stretch);
            let at = [centres[truth][0] + noise[0], centres[truth][1] + noise[1]];
            weigh(&mut weights, &centres, at, precision, belief.tail_degrees_of_freedom);
            for (weight, from) in weights.iter_mut().zip(&self.from) {
                if *from == self.from[truth] {
                    *weight = 0.0;
                }
            }
            let total: f64 = weights.iter().sum();
            // No other draw is anywhere near: this result cannot be judged, so it does not count.
            if total <= 0.0 {
                continue;
            }
            counted += 1.0;
            for (place, question) in questions.iter().enumerate() {
                let yes = dot(&weights, &self.truths[place]);
                let odds = (yes / total).clamp(0.0, 1.0);
                tally.add(place, question, 1.0, odds);
                control[place].add(odds, question.doubt(odds));
            }
        }
        if counted == 0.0 {
            tally.after = self.doubts(questions);
        } else {
            for (place, question) in questions.iter().enumerate() {
                let today = self.odds[place];
                tally.after[place] = control[place].mean_doubt(today).clamp(0.0, question.doubt(today));
                tally.settled[place] /= counted;
            }
        }
        tally.told(questions, &self.odds)
    }

    fn doubts(&self, questions: &[&Question]) -> Vec<f64> {
        questions.iter().zip(&self.odds).map(|(question, odds)| question.doubt(*odds)).collect()
    }
}

/// The reading's error, from two standard normals and the stretch of its tails.
fn noise(covariance: [[f64; 2]; 2], [a, b]: [f64; 2], stretch: f64) -> [f64; 2] {
    let first = covariance[0][0].sqrt();
    let cross = covariance[0][1] / first;
    let rest = (covariance[1][1] - cross * cross).max(0.0).sqrt();
    [stretch * first * a, stretch * (cross * a + rest * b)]
}

/// Likelihood of a result at each draw, up to a constant.
fn weigh(
    weights: &mut [f64],
    centres: &[[f64; 2]],
    at: [f64; 2],
    precision: [[f64; 2]; 2],
    tails: Option<u32>,
) {
    let [[a, b], [_, c]] = precision;
    for (weight, centre) in weights.iter_mut().zip(centres) {
        let off = minus(at, *centre);
        *weight = a * off[0] * off[0] + 2.0 * b * off[0] * off[1] + c * off[1] * off[1];
    }
    match tails {
        None => weights.iter_mut().for_each(|q| *q = libm::exp(-0.5 * *q)),
        Some(freedom) => {
            let scale = 1.0 / f64::from(freedom);
            weights.iter_mut().for_each(|q| *q = 1.0 / raised(1.0 + *q * scale, freedom + 2));
        }
    }
}

/// Sum of products in four lanes, always added in the same order.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut lanes = [0.0; 4];
    let (left, right) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = left.remainder().iter().zip(right.remainder()).map(|(x, y)| x * y).sum();
    for (x, y) in left.zip(right) {
        for lane in 0..4 {
            lanes[lane] += x[lane] * y[lane];
        }
    }
    lanes[0] + lanes[1] + lanes[2] + lanes[3] + rest
}

fn seed(of_belief: u64) -> u64 {
    let mut print = Fingerprint::new();
    print.whole(of_belief);
    print.bytes(b"worth");
    print.finish()
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in a short list")]
fn truncated(value: f64) -> usize {
    value as usize
}

#[cfg(test)]
#[path = "worth_tests.rs"]
mod tests;
