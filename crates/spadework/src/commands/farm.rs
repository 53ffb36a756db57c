//! `farm`: each plot in a line, what needs attention, what to measure next.

use std::path::PathBuf;

use advice::{AttentionKind, FarmReport, Options, farm_report};
use clap::Args;
use ground::kit::units::{Dimension, UnitSystem, show};

use crate::args::Global;
use crate::report::{Report, columns, fits, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `farm`.
#[derive(Debug, Args)]
pub(crate) struct Farm {
    /// The farm book
    book: PathBuf,
}

impl Farm {
    /// Reports.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let report = farm_report(&snapshot, &Options::default());
        let text = words(&report, global.system_or(snapshot.farm.body.units), terminal);
        Report::new(&report, text)
    }
}

/// The farm for a person.
pub(crate) fn words(report: &FarmReport, system: UnitSystem, terminal: &Terminal) -> String {
    let mut text = format!("{}\n{}", report.name, "=".repeat(report.name.chars().count()));
    if report.plots.is_empty() {
        text.push_str("\nNo plots yet. spadework record plot BOOK NAME --area 4000sqft adds one.");
        return text;
    }
    text.push('\n');
    text.push_str(&plots(report, system, terminal));
    for parted in &report.parted {
        let zones = advice::words::counted(parted.zones.len(), "zone", "zones");
        let line = format!("{} was parted into {zones}, which stand here in its stead.", parted.name);
        text.push_str(&format!("\n{}", wrapped(&line, terminal.width, "  ")));
    }
    if !report.attention.is_empty() {
        text.push_str("\n\nNeeds attention");
        for one in &report.attention {
            let line = format!("- {} ({}): {}", one.plot_name, kind_words(one.kind), one.text);
            text.push_str(&format!("\n{}", wrapped(&line, terminal.width, "  ")));
        }
    }
    if let Some(next) = &report.next {
        let line = format!(
            "Worth most next: {} on {}. {} About {:.0} minutes.",
            next.measurement.name, next.plot_name, next.measurement.how, next.measurement.minutes
        );
        text.push_str(&format!("\n\n{}", wrapped(&line, terminal.width, "")));
    }
    text
}

/// A table where it fits, else a line or two for each plot.
fn plots(report: &FarmReport, system: UnitSystem, terminal: &Terminal) -> String {
    let head = ["plot", "place", "area", "ground", "odds", "firm", "likely", "open"];
    let mut rows = vec![head.iter().map(|cell| (*cell).to_owned()).collect::<Vec<_>>()];
    let mut lines = Vec::new();
    for plot in &report.plots {
        let area = show(plot.area_m2, Dimension::Area, system);
        let (class, odds) = match (plot.class, plot.class_odds.first()) {
            (Some(class), Some(first)) => (class.name().to_owned(), advice::words::odds(first.odds)),
            _ => ("not known".to_owned(), String::new()),
        };
        let line = format!(
            "{} ({}, {area}): {class} {odds}; {} firm, {} likely, {} open",
            plot.name,
            plot.place.words(),
            plot.firm,
            plot.likely,
            plot.open
        );
        lines.push(wrapped(&line.replace(" ;", ";"), terminal.width, "  "));
        rows.push(vec![
            plot.name.clone(),
            plot.place.words().to_owned(),
            area,
            class,
            odds,
            plot.firm.to_string(),
            plot.likely.to_string(),
            plot.open.to_string(),
        ]);
    }
    let table = columns(&rows, "");
    if fits(&table, terminal.width) { table } else { lines.join("\n") }
}

fn kind_words(kind: AttentionKind) -> &'static str {
    match kind {
        AttentionKind::Trouble => "trouble seen",
        AttentionKind::Contradiction => "evidence contradicts",
        AttentionKind::JarSettling => "jar settling",
        AttentionKind::Unknown => "nothing known",
        AttentionKind::Open => "make-up open",
        AttentionKind::PutOff => "put off",
    }
}
