//! `acidity`: the acidity of one plot, how much lime by which method, sulfur, sodium.

use std::path::PathBuf;

use advice::feeding::acidity::{AcidityOptions, AcidityReport, USUAL_DEPTH_CM, acidity, tell};
use advice::{Options, plot_report};
use clap::Args;
use ground::fertility::acidity::quantity::MixedDepth;
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem, in_units, typed};
use jiff::ZonedDateTime;

use crate::args::Global;
use crate::report::{Report, part, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `acidity`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework acidity a.farmbook \"Lower field\"
  spadework acidity a.farmbook \"Lower field\" --depth \"8 in\" --json
  spadework settings a.farmbook --lime-method tri-state-smp")]
pub(crate) struct Acidity {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// Depth that lime or sulfur is mixed into; six inches, unless said
    #[arg(long, value_name = "DEPTH")]
    depth: Option<String>,
    /// Potato scab is a risk here
    #[arg(long)]
    scab: bool,
}

impl Acidity {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let depth_cm = match &self.depth {
            Some(text) => typed::<MixedDepth>("depth", text, Dimension::Depth.unit(system))?.get(),
            None => USUAL_DEPTH_CM,
        };
        let id = shelf::plot(&snapshot, &self.plot)?.id;
        let report = plot_report(&snapshot, id, &Options { weigh_measurements: false, ..Options::default() })
            .ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let options = AcidityOptions { depth_cm, scab: self.scab };
        let told = acidity(&snapshot, &report, options, ZonedDateTime::now().date())
            .ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let text = text(&told, system, terminal);
        Report::new(&told, text)
    }
}

fn text(report: &AcidityReport, system: UnitSystem, terminal: &Terminal) -> String {
    let said = tell::sentences(report, system);
    let mut text = format!("Acidity, {}\n{}", report.name, wrapped(&said.lead, terminal.width, ""));
    let mut part = |title: &str, lines: &[String]| part(&mut text, terminal.width, title, lines);
    part("Measured", &said.measured);
    part("What grows here asks for", &said.target);
    part("How much lime", &said.lime);
    let without: Vec<String> = report
        .methods
        .iter()
        .filter(|line| !line.chosen)
        .filter_map(|line| {
            Some(format!("{} ({}): {}", line.words, line.method.key(), line.why_not.as_ref()?))
        })
        .collect();
    part("Methods that give none", &without);
    part("What to spread", &said.to_do);
    part("Lowering the pH", &said.lower);
    part("Sodium and gypsum", &said.sodium);
    part("Notes", &report.notes);
    let cautions: Vec<String> = report.cautions.iter().map(|caution| in_units(caution, system)).collect();
    part("Take care", &cautions);
    let rests: Vec<String> = report.rests_on.iter().map(|line| (*line).to_owned()).collect();
    part("What this rests on", &rests);
    text
}
