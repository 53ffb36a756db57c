//! Which cheap measurement would settle the open findings best for its cost.
//!
//! Errors, prices and minutes of the candidates are our judgement of ordinary home and laboratory
//! work in small quantities; the farm's own worth of an hour counts.

use std::sync::LazyLock;

use ground::belief::worth::{Candidate, Gives, Question, Worth, worth};
use ground::belief::{Account, Belief, SharedError};
use ground::kit::Bounded;
use ground::texture::composition::{ClayPercent, SandPercent, SiltPercent};
use ground::texture::feel::Hand;
use ground::texture::jar::assess::SHARED_ERROR;
use ground::texture::jar::reading::{JarHeight, JarTemperature, SettledFor};
use ground::texture::jar::{
    self, Boundary, Clarity, Dispersant, JarReading, JarShape, Marks, Packing, TimedMark,
};
use ground::texture::lab::{self, LabProcedure, LabTexture, SiltLimit};
use ground::texture::measured::PercentError;
use schemars::JsonSchema;
use serde::Serialize;

use crate::finding::{Finding, Firmness};
use crate::sampling;

/// What an hour is worth where the farm does not say, in its own money.
pub const HOUR_WORTH: f64 = 15.0;
/// What a wrong answer to an ordinary question costs, in the same money.
const STAKE: f64 = 50.0;
/// Cores mixed into the bag for the next measurement: what the sampling advice asks for.
const CORES: f64 = 12.0;
/// Chance of settling a finding below which a measurement is not offered for it.
const WORTH_OFFERING: f64 = 0.05;

/// A measurement that could be made next.
struct Kind {
    key: &'static str,
    name: &'static str,
    how: &'static str,
    cost_money: f64,
    minutes: f64,
}

const FEEL: Kind = Kind {
    key: "feel",
    name: "a feel test",
    how: "Take a bag of a dozen cores and do the feel test three times.",
    cost_money: 0.0,
    minutes: 20.0,
};
const JAR: Kind = Kind {
    key: "jar",
    name: "a jar test",
    how: "Mix a dozen cores, settle a jar with dispersant, read it after two days.",
    cost_money: 1.0,
    minutes: 35.0,
};
const TIMED_JAR: Kind = Kind {
    key: "timed-jar",
    name: "a jar with timed marks",
    how: "Mix a dozen cores, settle a jar with dispersant and mark it at the times the app gives.",
    cost_money: 1.0,
    minutes: 45.0,
};
const KITCHEN_SCALE: Kind = Kind {
    key: "kitchen-scale",
    name: "sieve, settle and weigh",
    how: "Wash a weighed bag of a dozen cores through a fine sieve, settle the silt, dry and weigh both.",
    cost_money: 3.0,
    minutes: 90.0,
};
const HYDROMETER: Kind = Kind {
    key: "hydrometer",
    name: "two hydrometer readings",
    how: "Disperse a weighed bag of a dozen cores in a litre and read the hydrometer twice.",
    cost_money: 4.0,
    minutes: 75.0,
};
const LABORATORY: Kind = Kind {
    key: "laboratory",
    name: "a laboratory particle-size analysis",
    how: "Send a bag of a dozen cores to a laboratory and ask for sand, silt and clay.",
    cost_money: 30.0,
    minutes: 35.0,
};
const KINDS: [&Kind; 6] = [&FEEL, &JAR, &TIMED_JAR, &KITCHEN_SCALE, &HYDROMETER, &LABORATORY];

/// The measurement that would settle one finding best for its cost.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Settles {
    /// Key of the measurement.
    pub key: &'static str,
    /// What it is called.
    pub measurement: &'static str,
    /// How it is done, in a sentence.
    pub how: &'static str,
    /// Chance that the finding is firm, either way, after it.
    pub chance_settled: f64,
    /// Fee and material, in the farm's money.
    pub cost_money: f64,
    /// Hands-on time.
    pub minutes: f64,
}

/// A measurement with what it may be expected to do for all open findings together.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Measurement {
    /// Key of the measurement.
    pub key: &'static str,
    /// What it is called.
    pub name: &'static str,
    /// How it is done, in a sentence.
    pub how: &'static str,
    /// Expected saving by deciding better, in the farm's money.
    pub gain: f64,
    /// Fee, material and time, in the farm's money.
    pub cost: f64,
    /// Fee and material.
    pub cost_money: f64,
    /// Hands-on time.
    pub minutes: f64,
    /// Gain over cost, by which the list is ranked.
    pub gain_per_cost: f64,
    /// Findings it may settle, with the chance of each, most likely first.
    pub may_settle: Vec<MaySettle>,
}

/// A finding that a measurement may settle.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MaySettle {
    /// Identity of the finding.
    pub finding: &'static str,
    /// Its title.
    pub title: &'static str,
    /// Chance that it is firm, either way, after the measurement.
    pub chance: f64,
}

/// Ranks the candidates for the findings that are not firm, and tells each finding its best one.
pub(crate) fn rank(
    belief: &Belief,
    findings: &mut [Finding],
    packing: &Packing,
    hour_worth: f64,
) -> Vec<Measurement> {
    let open: Vec<usize> = (0..findings.len())
        .filter(|at| findings[*at].firmness != Firmness::Firm && findings[*at].odds.is_some())
        .collect();
    if open.is_empty() {
        return Vec::new();
    }
    let questions: Vec<Question> = open
        .iter()
        .map(|at| {
            let finding = &mut findings[*at];
            let holds = std::mem::take(&mut finding.holds);
            Question::new(finding.id, holds, STAKE * finding.stake)
        })
        .collect();
    let ranked = worth(belief, &questions, &candidates(belief, packing), hour_worth);
    for at in open {
        findings[at].settles = best_for(findings[at].id, &ranked);
    }
    ranked.iter().filter_map(|one| measurement(one, findings)).collect()
}

fn candidates(belief: &Belief, packing: &Packing) -> Vec<Candidate> {
    KINDS
        .iter()
        .map(|kind| Candidate {
            name: kind.key.to_owned(),
            cost_money: kind.cost_money,
            minutes: kind.minutes,
            gives: gives(kind.key, belief, packing),
        })
        .collect()
}

/// What a measurement gives on ground like this one's middle.
fn gives(key: &str, belief: &Belief, packing: &Packing) -> Gives {
    let points = |error: PercentError| {
        let (_, c) = error.in_ilr(belief.centre);
        [[c[(0, 0)], c[(0, 1)]], [c[(1, 0)], c[(1, 1)]]]
    };
    let own = match key {
        "feel" => return Gives::named_by(Hand::New),
        "jar" => JARS[0],
        "timed-jar" => JARS[1],
        "kitchen-scale" => points(PercentError::none().and_sand_for_silt(2.5).and_silt_for_clay(3.5)),
        "hydrometer" => points(PercentError::none().and_sand_for_silt(2.5).and_silt_for_clay(2.5)),
        _ => laboratory(belief).unwrap_or_else(|| points(PercentError::none().and(2.0, 2.0))),
    };
    let centre = belief_centre(belief);
    let shared = matches!(key, "jar" | "timed-jar")
        .then(|| SharedError { name: SHARED_ERROR.to_owned(), covariance: packing.covariance });
    Gives::Measured { covariance: plus(own, sampling::scatter([centre.x, centre.y], CORES)), shared }
}

/// Own errors of a usual jar of loam, read after two days only and with timed marks, as the jar test
/// itself finds them.
static JARS: LazyLock<[[[f64; 2]; 2]; 2]> = LazyLock::new(|| {
    let at = |mm: f64| Boundary::At { mm: JarHeight::literal(mm) };
    let mark = |after_s: f64, mm: f64| TimedMark { after_s: SettledFor::literal(after_s), top: at(mm) };
    let layers = Marks::Thicknesses { sand: at(20.0), silt: at(21.0), clay: at(25.0) };
    let timed = Marks::Timed { marks: vec![mark(60.0, 20.0), mark(7_200.0, 41.0), mark(172_800.0, 66.0)] };
    [layers, timed].map(|marks| {
        let reading = JarReading {
            marks,
            ruler_step_mm: None,
            shape: JarShape::Straight,
            water_height_mm: Some(JarHeight::literal(170.0)),
            water_temperature_c: Some(JarTemperature::literal(20.0)),
            dispersant: Dispersant::DishwasherPowder,
            water_after_a_day: Clarity::Cloudy,
            floating_organic_mm: None,
        };
        match jar::assess(&reading, &Packing::published()) {
            Ok(finding) => finding.ilr_covariance,
            // Compiled in, and a test reads both.
            Err(refusal) => unreachable!("{refusal}"),
        }
    })
});

fn belief_centre(belief: &Belief) -> ground::belief::ilr::Point {
    ground::belief::ilr::to_ilr(belief.centre)
}

/// The error of a laboratory is the one its results are weighed with.
fn laboratory(belief: &Belief) -> Option<[[f64; 2]; 2]> {
    let soil = belief.centre;
    let report = LabTexture {
        sand_percent: SandPercent::new(soil.sand).ok()?,
        silt_percent: SiltPercent::new(soil.silt).ok()?,
        clay_percent: ClayPercent::new(soil.clay).ok()?,
        silt_limit: SiltLimit::Usda50,
        procedure: LabProcedure::NotStated,
    };
    match lab::witness(&report, "", "").ok()?.account {
        Account::Measured { covariance, .. } => Some(covariance),
        Account::Named { .. } => None,
    }
}

fn plus(a: [[f64; 2]; 2], b: [[f64; 2]; 2]) -> [[f64; 2]; 2] {
    [[a[0][0] + b[0][0], a[0][1] + b[0][1]], [a[1][0] + b[1][0], a[1][1] + b[1][1]]]
}

fn kind(key: &str) -> Option<&'static Kind> {
    KINDS.into_iter().find(|kind| kind.key == key)
}

/// The candidate that removes most doubt of one finding for its cost.
fn best_for(finding: &str, ranked: &[Worth]) -> Option<Settles> {
    let (worth, question) = ranked
        .iter()
        .filter_map(|worth| {
            let question = worth.questions.iter().find(|question| question.name == finding)?;
            (question.chance_settled >= WORTH_OFFERING).then_some((worth, question))
        })
        .max_by(|(a, of_a), (b, of_b)| {
            let value = |worth: &Worth, drop: f64| drop / worth.cost;
            value(a, of_a.before - of_a.after).total_cmp(&value(b, of_b.before - of_b.after))
        })?;
    let kind = kind(&worth.name)?;
    Some(Settles {
        key: kind.key,
        measurement: kind.name,
        how: kind.how,
        chance_settled: question.chance_settled,
        cost_money: kind.cost_money,
        minutes: kind.minutes,
    })
}

fn measurement(worth: &Worth, findings: &[Finding]) -> Option<Measurement> {
    let kind = kind(&worth.name)?;
    let mut may_settle: Vec<MaySettle> = worth
        .questions
        .iter()
        .filter(|question| question.chance_settled >= WORTH_OFFERING)
        .filter_map(|question| {
            let finding = findings.iter().find(|finding| finding.id == question.name)?;
            Some(MaySettle { finding: finding.id, title: finding.title, chance: question.chance_settled })
        })
        .collect();
    may_settle.sort_by(|a, b| b.chance.total_cmp(&a.chance).then(a.finding.cmp(b.finding)));
    Some(Measurement {
        key: kind.key,
        name: kind.name,
        how: kind.how,
        gain: worth.gain,
        cost: worth.cost,
        cost_money: kind.cost_money,
        minutes: kind.minutes,
        gain_per_cost: worth.gain_per_cost,
        may_settle,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn timed_marks_leave_less_error_than_one_look_after_two_days() {
        let trace = |c: [[f64; 2]; 2]| c[0][0] + c[1][1];
        assert!(trace(JARS[1]) < trace(JARS[0]), "{:?}", *JARS);
    }
}
