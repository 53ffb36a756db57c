//! `again`: one plot over the years; without a plot, when to look at what next.

use std::path::PathBuf;

use advice::again::{PlotAgain, Visit, farm_again, plot_again, tell};
use clap::Args;
use ground::kit::units::UnitSystem;
use jiff::ZonedDateTime;
use jiff::civil::Date;

use crate::args::Global;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `again`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework again a.farmbook
  spadework again a.farmbook \"Lower field\"
  spadework again a.farmbook \"Lower field\" --on 2027-04-01 --json")]
pub(crate) struct Again {
    /// The farm book
    book: PathBuf,
    /// Name of the plot; the whole farm, when to look next, where it is left out
    plot: Option<String>,
    /// The day, such as 2026-06-20; today where nothing is said
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
}

impl Again {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let today = self
            .on
            .as_deref()
            .map_or_else(|| Ok(ZonedDateTime::now().date()), |text| shelf::day("on", text))?;
        let Some(name) = &self.plot else {
            let told = farm_again(&snapshot, today);
            let mut text =
                format!("When to look again\n{}", wrapped(&tell::farm_lead(&told), terminal.width, ""));
            for visit in &told.visits {
                text.push_str(&format!("\n\n{}: {}", visit.plot_name, visit.what));
                of_visit(&mut text, visit, today, terminal);
            }
            return Report::new(&told, text);
        };
        let id = shelf::plot(&snapshot, name)?.id;
        let told =
            plot_again(&snapshot, id, today).ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let text = of_plot(&told, system, terminal);
        Report::new(&told, text)
    }
}

fn of_plot(told: &PlotAgain, system: UnitSystem, terminal: &Terminal) -> String {
    let lead = tell::lead(told, told.today);
    let mut text = format!("Over the years, {}\n{}", told.name, wrapped(&lead, terminal.width, ""));
    let line = |text: &mut String, said: &str| {
        text.push_str(&format!("\n{}", wrapped(&format!("- {said}"), terminal.width, "  ")));
    };
    for series in &told.series {
        text.push_str(&format!("\n\n{}", advice::words::capital(&series.name())));
        line(&mut text, &tell::series(series, system));
        for reading in &series.readings {
            let [low, high] = reading.range(series.property);
            let how = tell::how(reading, system);
            let how = if how.is_empty() { String::new() } else { format!(": {how}") };
            text.push_str(&format!(
                "\n  {}  {} ({} to {}){how}",
                reading.on,
                series.property.value(reading.value, system),
                series.property.number(low, system),
                series.property.number(high, system)
            ));
        }
        for change in tell::changes(series, system) {
            line(&mut text, &change);
        }
    }
    if !told.effects.is_empty() {
        text.push_str("\n\nBefore and after jobs");
    }
    for effect in &told.effects {
        text.push_str(&format!("\n{}: {}", advice::words::capital(&effect.name), tell::done(effect)));
        for said in tell::effect(effect, system) {
            line(&mut text, &said);
        }
    }
    text.push_str("\n\nWhen to look next");
    for visit in &told.visits {
        text.push_str(&format!("\n{}", visit.what));
        of_visit(&mut text, visit, told.today, terminal);
    }
    text.push_str("\n\nWhat this rests on");
    for said in told.rests_on {
        line(&mut text, said);
    }
    text
}

fn of_visit(text: &mut String, visit: &Visit, today: Date, terminal: &Terminal) {
    let mut lines = vec![format!("{}.", advice::words::capital(&tell::when(visit, today)))];
    lines.push(format!("To look at: {}.", tell::looks(visit)));
    lines.extend(tell::reasons(visit));
    for said in lines {
        text.push_str(&format!("\n{}", wrapped(&format!("- {said}"), terminal.width, "  ")));
    }
}
