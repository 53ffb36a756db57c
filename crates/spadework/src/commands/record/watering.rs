//! `record water-supply`, `record watering-system` and `record watering`.

use std::path::PathBuf;

use book::Snapshot;
use book::model::{Delivery, EntryId, WaterSupply, WateringAmount, WateringDone, WateringSystem};
use clap::builder::PossibleValuesParser;
use clap::{ArgGroup, Args};
use ground::kit::Refusal;

use super::in_bed::{InBed, given, needed, store};
use crate::args::Global;
use crate::near::nearest;
use crate::records;
use crate::report::Report;
use crate::shelf::{self, Witnessed};
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record water-supply`.
#[derive(Debug, Args)]
#[command(after_help = "The flow is timed with a bucket where there is no meter: 5 gal in a minute is 5gpm.

Example:
  spadework record water-supply home.farmbook Well --flow 5gpm --ec 0.8 --sodium 35 --calcium 60 --magnesium 18")]
pub(crate) struct RecordWaterSupply {
    /// The farm book
    book: PathBuf,
    /// What it is called
    name: String,
    /// What it gives
    #[arg(long)]
    flow: Option<String>,
    /// Electrical conductivity of the water
    #[arg(long, value_name = "CONDUCTIVITY")]
    ec: Option<String>,
    /// Sodium in mg/L
    #[arg(long, value_name = "CONTENT")]
    sodium: Option<String>,
    /// Calcium in mg/L
    #[arg(long, value_name = "CONTENT")]
    calcium: Option<String>,
    /// Magnesium in mg/L
    #[arg(long, value_name = "CONTENT")]
    magnesium: Option<String>,
    /// Bicarbonate in mg/L
    #[arg(long, value_name = "CONTENT")]
    bicarbonate: Option<String>,
    /// Nitrate in mg/L of nitrogen (NO3-N)
    #[arg(long, value_name = "CONTENT")]
    nitrate_n: Option<String>,
    /// Anything else
    #[arg(long, default_value = "")]
    note: String,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordWaterSupply {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let system = global.system_or(book.snapshot()?.farm.body.units);
        let supply = WaterSupply {
            name: self.name.trim().to_owned(),
            flow_l_min: given("flow", self.flow.as_deref(), system)?,
            ec_ds_m: given("ec", self.ec.as_deref(), system)?,
            sodium_mg_l: given("sodium", self.sodium.as_deref(), system)?,
            calcium_mg_l: given("calcium", self.calcium.as_deref(), system)?,
            magnesium_mg_l: given("magnesium", self.magnesium.as_deref(), system)?,
            bicarbonate_mg_l: given("bicarbonate", self.bicarbonate.as_deref(), system)?,
            nitrate_n_mg_l: given("nitrate-n", self.nitrate_n.as_deref(), system)?,
            note: self.note,
        };
        store(&mut book, supply, &self.by, global, terminal)
    }
}

/// Options of `record watering-system`.
#[derive(Debug, Args)]
#[command(
    after_help = "drip-tape takes --flow (such as \"0.5 gpm/100ft\" or 5L/h/m) and --lines; emitters take --flow of each (0.5gph or
2L/h), --spacing and --lines; a sprinkler takes --rate (0.3in/h). Lines are those along each bed. The latest
record of a bed counts.

Example:
  spadework record watering-system home.farmbook \"Lower field\" \"Beds 1 to 8\" drip-tape
    --flow \"0.5 gpm/100ft\" --lines 2 --supply Well"
)]
pub(crate) struct RecordWateringSystem {
    #[command(flatten)]
    place: InBed,
    /// How water is given
    #[arg(value_parser = PossibleValuesParser::new(["drip-tape", "emitters", "sprinkler", "hand"]))]
    kind: String,
    /// Flow of the tape, or of one emitter
    #[arg(long)]
    flow: Option<String>,
    /// Distance from emitter to emitter
    #[arg(long, value_name = "LENGTH")]
    spacing: Option<String>,
    /// Lines along each bed
    #[arg(long, value_name = "COUNT")]
    lines: Option<u16>,
    /// Depth that a sprinkler gives in an hour
    #[arg(long)]
    rate: Option<String>,
    /// The water supply, by its name or id
    #[arg(long, value_name = "NAME")]
    supply: Option<String>,
    /// Share of the water that reaches the roots
    #[arg(long, value_name = "PERCENT")]
    efficiency: Option<String>,
    /// Share of the bed that is wetted
    #[arg(long, value_name = "PERCENT")]
    wetted: Option<String>,
    /// Anything else
    #[arg(long, default_value = "")]
    note: String,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordWateringSystem {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.place.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let used = match self.kind.as_str() {
            "drip-tape" => ["flow", "lines", "", ""],
            "emitters" => ["flow", "lines", "spacing", ""],
            "sprinkler" => ["rate", "", "", ""],
            _ => [""; 4],
        };
        for (option, said) in [
            ("flow", self.flow.is_some()),
            ("lines", self.lines.is_some()),
            ("spacing", self.spacing.is_some()),
            ("rate", self.rate.is_some()),
        ] {
            if said && !used.contains(&option) {
                return Err(Refusal::new(option, format!("--{option} says nothing of {}", self.kind))
                    .given(format!("--{option}"))
                    .accepted("what the help names for this kind")
                    .example("drip-tape --flow 5L/h/m --lines 2")
                    .into());
            }
        }
        let lines = || {
            self.lines.ok_or_else(|| {
                Refusal::new("lines", "say how many lines run along each bed")
                    .given("nothing")
                    .accepted("1 to 200")
                    .example("2")
            })
        };
        let delivery = match self.kind.as_str() {
            "drip-tape" => Delivery::DripTape {
                flow_l_h_per_m: needed("flow", self.flow.as_deref(), system)?,
                lines: lines()?,
            },
            "emitters" => Delivery::Emitters {
                flow_l_h: needed("flow", self.flow.as_deref(), system)?,
                spacing_m: needed("spacing", self.spacing.as_deref(), system)?,
                lines: lines()?,
            },
            "sprinkler" => Delivery::Sprinkler { rate_mm_h: needed("rate", self.rate.as_deref(), system)? },
            _ => Delivery::Hand,
        };
        let record = WateringSystem {
            bed: self.place.find(&snapshot)?.id,
            supply: self.supply.as_deref().map(|name| supply(&snapshot, name)).transpose()?,
            delivery,
            efficiency_percent: given("efficiency", self.efficiency.as_deref(), system)?,
            wetted_percent: given("wetted", self.wetted.as_deref(), system)?,
            note: self.note.clone(),
        };
        store(&mut book, record, &self.by, global, terminal)
    }
}

fn supply(snapshot: &Snapshot, name: &str) -> Result<EntryId, Trouble> {
    let supplies = &snapshot.water_supplies;
    let named = supplies.iter().find(|supply| supply.body.name.trim().eq_ignore_ascii_case(name.trim()));
    if let Some(found) = named.or_else(|| supplies.iter().find(|supply| records::names(supply.id, name))) {
        return Ok(found.id);
    }
    let names: Vec<&str> = supplies.iter().map(|supply| supply.body.name.as_str()).collect();
    let refusal = Refusal::new("supply", format!("no water supply is called {name:?}")).given(name);
    Err(match names.first() {
        None => Trouble::from(refusal.accepted("the name of a water supply; this book has none yet"))
            .hint("spadework record water-supply BOOK NAME --flow 5gpm, which adds one"),
        Some(first) => {
            let near = nearest(name, names.iter().copied()).unwrap_or(first);
            refusal.accepted(names.join(", ")).example(near).into()
        }
    })
}

/// Options of `record watering`.
#[derive(Debug, Args)]
#[command(
    group = ArgGroup::new("amount").required(true),
    after_help = "Minutes are those the bed's watering system ran; depth is over the whole bed; volume is for all equal beds of
the record together.

Example:
  spadework record watering home.farmbook \"Lower field\" \"Beds 1 to 8\" --minutes 45"
)]
pub(crate) struct RecordWatering {
    #[command(flatten)]
    place: InBed,
    /// How long the water ran
    #[arg(long, value_name = "TIME", group = "amount")]
    minutes: Option<String>,
    /// Depth of water
    #[arg(long, value_name = "DEPTH", group = "amount")]
    depth: Option<String>,
    /// Volume of water
    #[arg(long, value_name = "VOLUME", group = "amount")]
    volume: Option<String>,
    #[command(flatten)]
    witnessed: Witnessed,
}

impl RecordWatering {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.place.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let amount = match (&self.minutes, &self.depth) {
            (Some(minutes), _) => WateringAmount::Minutes(needed("minutes", Some(minutes), system)?),
            (None, Some(depth)) => WateringAmount::DepthMm(needed("depth", Some(depth), system)?),
            (None, None) => WateringAmount::VolumeL(needed("volume", self.volume.as_deref(), system)?),
        };
        let watering = WateringDone {
            bed: self.place.find(&snapshot)?.id,
            on: self.witnessed.day()?,
            amount,
            note: self.witnessed.note.clone(),
        };
        store(&mut book, watering, &self.witnessed.by, global, terminal)
    }
}
