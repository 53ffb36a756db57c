//! How much ground shrinks and swells, and what that does to a post.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::unified::PlasticityIndex;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::composition::{ClayPercent, SiltPercent};

crate::quantity! {
    /// Linear extensibility: change in length from moist to dry, as soil surveys give it.
    pub struct LinearExtensibility: "linear extensibility", "%", 0.0 ..= 30.0, example 4.0;
}

/// Share of the silt (2 to 50 µm) that is finer than 5 µm: log-linear, ln(5/2) / ln(50/2).
pub const FINER_THAN_5_OF_SILT: f64 = 0.284_661_720_963_303_4;

/// How much ground shrinks and swells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ShrinkSwell {
    /// Below 3 %.
    Low,
    /// 3 to 6 %.
    Moderate,
    /// 6 to 9 %.
    High,
    /// 9 % and more.
    VeryHigh,
}

impl ShrinkSwell {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Low => "low",
            Self::Moderate => "moderate",
            Self::High => "high",
            Self::VeryHigh => "very high",
        }
    }
}

impl ShrinkSwell {
    /// By linear extensibility in percent.
    #[must_use]
    pub fn of_extensibility(percent: f64) -> Self {
        match percent {
            p if p < 3.0 => Self::Low,
            p if p < 6.0 => Self::Moderate,
            p if p < 9.0 => Self::High,
            _ => Self::VeryHigh,
        }
    }

    /// By clay in percent where nothing better is known: common practice. `swelling`: the clay is known to
    /// swell; not known counts as not.
    #[must_use]
    pub fn of_clay(percent: f64, swelling: bool) -> Self {
        match (percent, swelling) {
            (p, _) if p < 18.0 => Self::Low,
            (p, false) if p <= 60.0 => Self::Moderate,
            _ => Self::High,
        }
    }

    /// By plasticity index: 10 to 20 low, 20 to 40 moderate, above high; fines above 35 %.
    #[must_use]
    pub fn of_plasticity(index: f64) -> Self {
        match index {
            i if i < 20.0 => Self::Low,
            i if i <= 40.0 => Self::Moderate,
            _ => Self::High,
        }
    }
}

/// Which reading decided.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Linear extensibility.
    LinearExtensibility,
    /// Plasticity index.
    Plasticity,
    /// Clay alone.
    Clay,
}

impl Basis {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::LinearExtensibility => "linear extensibility",
            Self::Plasticity => "plasticity index",
            Self::Clay => "clay alone",
        }
    }
}

/// Input of `shrink-swell`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShrinkSwellInput {
    /// Clay.
    pub clay_percent: ClayPercent,
    /// Silt.
    pub silt_percent: SiltPercent,
    /// The clay is known to swell (deep cracks, slick faces, a survey that says so).
    #[serde(default)]
    pub swelling_clay: bool,
    /// Linear extensibility, if a survey gives it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub linear_extensibility_percent: Option<LinearExtensibility>,
    /// Plasticity index, if a laboratory gave it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plasticity_index_percent: Option<PlasticityIndex>,
}

/// Output of `shrink-swell`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ShrinkSwellOutput {
    /// How much it shrinks and swells.
    pub shrink_swell: ShrinkSwell,
    /// Which reading decided.
    pub basis: Basis,
    /// Finer than 5 µm.
    pub finer_than_5um_percent: f64,
    /// Plasticity and fineness make it expansive in the sense of the building code; `null`: plasticity is not known.
    pub expansive: Option<bool>,
}

/// Shrinking and swelling.
pub struct ShrinkSwellClass;

impl Method for ShrinkSwellClass {
    type Input = ShrinkSwellInput;
    type Output = ShrinkSwellOutput;

    const CARD: Card = Card {
        name: "shrink-swell",
        title: "Shrinking and swelling",
        topic: Topic::Posts,
        computes: "How much ground shrinks when dry and swells when wet, and whether a building code would call it \
                   expansive.",
        validity: &[
            "Clay alone is a poor guide: what kind of clay it is decides. Look for cracks, or ask for the survey's figure.",
            "The code's own test, the expansion index, settles it.",
        ],
        sources: &[
            Cite::new("Thomas2000", "classes of shrink-swell potential"),
            Cite::new("IbcFoundations", "1803.5.3, expansive soil"),
        ],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        ShrinkSwellInput {
            clay_percent: ClayPercent::literal(42.0),
            silt_percent: SiltPercent::literal(30.0),
            swelling_clay: false,
            linear_extensibility_percent: None,
            plasticity_index_percent: Some(PlasticityIndex::literal(25.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (clay, silt) = (input.clay_percent.get(), input.silt_percent.get());
        if clay + silt > 100.0 + 1e-9 {
            return Err(Refusal::new("silt_percent", "silt and clay together cannot be more than 100 %")
                .given(format!("{silt} + {clay} = {} %", silt + clay))
                .accepted("silt + clay up to 100 %")
                .example("30"));
        }
        let (shrink_swell, basis) = match (input.linear_extensibility_percent, input.plasticity_index_percent)
        {
            (Some(lep), _) => (ShrinkSwell::of_extensibility(lep.get()), Basis::LinearExtensibility),
            (None, Some(index)) if clay + silt > 35.0 => {
                (ShrinkSwell::of_plasticity(index.get()), Basis::Plasticity)
            }
            _ => (ShrinkSwell::of_clay(clay, input.swelling_clay), Basis::Clay),
        };
        let finer = clay + FINER_THAN_5_OF_SILT * silt;
        let expansive = input
            .plasticity_index_percent
            .map(|index| index.get() >= 15.0 && clay + silt > 10.0 && finer > 10.0);
        let mut notes = Vec::new();
        if basis == Basis::Clay {
            notes.push(Note::new(
                NoteKind::Provenance,
                "Clay alone decided, by common practice: a survey's linear extensibility or a plasticity index would say more.",
            ));
        }
        if shrink_swell >= ShrinkSwell::High || expansive == Some(true) {
            notes.push(Note::new(
                NoteKind::Method,
                "In drought a gap opens round a post and the upper 0.3 to 0.9 m holds nothing; when wet the ground grips and lifts it. Go below the cracks, widen the foot, keep the shaft smooth above.",
            ));
        }
        notes.push(Note::new(NoteKind::Provenance, "The code's limits for expansive ground are recalled."));
        Ok(Answer::with_notes(
            ShrinkSwellOutput { shrink_swell, basis, finer_than_5um_percent: finer, expansive },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "how much it shrinks and swells",
                "linear extensibility below 3 low, 6 moderate, 9 high; else plasticity index below 20 low, to 40 moderate; else clay",
                format!("decided by {}", value.basis.words()),
                value.shrink_swell.words(),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "what is finer than 5 µm",
                "clay + 0.285 × silt",
                format!("{} + 0.285 × {}", input.clay_percent.get(), input.silt_percent.get()),
                format!("{:.1} %", value.finer_than_5um_percent),
            )
            .step(
                "expansive by the code",
                "plasticity index 15 or more, more than 10 % passing 75 µm, more than 10 % finer than 5 µm",
                input.plasticity_index_percent.map_or("not known".to_owned(), |index| format!("{}", index.get())),
                value.expansive.map_or("not known".to_owned(), |yes| yes.to_string()),
            )
            .cite(Self::CARD.sources[1])
    }
}
