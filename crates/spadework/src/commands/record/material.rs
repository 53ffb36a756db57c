//! `record material` and `record stock`: the shelf.

use std::path::PathBuf;

use book::Snapshot;
use book::model::{Analysis, EntryId, Material, OrganicUse, Pack, Stock, StockChange, sieves_typed};
use clap::builder::PossibleValuesParser;
use clap::{ArgGroup, Args};
use ground::fertility::blend::catalogue::{CATALOGUE, generic};
use ground::kit::Refusal;

use super::in_bed::{given, needed, store};
use crate::args::Global;
use crate::near::nearest;
use crate::records;
use crate::report::Report;
use crate::shelf::{self, Witnessed};
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Where the keys are told.
pub(super) const CATALOGUE_KEYS: &str = "a key of the catalogue: spadework shelf --catalogue lists them";

/// Options of `record material`.
#[derive(Debug, Args)]
#[command(
    group = ArgGroup::new("sold"),
    after_help = "Keys of the catalogue: spadework shelf --catalogue. What is left out is taken from there.

Examples:
  spadework record material home.farmbook \"Feather meal\" --key feather-meal --bag 50lb --price 42.00 --organic yes
  spadework record material home.farmbook \"Our compost\" --key dairy-compost --load-volume 1m3 --price 35 --n 0.9"
)]
pub(crate) struct RecordMaterial {
    /// The farm book
    book: PathBuf,
    /// What it is called
    name: String,
    /// The generic material of the catalogue
    #[arg(long)]
    key: Option<String>,
    /// Weight of a bag
    #[arg(long, value_name = "MASS", group = "sold")]
    bag: Option<String>,
    /// Volume of a load, such as "1 cu yd" or 1m3
    #[arg(long, value_name = "VOLUME", group = "sold")]
    load_volume: Option<String>,
    /// Weight of a load, such as "1 short ton" or 1t
    #[arg(long, value_name = "MASS", group = "sold")]
    load_weight: Option<String>,
    /// Volume of a jug or drum of a liquid, such as 2.5gal or 10L
    #[arg(long, value_name = "VOLUME", group = "sold")]
    jug: Option<String>,
    /// Price of one bag, load or jug
    #[arg(long)]
    price: Option<String>,
    /// May it be used under organic rules?
    #[arg(long, value_parser = PossibleValuesParser::new(["yes", "no", "ask"]))]
    organic: Option<String>,
    /// Nitrogen
    #[arg(long, value_name = "PERCENT")]
    n: Option<String>,
    /// Phosphate, P2O5
    #[arg(long, value_name = "PERCENT")]
    p2o5: Option<String>,
    /// Potash, K2O
    #[arg(long, value_name = "PERCENT")]
    k2o: Option<String>,
    /// Calcium
    #[arg(long, value_name = "PERCENT")]
    ca: Option<String>,
    /// Magnesium
    #[arg(long, value_name = "PERCENT")]
    mg: Option<String>,
    /// Sulfur
    #[arg(long, value_name = "PERCENT")]
    s: Option<String>,
    /// Boron
    #[arg(long, value_name = "PERCENT")]
    b: Option<String>,
    /// Zinc
    #[arg(long, value_name = "PERCENT")]
    zn: Option<String>,
    /// Manganese
    #[arg(long, value_name = "PERCENT")]
    mn: Option<String>,
    /// Copper
    #[arg(long, value_name = "PERCENT")]
    cu: Option<String>,
    /// Iron
    #[arg(long, value_name = "PERCENT")]
    fe: Option<String>,
    /// Chloride
    #[arg(long, value_name = "PERCENT")]
    cl: Option<String>,
    /// Sodium
    #[arg(long, value_name = "PERCENT")]
    na: Option<String>,
    /// Share of the nitrogen that a crop can have in the first season
    #[arg(long, value_name = "PERCENT")]
    available_n: Option<String>,
    /// Neutralizing value, % of calcium carbonate
    #[arg(long, value_name = "NUMBER")]
    neutralizing: Option<String>,
    /// What passes the sieves, of a lime: each mesh with its share, such as "8=95, 60=50"
    #[arg(long, value_name = "SHARES")]
    sieves: Option<String>,
    /// Water in it
    #[arg(long, value_name = "PERCENT")]
    moisture: Option<String>,
    /// Bulk density, such as 600kg/m3
    #[arg(long)]
    density: Option<String>,
    /// Carbon to nitrogen, such as 15
    #[arg(long, value_name = "NUMBER")]
    carbon_nitrogen: Option<String>,
    /// Conductivity of a manure or compost
    #[arg(long, value_name = "CONDUCTIVITY")]
    ec: Option<String>,
    /// Anything else
    #[arg(long, default_value = "")]
    note: String,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordMaterial {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let system = global.system_or(book.snapshot()?.farm.body.units);
        if let Some(key) = self.key.as_deref().filter(|key| generic(key).is_none()) {
            let keys = CATALOGUE.iter().map(|row| row.key.as_str());
            return Err(Refusal::new("key", format!("the catalogue has no {key:?}"))
                .given(key)
                .accepted(CATALOGUE_KEYS)
                .example(nearest(key, keys).unwrap_or("feather-meal"))
                .into());
        }
        let sold = match (&self.bag, &self.load_volume, &self.load_weight, &self.jug) {
            (Some(text), ..) => Some(Pack::BagKg(needed("bag", Some(text), system)?)),
            (_, Some(text), ..) => Some(Pack::LoadM3(needed("load_volume", Some(text), system)?)),
            (_, _, Some(text), _) => Some(Pack::LoadT(needed("load_weight", Some(text), system)?)),
            (.., Some(text)) => Some(Pack::JugL(needed("jug", Some(text), system)?)),
            _ => None,
        };
        let analysis = Analysis {
            n_percent: given("n", self.n.as_deref(), system)?,
            p2o5_percent: given("p2o5", self.p2o5.as_deref(), system)?,
            k2o_percent: given("k2o", self.k2o.as_deref(), system)?,
            ca_percent: given("ca", self.ca.as_deref(), system)?,
            mg_percent: given("mg", self.mg.as_deref(), system)?,
            s_percent: given("s", self.s.as_deref(), system)?,
            b_percent: given("b", self.b.as_deref(), system)?,
            zn_percent: given("zn", self.zn.as_deref(), system)?,
            mn_percent: given("mn", self.mn.as_deref(), system)?,
            cu_percent: given("cu", self.cu.as_deref(), system)?,
            fe_percent: given("fe", self.fe.as_deref(), system)?,
            cl_percent: given("cl", self.cl.as_deref(), system)?,
            na_percent: given("na", self.na.as_deref(), system)?,
        };
        let material = Material {
            key: self.key,
            name: self.name.trim().to_owned(),
            analysis,
            moisture_percent: given("moisture", self.moisture.as_deref(), system)?,
            neutralizing_percent: given("neutralizing", self.neutralizing.as_deref(), system)?,
            sieves: self
                .sieves
                .as_deref()
                .map(|text| sieves_typed("sieves", text))
                .transpose()?
                .unwrap_or_default(),
            density_kg_m3: given("density", self.density.as_deref(), system)?,
            sold,
            price: self.price.as_deref().map(str::parse).transpose()?,
            organic: self.organic.as_deref().map(|answer| match answer {
                "yes" => OrganicUse::Yes,
                "no" => OrganicUse::No,
                _ => OrganicUse::Ask,
            }),
            available_n_percent: given("available_n", self.available_n.as_deref(), system)?,
            carbon_nitrogen: given("carbon_nitrogen", self.carbon_nitrogen.as_deref(), system)?,
            ec_ds_m: given("ec", self.ec.as_deref(), system)?,
            note: self.note,
        };
        store(&mut book, material, &self.by, global, terminal)
    }
}

/// Options of `record stock`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework record stock home.farmbook \"Feather meal\" bought 100lb")]
pub(crate) struct RecordStock {
    /// The farm book
    book: PathBuf,
    /// Name of the material, or its id
    material: String,
    /// What happened
    #[arg(value_parser = PossibleValuesParser::new(["counted", "bought", "lost"]))]
    what: String,
    /// How much
    mass: String,
    #[command(flatten)]
    witnessed: Witnessed,
}

impl RecordStock {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let stock = Stock {
            material: material(&snapshot, &self.material)?,
            on: self.witnessed.day()?,
            kg: needed("mass", Some(&self.mass), system)?,
            what: match self.what.as_str() {
                "bought" => StockChange::Bought,
                "lost" => StockChange::Lost,
                _ => StockChange::Counted,
            },
            note: self.witnessed.note.clone(),
        };
        store(&mut book, stock, &self.witnessed.by, global, terminal)
    }
}

fn material(snapshot: &Snapshot, name: &str) -> Result<EntryId, Trouble> {
    if let Some(found) = snapshot.material_named(name) {
        return Ok(found.id);
    }
    if let Some(found) = snapshot.materials.iter().find(|material| records::names(material.id, name)) {
        return Ok(found.id);
    }
    let names: Vec<&str> = snapshot.materials.iter().map(|material| material.body.name.as_str()).collect();
    let refusal = Refusal::new("material", format!("no material is called {name:?}")).given(name);
    Err(match nearest(name, names.iter().copied()).or(names.first().copied()) {
        Some(near) => refusal.accepted(names.join(", ")).example(near).into(),
        None => Trouble::from(refusal.accepted("the name of a material; the shelf is empty")).hint(
            "spadework record material BOOK NAME --key feather-meal --bag 50lb --price 42, which adds one",
        ),
    })
}
