//! `record bed`.

use std::path::PathBuf;

use book::model::{Bed, BedLength, BedWidth};
use clap::Args;
use ground::kit::Bounded;
use ground::kit::units::{Dimension, field_unit, show, typed};
use serde_json::json;

use crate::args::Global;
use crate::records;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Options of `record bed`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework record bed home.farmbook \"Lower field\" \"Beds 1 to 8\" --length 50ft --width 30in --count 8")]
pub(crate) struct RecordBed {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// What the bed is called, or several equal ones
    name: String,
    /// Length of each
    #[arg(long)]
    length: String,
    /// Width of each
    #[arg(long)]
    width: String,
    /// How many equal ones
    #[arg(long, default_value = "1")]
    count: u16,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordBed {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let plot = shelf::plot(&snapshot, &self.plot)?;
        let bed = Bed {
            plot: plot.id,
            name: self.name.trim().to_owned(),
            length_m: typed::<BedLength>("length", &self.length, field_unit(BedLength::UNIT, system))?,
            width_m: typed::<BedWidth>("width", &self.width, field_unit(BedWidth::UNIT, system))?,
            count: self.count,
        };
        let held = book.record(bed, &shelf::stamp(&self.by)).map_err(|error| in_units(error, system))?;
        let text = format!(
            "Recorded: bed {} of {}, {} (record {}).",
            held.body.name,
            plot.body.name,
            show(held.body.area_m2(), Dimension::Area, system),
            records::short(&book, held.id)
        );
        Report::new(&json!({ "recorded": held }), wrapped(&text, terminal.width, "  "))
    }
}
