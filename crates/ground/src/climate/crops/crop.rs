//! A crop with every parameter that the daily reckoning needs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::stages::{StageRow, Stages, season_length_d};
use crate::climate::weather::YearDay;
use crate::kit::{Note, NoteKind, Provenance, Refusal};

/// Depth of the roots of an annual when it comes into the ground, m: the shallow end of the 0.15 to 0.20 m of
/// FAO-56 Annex 8 (recalled).
pub(super) const FIRST_ROOTS_M: f64 = 0.15;

/// How long it lives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Life {
    /// Sown or planted for one season; its roots grow.
    Annual,
    /// Established; its roots are at their depth from the first day of growth.
    Perennial,
}

/// A crop. Coefficients are those of the reference climate (least humidity 45 %, wind 2 m/s).
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Crop {
    /// Key in the catalogue.
    pub key: String,
    /// Its name.
    pub name: String,
    /// Its group.
    pub group: String,
    /// How long it lives.
    pub life: Life,
    /// Single coefficient of the first stage: for planning only, since it hangs on the wettings.
    pub kc_ini: f64,
    /// Single coefficient of the middle.
    pub kc_mid: f64,
    /// Single coefficient at harvest.
    pub kc_end: f64,
    /// Basal coefficient of the first stage.
    pub kcb_ini: f64,
    /// Basal coefficient of the middle.
    pub kcb_mid: f64,
    /// Basal coefficient at harvest.
    pub kcb_end: f64,
    /// Greatest height, m.
    pub height_m: f64,
    /// Depth of the roots on the first day, m.
    pub root_initial_m: f64,
    /// Depth of full-grown roots for deciding irrigation, m.
    pub root_min_m: f64,
    /// Depth of full-grown roots in ground without hindrance, m.
    pub root_max_m: f64,
    /// Depth to which the roots are taken to grow here, m: `root_min_m` unless set otherwise.
    pub root_full_m: f64,
    /// Share of the available water that may be used at 5 mm/d before the crop suffers.
    pub depletion_fraction: f64,
    /// Yield response factor of the season, where the source gives one.
    pub ky: Option<f64>,
    /// Row of the salt tolerance table, where there is one.
    pub salt_key: Option<String>,
    /// Lengths of its stages by month of planting; never empty.
    pub stages: Vec<StageRow>,
    /// Key of the crop whose row it takes, where it has none of its own.
    pub taken_as: Option<String>,
    /// How its coefficients reached this project.
    pub provenance: Provenance,
    /// What a grower should know; may be empty.
    pub note: String,
}

impl Crop {
    /// What to say beside numbers that rest on it.
    #[must_use]
    pub fn notes(&self) -> Vec<Note> {
        let mut notes = Vec::new();
        if let Some(other) = &self.taken_as {
            notes.push(Note::new(
                NoteKind::Provenance,
                format!(
                    "{} has no row in FAO-56: it is taken as {}, which is our judgement.",
                    self.name,
                    other.replace('-', " ")
                ),
            ));
        } else if self.provenance != Provenance::Read {
            notes.push(Note::new(
                NoteKind::Provenance,
                format!("The coefficients of {} are {}.", self.name, self.provenance.words()),
            ));
        }
        if !self.note.is_empty() {
            notes.push(Note::new(NoteKind::Method, format!("{}: {}.", self.name, self.note)));
        }
        notes
    }

    /// Stages of a crop planted on a day: the row of the nearest month, scaled to the harvest where its day is known.
    ///
    /// # Errors
    /// A harvest on or before the planting, or more than two years after it.
    pub fn season(
        &self,
        planted: YearDay,
        harvested: Option<YearDay>,
        latitude_degrees: f64,
    ) -> Result<Stages, Refusal> {
        let stages = self.stages_for(Some(planted.month()), latitude_degrees).stages;
        match harvested {
            Some(harvested) => Ok(stages.scaled_to(season_length_d(planted, harvested)?)),
            None => Ok(stages),
        }
    }

    /// The stage lengths whose month of planting is nearest; the first where no month is given. South of the
    /// equator the months are shifted by half a year.
    #[must_use]
    pub fn stages_for(&self, month: Option<u8>, latitude_degrees: f64) -> &StageRow {
        let month = month.map(|month| if latitude_degrees < 0.0 { (month + 5) % 12 + 1 } else { month });
        let far = |row: &&StageRow| month.map_or(0, |month| row.months_from(month));
        // The first of equals: the table's own order.
        let mut best: Option<&StageRow> = None;
        for row in &self.stages {
            if best.is_none_or(|best| far(&row) < far(&best)) {
                best = Some(row);
            }
        }
        best.unwrap_or_else(|| unreachable!("a test finds stages for every crop, and overrides keep one"))
    }
}
