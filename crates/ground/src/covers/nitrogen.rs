//! Nitrogen in a stand, and how much of it the next crop may find in its first season.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::species::{KG_HA_PER_LB_AC, Range};
use crate::fertility::organic::amendment::residue_kg_t;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Dry matter of the tops.
    pub struct StandDryMatter: "dry matter", "kg/ha", 0.0 ..= 40000.0, example 3363.0;
    /// Nitrogen of the dry matter.
    pub struct StandNitrogen: "nitrogen of the dry matter", "%", 0.3 ..= 7.0, example 3.5;
}

/// Kinds of stand for its share of nitrogen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum NitrogenKind {
    /// Annual legumes.
    AnnualLegume,
    /// Perennial legumes.
    PerennialLegume,
    /// Grasses and brassicas.
    GrassOrBrassica,
}

/// Stage at its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// Before flowering.
    BeforeBloom,
    /// In flower.
    InBloom,
}

/// What is done with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Placed {
    /// Turned in.
    TurnedIn,
    /// Left on the ground in a warm place.
    LeftWarm,
    /// Left on the ground in a cool place.
    LeftCool,
}

impl Placed {
    /// Share of its nitrogen that the first season frees.
    #[must_use]
    pub fn first_season(self) -> f64 {
        match self {
            Self::TurnedIn | Self::LeftWarm => 0.5,
            Self::LeftCool => 0.25,
        }
    }

    /// The more careful share of the northern plains.
    #[must_use]
    pub fn careful(self) -> f64 {
        match self {
            Self::TurnedIn => 0.33,
            Self::LeftWarm | Self::LeftCool => 0.2,
        }
    }
}

/// Nitrogen, percent of dry matter.
#[must_use]
pub fn nitrogen_percent(kind: NitrogenKind, stage: Stage) -> Range {
    let (low, high) = match (kind, stage) {
        (NitrogenKind::AnnualLegume, Stage::BeforeBloom) => (3.5, 4.0),
        (NitrogenKind::AnnualLegume, Stage::InBloom) => (3.0, 3.5),
        (NitrogenKind::PerennialLegume, Stage::BeforeBloom) => (2.5, 3.0),
        (NitrogenKind::PerennialLegume, Stage::InBloom) => (2.0, 2.5),
        (NitrogenKind::GrassOrBrassica, Stage::BeforeBloom) => (2.0, 3.0),
        (NitrogenKind::GrassOrBrassica, Stage::InBloom) => (1.5, 2.5),
    };
    Range { low, high }
}

/// Input of `cover-nitrogen`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NitrogenInput {
    /// Dry matter of the tops, from `cover-stand`.
    pub dry_matter_kg_ha: StandDryMatter,
    /// Nitrogen by the laboratory; from kind and stage where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nitrogen_percent: Option<StandNitrogen>,
    /// Kind of stand.
    pub kind: NitrogenKind,
    /// Stage at its end.
    pub stage: Stage,
    /// What is done with it.
    pub placed: Placed,
}

/// Output of `cover-nitrogen`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct NitrogenOutput {
    /// Nitrogen of the dry matter, percent.
    pub nitrogen_percent: Range,
    /// Nitrogen in the stand, kg/ha.
    pub total_kg_ha: Range,
    /// The middle of it in pounds per acre.
    pub total_middle_lb_ac: f64,
    /// Freed in the first season, kg/ha: the careful rule to the usual one.
    pub first_season_kg_ha: Range,
    /// The middle of the stand by the usual rule, pounds per acre.
    pub first_season_middle_lb_ac: f64,
    /// By the line over the percent of nitrogen, for a cover turned in before vegetables, kg/ha; none for one left on top.
    pub by_percent_kg_ha: Option<Range>,
    /// Below 1.5 % it ties nitrogen up at first.
    pub may_tie_up: bool,
}

/// Nitrogen of a cover.
pub struct CoverNitrogen;

/// Nitrogen of the dry matter below which little comes free, percent.
pub const TIES_UP_BELOW_PERCENT: f64 = 1.5;

impl Method for CoverNitrogen {
    type Input = NitrogenInput;
    type Output = NitrogenOutput;

    const CARD: Card = Card {
        name: "cover-nitrogen",
        title: "Nitrogen in a cover",
        topic: Topic::Covers,
        computes: "Nitrogen in a stand from its dry matter and its stage or a laboratory's figure, and the part that the first \
                   season frees. Of a grass it is nitrogen kept, of a legume mostly nitrogen gained.",
        validity: &[
            "Tops only; moist, warm ground. Most comes free in four to six weeks after turning in, less where it lies on top.",
            "The line by percent of nitrogen is for winter covers turned in before summer vegetables; the rule by halves for any.",
        ],
        sources: &[
            Cite::new("SantaCruzUnit", "nitrogen of dry matter by stage; halves and quarters"),
            Cite::new("Sare1998", "estimating yield and nitrogen"),
            Cite::new("SullivanAndrews2012", "line by percent of nitrogen; below 1.5 % little or none"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        NitrogenInput {
            dry_matter_kg_ha: StandDryMatter::literal(3363.0),
            nitrogen_percent: None,
            kind: NitrogenKind::AnnualLegume,
            stage: Stage::BeforeBloom,
            placed: Placed::TurnedIn,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let percent = input.nitrogen_percent.map_or_else(
            || nitrogen_percent(input.kind, input.stage),
            |lab| Range { low: lab.get(), high: lab.get() },
        );
        let dry = input.dry_matter_kg_ha.get();
        let total = Range { low: dry * percent.low / 100.0, high: dry * percent.high / 100.0 };
        let (usual, careful) = (input.placed.first_season(), input.placed.careful());
        let may_tie_up = percent.low < TIES_UP_BELOW_PERCENT
            || (input.nitrogen_percent.is_none() && percent.low <= TIES_UP_BELOW_PERCENT);
        let mut notes = Vec::new();
        if may_tie_up {
            notes.push(Note::new(
                NoteKind::Method,
                "Dry matter with 1.5 % of nitrogen or less ties nitrogen up for weeks, up to 55 kg/ha (50 lb/ac) under a cereal: count on none of it.",
            ));
        }
        if input.nitrogen_percent.is_none() {
            notes.push(Note::new(NoteKind::Method, "The percent of nitrogen is taken from kind and stage; a laboratory's figure is worth its cost."));
        }
        Ok(Answer::with_notes(
            NitrogenOutput {
                nitrogen_percent: percent,
                total_middle_lb_ac: total.middle() / KG_HA_PER_LB_AC,
                first_season_middle_lb_ac: total.middle() * usual / KG_HA_PER_LB_AC,
                first_season_kg_ha: Range { low: total.low * usual.min(careful), high: total.high * usual },
                by_percent_kg_ha: (input.placed == Placed::TurnedIn).then(|| {
                    let line = |percent| dry / 1000.0 * residue_kg_t(percent);
                    Range { low: line(percent.low), high: line(percent.high) }
                }),
                total_kg_ha: total,
                may_tie_up,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        Working::new()
            .step(
                "nitrogen in the stand",
                "dry matter × nitrogen percent / 100",
                format!("{} × {} to {} / 100", input.dry_matter_kg_ha.get(), v.nitrogen_percent.low, v.nitrogen_percent.high),
                format!("{:.0} to {:.0} kg/ha", v.total_kg_ha.low, v.total_kg_ha.high),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "freed in the first season",
                "turned in or left in a warm place: a half; left in a cool place: a quarter; the careful rule a third and a fifth",
                format!("{} and {}", input.placed.first_season(), input.placed.careful()),
                format!("{:.0} to {:.0} kg/ha", v.first_season_kg_ha.low, v.first_season_kg_ha.high),
            )
            .cite(Self::CARD.sources[0])
    }
}
