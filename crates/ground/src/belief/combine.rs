//! Combining evidence, as a method.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::believe::{BeliefSummary, believe};
use super::coordinates::Parts;
use super::evidence::{
    Evidence, HowToCombine, MeasuredEvidence, NamedEvidence, PriorQuestion, Says, SharedEvidence, witnesses,
};
use super::ilr::to_ilr;
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

/// Input of `combine-evidence`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CombineQuestion {
    /// What was found, in any order.
    pub evidence: Vec<Evidence>,
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

impl CombineQuestion {
    fn how(&self) -> HowToCombine {
        HowToCombine {
            prior: self.prior.clone(),
            tail_degrees_of_freedom: self.tail_degrees_of_freedom,
            normal_tails: self.normal_tails,
            draws: self.draws,
        }
    }
}

/// Combining evidence.
pub struct CombineEvidence;

/// Evidence of the handbook's example: a jar, a laboratory and a feel test.
pub(super) fn example_evidence() -> Vec<Evidence> {
    let measured = |label: &str, found: Parts, ilr_covariance, shared| Evidence {
        label: Some(label.to_owned()),
        says: Says::Measured(MeasuredEvidence { found, ilr_covariance, shared }),
    };
    let packing = SharedEvidence { name: "jar packing".into(), ilr_covariance: [[0.09, 0.0], [0.0, 0.09]] };
    vec![
        measured("the jar", Parts::literal(42.0, 37.0, 21.0), [[0.02, 0.0], [0.0, 0.03]], Some(packing)),
        measured("the lab report", Parts::literal(50.0, 30.0, 20.0), [[0.01, 0.0], [0.0, 0.02]], None),
        Evidence {
            label: Some("the feel test".into()),
            says: Says::Named(NamedEvidence {
                class: Class::Loam,
                likelihood: BTreeMap::from([("loam".into(), 0.5), ("sandy loam".into(), 0.2)]),
                elsewhere: 0.03,
            }),
        },
    ]
}

impl Method for CombineEvidence {
    type Input = CombineQuestion;
    type Output = BeliefSummary;

    const CARD: Card = Card {
        name: "combine-evidence",
        title: "What several tests say together",
        topic: Topic::Belief,
        computes: "Combines jars, feel tests, hydrometers and laboratory reports of one plot into the odds of each \
                   texture class and a range for sand, silt and clay, and says which of them do not agree.",
        validity: &[
            "Errors are taken as Student's t with 5 degrees of freedom unless normal ones are asked for: readings that contradict each other then widen the answer instead of meeting half-way (our judgement).",
            "An error that readings of one kind share, such as the packing of jar layers, is not averaged away by repeating the test.",
            "With no evidence the answer is what was thought before: almost any ground (our judgement).",
            "The answer is a weighted sample: with 4,000 draws an odds figure is good to about one part in a hundred. The same evidence always gives the same answer.",
        ],
        sources: &[
            Cite::new("Egozcue2003", "isometric log-ratio"),
            Cite::new("OwenZhou2000", "mixture importance sampling"),
            Cite::new("Cappe2008", "adaptive mixture"),
            Cite::new("BoxMuller1958", "normal deviates"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        CombineQuestion {
            evidence: example_evidence(),
            prior: None,
            tail_degrees_of_freedom: None,
            normal_tails: false,
            draws: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (witnesses, mut notes) = witnesses(&input.evidence)?;
        let belief = believe(&witnesses, &input.how().options()?);
        if belief.knows_nothing() {
            notes.insert(
                0,
                Note::new(
                    NoteKind::Method,
                    "Nothing was found out yet: these odds are what was thought before, almost any ground.",
                ),
            );
        }
        notes
            .extend(belief.disagreements.iter().map(|one| Note::new(NoteKind::Method, one.sentence.clone())));
        if belief.effective_draws < 400.0 {
            notes.push(Note::new(
                NoteKind::Method,
                format!(
                    "The sample is worth only {:.0} equal draws, so odds are rough; ask for more draws.",
                    belief.effective_draws
                ),
            ));
        }
        Ok(Answer::with_notes(belief.summary(), notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let mut working = Working::new().step(
            "what was thought before",
            "a normal law in ilr coordinates",
            match &input.prior {
                None => {
                    "centre 40 % sand, 40 % silt, 20 % clay; covariance 1 each way (our judgement)".to_owned()
                }
                Some(prior) => format!("as given, covariance {:?}", prior.ilr_covariance),
            },
            "prior",
        );
        for (place, one) in input.evidence.iter().enumerate() {
            let label = one.label.clone().unwrap_or_else(|| format!("reading {}", place + 1));
            working = match &one.says {
                Says::Measured(measured) => {
                    let at = measured.found.composition().map(|(soil, _)| to_ilr(soil)).unwrap_or_default();
                    let shared = measured.shared.as_ref().map_or(String::new(), |shared| {
                        format!(
                            ", and shares the error '{}' of covariance {:?}",
                            shared.name, shared.ilr_covariance
                        )
                    });
                    working
                        .step(
                            label,
                            "likelihood: (1 + q/ν)^−((ν + 2)/2), or exp(−q/2) for normal tails; q = squared distance over its covariance",
                            format!("covariance {:?}{shared}", measured.ilr_covariance),
                            format!("stands at ({:.4}, {:.4})", at.x, at.y),
                        )
                        .cite(Cite::new("Egozcue2003", "isometric log-ratio"))
                }
                Says::Named(named) => working.step(
                    label,
                    "likelihood: the chance of that name given the class of each draw",
                    format!("{:?}, elsewhere {}", named.likelihood, named.elsewhere),
                    named.class.name(),
                ),
            };
        }
        let value = &answer.value;
        working
            .step(
                "draws and their weights",
                "weight = prior × likelihoods / density of the mixture the draws came from",
                format!("{} draws from seed {}", value.draws, value.seed),
                format!("worth {:.0} equal draws", value.effective_draws),
            )
            .cite(Cite::new("OwenZhou2000", "mixture importance sampling"))
            .step(
                "the odds",
                "weight of the draws in each class",
                format!(
                    "centre sand {:.1} %, silt {:.1} %, clay {:.1} %",
                    value.centre_percent.sand, value.centre_percent.silt, value.centre_percent.clay
                ),
                value
                    .class_odds
                    .iter()
                    .take(4)
                    .map(|one| format!("{} {:.0} %", one.class.name(), 100.0 * one.odds))
                    .collect::<Vec<_>>()
                    .join(", "),
            )
    }
}
