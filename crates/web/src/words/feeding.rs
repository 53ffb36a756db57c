//! Laboratories, the shelf, what was spread and harvested, line by line.

use advice::words::day;
use advice::work::material_name;
use book::Snapshot;
use book::model::{
    Application, Harvest, HeadingMeans, Import, LabHeading, Laboratory, Material, Pack, SpreadMaterial, Stock,
};
use ground::kit::Bounded;
use ground::kit::quantity::number;
use ground::kit::units::UnitSystem;

use super::Line;
use super::record::name_of;
use super::water::{bed_line, crop_name, maybe};
use crate::form::shown;

/// A laboratory.
pub(super) fn laboratory(laboratory: &Laboratory, units: UnitSystem) -> Vec<Line> {
    let Laboratory { name, columns, basis_depth_cm, note } = laboratory;
    vec![
        Line::new("Name", name),
        Line::new("Columns", headings(columns)),
        maybe("Figures per area speak of", *basis_depth_cm, units),
        Line::new("Note", note),
    ]
}

/// A table that was taken in.
pub(super) fn import(import: &Import, snapshot: &Snapshot) -> Vec<Line> {
    let Import { file_name, laboratory, file_sha256, rows, columns, remarks, note } = import;
    vec![
        Line::new("File", file_name),
        Line::new("Laboratory", laboratory.map(|id| name_of(snapshot, id)).unwrap_or_default()),
        Line::new("Rows taken", rows.to_string()),
        Line::new("Columns", headings(columns)),
        Line::new("SHA-256", file_sha256.chars().take(12).collect::<String>()),
        Line::new("Noticed", remarks.join(" ")),
        Line::new("Note", note),
    ]
}

/// "pH as pH in water; P (M3) as phosphorus, Mehlich 3 (ICP), ppm".
fn headings(columns: &[LabHeading]) -> String {
    let told = columns.iter().map(|column| match meaning(column.means) {
        Some(words) => format!("{} as {words}", column.heading),
        None => format!("{} passed over", column.heading),
    });
    told.collect::<Vec<_>>().join("; ")
}

/// What a column means, in words; nothing where it is passed over.
pub(crate) fn meaning(means: HeadingMeans) -> Option<String> {
    (means != HeadingMeans::PassedOver).then(|| book::means_words(means))
}

/// A material of the shelf.
pub(super) fn material(material: &Material, units: UnitSystem) -> Vec<Line> {
    let Material {
        key,
        name,
        analysis,
        moisture_percent,
        neutralizing_percent,
        sieves,
        density_kg_m3,
        sold,
        price,
        organic,
        available_n_percent,
        carbon_nitrogen,
        ec_ds_m,
        note,
    } = material;
    let shares: Vec<String> = analysis
        .shares()
        .into_iter()
        .filter_map(|(sign, share)| Some(format!("{sign} {} %", number(share?.get()))))
        .collect();
    let sieves: Vec<String> = sieves
        .iter()
        .map(|sieve| format!("mesh {}: {} %", sieve.mesh, number(sieve.passing_percent.get())))
        .collect();
    vec![
        Line::new("Name", name),
        Line::new("Generic material", key.as_deref().unwrap_or_default().replace(['_', '-'], " ")),
        Line::new("Analysis", shares.join(", ")),
        maybe("Moisture", *moisture_percent, units),
        Line::new(
            "Neutralizing value",
            neutralizing_percent
                .map(|value| format!("{} % of calcium carbonate", number(value.get())))
                .unwrap_or_default(),
        ),
        Line::new("Passes the sieve", sieves.join(", ")),
        maybe("Bulk density", *density_kg_m3, units),
        Line::new("Sold by", sold.map(|pack| pack_words(pack, units)).unwrap_or_default()),
        Line::new("Price", price.map(|price| price.to_string()).unwrap_or_default()),
        Line::new("Under organic rules", organic.map_or("", |may| may.words())),
        maybe("Nitrogen for plants in the first season", *available_n_percent, units),
        Line::new(
            "Carbon to nitrogen",
            carbon_nitrogen.map(|ratio| format!("{} to 1", number(ratio.get()))).unwrap_or_default(),
        ),
        maybe("Conductivity", *ec_ds_m, units),
        Line::new("Note", note),
    ]
}

/// "the bag of 50 lb".
pub(crate) fn pack_words(pack: Pack, units: UnitSystem) -> String {
    match pack {
        Pack::BagKg(mass) => format!("the bag of {}", shown(mass, units)),
        Pack::LoadM3(volume) => format!("the load of {}", shown(volume, units)),
        Pack::LoadT(mass) => format!("the load of {}", shown(mass, units)),
        Pack::JugL(volume) => format!("the jug of {}", shown(volume, units)),
    }
}

/// A count, a purchase or a loss.
pub(super) fn stock(stock: &Stock, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let Stock { material, on, kg, what, note } = stock;
    vec![
        Line::new("Material", material_name(snapshot, &SpreadMaterial::Shelf(*material))),
        Line::new("On", day(*on)),
        Line::new("What", what.words()),
        Line::new("How much", shown(*kg, units)),
        Line::new("Note", note),
    ]
}

/// What was spread.
pub(super) fn application(application: &Application, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let Application { plot, bed, spread, on, kg, placed, job, note } = application;
    vec![
        match bed {
            Some(bed) => bed_line(snapshot, *bed),
            None => Line::new("Plot", name_of(snapshot, *plot)),
        },
        Line::new("Material", material_name(snapshot, spread)),
        Line::new("On", day(*on)),
        Line::new("How much", format!("{} in all", shown(*kg, units))),
        Line::new("How", placed.words()),
        Line::new(
            "For the job",
            job.as_deref()
                .map(|key| snapshot.job(key).map_or(key, |job| &job.body.as_planned.what))
                .unwrap_or_default(),
        ),
        Line::new("Note", note),
    ]
}

/// What was carried off.
pub(super) fn harvest(harvest: &Harvest, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let Harvest { planting, on, kg, note } = harvest;
    let held = snapshot.planting(*planting);
    vec![
        held.map_or_else(|| Line::new("Bed", ""), |held| bed_line(snapshot, held.body.bed)),
        Line::new(
            "Crop",
            held.map_or_else(|| name_of(snapshot, *planting), |held| crop_name(&held.body.crop, snapshot)),
        ),
        Line::new("On", day(*on)),
        Line::new("How much", shown(*kg, units)),
        Line::new("Note", note),
    ]
}
