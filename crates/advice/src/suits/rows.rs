//! The crops of the table: those that the farm grows first.

use book::Snapshot;
use book::model::PlantedCrop;
use ground::siting::all_needs;
use serde::Serialize;

/// A crop in the table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CropRow {
    /// Key in the catalogue.
    pub key: String,
    /// Its name.
    pub name: String,
    /// Has the farm grown it?
    pub grown: bool,
    /// The farm's own names for it.
    pub own_names: Vec<String>,
}

/// Every crop whose needs are known: first those that the farm has grown, most plantings first, then the others in
/// the order of the catalogue. A crop of the farm's own stands with that of the catalogue it is based on.
#[must_use]
pub fn crops(snapshot: &Snapshot) -> Vec<CropRow> {
    let mut rows: Vec<(usize, CropRow)> = all_needs()
        .iter()
        .map(|needs| {
            let row = CropRow {
                key: needs.key.clone(),
                name: needs.name.clone(),
                grown: false,
                own_names: Vec::new(),
            };
            (0, row)
        })
        .collect();
    for held in &snapshot.plantings {
        let (key, own) = match &held.body.crop {
            PlantedCrop::Catalogue(key) => (Some(key.clone()), None),
            PlantedCrop::FarmCrop(_) => match snapshot.crop_of(&held.body) {
                Some(crop) => (crop.body.key.clone(), Some(crop.body.name.clone())),
                None => continue,
            },
        };
        let Some((count, row)) = rows.iter_mut().find(|(_, row)| Some(&row.key) == key.as_ref()) else {
            continue;
        };
        *count += 1;
        row.grown = true;
        if let Some(own) = own.filter(|own| !row.own_names.contains(own)) {
            row.own_names.push(own);
        }
    }
    rows.sort_by_key(|(count, _)| std::cmp::Reverse(*count));
    rows.into_iter().map(|(_, row)| row).collect()
}
