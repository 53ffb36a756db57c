//! Whether frost can heave a post, and how deep its foot must be for it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::soil_class::{FINE_FROM_PERCENT, GravelPercent, passing_75um};
use super::unified::PlasticityIndex;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::structure::crusting::FINE_SHARE_OF_SILT;
use crate::structure::erodibility::VeryFineSandPercent;
use crate::texture::Composition;
use crate::texture::composition::{ClayPercent, SandPercent, SiltPercent};

crate::quantity! {
    /// Frost depth that the local code or its official gives.
    pub struct FrostDepth: "frost depth of the local code", "m", 0.0 ..= 3.5, example 0.9;
}

/// Least depth of any foot, 12 in.
pub const LEAST_FOOT_M: f64 = 0.3048;
/// Finer than 20 µm from which mineral ground may heave, percent.
pub const HEAVES_FROM_PERCENT: f64 = 3.0;

/// How readily ground heaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FrostGroup {
    /// Little or not.
    NotSusceptible,
    /// Gravelly, low to medium.
    F1,
    /// Medium.
    F2,
    /// High.
    F3,
    /// Very high: silts, very fine silty sands, lean clays.
    F4,
}

impl FrostGroup {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::NotSusceptible => "little or no heave",
            Self::F1 => "F1: low to medium",
            Self::F2 => "F2: medium",
            Self::F3 => "F3: high",
            Self::F4 => "F4: very high",
        }
    }
}

/// Percent of the soil under 75 mm that is finer than 20 µm: clay + 0.715 silt.
#[must_use]
pub fn finer_than_20um(soil: Composition, gravel_percent: f64) -> f64 {
    (1.0 - gravel_percent / 100.0) * (soil.clay + FINE_SHARE_OF_SILT * soil.silt)
}

/// Frost group of ground, for hot paths. Very fine sand as percent of the fine earth. Fine ground of
/// unknown plasticity is put in the worse group.
#[must_use]
pub fn frost_group(
    soil: Composition,
    gravel_percent: f64,
    very_fine_sand: f64,
    plasticity_index: Option<f64>,
) -> FrostGroup {
    let finer = finer_than_20um(soil, gravel_percent);
    let fines = passing_75um(soil, very_fine_sand, gravel_percent);
    if finer < HEAVES_FROM_PERCENT {
        return FrostGroup::NotSusceptible;
    }
    if fines >= FINE_FROM_PERCENT {
        return match plasticity_index {
            Some(index) if index > 12.0 => FrostGroup::F3,
            _ => FrostGroup::F4,
        };
    }
    let gravelly = gravel_percent > (100.0 - fines) / 2.0;
    match (gravelly, finer) {
        (true, f) if f <= 10.0 => FrostGroup::F1,
        (true, f) if f <= 20.0 => FrostGroup::F2,
        (false, f) if f <= 15.0 => FrostGroup::F2,
        (false, _) if very_fine_sand > soil.sand / 2.0 => FrostGroup::F4,
        _ => FrostGroup::F3,
    }
}

/// Depth of a foot, m: below frost, and never less than 12 in.
#[must_use]
pub fn foot_depth_m(frost_depth_m: f64) -> f64 {
    frost_depth_m.max(LEAST_FOOT_M)
}

/// Input of `frost-foot`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FrostFootInput {
    /// Sand of the ground that freezes.
    pub sand_percent: SandPercent,
    /// Silt.
    pub silt_percent: SiltPercent,
    /// Clay.
    pub clay_percent: ClayPercent,
    /// Gravel, 2 to 75 mm, by mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gravel_percent: Option<GravelPercent>,
    /// Very fine sand, a part of the sand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub very_fine_sand_percent: Option<VeryFineSandPercent>,
    /// Plasticity index, if a laboratory gave it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plasticity_index_percent: Option<PlasticityIndex>,
    /// Frost depth of the local code.
    pub frost_depth_m: FrostDepth,
}

/// Output of `frost-foot`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct FrostFootOutput {
    /// Finer than 20 µm.
    pub finer_than_20um_percent: f64,
    /// How readily it heaves.
    pub frost_group: FrostGroup,
    /// Frost can heave it where water is at hand.
    pub heaves: bool,
    /// Least depth of the foot for frost alone, m.
    pub foot_depth_m: f64,
}

/// Frost and the foot of a post.
pub struct FrostFoot;

impl Method for FrostFoot {
    type Input = FrostFootInput;
    type Output = FrostFootOutput;

    const CARD: Card = Card {
        name: "frost-foot",
        title: "Frost and the foot of a post",
        topic: Topic::Posts,
        computes: "How readily frost heaves this ground, from what is finer than 20 µm, and how deep a foot must be for it.",
        validity: &[
            "Frost depth is always the value of the local code: it is never worked out from texture.",
            "Heave takes ground that lets it, freezing and water together. Uniform sands need more than 10 % finer than 20 µm; well-graded gravels may begin at 1.5 %.",
        ],
        sources: &[
            Cite::new("FrostDesign", "frost-susceptible soils, 3 % finer than 20 µm"),
            Cite::new("FrostGroups", "table of frost groups"),
            Cite::new("IbcFoundations", "1809, depth of footings"),
        ],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        FrostFootInput {
            sand_percent: SandPercent::literal(20.0),
            silt_percent: SiltPercent::literal(65.0),
            clay_percent: ClayPercent::literal(15.0),
            gravel_percent: None,
            very_fine_sand_percent: None,
            plasticity_index_percent: None,
            frost_depth_m: FrostDepth::literal(0.9),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (soil, note) =
            Composition::from_percent(input.sand_percent, input.silt_percent, input.clay_percent)?;
        let gravel = input.gravel_percent.map_or(0.0, Bounded::get);
        let very_fine = input.very_fine_sand_percent.map_or(0.0, Bounded::get);
        if very_fine > soil.sand + 1e-9 {
            return Err(Refusal::new(
                "very_fine_sand_percent",
                "very fine sand is a part of the sand and cannot be more than it",
            )
            .given(format!("{very_fine} % of {} % sand", soil.sand))
            .accepted(format!("0 to {} %", soil.sand))
            .example(soil.sand / 4.0));
        }
        let group = frost_group(soil, gravel, very_fine, input.plasticity_index_percent.map(Bounded::get));
        let mut notes: Vec<Note> = note.into_iter().collect();
        notes.push(Note::new(
            NoteKind::Provenance,
            "The groups, and the least depth of 12 in (0.3 m), are recalled; the 3 % rule was read.",
        ));
        if group != FrostGroup::NotSusceptible {
            notes.push(Note::new(
                NoteKind::Method,
                "Make the concrete straight or wider at the foot, never wider at the top: freezing ground grips a mushroom head and lifts it.",
            ));
        }
        Ok(Answer::with_notes(
            FrostFootOutput {
                finer_than_20um_percent: finer_than_20um(soil, gravel),
                frost_group: group,
                heaves: group != FrostGroup::NotSusceptible,
                foot_depth_m: foot_depth_m(input.frost_depth_m.get()),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "what is finer than 20 µm",
                "(1 − gravel) × (clay + 0.715 × silt)",
                format!("{} + 0.715 × {}", input.clay_percent.get(), input.silt_percent.get()),
                format!("{:.1} %", value.finer_than_20um_percent),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "how readily it heaves",
                "the row of the table of frost groups",
                format!("{:.1} %", value.finer_than_20um_percent),
                value.frost_group.words(),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "depth of the foot",
                "frost depth of the local code, 0.3 m at the least",
                format!("{} m", input.frost_depth_m.get()),
                format!("{:.2} m", value.foot_depth_m),
            )
            .cite(Self::CARD.sources[2])
    }
}
