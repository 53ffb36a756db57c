//! `settings`: what the farm says of itself, shown or changed.

use std::path::PathBuf;

use book::model::{Body, UnitSystem};
use clap::Args;
use serde_json::json;

use super::correct::seeing;
use super::farm_args::FarmArgs;
use super::history::change_words;
use crate::args::Units;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `settings`.
#[derive(Debug, Args)]
#[command(after_help = "Without a change it prints them. \"none\" takes a value away.

Examples:
  spadework settings home.farmbook
  spadework settings home.farmbook --farm-units metric --last-frost \"12 May\" --hour-worth 20")]
pub(crate) struct Settings {
    /// The farm book
    book: PathBuf,
    /// What the farm is called
    #[arg(long)]
    name: Option<String>,
    /// Units of the farm, in which it is shown and asked from now on
    #[arg(long, value_enum)]
    farm_units: Option<Units>,
    #[command(flatten)]
    farm: FarmArgs,
    /// The version this starts from; refused where the settings have moved on since. The latest, unless said
    #[arg(long, value_name = "VERSION")]
    from: Option<u32>,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl Settings {
    /// Shows or changes them.
    pub(crate) fn run(self, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let held = snapshot.farm.clone();
        let mut farm = self.farm.put(held.body.clone())?;
        if let Some(name) = &self.name {
            farm.name = name.trim().to_owned();
        }
        farm.units = match self.farm_units {
            Some(Units::Us) => UnitSystem::UsCustomary,
            Some(Units::Metric) => UnitSystem::Metric,
            None => farm.units,
        };
        let from = self.from.unwrap_or(held.number);
        if farm == held.body && from == held.number {
            let said = web::words::lines(&Body::Farm(farm), &snapshot, held.body.units);
            let rows: Vec<Vec<String>> = said.into_iter().map(|line| vec![line.label, line.text]).collect();
            return Report::new(&json!({ "settings": held }), crate::report::columns(&rows, ""));
        }
        let kept = shelf::open(&self.book)?
            .revise(held.id, from, farm, "settings", &shelf::stamp(&self.by))
            .map_err(|error| seeing(error.into(), &self.book, "farm"))?;
        let units = kept.body.units;
        let changes =
            web::words::changes(&Body::Farm(held.body), &Body::Farm(kept.body.clone()), &snapshot, units);
        let mut text = format!("Changed the settings, now version {}.", kept.number);
        for change in &changes {
            text.push_str(&format!("\n  {}", wrapped(&change_words(change), terminal.width - 2, "    ")));
        }
        Report::new(&json!({ "settings": kept, "changes": changes }), text)
    }
}
