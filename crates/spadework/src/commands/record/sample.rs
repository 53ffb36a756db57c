//! `record sample`.

use std::path::PathBuf;

use advice::maps::spot::typed_spot;
use book::model::{Sample, SampleDepth};
use clap::Args;
use ground::kit::Bounded;
use ground::kit::units::{field_unit, typed};
use serde_json::json;

use crate::args::Global;
use crate::records;
use crate::report::{Report, wrapped};
use crate::shelf::{self, Witnessed};
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Options of `record sample`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework record sample home.farmbook \"Lower field\" --from 0in --to 8in --cores 12 --label LF-1")]
pub(crate) struct RecordSample {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// Top of the layer it was taken from
    #[arg(long, value_name = "DEPTH", default_value = "0")]
    from: String,
    /// Bottom of that layer
    #[arg(long, value_name = "DEPTH")]
    to: String,
    /// How many cores were mixed
    #[arg(long)]
    cores: Option<u16>,
    /// What stands on the bag
    #[arg(long, default_value = "")]
    label: String,
    /// Where on the plot, for a bag from one place: distances east and north of the plan's origin ("120 ft, 40 ft"), or
    /// degrees with letters ("42.5012 N, 93.4987 W")
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    at: Option<String>,
    #[command(flatten)]
    witnessed: Witnessed,
}

impl RecordSample {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let unit = field_unit(SampleDepth::UNIT, system);
        let plot = shelf::plot(&snapshot, &self.plot)?;
        let sample = Sample {
            plot: plot.id,
            taken_on: self.witnessed.day()?,
            from_cm: typed::<SampleDepth>("from", &self.from, unit)?,
            to_cm: typed::<SampleDepth>("to", &self.to, unit)?,
            cores: self.cores,
            taken_by: self.witnessed.by.trim().to_owned(),
            bag_label: self.label.trim().to_owned(),
            import: None,
            spot: self.at.as_deref().map(|text| typed_spot("at", text, system)).transpose()?,
            note: self.witnessed.note.clone(),
        };
        let held = book.record(sample, &self.witnessed.stamp()).map_err(|error| in_units(error, system))?;
        let label =
            if held.body.bag_label.is_empty() { String::new() } else { format!(" {}", held.body.bag_label) };
        let text = format!(
            "Recorded: sample{label} of {} (record {}).",
            plot.body.name,
            records::short(&book, held.id)
        );
        Report::new(&json!({ "recorded": held }), wrapped(&text, terminal.width, "  "))
    }
}
