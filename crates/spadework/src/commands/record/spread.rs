//! `record application` and `record harvest`: what was spread and what was carried off.

use std::path::PathBuf;

use book::Snapshot;
use book::model::{Application, Harvest, Placed, PlantedCrop, SpreadMaterial};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::fertility::blend::catalogue::{CATALOGUE, generic};
use ground::kit::Refusal;

use super::in_bed::{InBed, bed, needed, store};
use super::material::CATALOGUE_KEYS;
use crate::args::Global;
use crate::near::nearest;
use crate::report::Report;
use crate::shelf::{self, Witnessed};
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record application`.
#[derive(Debug, Args)]
#[command(
    after_help = "The material is one of the shelf by its name, or with --generic one of the catalogue. What is on the shelf is
taken off it.

Examples:
  spadework record application home.farmbook \"Lower field\" \"Feather meal\" 4lb --bed \"Beds 1 to 8\" --on 2026-04-12
  spadework record application home.farmbook \"Lower field\" wood-ash 20lb --generic --placed surface"
)]
pub(crate) struct RecordApplication {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// The material
    material: String,
    /// How much in all, as it came
    mass: String,
    /// The material is one of the catalogue, by its key
    #[arg(long)]
    generic: bool,
    /// Name of the bed; the whole plot where nothing is said
    #[arg(long, value_name = "NAME")]
    bed: Option<String>,
    /// How it was placed
    #[arg(long, value_parser = PossibleValuesParser::new(["incorporated", "surface", "side-dressed", "banded", "watered-in"]), default_value = "incorporated")]
    placed: String,
    #[command(flatten)]
    witnessed: Witnessed,
}

impl RecordApplication {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let plot = shelf::plot(&snapshot, &self.plot)?;
        let in_bed = self.bed.as_deref().map(|name| bed(&snapshot, plot.id, name)).transpose()?;
        let application = Application {
            plot: plot.id,
            bed: in_bed.map(|bed| bed.id),
            spread: if self.generic {
                in_catalogue(&self.material)?
            } else {
                on_shelf(&snapshot, &self.material)?
            },
            on: self.witnessed.day()?,
            kg: needed("mass", Some(&self.mass), system)?,
            placed: match self.placed.as_str() {
                "surface" => Placed::Surface,
                "side-dressed" => Placed::SideDressed,
                "banded" => Placed::Banded,
                "watered-in" => Placed::WateredIn,
                _ => Placed::Incorporated,
            },
            job: None,
            note: self.witnessed.note.clone(),
        };
        store(&mut book, application, &self.witnessed.by, global, terminal)
    }
}

/// The material of that key or name in the catalogue.
fn in_catalogue(asked: &str) -> Result<SpreadMaterial, Trouble> {
    if let Some(known) = generic(asked) {
        return Ok(SpreadMaterial::Catalogue(known.key.clone()));
    }
    let keys = CATALOGUE.iter().map(|row| row.key.as_str());
    Err(Refusal::new("material", format!("the catalogue has no {asked:?}"))
        .given(asked)
        .accepted(CATALOGUE_KEYS)
        .example(nearest(asked, keys).unwrap_or("feather-meal"))
        .into())
}

/// The material of that name on the shelf.
fn on_shelf(snapshot: &Snapshot, name: &str) -> Result<SpreadMaterial, Trouble> {
    if let Some(held) = snapshot.material_named(name) {
        return Ok(SpreadMaterial::Shelf(held.id));
    }
    let names: Vec<&str> = snapshot.materials.iter().map(|held| held.body.name.as_str()).collect();
    let refusal =
        Refusal::new("material", format!("no material of the shelf is called {name:?}")).given(name);
    Err(match nearest(name, names.iter().copied()).or(names.first().copied()) {
        Some(near) => refusal.accepted(names.join(", ")).example(near).into(),
        None => Trouble::from(refusal.accepted("a material of the shelf, which is empty yet"))
            .hint("--generic, with the key of a material of the catalogue"),
    })
}

/// Options of `record harvest`.
#[derive(Debug, Args)]
#[command(
    after_help = "Counts for the planting that stood in the bed on that day; --crop names one of several.

Example:
  spadework record harvest home.farmbook \"Lower field\" \"Beds 1 to 8\" 120lb --on 2026-07-20"
)]
pub(crate) struct RecordHarvest {
    #[command(flatten)]
    place: InBed,
    /// Fresh mass
    mass: String,
    /// The crop, where several stood there
    #[arg(long, value_name = "CROP")]
    crop: Option<String>,
    #[command(flatten)]
    witnessed: Witnessed,
}

impl RecordHarvest {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.place.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let bed = self.place.find(&snapshot)?;
        let on = self.witnessed.day()?;
        let crop = |crop: &PlantedCrop| match crop {
            PlantedCrop::Catalogue(key) => key.clone(),
            PlantedCrop::FarmCrop(id) => {
                snapshot.crop(*id).map(|crop| crop.body.name.clone()).unwrap_or_default()
            }
        };
        let plantings = snapshot.plantings_of(bed.id);
        let found = match &self.crop {
            None => snapshot.planting_on(bed.id, on),
            Some(name) => plantings
                .iter()
                .copied()
                .filter(|planting| planting.body.planted_on <= on)
                .rfind(|planting| crop(&planting.body.crop).eq_ignore_ascii_case(name.trim())),
        };
        let Some(planting) = found else {
            let names: Vec<String> = plantings.iter().map(|planting| crop(&planting.body.crop)).collect();
            let refusal = Refusal::new(
                if self.crop.is_some() { "crop" } else { "bed" },
                format!("no such planting stood in {} on {}", bed.body.name, advice::words::day(on)),
            )
            .given(self.crop.as_deref().unwrap_or("nothing"));
            return Err(Trouble::from(match names.first() {
                Some(first) => refusal.accepted(names.join(", ")).example(first),
                None => refusal.accepted("a planting; this bed has none yet"),
            })
            .hint("spadework record planting BOOK PLOT BED CROP --on DATE, which adds one"));
        };
        let harvest = Harvest {
            planting: planting.id,
            on,
            kg: needed("mass", Some(&self.mass), system)?,
            note: self.witnessed.note.clone(),
        };
        store(&mut book, harvest, &self.witnessed.by, global, terminal)
    }
}
