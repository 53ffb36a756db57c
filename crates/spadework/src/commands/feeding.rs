//! `feeding`: what the beds of a plot need, and what was given and taken over the years.

use std::path::PathBuf;

use advice::feeding::balance::{Balance, balance};
use advice::feeding::needs::{BedNeed, plot_needs};
use advice::feeding::{mass, rate};
use advice::words::capital;
use advice::{Options, plot_report};
use clap::Args;
use ground::kit::Working;
use ground::kit::units::UnitSystem;
use jiff::ZonedDateTime;
use serde::Serialize;

use super::steps;
use crate::args::Global;
use crate::report::{Report, table, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `feeding`.
#[derive(Debug, Args)]
#[command(after_help = "Rates are told by the farm's scheme, less what is credited:
  spadework settings a.farmbook --nutrient-scheme rb209

Examples:
  spadework feeding a.farmbook \"East tunnel\"
  spadework feeding a.farmbook \"East tunnel\" --working
  spadework feeding a.farmbook \"East tunnel\" --json")]
pub(crate) struct Feeding {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// The day, such as 2026-06-20; today where nothing is said
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// Show every step
    #[arg(long)]
    working: bool,
}

/// The same as the page's twin.
#[derive(Serialize)]
struct Told {
    needs: Vec<BedNeed>,
    balance: Balance,
}

impl Feeding {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let plot = shelf::plot(&snapshot, &self.plot)?.id;
        let today = self
            .on
            .as_deref()
            .map_or_else(|| Ok(ZonedDateTime::now().date()), |text| shelf::day("on", text))?;
        let system = global.system_or(snapshot.farm.body.units);
        let options = Options { weigh_measurements: false, ..Options::default() };
        let report =
            plot_report(&snapshot, plot, &options).ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let needs = plot_needs(&snapshot, plot, std::slice::from_ref(&report), today);
        let balance = balance(&snapshot, plot).ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let told = Told { needs, balance };
        let text = words(&told, system, self.working, terminal);
        Report::new(&told, text)
    }
}

fn words(told: &Told, system: UnitSystem, working: bool, terminal: &Terminal) -> String {
    let title = format!("Feeding, {}", told.balance.plot_name);
    let mut text = format!("{title}\n{}", "=".repeat(title.chars().count()));
    text.push_str(&format!("\n{}", wrapped(&told.balance.headline, terminal.width, "")));
    let mut line =
        |said: &str| text.push_str(&format!("\n{}", wrapped(&format!("- {said}"), terminal.width, "  ")));
    for said in &told.balance.lines {
        line(said);
    }
    if told.needs.is_empty() {
        text.push_str("\n\nNothing grows here, and nothing is written down to come.");
    }
    for need in &told.needs {
        let from = need.planted_on.map_or_else(String::new, |day| format!(" from {day}"));
        text.push_str(&format!("\n\n{}: {}{from}", need.bed_name, need.crop));
        let mut line =
            |said: &str| text.push_str(&format!("\n{}", wrapped(&format!("- {said}"), terminal.width, "  ")));
        for said in &need.lines {
            line(said);
        }
        for wanted in &need.wanted {
            line(&format!("Wanted: {wanted}"));
        }
        for credit in &need.credits {
            line(&format!(
                "Credited: {} from {}, {}",
                credit.nutrient.words(),
                credit.from,
                rate(credit.g_m2, system)
            ));
        }
        for limit in &need.limits {
            line(&format!("At most {}: {}", rate(limit.most_g_m2, system), limit.why));
        }
        if need.raw_manure_interval_d > 0 {
            line(&format!(
                "Caution: raw manure {} days or more before harvest, where it is allowed at all",
                need.raw_manure_interval_d
            ));
        }
        if working {
            text.push_str(&steps(&Working { steps: need.working.clone() }));
        }
    }
    if !told.balance.years.is_empty() {
        let mut rows =
            vec![["year", "P2O5 given", "taken", "K2O given", "taken"].map(str::to_owned).to_vec()];
        rows.extend(told.balance.years.iter().map(|year| {
            vec![
                year.year.to_string(),
                mass(year.given.p2o5_kg, system),
                mass(year.taken.p2o5_kg, system),
                mass(year.given.k2o_kg, system),
                mass(year.taken.k2o_kg, system),
            ]
        }));
        text.push_str(&format!("\n\nGiven and taken\n{}", table(&rows, "", terminal.width)));
        for uncounted in told.balance.years.iter().flat_map(|year| &year.uncounted) {
            text.push_str(&format!(
                "\n{}",
                wrapped(&format!("Not counted: {}", capital(uncounted)), terminal.width, "  ")
            ));
        }
    }
    text
}
