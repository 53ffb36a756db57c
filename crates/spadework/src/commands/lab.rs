//! `lab`: what the laboratory's report says of a plot.

use std::path::PathBuf;

use advice::feeding::lab::{LabReading, lab_reading, tell};
use clap::Args;
use ground::kit::units::UnitSystem;

use super::steps;
use crate::args::Global;
use crate::records::Records;
use crate::report::{Report, columns, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `lab`.
#[derive(Debug, Args)]
#[command(after_help = "The scheme by which figures are classed is a setting of the farm:
  spadework settings a.farmbook --nutrient-scheme rutgers_m3

Examples:
  spadework lab a.farmbook \"Lower field\"
  spadework lab a.farmbook \"Lower field\" --working
  spadework lab a.farmbook \"Lower field\" --json")]
pub(crate) struct Lab {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// Read this report of the plot instead of the latest: the id of its record
    #[arg(long, value_name = "ID")]
    report: Option<String>,
    /// Show every step
    #[arg(long)]
    working: bool,
}

impl Lab {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let book = shelf::read(&self.book)?;
        let snapshot = book.snapshot()?;
        let plot = shelf::plot(&snapshot, &self.plot)?.id;
        let asked = match &self.report {
            Some(text) => Some(Records::of(&book)?.find(text)?.id),
            None => None,
        };
        let reading =
            lab_reading(&snapshot, plot, asked).ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let system = global.system_or(snapshot.farm.body.units);
        let text = told(&reading, system, self.working, terminal);
        Report::new(&reading, text)
    }
}

fn told(reading: &LabReading, system: UnitSystem, working: bool, terminal: &Terminal) -> String {
    let mut text = format!("Laboratory report, {}", reading.plot_name);
    let mut lines = |title: &str, lines: &[String]| {
        if lines.is_empty() {
            return;
        }
        if !title.is_empty() {
            text.push_str(&format!("\n\n{title}"));
        }
        for line in lines {
            text.push_str(&format!("\n{}", wrapped(&format!("- {line}"), terminal.width, "  ")));
        }
    };
    lines("", &tell::head(reading, system));
    let Some(report) = &reading.report else { return text };
    for caution in &report.cautions {
        lines(&format!("Take care: {}", caution.of), &caution.lines);
    }
    let rows: Vec<Vec<String>> = report
        .figures
        .iter()
        .map(|figure| {
            vec![
                format!("{} ({})", advice::words::capital(figure.what), figure.procedure),
                figure.printed.clone(),
                figure.in_farm_units.join(", "),
            ]
        })
        .collect();
    let classes: Vec<String> = report
        .figures
        .iter()
        .filter(|figure| figure.class.is_some() || figure.no_class.is_some())
        .map(|figure| format!("{}: {}", advice::words::capital(figure.what), tell::class(figure)))
        .collect();
    let nitrate = tell::nitrate(report, system);
    let remarks: Vec<String> = report.remarks.iter().cloned().chain(nitrate).collect();
    let exchange = report.exchange.as_ref().map(tell::exchange).unwrap_or_default();
    let own: Vec<String> = report.recommended.iter().map(tell::recommended).collect();
    lines("Classes", &classes);
    lines("What to know", &remarks);
    lines("Exchange capacity and bases", &exchange);
    lines("What the laboratory itself recommends", &own);
    text.push_str(&format!("\n\nThe figures\n{}", columns(&rows, "")));
    if working {
        for figure in report.figures.iter().filter(|figure| !figure.working.steps.is_empty()) {
            text.push_str(&steps(&figure.working));
        }
        if let Some(exchange) = &report.exchange {
            text.push_str(&steps(&exchange.working));
        }
    }
    text
}
