//! Dry matter of a stand: weighed from a frame, or judged by its height.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::species::KG_HA_PER_LB_AC;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Dry mass cut from the frame.
    pub struct CutDryMass: "dry mass cut", "g", 0.0 ..= 100000.0, example 208.0;
    /// Area it was cut from.
    pub struct FrameArea: "area of the frame", "m²", 0.05 ..= 1000.0, example 0.93;
    /// Height of the stand.
    pub struct StandHeight: "height of the stand", "cm", 0.0 ..= 400.0, example 45.7;
    /// Ground that it covers.
    pub struct StandCover: "ground covered", "%", 0.0 ..= 100.0, example 100.0;
}

/// Kinds of stand for the rule of height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StandKind {
    /// Legumes and other broadleaves: 2000 lb/ac at 6 in.
    Broadleaf,
    /// Small grains: 2000 lb/ac at 8 in.
    SmallGrain,
}

/// Dry matter, kg/ha, of a frame: 1 g/m² is 10 kg/ha.
#[must_use]
pub fn by_frame_kg_ha(dry_g: f64, area_m2: f64) -> f64 {
    10.0 * dry_g / area_m2
}

/// Dry matter, kg/ha, by height and cover; `None` below the height at which the rule begins.
#[must_use]
pub fn by_height_kg_ha(kind: StandKind, height_cm: f64, cover: f64) -> Option<f64> {
    let from_in = match kind {
        StandKind::Broadleaf => 6.0,
        StandKind::SmallGrain => 8.0,
    };
    let above_in = height_cm / 2.54 - from_in;
    // A hair below the first height is that height, as 15.2 cm is 6 in.
    (above_in > -0.05).then(|| (2000.0 + 150.0 * above_in.max(0.0)) * cover * KG_HA_PER_LB_AC)
}

/// How the stand was judged.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "snake_case", tag = "how")]
pub enum StandSeen {
    /// Cut in a frame, dried and weighed.
    Frame {
        /// Dry mass.
        dry_mass_g: CutDryMass,
        /// Area cut.
        area_m2: FrameArea,
    },
    /// By height and cover.
    Height {
        /// Kind of stand.
        kind: StandKind,
        /// Height.
        height_cm: StandHeight,
        /// Ground covered.
        cover_percent: StandCover,
    },
}

/// Input of `cover-stand`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StandInput {
    /// What was seen.
    pub stand: StandSeen,
}

/// Output of `cover-stand`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct StandOutput {
    /// Dry matter of the tops; none for a stand too low for the rule.
    pub dry_matter_kg_ha: Option<f64>,
    /// The same in pounds per acre.
    pub dry_matter_lb_ac: Option<f64>,
}

/// Cover stand.
pub struct CoverStand;

impl Method for CoverStand {
    type Input = StandInput;
    type Output = StandOutput;

    const CARD: Card = Card {
        name: "cover-stand",
        title: "Dry matter of a stand",
        topic: Topic::Covers,
        computes: "How much dry matter stands on the ground, from a cut and dried frame or from height and cover. All \
                   nitrogen and mulch reckonings begin with it.",
        validity: &[
            "Frames: several places, cut at the ground, dried to constant weight. A few frames differ by a third.",
            "Height: stands from 6 in (15 cm) for broadleaves, 8 in (20 cm) for small grains; a rough rule.",
        ],
        sources: &[
            Cite::new("Sare1998", "estimating yield and nitrogen"),
            Cite::new("SantaCruzUnit", "rule of height"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        StandInput {
            stand: StandSeen::Height {
                kind: StandKind::Broadleaf,
                height_cm: StandHeight::literal(45.72),
                cover_percent: StandCover::literal(100.0),
            },
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let dry_matter_kg_ha = match input.stand {
            StandSeen::Frame { dry_mass_g, area_m2 } => Some(by_frame_kg_ha(dry_mass_g.get(), area_m2.get())),
            StandSeen::Height { kind, height_cm, cover_percent } => {
                by_height_kg_ha(kind, height_cm.get(), cover_percent.get() / 100.0)
            }
        };
        let notes = match (input.stand, dry_matter_kg_ha) {
            (_, None) => vec![Note::new(
                NoteKind::NoValue,
                "The stand is lower than the rule begins: cut and weigh a frame.",
            )],
            (StandSeen::Height { .. }, _) => {
                vec![Note::new(
                    NoteKind::Method,
                    "Judged by height: the truth may lie a third lower or higher.",
                )]
            }
            _ => Vec::new(),
        };
        Ok(Answer::with_notes(
            StandOutput {
                dry_matter_kg_ha,
                dry_matter_lb_ac: dry_matter_kg_ha.map(|dry| dry / KG_HA_PER_LB_AC),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (rule, numbers) = match input.stand {
            StandSeen::Frame { dry_mass_g, area_m2 } => {
                ("10 × g / m²", format!("10 × {} / {}", dry_mass_g.get(), area_m2.get()))
            }
            StandSeen::Height { height_cm, cover_percent, .. } => (
                "(2000 + 150 lb/ac for each inch above 6, small grains 8) × cover",
                format!("{:.1} in, {} % covered", height_cm.get() / 2.54, cover_percent.get()),
            ),
        };
        Working::new()
            .step(
                "dry matter",
                rule,
                numbers,
                answer
                    .value
                    .dry_matter_kg_ha
                    .map_or_else(|| "none".to_owned(), |dry| format!("{dry:.0} kg/ha")),
            )
            .cite(Self::CARD.sources[0])
    }
}
