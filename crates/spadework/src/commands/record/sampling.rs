//! `record sampling`: a sampling plan, laid out and kept.

use std::path::PathBuf;

use advice::sampling_plan::{kept_already, sampling_report};
use clap::Args;
use ground::kit::Refusal;
use jiff::ZonedDateTime;
use serde_json::json;

use crate::args::Global;
use crate::commands::sampling::{SamplingArgs, of_report};
use crate::records;
use crate::report::Report;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record sampling`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework record sampling a.farmbook \"Lower field\" --bags 3 --seed 7
  spadework record sampling a.farmbook \"Lower field\" --design repeat --name \"Lower field, second spring\"")]
pub(crate) struct RecordSampling {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    #[command(flatten)]
    asked: SamplingArgs,
    /// Which of the layers that are taken, from the top
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=3))]
    layer: u8,
    /// What the plan is called; made of plot, purpose and month, unless said
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// Who records it
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordSampling {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let plot = shelf::plot(&snapshot, &self.plot)?;
        let today = ZonedDateTime::now().date();
        let report = sampling_report(&snapshot, plot, &self.asked.ask(&snapshot, system)?, today)?;
        let plan = report.plan(&snapshot, self.name, usize::from(self.layer) - 1, today)?;
        if let Some(same) = kept_already(&snapshot, &plan) {
            let said = format!(
                "this plan is kept already, as \u{201c}{}\u{201d}, and no soil was taken for it yet",
                same.body.name
            );
            return Err(Refusal::new("plan", said)
                .given(&plan.name)
                .accepted(format!("the plan that is kept (--plan {}), or other places", same.id))
                .example("--seed 2")
                .into());
        }
        let held = book.record(plan, &shelf::stamp(&self.by))?;
        let text = format!(
            "{}\n\nRecorded: sampling plan \u{201c}{}\u{201d} (record {}).",
            of_report(&report, system, terminal),
            held.body.name,
            records::short(&book, held.id)
        );
        Report::new(&json!({ "recorded": held }), text)
    }
}
