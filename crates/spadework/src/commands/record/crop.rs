//! `record crop` and `record planting`: what the farm grows, where and from when to when.

use std::path::PathBuf;

use book::Snapshot;
use book::model::{CropRate, FarmCrop, Mulch, MulchKind, PlantedCrop, PlantedHow, Planting};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::kit::Refusal;

use super::in_bed::{InBed, given, needed, store};
use crate::args::Global;
use crate::records;
use crate::report::Report;
use crate::shelf::{self, Witnessed};
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record crop`.
#[derive(Debug, Args)]
#[command(
    after_help = "A crop of the farm's own, or the farm's figures for a crop of the catalogue (--based-on). What is not given is
taken from the catalogue; a crop that is based on none needs its coefficients, its stages and its root depth.

Examples:
  spadework record crop home.farmbook \"Paste tomato\" --based-on tomato --days 30,40,45,30 --rates 120lb/acre,50lb/acre,100lb/acre
  spadework record crop home.farmbook Yacon --kc 0.5,1.1,0.9 --days 40,50,60,40 --root-depth 2ft"
)]
pub(crate) struct RecordCrop {
    /// The farm book
    book: PathBuf,
    /// What it is called
    name: String,
    /// The crop of the catalogue it is based on
    #[arg(long, value_name = "CROP")]
    based_on: Option<String>,
    /// Crop coefficients: while small, when grown, at the end; an empty one is left to the catalogue
    #[arg(long, value_name = "SMALL,GROWN,END")]
    kc: Option<String>,
    /// Days of the initial, development, mid and late stage; an empty one is left to the catalogue
    #[arg(long, value_name = "DAYS,DAYS,DAYS,DAYS")]
    days: Option<String>,
    /// Depth that the roots reach
    #[arg(long, value_name = "DEPTH")]
    root_depth: Option<String>,
    /// Share of the available water that may be used before it suffers, 0.05 to 0.95
    #[arg(long, value_name = "FRACTION")]
    depletion: Option<String>,
    /// Height when grown
    #[arg(long)]
    height: Option<String>,
    /// Nitrogen, phosphate and potash that you give it in a season, which count before every scheme; an empty one is left out
    #[arg(long, value_name = "N,P2O5,K2O")]
    rates: Option<String>,
    /// Anything else
    #[arg(long, default_value = "")]
    note: String,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordCrop {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let system = global.system_or(book.snapshot()?.farm.body.units);
        let [small, grown, end] = parts::<3>("kc", self.kc.as_deref(), "0.6,1.15,0.8")?;
        let days = parts::<4>("days", self.days.as_deref(), "30,40,45,30")?;
        let mut stages = [None; 4];
        for (stage, text) in stages.iter_mut().zip(days) {
            *stage = text.map(whole_days).transpose()?;
        }
        let [initial_days, development_days, mid_days, late_days] = stages;
        let rates = parts::<3>("rates", self.rates.as_deref(), "120lb/acre,50lb/acre,100lb/acre")?;
        let mut given_rates = [None; 3];
        for (rate, text) in given_rates.iter_mut().zip(rates) {
            *rate = text.map(|text| CropRate::typed("rates", text, system)).transpose()?;
        }
        let [n_kg_ha, p2o5_kg_ha, k2o_kg_ha] = given_rates;
        let crop = FarmCrop {
            key: self.based_on.as_deref().map(|key| key.trim().to_owned()),
            name: self.name.trim().to_owned(),
            kc_initial: given("kc", small, system)?,
            kc_mid: given("kc", grown, system)?,
            kc_end: given("kc", end, system)?,
            initial_days,
            development_days,
            mid_days,
            late_days,
            root_depth_m: given("root-depth", self.root_depth.as_deref(), system)?,
            depletion_fraction: given("depletion", self.depletion.as_deref(), system)?,
            height_m: given("height", self.height.as_deref(), system)?,
            n_kg_ha,
            p2o5_kg_ha,
            k2o_kg_ha,
            note: self.note,
        };
        store(&mut book, crop, &self.by, global, terminal)
    }
}

/// So many values parted by commas; an empty one says nothing.
fn parts<'a, const N: usize>(
    field: &str,
    text: Option<&'a str>,
    example: &str,
) -> Result<[Option<&'a str>; N], Refusal> {
    let Some(text) = text else { return Ok([None; N]) };
    let found: Vec<Option<&str>> =
        text.split(',').map(str::trim).map(|part| (!part.is_empty()).then_some(part)).collect();
    let count = found.len();
    found.try_into().map_err(|_| {
        Refusal::new(field, format!("{field} takes {N} values, but {count} were given"))
            .given(text)
            .accepted(format!("{N} values parted by commas"))
            .example(example)
    })
}

fn whole_days(text: &str) -> Result<u16, Refusal> {
    text.parse().map_err(|_| {
        Refusal::new("days", format!("{text:?} is not a count of days"))
            .given(text)
            .accepted("0 to 1000")
            .example("30,40,45,30")
    })
}

/// Options of `record planting`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework record planting home.farmbook \"Lower field\" \"Beds 1 to 8\" tomato --on 2026-05-20 --how transplanted
    --harvest 2026-09-15 --mulch plastic --mulched 80")]
pub(crate) struct RecordPlanting {
    #[command(flatten)]
    place: InBed,
    /// A crop of the farm's own by its name, or a crop of the catalogue by its key
    crop: String,
    /// How it began
    #[arg(long, value_parser = PossibleValuesParser::new(["sown", "transplanted", "standing"]), default_value = "sown")]
    how: String,
    /// Day the harvest is expected to end
    #[arg(long, value_name = "DATE")]
    harvest: Option<String>,
    /// Last day it stood, where it is gone already
    #[arg(long, value_name = "DATE")]
    ended: Option<String>,
    /// Mulch on the bed
    #[arg(long, value_parser = PossibleValuesParser::new(["plastic", "organic"]), requires = "mulched")]
    mulch: Option<String>,
    /// Share of the ground that the mulch covers
    #[arg(long, value_name = "PERCENT", requires = "mulch")]
    mulched: Option<String>,
    /// Fresh yield hoped for from all beds of the record, such as 300lb
    #[arg(long, value_name = "MASS")]
    yield_goal: Option<String>,
    #[command(flatten)]
    witnessed: Witnessed,
}

impl RecordPlanting {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.place.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let mulch = match self.mulch.as_deref() {
            None => None,
            Some(word) => Some(Mulch {
                of: if word == "plastic" { MulchKind::Plastic } else { MulchKind::Organic },
                covered_percent: needed("mulched", self.mulched.as_deref(), system)?,
            }),
        };
        let planting = Planting {
            bed: self.place.find(&snapshot)?.id,
            crop: planted(&snapshot, &self.crop)?,
            planted_on: self.witnessed.day()?,
            how: match self.how.as_str() {
                "transplanted" => PlantedHow::Transplanted,
                "standing" => PlantedHow::Standing,
                _ => PlantedHow::Sown,
            },
            harvest_on: self.harvest.as_deref().map(|text| shelf::day("harvest", text)).transpose()?,
            ended_on: self.ended.as_deref().map(|text| shelf::day("ended", text)).transpose()?,
            mulch,
            yield_goal_kg: given("yield-goal", self.yield_goal.as_deref(), system)?,
            note: self.witnessed.note.clone(),
        };
        store(&mut book, planting, &self.witnessed.by, global, terminal)
    }
}

/// A crop of the farm's own goes before one of the catalogue.
fn planted(snapshot: &Snapshot, text: &str) -> Result<PlantedCrop, Trouble> {
    let text = text.trim();
    let own: Vec<_> = snapshot
        .crops
        .iter()
        .filter(|crop| crop.body.name.trim().eq_ignore_ascii_case(text) || records::names(crop.id, text))
        .collect();
    match own[..] {
        [] => Ok(PlantedCrop::Catalogue(text.to_owned())),
        [one] => Ok(PlantedCrop::FarmCrop(one.id)),
        _ => {
            let refusal =
                Refusal::new("crop", format!("{} crops of this farm are called {text:?}", own.len()));
            Err(Trouble::from(refusal.given(text).accepted("the id of one of them"))
                .hint("spadework list BOOK crop, which shows the ids"))
        }
    }
}
