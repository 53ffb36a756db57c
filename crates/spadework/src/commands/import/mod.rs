//! `import`: a new book from an archive, or laboratory results or weather from a table.

mod lab;
mod weather;

use std::path::{Path, PathBuf};

use book::Book;
use clap::Args;
use ground::kit::Refusal;
use serde_json::json;

use crate::args::Global;
use crate::report::Report;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `import`.
#[derive(Debug, Args)]
#[command(
    after_help = "Weather: one row a day. The columns and their units are taken from the headings, or as they were read the last
time from a table with the same headings; --show-map shows them and stores nothing, --map corrects them. A unit
that no heading says, and dates whose day and month could be either way round, are asked for, never guessed.
docs/weather-csv.md describes the plain format.

Examples:
  spadework import new.farmbook --archive home.json
  spadework import home.farmbook --lab results.csv --column clay=\"Clay (%)\"
  spadework import --lab-columns
  spadework import home.farmbook --weather june.csv --station \"Co-op station\" --show-map
  spadework import home.farmbook --weather june.csv --station \"Co-op station\" --map \"Hi=tmax_c:F\" --dates month-first"
)]
pub(crate) struct Import {
    /// The farm book: a new file for an archive, a book that is there for a table
    #[arg(required_unless_present_any = ["lab_columns", "weather_columns"])]
    book: Option<PathBuf>,
    /// Make a new book from this archive
    #[arg(long, value_name = "FILE", required_unless_present_any = ["lab", "lab_columns", "weather", "weather_columns"])]
    archive: Option<PathBuf>,
    /// Record laboratory results from this CSV table; every row is stored, or none
    #[arg(long, value_name = "FILE", conflicts_with = "archive")]
    lab: Option<PathBuf>,
    /// Read a column under another heading; once for each
    #[arg(long = "column", value_name = "COLUMN=HEADING", requires = "lab")]
    headings: Vec<String>,
    /// List the columns that a table of laboratory results may have
    #[arg(long)]
    lab_columns: bool,
    /// Record daily weather from this CSV table; every row is stored, or none
    #[arg(long, value_name = "FILE", conflicts_with_all = ["archive", "lab"], requires = "station")]
    weather: Option<PathBuf>,
    #[command(flatten)]
    told: weather::Told,
    /// List the columns that a weather table may have, with their units
    #[arg(long)]
    weather_columns: bool,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl Import {
    /// Takes it in.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        if self.lab_columns {
            return lab::list_columns();
        }
        if self.weather_columns {
            return weather::list_columns();
        }
        let book = self.book.as_deref().unwrap_or(Path::new(""));
        match (&self.archive, &self.lab, &self.weather) {
            (Some(archive), ..) => {
                let made = Book::from_archive(book, &text_of(archive)?)?;
                let snapshot = made.snapshot()?;
                let (farm, plots) = (&snapshot.farm.body.name, snapshot.plots.len());
                let text = format!(
                    "Made {} for {farm}: {plots} plots, {} observations.",
                    book.display(),
                    snapshot.observations.len()
                );
                let json = json!({ "book": book, "farm": farm, "plots": plots, "observations": snapshot.observations.len() });
                Report::new(&json, text)
            }
            (None, Some(table), _) => {
                lab::import(&mut shelf::open(book)?, &text_of(table)?, &self.headings, &self.by)
            }
            (None, None, Some(table)) => {
                self.told.import(&mut shelf::open(book)?, &text_of(table)?, &self.by, global, terminal)
            }
            (None, None, None) => Err(Refusal::new("archive", "nothing to import was named")
                .given("nothing")
                .accepted("--archive FILE, --lab FILE or --weather FILE")
                .into()),
        }
    }
}

/// A text file, as it is.
pub(super) fn text_of(path: &Path) -> Result<String, Trouble> {
    std::fs::read_to_string(path)
        .map_err(|error| Trouble::other(format!("{} could not be read: {error}", path.display())))
}
