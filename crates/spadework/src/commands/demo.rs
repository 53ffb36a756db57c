//! `demo`: an invented farm, its ground and decisions, and the app on it.

use std::path::PathBuf;

use advice::{Options, farm_report_of, plot_reports};
use clap::Args;
use serde_json::json;

use super::serve::Listen;
use super::{farm, plot};
use crate::args::Global;
use crate::report::{Report, pretty};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `demo`.
#[derive(Debug, Args)]
pub(crate) struct Demo {
    /// Where the book of the invented farm is made; one that is there already is used as it is
    #[arg(long, value_name = "FILE", default_value = "demo.farmbook")]
    book: PathBuf,
    /// End after printing, without the app
    #[arg(long)]
    no_serve: bool,
    #[command(flatten)]
    listen: Listen,
}

impl Demo {
    /// Makes, prints and serves.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let book = if self.book.exists() {
            terminal.remark(&format!("{} is there already and is used as it is.", self.book.display()));
            shelf::read(&self.book)?
        } else {
            advice::demo::create_on(&self.book, jiff::ZonedDateTime::now().date())?
        };
        let snapshot = book.snapshot()?;
        drop(book);
        let reports = plot_reports(&snapshot, &Options::default());
        let whole = farm_report_of(&snapshot, &reports);
        let system = global.system_or(snapshot.farm.body.units);
        let mut text = farm::words(&whole, system, terminal);
        for report in &reports {
            text.push_str("\n\n");
            text.push_str(&plot::brief(report, terminal));
        }
        let report = Report::new(&json!({ "book": self.book, "farm": whole, "plots": reports }), text)?;
        if self.no_serve {
            return Ok(report);
        }
        terminal.say(&if global.json { pretty(&report.json) } else { report.text });
        self.listen.serve(Some(self.book), terminal, global.json)?;
        Ok(Report::silent())
    }
}
