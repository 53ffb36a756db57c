//! `plot`: what the ground of one plot is, how surely, and what follows.

use std::path::PathBuf;

use advice::{Finding, Kind, Options, PlotReport, plot_report};
use book::model::Decision;
use book::{Held, Snapshot};
use clap::Args;
use ground::kit::Spread;
use ground::kit::units::{Dimension, UnitSystem, show};
use ground::texture::Composition;

use crate::args::Global;
use crate::picture;
use crate::report::{Report, columns, notes, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `plot`.
#[derive(Debug, Args)]
pub(crate) struct Plot {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    name: String,
    /// Add why, with numbers and sources, to every decision
    #[arg(long)]
    working: bool,
}

impl Plot {
    /// Reports.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let id = shelf::plot(&snapshot, &self.name)?.id;
        let report = plot_report(&snapshot, id, &Options::default())
            .ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let system = global.system_or(snapshot.farm.body.units);
        let text = whole(&report, &snapshot, system, terminal, self.working);
        Report::new(&report, text)
    }
}

/// A plot in a few lines: what it is, and its decisions.
pub(crate) fn brief(report: &PlotReport, terminal: &Terminal) -> String {
    let mut text = heading(report, terminal);
    let mut said = Vec::new();
    for finding in &report.findings {
        let line = format!("- [{}] {}: {}", mark(finding), finding.title, finding.statement);
        text.push_str(&format!("\n{}", wrapped(&line, terminal.width, "  ")));
        text.push_str(&cautions(finding, &mut said, terminal));
    }
    text
}

fn heading(report: &PlotReport, terminal: &Terminal) -> String {
    format!("{} ({})\n{}", report.name, report.place.words(), wrapped(&report.headline, terminal.width, ""))
}

/// Firmness in a word, with the odds where there are any.
fn mark(finding: &Finding) -> String {
    match finding.odds {
        Some(odds) => format!("{} {}", finding.firmness.words(), advice::words::odds(odds)),
        None => format!("{}, {}", finding.firmness.words(), finding.basis.words()),
    }
}

/// The cautions of a finding; each is printed once a plot, beside the first finding that carries it.
fn cautions(finding: &Finding, said: &mut Vec<&'static str>, terminal: &Terminal) -> String {
    let mut text = String::new();
    for caution in &finding.cautions {
        if !said.contains(caution) {
            said.push(caution);
            text.push_str(&format!(
                "\n  {}",
                wrapped(&format!("Caution: {caution}"), terminal.width - 2, "    ")
            ));
        }
    }
    text
}

fn whole(
    report: &PlotReport,
    snapshot: &Snapshot,
    system: UnitSystem,
    terminal: &Terminal,
    working: bool,
) -> String {
    let mut text = heading(report, terminal);
    if report.make_up_known {
        if terminal.picture {
            let cloud: Vec<(Composition, f64)> =
                report.belief.draws.iter().copied().zip(report.belief.weights.iter().copied()).collect();
            text.push_str(&format!("\n\n{}", picture::triangle(&cloud, terminal.unicode)));
        }
        let odds: Vec<(String, f64)> = report
            .make_up
            .class_odds
            .iter()
            .filter(|odds| odds.odds >= 0.01)
            .map(|odds| (odds.class.name().to_owned(), odds.odds))
            .collect();
        text.push_str(&format!("\n\nOdds of each class\n{}", picture::bars(&odds, terminal)));
        text.push_str(&format!("\n\nMake-up and water (median, 90 % range)\n{}", figures(report, system)));
    }
    if !report.evidence.is_empty() {
        text.push_str("\n\nEvidence");
        for exhibit in &report.evidence {
            let used = if exhibit.used { "used" } else { "not used for the make-up" };
            let remark =
                if exhibit.remark.is_empty() { String::new() } else { format!(": {}", exhibit.remark) };
            let line = format!("- {} ({used}){remark}", exhibit.label);
            text.push_str(&format!("\n{}", wrapped(&line, terminal.width, "  ")));
        }
    }
    for disagreement in &report.disagreements {
        text.push_str(&format!(
            "\n{}",
            wrapped(&format!("Does not agree: {}", disagreement.sentence), terminal.width, "  ")
        ));
    }
    let mut cautioned = Vec::new();
    for kind in Kind::ALL {
        let of_kind: Vec<&Finding> = report.findings.iter().filter(|finding| finding.kind == kind).collect();
        if of_kind.is_empty() {
            continue;
        }
        text.push_str(&format!("\n\n{}", kind.title()));
        for finding in of_kind {
            text.push_str(&format!("\n{}", said(finding, &mut cautioned, terminal, working)));
            if let Some(decision) = snapshot.decision_on(report.id, finding.id) {
                text.push_str(&format!("\n  {}", wrapped(&decided(decision), terminal.width - 2, "    ")));
            }
        }
    }
    if let Some(best) = report.measurements.first() {
        let line = format!("Worth most next: {}. {} About {:.0} minutes.", best.name, best.how, best.minutes);
        text.push_str(&format!("\n\n{}", wrapped(&line, terminal.width, "")));
    }
    for supposed in &report.supposed {
        let line = format!(
            "Supposed, not measured: {} {} {} (90 %: {} to {}; {}).",
            supposed.what,
            advice::words::short(supposed.likely),
            supposed.unit,
            advice::words::short(supposed.low),
            advice::words::short(supposed.high),
            supposed.provenance_words
        );
        text.push_str(&format!("\n{}", wrapped(&line, terminal.width, "  ")));
    }
    if !report.notes.is_empty() {
        text.push_str(&format!("\n{}", notes(&report.notes, terminal.width)));
    }
    text
}

/// "Decided: postponed on 3 May 2026, by Ada (no mulch this year)."
fn decided(decision: &Held<Decision>) -> String {
    let by = if decision.recorded_by.is_empty() {
        String::new()
    } else {
        format!(", by {}", decision.recorded_by)
    };
    let reason = decision.body.reason.trim();
    let why = if reason.is_empty() { String::new() } else { format!(" ({reason})") };
    let day = advice::words::day(web::when::day_of(decision.recorded_at));
    format!("Decided: {} on {day}{by}{why}.", decision.body.choice.words())
}

fn figures(report: &PlotReport, system: UnitSystem) -> String {
    let water = &report.water;
    let us = system == UnitSystem::UsCustomary;
    let mut rows = Vec::new();
    let mut row = |name: &str, spread: Option<Spread>, write: &dyn Fn(f64) -> String| {
        let told = match spread {
            Some(spread) => vec![
                name.to_owned(),
                write(spread.median),
                format!("({} to {})", write(spread.low), write(spread.high)),
            ],
            None => vec![name.to_owned(), "no value".to_owned(), String::new()],
        };
        rows.push(told);
    };
    let percent = |value: f64| format!("{value:.0} %");
    row("sand", Some(report.make_up.sand_percent), &percent);
    row("silt", Some(report.make_up.silt_percent), &percent);
    row("clay", Some(report.make_up.clay_percent), &percent);
    if us {
        row("available water", water.available_water_in_per_ft, &|value| format!("{value:.1} in/ft"));
    } else {
        row("available water", water.available_water_m3_m3, &|value| format!("{:.0} mm/m", 1000.0 * value));
    }
    let in_unit = |value: f64, dimension: Dimension, digits: &dyn Fn(f64) -> String| {
        let unit = dimension.unit(system);
        format!("{} {}", digits(dimension.base().convert(value, unit)), unit.symbol())
    };
    let roots = in_unit(report.root_depth_cm, Dimension::Depth, &|value| format!("{value:.0}"));
    row(&format!("available over {roots} of roots"), water.available_water_mm, &|value| {
        show(value, Dimension::SmallLength, system)
    });
    row("soaks in when full", water.saturated_conductivity_mm_h, &|value| {
        in_unit(value, Dimension::Rate, &advice::words::short)
    });
    columns(&rows, "  ")
}

fn said(finding: &Finding, cautioned: &mut Vec<&'static str>, terminal: &Terminal, working: bool) -> String {
    let mut text = wrapped(
        &format!("- [{}] {}: {}", mark(finding), finding.title, finding.statement),
        terminal.width,
        "  ",
    );
    text.push_str(&cautions(finding, cautioned, terminal));
    if let Some(settles) = &finding.settles {
        let line = format!(
            "Would settle it: {} ({} chance).",
            settles.measurement,
            advice::words::odds(settles.chance_settled)
        );
        text.push_str(&format!("\n  {}", wrapped(&line, terminal.width - 2, "    ")));
    }
    if working {
        for reason in &finding.reasons {
            text.push_str(&format!(
                "\n  {}",
                wrapped(&format!("Because {reason}"), terminal.width - 2, "    ")
            ));
        }
        text.push_str(&format!("\n  Rests on: {}", finding.provenance_words));
        for cite in &finding.sources {
            text.push_str(&format!("\n  [{}, {}]", cite.key, cite.at));
        }
    }
    text
}
