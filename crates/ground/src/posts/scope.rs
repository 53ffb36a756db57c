//! When no number may be given for a post, and why.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::soil_class::Layer;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::structure::slope_steepness::SlopePercent;

/// Steepest slope that the equations are used on, percent.
pub const STEEPEST_PERCENT: f64 = 10.0;

/// Why a post is left to others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum OutOfScope {
    /// Tilled ground, fill or peat where the post must hold.
    NoBearingGround,
    /// A slope steeper than 10 %.
    SteepSlope,
    /// Water at the surface.
    WaterAtTheSurface,
    /// A retaining wall.
    RetainingWall,
    /// A tank, a mast, or solar panels higher than 3 m.
    TallOrHeavy,
    /// A building that people live in or visit.
    PeopleInside,
    /// Its fall could hit people, a road or a power line.
    CouldHitSomeone,
}

impl OutOfScope {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::NoBearingGround => {
                "tilled ground, fill and peat hold no post that can be reckoned: start below them, or ask an engineer"
            }
            Self::SteepSlope => {
                "on a slope of more than 10 % a post has less ground in front of it than the equations count on"
            }
            Self::WaterAtTheSurface => {
                "with water at the surface the ground has no strength that can be reckoned"
            }
            Self::RetainingWall => "a retaining wall carries earth and water, which needs an engineer",
            Self::TallOrHeavy => "tanks, masts and high solar panels need an engineer",
            Self::PeopleInside => "a building with people in it needs a permit and an engineer",
            Self::CouldHitSomeone => {
                "where its fall could hit people, a road or a power line an engineer must answer for it"
            }
        }
    }
}

/// Input of `post-scope`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ScopeInput {
    /// What kind of layer stands at a third of the depth and at the foot.
    #[serde(default)]
    pub layer: Layer,
    /// Slope of the ground.
    pub slope_percent: SlopePercent,
    /// Water stands at the surface at some time of the year.
    #[serde(default)]
    pub water_at_the_surface: bool,
    /// It is part of a retaining wall.
    #[serde(default)]
    pub retaining_wall: bool,
    /// It carries a tank, a mast, or solar panels higher than 3 m.
    #[serde(default)]
    pub tall_or_heavy: bool,
    /// People live in the building or the public visits it.
    #[serde(default)]
    pub people_inside: bool,
    /// Its fall could hit people, a road or a power line.
    #[serde(default)]
    pub could_hit_someone: bool,
}

impl ScopeInput {
    /// Every reason to give no number.
    #[must_use]
    pub fn reasons(&self) -> Vec<OutOfScope> {
        [
            (self.layer != Layer::Undisturbed, OutOfScope::NoBearingGround),
            (self.slope_percent.get() > STEEPEST_PERCENT, OutOfScope::SteepSlope),
            (self.water_at_the_surface, OutOfScope::WaterAtTheSurface),
            (self.retaining_wall, OutOfScope::RetainingWall),
            (self.tall_or_heavy, OutOfScope::TallOrHeavy),
            (self.people_inside, OutOfScope::PeopleInside),
            (self.could_hit_someone, OutOfScope::CouldHitSomeone),
        ]
        .into_iter()
        .filter_map(|(holds, reason)| holds.then_some(reason))
        .collect()
    }
}

/// Output of `post-scope`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ScopeOutput {
    /// A number may be given.
    pub in_scope: bool,
    /// Why not.
    pub reasons: Vec<OutOfScope>,
}

/// Scope of the methods on posts.
pub struct PostScope;

impl Method for PostScope {
    type Input = ScopeInput;
    type Output = ScopeOutput;

    const CARD: Card = Card {
        name: "post-scope",
        title: "When no number may be given",
        topic: Topic::Posts,
        computes: "Whether a post is one that a planning aid may speak of at all, and if not, why.",
        validity: &["Fences, trellises, tunnels and small sheds on near-level undisturbed ground."],
        sources: &[Cite::new("IbcSoilClasses", "Table 1806.2, no value for fill, peat and mud")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        ScopeInput {
            layer: Layer::Undisturbed,
            slope_percent: SlopePercent::literal(3.0),
            water_at_the_surface: false,
            retaining_wall: false,
            tall_or_heavy: false,
            people_inside: false,
            could_hit_someone: false,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let reasons = input.reasons();
        let mut notes: Vec<Note> =
            reasons.iter().map(|reason| Note::new(NoteKind::NoValue, reason.words())).collect();
        notes.push(Note::new(
            NoteKind::Provenance,
            "Only the rule on fill and peat is the code's; where else to stop is our judgement.",
        ));
        Ok(Answer::with_notes(ScopeOutput { in_scope: reasons.is_empty(), reasons }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let named: Vec<&str> = answer.value.reasons.iter().map(|reason| reason.words()).collect();
        Working::new()
            .step(
                "whether a number may be given",
                "undisturbed ground, slope up to 10 %, no water at the surface, nothing whose failure reaches people",
                format!("slope {} %", input.slope_percent.get()),
                if named.is_empty() { "yes".to_owned() } else { format!("no: {}", named.join("; ")) },
            )
            .cite(Self::CARD.sources[0])
    }
}
