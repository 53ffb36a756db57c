//! Evidence as it is typed or sent, for the methods of this topic.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::believe::{DRAWS, Options, Prior, TAILS};
use super::coordinates::{Parts, zero_note};
use super::ilr::to_ilr;
use super::state::inverse;
use super::witness::{Account, SharedError, Witness};
use crate::kit::{Note, Refusal};
use crate::texture::Class;

/// One piece of evidence.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Evidence {
    /// What to call it: "the jar of 3 May".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// What it says.
    pub says: Says,
}

/// What a piece of evidence says.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Says {
    /// A composition with its error.
    Measured(MeasuredEvidence),
    /// A class name.
    Named(NamedEvidence),
}

/// A measured composition.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeasuredEvidence {
    /// What was found.
    pub found: Parts,
    /// Covariance of its own error in ilr coordinates.
    pub ilr_covariance: [[f64; 2]; 2],
    /// An error it shares with others of its kind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shared: Option<SharedEvidence>,
}

/// An error shared by several readings.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SharedEvidence {
    /// Readings with equal names share one error.
    pub name: String,
    /// Its covariance in ilr coordinates.
    pub ilr_covariance: [[f64; 2]; 2],
}

/// A named class.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NamedEvidence {
    /// The class that was named.
    pub class: Class,
    /// Chance of that name given each true class, by class name.
    pub likelihood: BTreeMap<String, f64>,
    /// The same for every class not listed; 0 where nothing is said.
    #[serde(default)]
    pub elsewhere: f64,
}

/// What was thought before any evidence.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PriorQuestion {
    /// Its centre.
    pub centre: Parts,
    /// Its covariance in ilr coordinates.
    pub ilr_covariance: [[f64; 2]; 2],
}

/// How to combine.
#[derive(Debug, Clone, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HowToCombine {
    /// What was thought before; 40 % sand, 40 % silt, 20 % clay with unit covariance where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub prior: Option<PriorQuestion>,
    /// Degrees of freedom of the errors, 3 to 100; 5 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tail_degrees_of_freedom: Option<u32>,
    /// Normal errors, under which contradiction does not widen the belief.
    #[serde(default)]
    pub normal_tails: bool,
    /// Size of the ensemble, 200 to 200,000; 4,000 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub draws: Option<u32>,
}

/// Most pieces of evidence accepted at once.
const MOST: usize = 100;

/// The witnesses of a list of evidence, with the notes of adjusting them.
pub(super) fn witnesses(evidence: &[Evidence]) -> Result<(Vec<Witness>, Vec<Note>), Refusal> {
    if evidence.len() > MOST {
        return Err(Refusal::new(
            "evidence",
            format!("at most {MOST} pieces of evidence can be combined at once"),
        )
        .given(evidence.len())
        .accepted(format!("0 to {MOST}"))
        .example("2"));
    }
    let mut notes = Vec::new();
    let mut witnesses = Vec::with_capacity(evidence.len());
    for (place, one) in evidence.iter().enumerate() {
        let account = account(&one.says, &mut notes)
            .map_err(|refusal| refusal.inside(&format!("evidence[{place}].says")))?;
        let id = (place + 1).to_string();
        let label = one.label.clone().unwrap_or_else(|| format!("reading {id}"));
        witnesses.push(Witness { id, label, account });
    }
    Ok((witnesses, notes))
}

fn account(says: &Says, notes: &mut Vec<Note>) -> Result<Account, Refusal> {
    match says {
        Says::Measured(measured) => {
            let inside = |refusal: Refusal| refusal.inside("measured");
            let (soil, note) = measured.found.composition().map_err(|r| inside(r.inside("found")))?;
            for note in zero_note(soil).into_iter().chain(note) {
                if !notes.contains(&note) {
                    notes.push(note);
                }
            }
            let at = to_ilr(soil);
            let shared = measured
                .shared
                .as_ref()
                .map(|shared| {
                    covariance("shared.ilr_covariance", shared.ilr_covariance)
                        .map(|covariance| SharedError { name: shared.name.clone(), covariance })
                })
                .transpose()
                .map_err(inside)?;
            let own = covariance("ilr_covariance", measured.ilr_covariance).map_err(inside)?;
            Ok(Account::Measured { centre: [at.x, at.y], covariance: own, shared })
        }
        Says::Named(named) => {
            let mut likelihood = [chance("elsewhere", named.elsewhere)?; 12];
            for (name, value) in &named.likelihood {
                let field = format!("likelihood.{name}");
                let Some(class) = Class::ALL.into_iter().find(|class| class.name() == name) else {
                    return Err(Refusal::new(
                        format!("named.{field}"),
                        format!("{name} is not a texture class"),
                    )
                    .given(name)
                    .accepted(Class::ALL.map(Class::name).join(", "))
                    .example("sandy loam"));
                };
                likelihood[class as usize] = chance(&field, *value)?;
            }
            if likelihood.iter().all(|value| *value <= 0.0) {
                return Err(Refusal::new("named.likelihood", "no class is given any chance")
                    .given("0 for every class")
                    .accepted("a chance above 0 for at least one class")
                    .example("sandy loam 0.5"));
            }
            Ok(Account::Named { class: named.class, likelihood })
        }
    }
}

fn chance(field: &str, value: f64) -> Result<f64, Refusal> {
    if (0.0..=1.0).contains(&value) {
        return Ok(value);
    }
    Err(Refusal::new(format!("named.{field}"), format!("a chance must be 0 to 1, but {value} was given"))
        .given(value)
        .accepted("0 to 1")
        .example("0.2"))
}

/// Widest and narrowest variance of an error in ilr coordinates that makes sense.
const VARIANCES: std::ops::RangeInclusive<f64> = 1e-8..=100.0;

/// A covariance that is symmetric and positive definite.
pub(super) fn covariance(field: &str, given: [[f64; 2]; 2]) -> Result<[[f64; 2]; 2], Refusal> {
    let sized = [given[0][0], given[1][1]].iter().all(|variance| VARIANCES.contains(variance));
    if sized && inverse(given).is_some() {
        return Ok(given);
    }
    Err(Refusal::new(
        field,
        "a covariance must be symmetric, with variances above 0 and a correlation between -1 and 1",
    )
    .given(format!("{given:?}"))
    .accepted("[[variance, covariance], [covariance, variance]], variances 0.00000001 to 100")
    .example("[[0.09, 0], [0, 0.09]]"))
}

impl HowToCombine {
    /// The options.
    pub(super) fn options(&self) -> Result<Options, Refusal> {
        let tails = match (self.normal_tails, self.tail_degrees_of_freedom) {
            (true, Some(given)) => {
                return Err(Refusal::new(
                    "tail_degrees_of_freedom",
                    "errors are either normal or have degrees of freedom, and both were given",
                )
                .given(given)
                .accepted("normal_tails true without tail_degrees_of_freedom, or the other way round")
                .example("5"));
            }
            (true, None) => None,
            (false, None) => Some(TAILS),
            (false, Some(given)) => Some(whole("tail_degrees_of_freedom", given, 3, 100, TAILS)?),
        };
        let draws = match self.draws {
            None => DRAWS,
            Some(given) => whole("draws", given, 200, 200_000, 4000)? as usize,
        };
        let prior = match &self.prior {
            None => Prior::default(),
            Some(prior) => {
                let (soil, _) = prior.centre.composition().map_err(|r| r.inside("prior.centre"))?;
                let at = to_ilr(soil);
                let covariance = covariance("prior.ilr_covariance", prior.ilr_covariance)?;
                Prior { centre: [at.x, at.y], covariance }
            }
        };
        Ok(Options { draws, prior, tail_degrees_of_freedom: tails, compare_witnesses: true })
    }
}

fn whole(field: &str, given: u32, least: u32, most: u32, example: u32) -> Result<u32, Refusal> {
    if (least..=most).contains(&given) {
        return Ok(given);
    }
    Err(Refusal::new(field, format!("{field} must be {least} to {most}, but {given} was given"))
        .given(given)
        .accepted(format!("{least} to {most}"))
        .example(example))
}
