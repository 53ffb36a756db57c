//! The crops that ship with the program.

use std::collections::HashMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::crop::{Crop, FIRST_ROOTS_M, Life};
use super::stages::{StageRow, Stages};
use crate::kit::{Provenance, Refusal};

#[derive(Deserialize)]
struct CropRow {
    key: String,
    name: String,
    group: String,
    life: Life,
    kc_ini: f64,
    kc_mid: f64,
    kc_end: f64,
    kcb_ini: f64,
    kcb_mid: f64,
    kcb_end: f64,
    height_m: f64,
    root_min_m: f64,
    root_max_m: f64,
    depletion_fraction: f64,
    ky: Option<f64>,
    salt_key: Option<String>,
    stage_key: String,
    taken_as: Option<String>,
    provenance: Provenance,
    note: String,
}

#[derive(Deserialize)]
struct LengthRow {
    stage_key: String,
    initial_d: f64,
    development_d: f64,
    mid_d: f64,
    late_d: f64,
    months: String,
    region: String,
    provenance: Provenance,
    note: String,
}

fn rows<T: serde::de::DeserializeOwned>(name: &str, text: &str) -> Vec<T> {
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The tables are compiled in, and a test reads them all.
        Err(error) => unreachable!("{name}: {error}"),
    }
}

static CATALOGUE: LazyLock<Vec<Crop>> = LazyLock::new(|| {
    let lengths: Vec<LengthRow> = rows("stages.csv", include_str!("data/stages.csv"));
    let stages = |keys: &str| -> Vec<StageRow> {
        // In the order of the keys: a crop's first key holds what suits most farms.
        keys.split(';')
            .flat_map(|key| lengths.iter().filter(move |row| row.stage_key == key))
            .map(|row| StageRow {
                stages: Stages {
                    initial_d: row.initial_d,
                    development_d: row.development_d,
                    mid_d: row.mid_d,
                    late_d: row.late_d,
                },
                months: row.months.split(';').filter_map(|month| month.parse().ok()).collect(),
                region: row.region.clone(),
                provenance: Some(row.provenance),
                note: row.note.clone(),
            })
            .collect()
    };
    rows::<CropRow>("crops.csv", include_str!("data/crops.csv"))
        .into_iter()
        .map(|row| Crop {
            stages: stages(&row.stage_key),
            root_initial_m: match row.life {
                Life::Annual => FIRST_ROOTS_M.min(row.root_min_m),
                Life::Perennial => row.root_min_m,
            },
            root_full_m: row.root_min_m,
            key: row.key,
            name: row.name,
            group: row.group,
            life: row.life,
            kc_ini: row.kc_ini,
            kc_mid: row.kc_mid,
            kc_end: row.kc_end,
            kcb_ini: row.kcb_ini,
            kcb_mid: row.kcb_mid,
            kcb_end: row.kcb_end,
            height_m: row.height_m,
            root_min_m: row.root_min_m,
            root_max_m: row.root_max_m,
            depletion_fraction: row.depletion_fraction,
            ky: row.ky,
            salt_key: row.salt_key,
            taken_as: row.taken_as,
            provenance: row.provenance,
            note: row.note,
        })
        .collect()
});

static BY_KEY: LazyLock<HashMap<&'static str, &'static Crop>> =
    LazyLock::new(|| CATALOGUE.iter().map(|crop| (crop.key.as_str(), crop)).collect());

/// Every crop, in the order of the table.
#[must_use]
pub fn catalogue() -> &'static [Crop] {
    &CATALOGUE
}

/// The crop with a key.
///
/// # Errors
/// An unknown key, with the nearest known ones.
pub fn find(key: &str) -> Result<&'static Crop, Refusal> {
    let plain = key.trim().to_lowercase().replace([' ', '_'], "-");
    if let Some(crop) = BY_KEY.get(plain.as_str()) {
        return Ok(crop);
    }
    let near = nearest(&plain, 3);
    Err(Refusal::new(
        "crop",
        format!("no crop is called \u{201c}{}\u{201d}; the nearest are {}", short(key), near.join(", ")),
    )
    .given(short(key))
    .accepted(format!("one of the {} crops of the catalogue", CATALOGUE.len()))
    .example(near.first().copied().unwrap_or("tomato")))
}

fn short(text: &str) -> String {
    text.chars().take(40).collect()
}

/// The keys nearest to a word, those that hold it or are held in it first.
fn nearest(word: &str, count: usize) -> Vec<&'static str> {
    let word: String = word.chars().take(40).collect();
    let mut keys: Vec<(usize, &'static str)> = CATALOGUE
        .iter()
        .map(|crop| {
            let whole = distance(&word, &crop.key);
            let held = !word.is_empty()
                && (crop.key.contains(&word)
                    || crop.name.to_lowercase().contains(&word)
                    || crop.key.split('-').any(|part| part.len() > 3 && word.contains(part)));
            (if held { whole / 4 } else { whole }, crop.key.as_str())
        })
        .collect();
    keys.sort_by_key(|pair| pair.0);
    keys.into_iter().take(count).map(|pair| pair.1).collect()
}

/// Letters to add, drop or change to make one word of the other (Levenshtein).
fn distance(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (at, letter) in one.chars().enumerate() {
        let mut corner = row[0];
        row[0] = at + 1;
        for (column, wanted) in other.iter().enumerate() {
            let change = corner + usize::from(letter != *wanted);
            corner = row[column + 1];
            row[column + 1] = change.min(corner + 1).min(row[column] + 1);
        }
    }
    row[other.len()]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::climate::weather::YearDay;

    #[test]
    fn every_crop_is_whole_and_believable() {
        assert!(catalogue().len() >= 60);
        let mut keys: Vec<_> = catalogue().iter().map(|crop| &crop.key).collect();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), catalogue().len(), "a key stands twice");
        for crop in catalogue() {
            let key = &crop.key;
            assert!(key.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{key}");
            for kc in [crop.kc_ini, crop.kc_mid, crop.kc_end, crop.kcb_ini, crop.kcb_mid, crop.kcb_end] {
                assert!((0.15..=1.25).contains(&kc), "{key}");
            }
            assert!(crop.kcb_ini <= crop.kcb_mid && crop.kcb_end <= crop.kcb_mid, "{key}");
            assert!(
                crop.kcb_ini <= crop.kc_ini && crop.kcb_mid <= crop.kc_mid && crop.kcb_end <= crop.kc_end
            );
            assert!((0.1..=5.0).contains(&crop.height_m), "{key}");
            assert!(crop.root_initial_m <= crop.root_min_m && crop.root_min_m < crop.root_max_m, "{key}");
            assert!((0.2..=0.65).contains(&crop.depletion_fraction), "{key}");
            assert!(crop.ky.is_none_or(|ky| (0.8..=1.3).contains(&ky)), "{key}");
            assert!(!crop.stages.is_empty(), "{key} has no stages");
            for row in &crop.stages {
                assert!((30.0..=370.0).contains(&row.stages.total_d()), "{key} {row:?}");
                assert!(row.months.iter().all(|month| (1..=12).contains(month)), "{key}");
            }
            match &crop.taken_as {
                Some(other) => {
                    assert_eq!(crop.provenance, Provenance::Judgement, "{key}");
                    let other = find(other).unwrap();
                    assert_eq!((other.kc_mid, other.kc_end), (crop.kc_mid, crop.kc_end), "{key}");
                }
                None => assert_ne!(crop.provenance, Provenance::Judgement, "{key}"),
            }
        }
    }

    #[test]
    fn an_unknown_crop_is_refused_with_the_nearest_keys() {
        for (asked, nearest) in
            [("tomatoe", "tomato"), ("brocoli", "broccoli"), ("aubergine", "eggplant"), ("rocket", "arugula")]
        {
            let refusal = find(asked).unwrap_err();
            assert_eq!(refusal.field, "crop");
            assert!(refusal.message.contains(nearest), "{refusal}");
        }
        assert_eq!(find("Sweet Corn").unwrap().key, "sweet-corn");
        assert!(find("").is_err());
        assert!(find(&"x".repeat(100_000)).is_err());
    }

    #[test]
    fn the_nearest_month_chooses_the_stages() {
        let lettuce = find("lettuce").unwrap();
        assert_eq!(lettuce.stages_for(Some(4), 45.0).stages.total_d(), 75.0);
        assert_eq!(lettuce.stages_for(Some(2), 45.0).stages.total_d(), 140.0);
        // October in the south is April in the north.
        assert_eq!(lettuce.stages_for(Some(10), -40.0).stages.total_d(), 75.0);
        assert_eq!(lettuce.stages_for(None, 45.0), &lettuce.stages[0]);
        let day = |day_of_year| YearDay { year: 2025, day_of_year };
        assert_eq!(lettuce.season(day(105), None, 45.0).unwrap().total_d(), 75.0);
        let scaled = lettuce.season(day(105), Some(day(165)), 45.0).unwrap();
        assert!((scaled.total_d() - 60.0).abs() < 1e-9 && (scaled.initial_d - 16.0).abs() < 1e-9);
        assert_eq!(lettuce.season(day(105), Some(day(100)), 45.0).unwrap_err().field, "harvested");
    }
}
