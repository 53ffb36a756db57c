//! Where pieces of evidence do not agree: each one held against what all the others say.
//!
//! A measured reading is compared with what the rest predict for it, error and all: the squared
//! standardised distance has a χ² law of two degrees of freedom if all is well, so its tail is
//! exp(−d²/2). A named class is compared by how much less often the hand would give that name on the
//! ground the others describe than on the ground it names best. The limits are our judgement.

use crate::kit::sentence::capital;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::ilr::{self, Point};
use super::sampling;
use super::state::{Heard, Measured, Model, form, inverse, minus};
use super::witness::{Account, Witness};
use crate::texture::{Class, Composition};

/// Draws with which the others' view is sampled.
const DRAWS: usize = 800;
/// Chance below which a reading differs from the rest.
const DIFFERS: f64 = 0.01;
/// Chance below which it contradicts them.
const CONTRADICTS: f64 = 0.001;
/// The same for a named class, as its chance relative to the ground it fits best.
const NAME_DIFFERS: f64 = 0.10;
const NAME_CONTRADICTS: f64 = 0.02;

/// How badly a witness disagrees.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// Further off than chance makes likely: worth a second look.
    Differs,
    /// Further off than chance allows: one of them is wrong, or they are not the same ground.
    Contradicts,
}

/// One witness that the others do not bear out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Disagreement {
    /// Identity of the witness.
    pub id: String,
    /// Its label.
    pub label: String,
    /// How badly.
    pub level: Level,
    /// Standardised distance from what the others predict (Mahalanobis); absent for a named class.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distance: Option<f64>,
    /// Chance of a reading as far off as this, or for a named class the chance of that name
    /// relative to the ground it fits best.
    pub chance: f64,
    /// A sentence for the grower.
    pub sentence: String,
}

/// Every disagreement among the witnesses of a model, worst first. One witness has nobody to
/// disagree with.
pub(crate) fn all(model: &Model, witnesses: &[&Witness], seed: u64) -> Vec<Disagreement> {
    if witnesses.len() < 2 {
        return Vec::new();
    }
    let mut found: Vec<Disagreement> = witnesses
        .iter()
        .enumerate()
        .filter_map(|(place, witness)| {
            let rest = model.without(place);
            let others: Vec<&str> = witnesses
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != place)
                .map(|(_, other)| other.label.as_str())
                .collect();
            against(witness, &model.heard[place], &rest, &others, seed ^ (0x9e37_79b9 + place as u64))
        })
        .collect();
    found.sort_by(|a, b| {
        b.level.cmp(&a.level).then(a.chance.total_cmp(&b.chance)).then_with(|| a.label.cmp(&b.label))
    });
    found
}

fn against(
    witness: &Witness,
    heard: &Heard,
    rest: &Model,
    others: &[&str],
    seed: u64,
) -> Option<Disagreement> {
    let view = sampling::sample(rest, DRAWS, seed);
    let (distance, chance, level, sentence) = match (heard, &witness.account) {
        (Heard::Measured(reading), _) => {
            let q = squared_distance(reading, &view)?;
            let chance = libm::exp(-0.5 * q);
            let level = level_of(chance, DIFFERS, CONTRADICTS)?;
            let said = ilr::from_ilr(Point::new(reading.centre[0], reading.centre[1]));
            let (mean, _) = view.moments();
            let rest = ilr::from_ilr(Point::new(mean[0], mean[1]));
            (Some(q.sqrt()), chance, level, measured_sentence(&witness.label, level, said, rest, others))
        }
        (Heard::Named { log_likelihood }, Account::Named { class, .. }) => {
            let each = view.classes.iter().zip(&view.weights);
            let chance: f64 = each.map(|(c, w)| w * libm::exp(log_likelihood[*c as usize])).sum();
            let level = level_of(chance, NAME_DIFFERS, NAME_CONTRADICTS)?;
            (None, chance, level, named_sentence(&witness.label, level, *class, &view, others))
        }
        (Heard::Named { .. }, Account::Measured { .. }) => return None,
    };
    Some(Disagreement {
        id: witness.id.clone(),
        label: witness.label.clone(),
        level,
        distance,
        chance,
        sentence,
    })
}

/// How far a reading stands from the rest's prediction of it.
fn squared_distance(reading: &Measured, view: &sampling::Sample) -> Option<f64> {
    let predicted = |draw: usize| {
        let state = view.state(draw);
        let theta = [state[0], state[1]];
        match reading.shared {
            None => theta,
            Some(place) => {
                let shared = super::state::shared_at(state, place);
                [theta[0] + shared[0], theta[1] + shared[1]]
            }
        }
    };
    let mut mean = [0.0; 2];
    for (draw, weight) in view.weights.iter().enumerate() {
        let at = predicted(draw);
        mean[0] += weight * at[0];
        mean[1] += weight * at[1];
    }
    let mut covariance = inverse(reading.precision)?;
    for (draw, weight) in view.weights.iter().enumerate() {
        let off = minus(predicted(draw), mean);
        for (i, line) in covariance.iter_mut().enumerate() {
            for (j, value) in line.iter_mut().enumerate() {
                *value += weight * off[i] * off[j];
            }
        }
    }
    Some(form(inverse(covariance)?, minus(reading.centre, mean)))
}

fn level_of(chance: f64, differs: f64, contradicts: f64) -> Option<Level> {
    if chance < contradicts {
        Some(Level::Contradicts)
    } else if chance < differs {
        Some(Level::Differs)
    } else {
        None
    }
}

/// "The jar of 3 May says much more clay (38 %) than the other three readings allow (about 19 %)."
fn measured_sentence(
    label: &str,
    level: Level,
    said: Composition,
    rest: Composition,
    others: &[&str],
) -> String {
    let parts =
        [("sand", said.sand, rest.sand), ("silt", said.silt, rest.silt), ("clay", said.clay, rest.clay)];
    let off = |part: &(&str, f64, f64)| (part.1 - part.2).abs();
    let (name, mine, theirs) =
        parts.into_iter().max_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(("clay", said.clay, rest.clay));
    let (allow, much) = match (others, level) {
        ([_], Level::Contradicts) => ("allows", "much "),
        ([_], Level::Differs) => ("allows", ""),
        (_, Level::Contradicts) => ("allow", "much "),
        (_, Level::Differs) => ("allow", ""),
    };
    let way = if mine > theirs { "more" } else { "less" };
    format!(
        "{} says {much}{way} {name} ({mine:.0} %) than {} {allow} (about {theirs:.0} %).",
        capital(label),
        name_of(others)
    )
}

/// "The feel test of 3 May says clay, which does not fit what the jar of 2 May says (most likely loam)."
fn named_sentence(
    label: &str,
    level: Level,
    class: Class,
    view: &sampling::Sample,
    others: &[&str],
) -> String {
    let mut odds = [0.0; 12];
    for (class, weight) in view.classes.iter().zip(&view.weights) {
        odds[*class as usize] += weight;
    }
    let likely = Class::ALL.into_iter().max_by(|a, b| odds[*a as usize].total_cmp(&odds[*b as usize]));
    let fits = if level == Level::Contradicts { "does not fit" } else { "hardly fits" };
    let (say, likely) = (if others.len() == 1 { "says" } else { "say" }, likely.unwrap_or(class));
    format!(
        "{} says {}, which {fits} what {} {say} (most likely {}).",
        capital(label),
        class.name(),
        name_of(others),
        likely.name()
    )
}

fn name_of(others: &[&str]) -> String {
    match others {
        [one] => (*one).to_owned(),
        many => format!("the other {} readings", count_word(many.len())),
    }
}

fn count_word(count: usize) -> String {
    const WORDS: [&str; 11] =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
    WORDS.get(count).map_or_else(|| count.to_string(), |word| (*word).to_owned())
}
