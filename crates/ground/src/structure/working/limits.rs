//! Consistency limits, and how the water in the ground stands against them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Water content at which the soil begins to flow, by mass of dry soil.
    pub struct LiquidLimit: "liquid limit", "%", 10.0 ..= 200.0, example 38.0;
    /// Water content at which a rolled thread crumbles at 3.2 mm, by mass of dry soil.
    pub struct PlasticLimit: "plastic limit", "%", 5.0 ..= 150.0, example 22.0;
    /// Water content by mass of dry soil.
    pub struct WaterByMass: "water content by mass", "%", 0.0 ..= 200.0, example 18.0;
}

/// Share of the plastic limit up to which breaking up does best.
pub const BEST_BREAKUP: f64 = 0.9;

/// May it be worked?
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Workable {
    /// Too dry: dust and clods.
    Dry,
    /// It shatters.
    Ready,
    /// It may smear in places: wait if it can wait.
    Doubtful,
    /// It smears and packs.
    TooWet,
}

/// By water over the plastic limit, both by mass in one unit. Dryness cannot be told from the plastic limit.
#[must_use]
pub fn workable(water: f64, plastic_limit: f64) -> Workable {
    match water / plastic_limit {
        r if r < BEST_BREAKUP => Workable::Ready,
        r if r <= 1.0 => Workable::Doubtful,
        _ => Workable::TooWet,
    }
}

/// How plastic the soil is, by the plasticity index (common practice of soil mechanics).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Plasticity {
    /// Index below 1: it does not roll into a thread.
    None,
    /// 1 to 7.
    Slight,
    /// 7 to 17.
    Medium,
    /// Above 17.
    High,
}

impl Plasticity {
    /// Of an index in percent.
    #[must_use]
    pub fn of(index_percent: f64) -> Self {
        match index_percent {
            i if i < 1.0 => Self::None,
            i if i < 7.0 => Self::Slight,
            i if i <= 17.0 => Self::Medium,
            _ => Self::High,
        }
    }
}

/// Input of `consistency-limits`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LimitsInput {
    /// Liquid limit; without it nothing is said of plasticity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub liquid_limit_percent: Option<LiquidLimit>,
    /// Plastic limit.
    pub plastic_limit_percent: PlasticLimit,
    /// Water now, at working depth; without it only the limit to work at is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_percent: Option<WaterByMass>,
}

/// Output of `consistency-limits`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct LimitsOutput {
    /// Liquid less plastic limit.
    pub plasticity_index_percent: Option<f64>,
    /// What that means.
    pub plasticity: Option<Plasticity>,
    /// Work it below this water content by mass.
    pub work_below_percent: f64,
    /// Whether it may be worked now.
    pub workable: Option<Workable>,
}

/// Consistency limits.
pub struct ConsistencyLimits;

impl Method for ConsistencyLimits {
    type Input = LimitsInput;
    type Output = LimitsOutput;

    const CARD: Card = Card {
        name: "consistency-limits",
        title: "Consistency limits and working",
        topic: Topic::Structure,
        computes: "From the water content at which a thread of soil crumbles, the water content below which the ground \
                   breaks into crumbs when worked, and whether it may be worked now. Above the plastic limit every pass \
                   smears and packs.",
        validity: &[
            "Soils that roll into a thread; sand has no plastic limit: go by standing water and by the hand.",
            "Limits by the standard laboratory test; a thread rolled in the hand finds the plastic limit roughly.",
        ],
        sources: &[
            Cite::new("AstmD4318", "liquid limit, plastic limit, plasticity index"),
            Cite::new("DexterBird2001", "optimum near 0.9 of the plastic limit"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        LimitsInput {
            liquid_limit_percent: Some(LiquidLimit::literal(38.0)),
            plastic_limit_percent: PlasticLimit::literal(22.0),
            water_percent: Some(WaterByMass::literal(18.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let plastic = input.plastic_limit_percent.get();
        let liquid = input.liquid_limit_percent.map(Bounded::get);
        if let Some(liquid) = liquid.filter(|liquid| *liquid < plastic) {
            return Err(Refusal::new(
                "liquid_limit_percent",
                "the liquid limit lies below the plastic limit",
            )
            .given(format!("{liquid} %"))
            .accepted(format!("{plastic} % or more"))
            .example(plastic + 15.0));
        }
        let index = liquid.map(|liquid| liquid - plastic);
        Ok(Answer::with_notes(
            LimitsOutput {
                plasticity_index_percent: index,
                plasticity: index.map(Plasticity::of),
                work_below_percent: BEST_BREAKUP * plastic,
                workable: input.water_percent.map(|water| workable(water.get(), plastic)),
            },
            vec![Note::new(
                NoteKind::Provenance,
                "The nine tenths of the plastic limit are recalled. The ball test at working depth overrules the numbers.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let plastic = input.plastic_limit_percent.get();
        Working::new()
            .step(
                "water content to work below",
                "0.9 × plastic limit",
                format!("0.9 × {plastic}"),
                format!("{:.1} % by mass", answer.value.work_below_percent),
            )
            .cite(Self::CARD.sources[1])
    }
}
