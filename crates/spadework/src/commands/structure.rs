//! `structure`: the pan of one plot, its density, when it may be worked, and whether to loosen it.

use std::path::PathBuf;

use advice::structure::decision::Tools;
use advice::structure::{StructureReport, structure, tell};
use advice::{Options, plot_report};
use clap::Args;
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem, typed};
use ground::structure::loosening::method::ToolReach;
use jiff::ZonedDateTime;

use crate::args::Global;
use crate::report::{Report, part, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `structure`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework structure a.farmbook \"Lower field\"
  spadework structure a.farmbook \"Lower field\" --broadfork \"12 in\" --subsoiler \"20 in\" --json")]
pub(crate) struct Structure {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// Depth that your broadfork reaches, or none; 14 in, unless said
    #[arg(long, value_name = "DEPTH")]
    broadfork: Option<String>,
    /// Depth that the shanks at hand reach; none, unless said
    #[arg(long, value_name = "DEPTH")]
    subsoiler: Option<String>,
}

impl Structure {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let usual = Tools::default();
        let tools = Tools {
            broadfork_cm: reach("broadfork", self.broadfork.as_deref(), usual.broadfork_cm, system)?,
            subsoiler_cm: reach("subsoiler", self.subsoiler.as_deref(), usual.subsoiler_cm, system)?,
        };
        let id = shelf::plot(&snapshot, &self.plot)?.id;
        let report = plot_report(&snapshot, id, &Options { weigh_measurements: false, ..Options::default() })
            .ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let told = structure(&snapshot, &report, tools, ZonedDateTime::now().date())
            .ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let text = text(&told, system, terminal);
        Report::new(&told, text)
    }
}

fn reach(
    field: &str,
    text: Option<&str>,
    usual: Option<f64>,
    system: UnitSystem,
) -> Result<Option<f64>, Trouble> {
    match text {
        None => Ok(usual),
        Some("none") => Ok(None),
        Some(text) => Ok(Some(typed::<ToolReach>(field, text, Dimension::Depth.unit(system))?.get())),
    }
}

fn text(report: &StructureReport, system: UnitSystem, terminal: &Terminal) -> String {
    let said = tell::sentences(report, system);
    let lead = format!("{} ({})", said.lead, said.firmness);
    let mut text = format!("Structure, {}\n{}", report.name, wrapped(&lead, terminal.width, ""));
    let mut part = |title: &str, lines: &[String]| part(&mut text, terminal.width, title, lines);
    part("Odds of each answer", &said.outcomes);
    part("What speaks for it", &said.reasons_for);
    part("What speaks against it or is not known", &said.reasons_against);
    part("How", &said.how);
    part("After it, and on the paths", &said.traffic);
    part("What to expect", &said.expect);
    part("What would change it", &said.settle);
    part("The hard layer", &said.pan);
    part("Density and air", &said.density);
    part("Spade and crumbs", &said.spade);
    part("When it may be worked", &said.working);
    part("Washing", &said.erodes);
    part("Organic matter", &said.organic);
    part("From year to year", &said.trends);
    part("Take care", &tell::cautions(report, system));
    let rests: Vec<String> = report.rests_on.iter().map(|line| (*line).to_owned()).collect();
    part("What this rests on", &rests);
    text
}
