//! What stands before and after a gap: its family, and whether it is sown from small seed.

use std::sync::LazyLock;

use book::model::{EntryId, PlantedCrop, PlantedHow, Planting};
use book::{Held, Snapshot};
use ground::climate::crops::{Crop, Life, find};
use ground::covers::kinds::Family;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

#[derive(Debug, Deserialize)]
struct Row {
    crop: String,
    family: Option<Family>,
    small_seed: bool,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    let text = include_str!("crops.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads it.
        Err(error) => unreachable!("covers/crops.csv: {error}"),
    }
});

/// The family of a crop of the catalogue, where the table of covers knows it.
#[must_use]
pub fn family(crop: &str) -> Option<Family> {
    ROWS.iter().find(|row| row.crop == crop)?.family
}

/// A crop beside a gap.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Neighbour {
    /// What it is called.
    pub name: String,
    /// Its family, where it is known.
    pub family: Option<Family>,
    /// Is it sown in place from small seed?
    pub small_seed: bool,
    /// Day it began.
    #[serde(serialize_with = "super::as_text")]
    pub planted_on: Date,
}

/// A planting with the crop of the catalogue behind it.
pub(super) struct Grown {
    pub neighbour: Neighbour,
    /// Day after the last on which it stands, as far as it is known or usual; `None` for one that stays.
    pub until: Option<Date>,
    /// Was that day worked out and not written down?
    pub assumed: bool,
}

/// A planting as a rotation sees it.
pub(super) fn grown(snapshot: &Snapshot, held: &Held<Planting>) -> Grown {
    let planting = &held.body;
    let (key, own) = match &planting.crop {
        PlantedCrop::Catalogue(key) => (Some(key.as_str()), None),
        PlantedCrop::FarmCrop(id) => {
            let crop = snapshot.crop(*id).map(|crop| &crop.body);
            (crop.and_then(|crop| crop.key.as_deref()), crop)
        }
    };
    let crop = key.and_then(|key| find(key).ok());
    let name = match (own, crop, key) {
        (Some(own), ..) => own.name.clone(),
        (None, Some(crop), _) => crop.name.clone(),
        (None, None, Some(key)) => key.replace('-', " "),
        (None, None, None) => "a crop that was withdrawn".to_owned(),
    };
    let row = key.and_then(|key| ROWS.iter().find(|row| row.crop == key));
    let stays = planting.how == PlantedHow::Standing || crop.is_some_and(|crop| crop.life == Life::Perennial);
    let own_days = own.and_then(|own| {
        let days = [own.initial_days?, own.development_days?, own.mid_days?, own.late_days?];
        Some(days.iter().map(|days| i64::from(*days)).sum())
    });
    let latitude = snapshot.farm.body.latitude_degrees.map_or(45.0, ground::kit::Bounded::get);
    let usual = || own_days.or_else(|| Some(usual_days(crop?, planting.planted_on, latitude)));
    let after = |days: i64| planting.planted_on.saturating_add(jiff::Span::new().days(days));
    let (until, assumed) = match (planting.ended_on, planting.harvest_on) {
        (Some(day), _) => (day.tomorrow().ok(), false),
        (None, Some(day)) => (day.tomorrow().ok(), true),
        (None, None) if stays => (None, false),
        (None, None) => (Some(after(usual().unwrap_or(UNKNOWN_CROP_D))), true),
    };
    Grown {
        neighbour: Neighbour {
            name,
            family: row.and_then(|row| row.family),
            small_seed: planting.how == PlantedHow::Sown && row.is_some_and(|row| row.small_seed),
            planted_on: planting.planted_on,
        },
        until,
        assumed,
    }
}

/// The crop that was planted last on or before a day, and the next after it.
pub(super) fn beside(snapshot: &Snapshot, bed: EntryId, day: Date) -> (Option<Neighbour>, Option<Neighbour>) {
    let plantings = snapshot.plantings_of(bed);
    let (before, after): (Vec<_>, Vec<_>) =
        plantings.into_iter().partition(|held| held.body.planted_on <= day);
    let named = |held: &&Held<Planting>| grown(snapshot, held).neighbour;
    (before.last().map(named), after.first().map(named))
}

/// Days that a crop of which nothing is known is taken to stand (our judgement).
const UNKNOWN_CROP_D: i64 = 90;

fn usual_days(crop: &Crop, planted_on: Date, latitude_degrees: f64) -> i64 {
    let month = planted_on.month().unsigned_abs();
    #[expect(clippy::cast_possible_truncation, reason = "days of a season")]
    let days = crop.stages_for(Some(month), latitude_degrees).stages.total_d().round() as i64;
    days
}

#[cfg(test)]
mod tests {
    use ground::climate::crops::catalogue;

    use super::*;

    /// Families as any flora gives them.
    #[test]
    fn every_crop_of_the_catalogue_has_its_row() {
        for crop in catalogue() {
            assert!(ROWS.iter().any(|row| row.crop == crop.key), "{}", crop.key);
        }
        assert_eq!(ROWS.len(), catalogue().len());
        for (crop, is) in [
            ("tomato", Some(Family::Solanaceae)),
            ("radish", Some(Family::Brassicaceae)),
            ("sweet-corn", Some(Family::Poaceae)),
            ("beet", Some(Family::Amaranthaceae)),
            ("strawberry", None),
        ] {
            assert_eq!(family(crop), is, "{crop}");
        }
    }
}
