//! `profile-run`: water followed down a profile that a case file describes, written as a table.

use std::path::PathBuf;

use clap::Args;
use ground::kit::Refusal;
use ground::water::flow::{ProfileQuestion, csv};
use serde_json::json;

use crate::report::{Report, notes};
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `profile-run`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework profile-run case.toml -o out.csv

A case file, with depths in cm, rates in mm/h and times in h:
  times_h = [0, 2, 6, 24]
  bottom = \"free_drainage\"
  [start]
  head_cm = -336.5
  [[layers]]
  thickness_cm = 60
  [layers.soil.class]
  texture = \"loam\"
  set = \"carsel_parrish1988\"
  [[periods]]
  until_h = 2
  water_mm_h = 12

spadework calc richards-profile --about names every field.")]
pub(crate) struct ProfileRun {
    /// The case, a TOML file
    case: PathBuf,
    /// Write the table, a row a time and depth, to this file, or to stdout where it is -
    #[arg(short, long, value_name = "FILE", default_value = "-")]
    output: String,
}

impl ProfileRun {
    /// Runs the case.
    pub(crate) fn run(self, terminal: &Terminal) -> Result<Report, Trouble> {
        let name = self.case.display().to_string();
        let text = std::fs::read_to_string(&self.case).map_err(|error| {
            Trouble::other(format!("{name} could not be read: {error}"))
                .hint("spadework profile-run --help shows a case file")
        })?;
        let question = ProfileQuestion::from_toml(&text)?;
        let (run, remarks) = question.run()?;
        let table = csv(&run);
        let rows = table.lines().count().saturating_sub(1);
        let error_mm =
            run.snapshots.iter().map(|at| (10.0 * at.totals.balance_error_cm()).abs()).fold(0.0, f64::max);
        let json = json!({
            "rows": rows,
            "steps": run.steps,
            "repeated_steps": run.repeated,
            "greatest_balance_error_mm": error_mm,
            "notes": remarks,
            "file": if self.output == "-" { None } else { Some(&self.output) },
            "table": if self.output == "-" { Some(&table) } else { None },
        });
        if self.output == "-" {
            return Report::new(&json, table.trim_end());
        }
        std::fs::write(&self.output, &table).map_err(|error| {
            Trouble::from(
                Refusal::new("output", format!("{} could not be written: {error}", self.output))
                    .given(&self.output)
                    .accepted("a file in a folder that can be written")
                    .example("out.csv"),
            )
        })?;
        let mut text = format!(
            "{rows} rows at {} times written to {}; {} steps, the water balance closes within {error_mm:.1e} mm.",
            run.snapshots.len(),
            self.output,
            run.steps
        );
        if !remarks.is_empty() {
            text.push_str(&format!("\n{}", notes(&remarks, terminal.width)));
        }
        Report::new(&json, text)
    }
}
