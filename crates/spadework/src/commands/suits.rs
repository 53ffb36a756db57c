//! `suits`: crops against plots, the best place for a crop, what suits a plot.

use std::path::PathBuf;

use advice::suits::{BestPlace, OnPlot, SuitsTable, best_place, on_plot, places, table, tell};
use advice::{Options, PlotReport, plot_report};
use clap::Args;
use ground::kit::units::{UnitSystem, in_units};
use ground::siting::{Verdict, needs_of};

use crate::args::Global;
use crate::report::{Report, part, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `suits`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework suits a.farmbook
  spadework suits a.farmbook --crop carrot
  spadework suits a.farmbook --plot \"Lower field\" --json
  spadework suits a.farmbook --crop carrot --plot \"Lower field\"")]
pub(crate) struct Suits {
    /// The farm book
    book: PathBuf,
    /// One crop: its best place, and what it would take elsewhere
    #[arg(long, value_name = "CROP")]
    crop: Option<String>,
    /// Name of a plot: what suits it
    #[arg(long, value_name = "PLOT")]
    plot: Option<String>,
}

impl Suits {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let needs = self.crop.as_deref().map(needs_of).transpose()?;
        let only =
            self.plot.as_deref().map(|name| shelf::plot(&snapshot, name).map(|plot| plot.id)).transpose()?;
        let options = Options { weigh_measurements: false, ..Options::default() };
        let reports: Vec<PlotReport> = snapshot
            .plots
            .iter()
            .filter(|plot| only.is_none_or(|only| plot.id == only))
            .filter_map(|plot| plot_report(&snapshot, plot.id, &options))
            .collect();
        let places = places(&snapshot, &reports);
        let pairs = || {
            places
                .iter()
                .filter_map(|place| Some((place, reports.iter().find(|report| report.id == place.id)?)))
        };
        match (needs, only) {
            (Some(needs), _) => {
                let best = best_place(&snapshot, needs, pairs(), system);
                let text = best_text(&best, system, terminal);
                Report::new(&best, text)
            }
            (None, Some(_)) => {
                let (place, report) = pairs()
                    .next()
                    .ok_or_else(|| Trouble::other("nothing in the ground of this plot holds water"))?;
                let on = on_plot(&snapshot, place, report, system);
                let text = plot_text(&on, terminal);
                Report::new(&on, text)
            }
            (None, None) => {
                let table = table(&snapshot, &places);
                let text = table_text(&table, terminal);
                Report::new(&table, text)
            }
        }
    }
}

fn owned(lines: &[&'static str], system: UnitSystem) -> Vec<String> {
    lines.iter().map(|line| in_units(line, system)).collect()
}

fn table_text(table: &SuitsTable, terminal: &Terminal) -> String {
    let mut text = wrapped(&tell::lead(table), terminal.width, "");
    for row in &table.rows {
        let grown = if row.crop.grown { " (grown here)" } else { "" };
        let lines: Vec<String> = row
            .cells
            .iter()
            .map(|cell| format!("{}: {}, {}", cell.plot_name, tell::in_short(cell), tell::how_surely(cell)))
            .collect();
        part(
            &mut text,
            terminal.width,
            &format!("{}{grown}", advice::words::capital(&row.crop.name)),
            &lines,
        );
    }
    part(&mut text, terminal.width, "What this rests on", &table.rests_on);
    text
}

fn best_text(best: &BestPlace, system: UnitSystem, terminal: &Terminal) -> String {
    let mut text = wrapped(&tell::best_lead(best), terminal.width, "");
    part(&mut text, terminal.width, "What it asks for", &tell::asks_for(&best.needs, system));
    for one in &best.places {
        let title =
            format!("{}: {}, {}", one.cell.plot_name, tell::in_short(&one.cell), tell::how_surely(&one.cell));
        part(&mut text, terminal.width, &title, &tell::lines(one));
    }
    part(&mut text, terminal.width, "Take care", &owned(&best.cautions, system));
    part(&mut text, terminal.width, "What this rests on", &best.rests_on);
    text
}

fn plot_text(on: &OnPlot, terminal: &Terminal) -> String {
    let mut text = wrapped(&tell::plot_lead(on), terminal.width, "");
    for verdict in Verdict::ALL {
        let lines: Vec<String> = on
            .crops
            .iter()
            .filter(|one| one.cell.verdict == verdict)
            .map(|one| {
                let grown = if on.grown.contains(&one.crop) { " (grown here)" } else { "" };
                format!(
                    "{}{grown}: {}, {}",
                    one.crop_name,
                    tell::in_short(&one.cell),
                    tell::how_surely(&one.cell)
                )
            })
            .collect();
        part(&mut text, terminal.width, &advice::words::capital(verdict.words()), &lines);
    }
    part(&mut text, terminal.width, "What this rests on", &on.rests_on);
    text.push_str("\n\nAdd --crop for the reasons and what it would take.");
    text
}
