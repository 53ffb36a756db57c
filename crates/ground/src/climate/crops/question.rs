//! What the methods of a crop are asked: which crop, and how it is grown.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::catalogue::find;
use super::crop::Crop;
use super::curve::CropSetting;
use super::mend::{Mulch, StageClimate, Stand};
use super::overrides::Overrides;
use super::stages::{StageRow, Stages};
use crate::climate::quantities::Latitude;
use crate::kit::{Bounded, Note, NoteKind, Refusal};

crate::quantity! {
    /// Month of planting.
    pub struct PlantingMonth: "month of planting", "", 1.0 ..= 12.0, example 5.0;
    /// Planting to harvest.
    pub struct SeasonLength: "days from planting to harvest", "d", 5.0 ..= 730.0, example 75.0;
}

/// How a crop is grown; everything may be left out.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Growing {
    /// Month of planting, 1 to 12: the nearest row of stage lengths is taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub planting_month: Option<PlantingMonth>,
    /// Latitude, for the month south of the equator.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub latitude_degrees: Option<Latitude>,
    /// Days from planting to harvest; the stages are scaled to it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub season_d: Option<SeasonLength>,
    /// Climate of the middle stage; the tables' own where nothing is said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mid_climate: Option<StageClimate>,
    /// Climate of the last stage; that of the middle where nothing is said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub late_climate: Option<StageClimate>,
    /// A stand thinner than usual.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stand: Option<Stand>,
    /// What lies on the ground.
    #[serde(skip_serializing_if = "is_bare")]
    pub mulch: Mulch,
    /// A farm's own numbers.
    #[serde(skip_serializing_if = "is_plain")]
    pub overrides: Overrides,
}

fn is_bare(mulch: &Mulch) -> bool {
    *mulch == Mulch::None
}

fn is_plain(overrides: &Overrides) -> bool {
    *overrides == Overrides::default()
}

/// A crop, its stages and its setting, worked out from a question.
pub(super) struct Asked {
    pub(super) crop: Crop,
    pub(super) row: StageRow,
    pub(super) setting: CropSetting,
    pub(super) notes: Vec<Note>,
}

/// Looks the crop up and sets it as it is grown.
pub(super) fn asked(key: &str, growing: &Growing) -> Result<Asked, Refusal> {
    let crop = find(key)?
        .with(&growing.overrides)
        .map_err(|refusal| refusal.inside("overrides").inside("growing"))?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded, 1 to 12")]
    let month = growing.planting_month.map(|month| month.get() as u8);
    let row = crop.stages_for(month, growing.latitude_degrees.map_or(0.0, Bounded::get)).clone();
    let stages: Stages = growing.season_d.map_or(row.stages, |days| row.stages.scaled_to(days.get()));
    let setting = CropSetting {
        mid_climate: growing.mid_climate,
        late_climate: growing.late_climate,
        stand: growing.stand,
        mulch: growing.mulch,
        ..CropSetting::plain(stages)
    };
    let mut notes = crop.notes();
    if let Some(provenance) = row.provenance {
        notes.push(Note::new(
            NoteKind::Method,
            format!(
                "Stage lengths: {} ({}); examples of the source, not recommendations. Dates seen on the farm win.",
                row.region,
                provenance.words()
            ),
        ));
    }
    if growing.mulch != Mulch::None {
        notes.push(Note::new(
            NoteKind::Method,
            "What mulch takes is the middle of the ranges the source gives; the single coefficient is not put below \
             the basal one.",
        ));
    }
    if growing.stand.is_some() {
        notes.push(Note::new(
            NoteKind::Method,
            "In a thin stand the coefficients at harvest shrink in the proportion of the middle ones, which is our \
             reading of the source.",
        ));
    }
    Ok(Asked { crop, row, setting, notes })
}
