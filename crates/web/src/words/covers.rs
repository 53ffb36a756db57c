//! Cover crops line by line.

pub use advice::covers::seeds_words;
use advice::words::day;
use book::Snapshot;
use book::model::{CoverBiomass, CoverCrop, CoverStand, area_rate_words};
use ground::covers::mix::Sowing;
use ground::covers::nitrogen::Stage;
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;

use super::Line;
use super::water::bed_line;
use crate::form::shown;

/// What stood, in a line.
#[must_use]
pub fn stand_words(stand: &CoverStand, units: UnitSystem) -> String {
    let mut parts = vec![
        if stand.stage == Stage::InBloom { "in flower or headed" } else { "before flowering" }.to_owned(),
    ];
    match stand.biomass {
        Some(CoverBiomass::Cut { kg, area_m2, dried }) => parts.push(format!(
            "{} {} from {}",
            shown(kg, units),
            if dried { "dry" } else { "fresh" },
            shown(area_m2, units)
        )),
        Some(CoverBiomass::Height { height_cm, cover_percent }) => {
            parts.push(format!("{} high on {} % of the ground", shown(height_cm, units), cover_percent.get()))
        }
        None => {}
    }
    parts.extend(stand.nitrogen_percent.map(|share| format!("{} % nitrogen", share.get())));
    parts.join(", ")
}

/// A cover crop.
pub(super) fn cover(cover: &CoverCrop, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let CoverCrop { bed, seeds, sown_on, sown, end_by, ended, stand, note } = cover;
    let mut lines = vec![bed_line(snapshot, *bed), Line::new("Cover", seeds_words(seeds))];
    let rates: Vec<String> = seeds
        .iter()
        .filter_map(|seed| {
            let rate = area_rate_words(seed.rate_kg_ha?.get(), units);
            Some(format!("{} {rate}", seeds_words(std::slice::from_ref(seed))))
        })
        .collect();
    lines.extend([
        Line::new("Seed", rates.join(", ")),
        Line::new("Sown on", day(*sown_on)),
        Line::new("How", if *sown == Sowing::Drilled { "in rows" } else { "broadcast" }),
        Line::new("To be ended by", end_by.map(day).unwrap_or_default()),
        Line::new(
            "Ended",
            ended.map(|end| format!("{} {}", end.how.words(), day(end.on))).unwrap_or_default(),
        ),
        Line::new("What stood", stand.as_ref().map(|stand| stand_words(stand, units)).unwrap_or_default()),
        Line::new("Note", note),
    ]);
    lines
}
