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
    after_help = "Laboratory: one row a sample, matched to its plot by the label on its bag or by the plot's name. Figures are
understood from their headings, as in \"P (Mehlich-3) ppm\" or \"K lb/ac\", or as they were the last time.

Weather: one row a day. The columns and their units are taken from the headings, or as they were read the last
time from a table with the same headings; --show-map shows them and stores nothing, --map corrects them. A unit
that no heading says, and dates whose day and month could be either way round, are asked for, never guessed.
docs/weather-csv.md describes the plain format.

Examples:
  spadework import new.farmbook --archive home.json
  spadework import home.farmbook --lab results.csv --column clay_percent=\"Clay (%)\"
  spadework import home.farmbook --lab spring.csv --laboratory \"County laboratory\" --basis-depth 6.7in --show-columns
  spadework import home.farmbook --lab spring.csv --laboratory \"County laboratory\" --basis-depth 6.7in
  spadework import home.farmbook --undo 4f2a91
  spadework import --lab-columns
  spadework import home.farmbook --weather june.csv --station \"Co-op station\" --show-map
  spadework import home.farmbook --weather june.csv --station \"Co-op station\" --map \"Hi=tmax_c:F\" --dates month-first"
)]
pub(crate) struct Import {
    /// The farm book: a new file for an archive, a book that is there for a table
    #[arg(required_unless_present_any = ["lab_columns", "weather_columns"])]
    book: Option<PathBuf>,
    /// Make a new book from this archive
    #[arg(long, value_name = "FILE")]
    archive: Option<PathBuf>,
    /// Record laboratory results from this CSV table; every row is stored, or none
    #[arg(long, value_name = "FILE", conflicts_with = "archive")]
    lab: Option<PathBuf>,
    #[command(flatten)]
    told_lab: lab::Told,
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
    /// Take back a table of laboratory results that came in, as a whole: the id of its record
    #[arg(long, value_name = "ID", conflicts_with_all = ["archive", "lab", "weather"])]
    undo: Option<String>,
    /// Why it is taken back
    #[arg(long, value_name = "TEXT", default_value = "the table was taken back", requires = "undo")]
    reason: String,
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
        let book_path = self.book.as_deref().unwrap_or(Path::new(""));
        if let Some(id) = &self.undo {
            return lab::undo(&mut shelf::open(book_path)?, id, &self.reason, &self.by);
        }
        match (&self.archive, &self.lab, &self.weather) {
            (Some(archive), ..) => {
                let made = Book::from_archive(book_path, &text_of(archive)?)?;
                let snapshot = made.snapshot()?;
                let (farm, plots) = (&snapshot.farm.body.name, snapshot.plots.len());
                let text = format!(
                    "Made {} for {farm}: {plots} plots, {} observations.",
                    book_path.display(),
                    snapshot.observations.len()
                );
                let json = json!({ "book": book_path, "farm": farm, "plots": plots, "observations": snapshot.observations.len() });
                Report::new(&json, text)
            }
            (None, Some(table), _) => {
                let bytes = std::fs::read(table).map_err(|error| {
                    Trouble::other(format!("{} could not be read: {error}", table.display()))
                })?;
                let text = book::table_text(&bytes)?;
                let name =
                    table.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
                self.told_lab.import(&mut shelf::open(book_path)?, &text, &name, &self.by, global, terminal)
            }
            (None, None, Some(table)) => {
                self.told.import(&mut shelf::open(book_path)?, &text_of(table)?, &self.by, global, terminal)
            }
            (None, None, None) => Err(Refusal::new("archive", "nothing to import was named")
                .given("nothing")
                .accepted("--archive FILE, --lab FILE, --weather FILE or --undo ID")
                .into()),
        }
    }
}

/// A text file, as it is.
pub(super) fn text_of(path: &Path) -> Result<String, Trouble> {
    let bytes = std::fs::read(path)
        .map_err(|error| Trouble::other(format!("{} could not be read: {error}", path.display())))?;
    String::from_utf8(bytes).map_err(|_| {
        Refusal::new("file", format!("{} is no text in UTF-8", path.display()))
            .given(path.display())
            .accepted("a text file; a spreadsheet saves its table as CSV in UTF-8")
            .into()
    })
}
