//! The worth of next measurements, as a method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::believe::{Options, believe};
use super::combine::example_evidence;
use super::ensemble::{Beside, Draw, Ensemble};
use super::evidence::{Evidence, SharedEvidence, covariance, witnesses};
use super::witness::SharedError;
use super::worth::{Candidate, Gives, Question, Worth, worth};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;
use crate::texture::feel::Hand;
use crate::water::ensemble::input_of;
use crate::water::soil_water;

crate::quantity! {
    /// What a wrong answer costs, in money.
    pub struct Loss: "loss", "", 0.0 ..= 1000000000.0, example 50.0;
    /// What a measurement costs, in money.
    pub struct Cost: "cost", "", 0.0 ..= 1000000.0, example 25.0;
    /// Hands-on time of a measurement.
    pub struct HandsOn: "hands-on time", "min", 0.0 ..= 100000.0, example 30.0;
    /// What an hour of the grower's time is worth, in money.
    pub struct HourWorth: "worth of an hour", "", 0.0 ..= 10000.0, example 20.0;
}

/// Input of `measurement-worth`. Money is in one currency throughout.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WorthQuestion {
    /// What is known already.
    pub evidence: Vec<Evidence>,
    /// What is still to be decided.
    pub questions: Vec<OpenQuestion>,
    /// What could be measured next.
    pub candidates: Vec<NextMeasurement>,
    /// Worth of an hour of the grower's time.
    pub hour_worth: HourWorth,
}

/// Something still to be decided.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OpenQuestion {
    /// Its name.
    pub name: String,
    /// When the answer is yes.
    pub yes_when: YesWhen,
    /// What is lost by acting on yes when it is no.
    pub loss_if_wrongly_yes: Loss,
    /// What is lost by acting on no when it is yes.
    pub loss_if_wrongly_no: Loss,
}

/// When the answer is yes.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum YesWhen {
    /// The ground is of one of these classes.
    ClassIs(Vec<Class>),
    /// Sand is above this, percent.
    #[serde(rename = "sand_above_percent")]
    SandAbove(f64),
    /// Silt is above this, percent.
    #[serde(rename = "silt_above_percent")]
    SiltAbove(f64),
    /// Clay is above this, percent.
    #[serde(rename = "clay_above_percent")]
    ClayAbove(f64),
    /// Available water is above this, m³/m³; organic matter, stones and packing as in ordinary ground.
    #[serde(rename = "available_water_above_m3_m3")]
    AvailableWaterAbove(f64),
    /// Saturated conductivity is above this, mm/h; the rest as in ordinary ground.
    #[serde(rename = "conductivity_above_mm_h")]
    ConductivityAbove(f64),
}

impl YesWhen {
    fn limit(&self) -> Option<f64> {
        match self {
            Self::ClassIs(_) => None,
            Self::SandAbove(limit)
            | Self::SiltAbove(limit)
            | Self::ClayAbove(limit)
            | Self::AvailableWaterAbove(limit)
            | Self::ConductivityAbove(limit) => Some(*limit),
        }
    }

    fn holds(&self, draw: &Draw) -> bool {
        match self {
            Self::ClassIs(classes) => classes.contains(&draw.class),
            Self::SandAbove(limit) => draw.soil.sand > *limit,
            Self::SiltAbove(limit) => draw.soil.silt > *limit,
            Self::ClayAbove(limit) => draw.soil.clay > *limit,
            Self::AvailableWaterAbove(limit) => {
                soil_water(&input_of(draw)).available.is_some_and(|value| value > *limit)
            }
            Self::ConductivityAbove(limit) => {
                soil_water(&input_of(draw)).saturated_conductivity.is_some_and(|value| value > *limit)
            }
        }
    }
}

/// A measurement that could be made next.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NextMeasurement {
    /// Its name.
    pub name: String,
    /// Fee or material.
    pub cost_money: Cost,
    /// Hands-on time.
    pub time_min: HandsOn,
    /// What it would give.
    pub gives: WouldGive,
}

/// What a measurement would give.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WouldGive {
    /// A composition with an error.
    Measured(WouldMeasure),
    /// A class name by feel.
    Feel(Hand),
}

/// A composition with an error.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WouldMeasure {
    /// Covariance of its own error in ilr coordinates.
    pub ilr_covariance: [[f64; 2]; 2],
    /// An error it shares with others of its kind, which a repeat does not remove.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shared: Option<SharedEvidence>,
}

/// Output of `measurement-worth`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WorthAnswer {
    /// Measurements, best for their cost first.
    pub ranking: Vec<RankedMeasurement>,
}

/// What one measurement may be expected to do.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct RankedMeasurement {
    /// Its name.
    pub name: String,
    /// Expected drop of doubt, in money.
    pub gain: f64,
    /// Doubt before, in money: what acting on the better answer of today may be expected to lose.
    pub doubt_before: f64,
    /// Money plus time.
    pub cost: f64,
    /// Gain less cost; below 0 the measurement is not worth making for these questions alone.
    pub net: f64,
    /// Gain over cost.
    pub gain_per_cost: f64,
    /// Question by question.
    pub questions: Vec<RankedQuestion>,
}

/// What one measurement may be expected to do for one question.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct RankedQuestion {
    /// Its name.
    pub name: String,
    /// Odds of yes today.
    pub odds: f64,
    /// Doubt today, in money.
    pub doubt_before: f64,
    /// Doubt to be expected after, in money.
    pub doubt_after: f64,
    /// Chance that the odds will then be beyond 95 % one way or the other.
    pub chance_settled: f64,
}

impl From<Worth> for RankedMeasurement {
    fn from(worth: Worth) -> Self {
        Self {
            name: worth.name,
            gain: worth.gain,
            doubt_before: worth.doubt_before,
            cost: worth.cost,
            net: worth.gain - worth.cost,
            gain_per_cost: worth.gain_per_cost,
            questions: worth
                .questions
                .into_iter()
                .map(|one| RankedQuestion {
                    name: one.name,
                    odds: one.odds,
                    doubt_before: one.before,
                    doubt_after: one.after,
                    chance_settled: one.chance_settled,
                })
                .collect(),
        }
    }
}

/// Worth of next measurements.
pub struct MeasurementWorth;

/// Most questions and most candidates accepted at once.
const MOST: usize = 50;

fn counted(field: &str, count: usize) -> Result<(), Refusal> {
    if (1..=MOST).contains(&count) {
        return Ok(());
    }
    Err(Refusal::new(field, format!("{field} must be 1 to {MOST}, but {count} were given"))
        .given(count)
        .accepted(format!("1 to {MOST}"))
        .example("1"))
}

fn candidate(place: usize, next: &NextMeasurement) -> Result<Candidate, Refusal> {
    let gives = match &next.gives {
        WouldGive::Feel(hand) => Gives::named_by(*hand),
        WouldGive::Measured(measured) => {
            let inside = |refusal: Refusal| refusal.inside(&format!("candidates[{place}].gives.measured"));
            let shared = match &measured.shared {
                None => None,
                Some(shared) => {
                    let covariance =
                        covariance("shared.ilr_covariance", shared.ilr_covariance).map_err(inside)?;
                    Some(SharedError { name: shared.name.clone(), covariance })
                }
            };
            let covariance = covariance("ilr_covariance", measured.ilr_covariance).map_err(inside)?;
            Gives::Measured { covariance, shared }
        }
    };
    Ok(Candidate {
        name: next.name.clone(),
        cost_money: next.cost_money.get(),
        minutes: next.time_min.get(),
        gives,
    })
}

impl Method for MeasurementWorth {
    type Input = WorthQuestion;
    type Output = WorthAnswer;

    const CARD: Card = Card {
        name: "measurement-worth",
        title: "Which measurement would settle it",
        topic: Topic::Belief,
        computes: "Ranks the measurements that could be made next by how much doubt each may be expected to remove from \
                   what is still to be decided, for its cost in money and time.",
        validity: &[
            "Doubt is the loss to be expected from acting on the better answer of today; if no result could change the answer, a measurement is worth nothing here.",
            "A ranking by simulation: gains within a tenth of each other are alike.",
            "It must never overrule a test that law or safety asks for.",
        ],
        sources: &[Cite::new("RaiffaSchlaifer1961", "preposterior analysis")],
        cautions: &["Tests for lead, manure and posts are not to be skipped because they look dear here."],
    };

    fn example() -> Self::Input {
        let next = |name: &str, cost: f64, minutes: f64, gives| NextMeasurement {
            name: name.into(),
            cost_money: Cost::literal(cost),
            time_min: HandsOn::literal(minutes),
            gives,
        };
        let packing =
            SharedEvidence { name: "jar packing".into(), ilr_covariance: [[0.09, 0.0], [0.0, 0.09]] };
        WorthQuestion {
            evidence: example_evidence().into_iter().take(1).collect(),
            questions: vec![OpenQuestion {
                name: "clay above 20 %".into(),
                yes_when: YesWhen::ClayAbove(20.0),
                loss_if_wrongly_yes: Loss::literal(50.0),
                loss_if_wrongly_no: Loss::literal(80.0),
            }],
            candidates: vec![
                next(
                    "laboratory",
                    25.0,
                    30.0,
                    WouldGive::Measured(WouldMeasure {
                        ilr_covariance: [[0.01, 0.0], [0.0, 0.02]],
                        shared: None,
                    }),
                ),
                next(
                    "jar again",
                    0.0,
                    30.0,
                    WouldGive::Measured(WouldMeasure {
                        ilr_covariance: [[0.02, 0.0], [0.0, 0.03]],
                        shared: Some(packing),
                    }),
                ),
                next("feel", 0.0, 10.0, WouldGive::Feel(Hand::Practised)),
            ],
            hour_worth: HourWorth::literal(20.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        counted("questions", input.questions.len())?;
        counted("candidates", input.candidates.len())?;
        for (place, question) in input.questions.iter().enumerate() {
            if question.yes_when.limit().is_some_and(|limit| !limit.is_finite()) {
                return Err(Refusal::new(
                    format!("questions[{place}].yes_when"),
                    "the limit must be a number",
                ));
            }
        }
        let (witnesses, mut notes) = witnesses(&input.evidence)?;
        let candidates = input
            .candidates
            .iter()
            .enumerate()
            .map(|(place, next)| candidate(place, next))
            .collect::<Result<Vec<_>, _>>()?;
        let belief = believe(&witnesses, &Options::default());
        let ensemble = Ensemble::of(&belief, &Beside::default());
        let questions: Vec<Question> = input
            .questions
            .iter()
            .map(|question| Question {
                name: question.name.clone(),
                truth: ensemble.draws.iter().map(|draw| question.yes_when.holds(draw)).collect(),
                loss_if_wrongly_yes: question.loss_if_wrongly_yes.get(),
                loss_if_wrongly_no: question.loss_if_wrongly_no.get(),
            })
            .collect();
        let list = worth(&belief, &questions, &candidates, input.hour_worth.get());
        let ranking: Vec<RankedMeasurement> = list.into_iter().map(RankedMeasurement::from).collect();
        if ranking.iter().all(|one| one.net < 0.0) {
            notes.push(Note::new(
                NoteKind::Method,
                "None of these is worth its cost for these questions alone: act on the better answer of today.",
            ));
        }
        Ok(Answer::with_notes(WorthAnswer { ranking }, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let mut working = Working::new();
        if let Some(first) = answer.value.ranking.first() {
            for question in &first.questions {
                working = working
                    .step(
                        format!("doubt today: {}", question.name),
                        "the smaller of: odds of no × loss of a wrong yes; odds of yes × loss of a wrong no",
                        format!("odds of yes {:.3}", question.odds),
                        format!("{:.2}", question.doubt_before),
                    )
                    .cite(Self::CARD.sources[0]);
            }
        }
        for one in &answer.value.ranking {
            working = working
                .step(
                    format!("worth of {}", one.name),
                    "results simulated from the belief; gain = doubt today − mean doubt after; ranked by gain / cost",
                    format!("gain {:.2}, cost {:.2}", one.gain, one.cost),
                    format!("{:.3} per unit of cost", one.gain_per_cost),
                )
                .cite(Self::CARD.sources[0]);
        }
        working
    }
}
