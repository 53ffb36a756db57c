//! The pH to reach: what the crops of a plot ask for.

use book::Snapshot;
use book::model::{EntryId, PlantedCrop};
use ground::fertility::acidity::target_ph::{CropPh, USUAL_TARGET, target};
use jiff::civil::Date;
use serde::Serialize;

/// Most vegetables' upper end, for ground whose crops are not known.
const USUAL_AT_MOST: f64 = 7.0;
/// Days back that a planting still belongs to the rotation: three years.
const ROTATION_DAYS: i64 = 3 * 365;

/// The range of one crop.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CropRange {
    /// Its name.
    pub name: String,
    /// Lower end.
    pub low_ph: f64,
    /// Upper end.
    pub high_ph: f64,
    /// Its own aim.
    pub aim_ph: f64,
    /// How the range reached this project, in words.
    pub provenance_words: &'static str,
    /// Anything to know.
    pub note: String,
}

/// The pH to reach, and what asks for it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TargetTold {
    /// pH to reach.
    pub target_ph: f64,
    /// The pH that no crop here should be above.
    pub at_most_ph: f64,
    /// The crop that asks for most.
    pub demanding: Option<String>,
    /// The crop that bears least lime.
    pub sensitive: Option<String>,
    /// Do they belong on ground of their own?
    pub apart: bool,
    /// The crops of the rotation with their ranges.
    pub crops: Vec<CropRange>,
    /// Crops whose range is not known.
    pub unknown: Vec<String>,
    /// Is the ground muck or peat, and the aim lower?
    pub organic_soil: bool,
}

pub(super) fn target_of(
    snapshot: &Snapshot,
    plot: EntryId,
    organic_soil: bool,
    scab: bool,
    today: Date,
) -> TargetTold {
    let since = today.saturating_sub(jiff::Span::new().days(ROTATION_DAYS));
    let (mut rows, mut unknown): (Vec<&'static CropPh>, Vec<String>) = (Vec::new(), Vec::new());
    for held in &snapshot.plantings {
        let planting = &held.body;
        let here = snapshot.bed(planting.bed).is_some_and(|bed| bed.body.plot == plot);
        if !here || planting.ended_on.is_some_and(|ended| ended < since) || planting.planted_on < since {
            continue;
        }
        let (key, name) = match &planting.crop {
            PlantedCrop::Catalogue(key) => (Some(key.clone()), key.clone()),
            PlantedCrop::FarmCrop(_) => match snapshot.crop_of(planting) {
                Some(crop) => (crop.body.key.clone(), crop.body.name.clone()),
                None => continue,
            },
        };
        match key.as_deref().and_then(CropPh::of).or_else(|| CropPh::of(&name)) {
            Some(row) => rows.push(row),
            None => unknown.push(name),
        }
    }
    rows.sort_by(|a, b| a.name.cmp(&b.name));
    rows.dedup_by(|a, b| a.key == b.key);
    unknown.sort_unstable();
    unknown.dedup();
    let found = target(&rows, organic_soil, scab);
    let at_most = rows
        .iter()
        .map(|row| if scab && row.key == "potato" { row.high_ph.min(5.5) } else { row.high_ph })
        .fold(f64::INFINITY, f64::min);
    TargetTold {
        target_ph: if rows.is_empty() && !organic_soil { USUAL_TARGET } else { found.target_ph },
        at_most_ph: if at_most.is_finite() { at_most } else { USUAL_AT_MOST },
        demanding: found.demanding.map(|row| row.name.clone()),
        sensitive: found.sensitive.map(|row| row.name.clone()),
        apart: found.apart,
        crops: rows
            .iter()
            .map(|row| CropRange {
                name: row.name.clone(),
                low_ph: row.low_ph,
                high_ph: row.high_ph,
                aim_ph: row.target(),
                provenance_words: row.provenance.words(),
                note: row.note.clone(),
            })
            .collect(),
        unknown,
        organic_soil,
    }
}
