//! The building class of a layer from its texture, with what texture leaves open.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::building_class::BuildingClass;
use super::cautions;
use super::unified::{LiquidLimit, PlasticityIndex, UnifiedGroup, unified_group};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::structure::crusting::SurfaceOrganicMatter;
use crate::structure::erodibility::VeryFineSandPercent;
use crate::texture::Composition;
use crate::texture::composition::{ClayPercent, SandPercent, SiltPercent};

crate::quantity! {
    /// Gravel and stones from 2 to 75 mm, share by mass of all that is smaller than 75 mm.
    pub struct GravelPercent: "gravel", "%", 0.0 ..= 100.0, example 5.0;
}

/// Share of very fine sand (50 to 100 µm) that passes the 75 µm sieve: log-linear, ln(75/50) / ln(100/50).
pub const PASSING_OF_VERY_FINE: f64 = 0.584_962_500_721_156_2;
/// Share of the sand that may be very fine where nobody measured it, by common practice.
pub const VERY_FINE_AT_MOST: f64 = 0.3;
/// Fines at which ground counts as silt and clay, percent.
pub const FINE_FROM_PERCENT: f64 = 50.0;
/// Organic matter beyond which no table of the codes applies, percent.
pub const TOO_ORGANIC_PERCENT: f64 = 12.0;

/// Percent of the soil under 75 mm that passes the 75 µm sieve; very fine sand as percent of the fine earth.
#[must_use]
pub fn passing_75um(soil: Composition, very_fine_sand: f64, gravel_percent: f64) -> f64 {
    (1.0 - gravel_percent / 100.0) * (soil.silt + soil.clay + PASSING_OF_VERY_FINE * very_fine_sand)
}

/// Sand class or silt-and-clay class of a share of fines, for hot paths.
#[must_use]
pub fn class_of_fines(passing_75um_percent: f64) -> BuildingClass {
    if passing_75um_percent >= FINE_FROM_PERCENT { BuildingClass::SiltAndClay } else { BuildingClass::Sand }
}

/// What kind of layer it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Layer {
    /// As it was laid down, below the tilled ground.
    #[default]
    Undisturbed,
    /// Tilled, loosened or a raised bed.
    Tilled,
    /// Fill or moved earth.
    Fill,
    /// Peat, muck, a layer rich in organic matter.
    Organic,
}

/// Input of `building-soil-class`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SoilClassInput {
    /// Sand of the layer at a third of the post's depth or at its foot.
    pub sand_percent: SandPercent,
    /// Silt.
    pub silt_percent: SiltPercent,
    /// Clay.
    pub clay_percent: ClayPercent,
    /// Very fine sand, 50 to 100 µm, a part of the sand; without it none and 30 % of the sand are both tried.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub very_fine_sand_percent: Option<VeryFineSandPercent>,
    /// Gravel, 2 to 75 mm, by mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gravel_percent: Option<GravelPercent>,
    /// Gravel over 4.75 mm was seen to be more than half of what is coarser than silt.
    #[serde(default)]
    pub mostly_gravel: bool,
    /// Organic matter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub organic_matter_percent: Option<SurfaceOrganicMatter>,
    /// What kind of layer it is.
    #[serde(default)]
    pub layer: Layer,
    /// Liquid limit, if a laboratory gave it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub liquid_limit_percent: Option<LiquidLimit>,
    /// Plasticity index, if a laboratory gave it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plasticity_index_percent: Option<PlasticityIndex>,
}

/// Output of `building-soil-class`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SoilClassOutput {
    /// Fines with the least very fine sand that may be there.
    pub passing_low_percent: f64,
    /// Fines with the most.
    pub passing_high_percent: f64,
    /// The class if there is little very fine sand; `null`: no value.
    pub likely: Option<BuildingClass>,
    /// The class to build on: the softer where they differ; `null`: no value.
    pub conservative: Option<BuildingClass>,
    /// Unified group, where plasticity is known or does not matter.
    pub unified_group: Option<UnifiedGroup>,
}

/// Building soil class.
pub struct BuildingSoilClass;

fn no_value(input: &SoilClassInput) -> Option<&'static str> {
    let organic = input.organic_matter_percent.is_some_and(|share| share.get() >= TOO_ORGANIC_PERCENT);
    match input.layer {
        Layer::Tilled => Some(
            "Tilled and loosened ground has no bearing value in the codes: count the depth of a post from below it.",
        ),
        Layer::Fill => Some(
            "Fill has no bearing value in the codes: count the depth from below it, or have an engineer prove it.",
        ),
        Layer::Organic => Some(
            "Peat, muck and organic silt or clay have no bearing value: dig down to mineral ground or ask an engineer.",
        ),
        Layer::Undisturbed if organic => Some(
            "With 12 % organic matter and more no value of the codes applies: dig down to mineral ground or ask an engineer.",
        ),
        Layer::Undisturbed => None,
    }
}

impl Method for BuildingSoilClass {
    type Input = SoilClassInput;
    type Output = SoilClassOutput;

    const CARD: Card = Card {
        name: "building-soil-class",
        title: "Building class of a layer",
        topic: Topic::Posts,
        computes: "Which class of ground in building codes a layer belongs to, from sand, silt, clay, gravel and, \
                   where a laboratory gave it, plasticity. Where the texture leaves it open the softer class is to be \
                   built on.",
        validity: &[
            "The layer at a third of the post's depth and at its foot, not the tilled one.",
            "Sieves of the two systems differ (50 and 75 µm): the share between them is taken log-linear.",
            "Rock classes are never given from texture.",
        ],
        sources: &[Cite::new("IbcSoilClasses", "Table 1806.2"), Cite::new("AstmD2487", "plasticity chart")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        SoilClassInput {
            sand_percent: SandPercent::literal(60.0),
            silt_percent: SiltPercent::literal(28.0),
            clay_percent: ClayPercent::literal(12.0),
            very_fine_sand_percent: None,
            gravel_percent: Some(GravelPercent::literal(5.0)),
            mostly_gravel: false,
            organic_matter_percent: None,
            layer: Layer::Undisturbed,
            liquid_limit_percent: None,
            plasticity_index_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (soil, note) =
            Composition::from_percent(input.sand_percent, input.silt_percent, input.clay_percent)?;
        let mut notes: Vec<Note> = note.into_iter().collect();
        let gravel = input.gravel_percent.map_or(0.0, Bounded::get);
        let fine = input.very_fine_sand_percent.map(Bounded::get);
        if let Some(fine) = fine.filter(|fine| *fine > soil.sand + 1e-9) {
            return Err(Refusal::new(
                "very_fine_sand_percent",
                "very fine sand is a part of the sand and cannot be more than it",
            )
            .given(format!("{fine} % of {} % sand", soil.sand))
            .accepted(format!("0 to {} %", soil.sand))
            .example(soil.sand / 4.0));
        }
        if let (Some(liquid), Some(index)) = (input.liquid_limit_percent, input.plasticity_index_percent)
            && index.get() > liquid.get()
        {
            return Err(Refusal::new(
                "plasticity_index_percent",
                "the plasticity index is liquid limit less plastic limit and cannot be more than the liquid limit",
            )
            .given(format!("{} %", index.get()))
            .accepted(format!("0 to {} %", liquid.get()))
            .example("12"));
        }
        let low = passing_75um(soil, fine.unwrap_or(0.0), gravel);
        let high = passing_75um(soil, fine.unwrap_or(VERY_FINE_AT_MOST * soil.sand), gravel);
        let class = |passing: f64| {
            if input.mostly_gravel && passing < 5.0 {
                BuildingClass::SandyGravel
            } else {
                class_of_fines(passing)
            }
        };
        let (mut likely, mut conservative) = (Some(class(low)), Some(class(high)));
        if let Some(why) = no_value(input) {
            (likely, conservative) = (None, None);
            notes.insert(0, Note::new(NoteKind::NoValue, why));
        } else if likely != conservative {
            notes.push(Note::new(
                NoteKind::Method,
                "How much of the sand is very fine decides the class here; without a sieve take the softer one.",
            ));
        }
        let unified_group = match (input.liquid_limit_percent, input.plasticity_index_percent) {
            (Some(liquid), Some(index)) if input.layer != Layer::Organic => {
                Some(unified_group(low, input.mostly_gravel, liquid.get(), index.get()))
            }
            _ if high < 5.0 && input.layer != Layer::Organic => {
                Some(unified_group(high, input.mostly_gravel, 20.0, 0.0))
            }
            _ => None,
        };
        notes.push(Note::new(
            NoteKind::Provenance,
            "That texture stands for the sieve test, and that up to 30 % of the sand may be very fine, is common practice and no published rule.",
        ));
        Ok(Answer::with_notes(
            SoilClassOutput {
                passing_low_percent: low,
                passing_high_percent: high,
                likely,
                conservative,
                unified_group,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let words = |class: Option<BuildingClass>| class.map_or("no value", BuildingClass::words);
        Working::new()
            .step(
                "what passes the 75 µm sieve",
                "(1 − gravel) × (silt + clay + 0.585 × very fine sand)",
                format!(
                    "(1 − {}/100) × ({} + {} + 0.585 × very fine sand)",
                    input.gravel_percent.map_or(0.0, Bounded::get),
                    input.silt_percent.get(),
                    input.clay_percent.get()
                ),
                format!("{:.1} to {:.1} %", value.passing_low_percent, value.passing_high_percent),
            )
            .step(
                "the class",
                "50 % and more: silt and clay; less: sand; gravel only where it was seen",
                format!("{:.1} to {:.1} %", value.passing_low_percent, value.passing_high_percent),
                format!("likely {}; build on {}", words(value.likely), words(value.conservative)),
            )
            .cite(Self::CARD.sources[0])
    }
}
