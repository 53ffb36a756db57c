//! `print`: a sheet for the field or the shop, as PDF.

use std::path::{Path, PathBuf};

use book::Snapshot;
use clap::{Args, Subcommand, ValueEnum};
use jiff::ZonedDateTime;
use jiff::civil::Date;
use report::{Paper, SheetError, SheetOptions, work_plan_pdf};
use serde_json::json;

use crate::args::Global;
use crate::files;
use crate::report::Report;
use crate::shelf;
use crate::trouble::Trouble;

/// Options of `print`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework print work farm.farmbook --out work.pdf
  spadework print spread farm.farmbook --out spread.pdf --paper a4
  spadework print buying farm.farmbook --out buying.pdf --on 2026-03-01 --force")]
pub(crate) struct Print {
    #[command(subcommand)]
    what: What,
}

/// The sheets.
#[derive(Debug, Subcommand)]
enum What {
    /// The work plan: jobs by the time they are due, with a box to tick
    Work(Sheet),
}

/// Options of every sheet.
#[derive(Debug, Args)]
struct Sheet {
    /// The farm book
    book: PathBuf,
    /// The PDF to make; one that is there already is left as it is
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// Replace a file that is there already
    #[arg(long)]
    force: bool,
    /// The day, such as 2026-03-01; today where nothing is said
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// The paper; letter for a farm in US units, A4 for a metric one
    #[arg(long, value_enum)]
    paper: Option<PaperName>,
}

/// The papers by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum PaperName {
    /// US letter, 8.5 × 11 in
    Letter,
    /// 210 × 297 mm
    A4,
}

impl Print {
    /// Makes the sheet.
    pub(crate) fn run(self, global: &Global) -> Result<Report, Trouble> {
        match self.what {
            What::Work(sheet) => sheet.print(global, "work plan", |snapshot, day, options| {
                work_plan_pdf(&super::work::plan(snapshot, day), options)
            }),
        }
    }
}

impl Sheet {
    fn print(
        &self,
        global: &Global,
        what: &str,
        pdf: impl FnOnce(&Snapshot, Date, &SheetOptions) -> Result<Vec<u8>, SheetError>,
    ) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let day = self
            .on
            .as_deref()
            .map_or_else(|| Ok(ZonedDateTime::now().date()), |text| shelf::day("on", text))?;
        let system = global.system_or(snapshot.farm.body.units);
        let mut options = SheetOptions::of(&snapshot, system, day);
        if let Some(paper) = self.paper {
            options.paper = match paper {
                PaperName::Letter => Paper::Letter,
                PaperName::A4 => Paper::A4,
            };
        }
        files::can_save("out", &self.out, self.force)?;
        let bytes = pdf(&snapshot, day, &options).map_err(|error| Trouble::other(error.to_string()))?;
        files::save("out", &self.out, &bytes, self.force)?;
        told(what, &self.out, bytes.len())
    }
}

fn told(what: &str, out: &Path, bytes: usize) -> Result<Report, Trouble> {
    let text = format!("Wrote the {what} to {}.", out.display());
    Report::new(&json!({ "sheet": what, "file": out, "bytes": bytes }), text)
}
