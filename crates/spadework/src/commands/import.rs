//! `import`: a new book from an archive, or laboratory results from a table.

use std::path::{Path, PathBuf};

use book::{Book, LabColumn, LabColumns};
use clap::Args;
use ground::kit::Refusal;
use serde_json::json;

use crate::report::{Report, columns};
use crate::shelf;
use crate::trouble::Trouble;

/// Options of `import`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework import new.farmbook --archive home.json
  spadework import home.farmbook --lab results.csv --column clay=\"Clay (%)\"
  spadework import --lab-columns")]
pub(crate) struct Import {
    /// The farm book: a new file for an archive, a book that is there for a table
    #[arg(required_unless_present = "lab_columns")]
    book: Option<PathBuf>,
    /// Make a new book from this archive
    #[arg(long, value_name = "FILE")]
    archive: Option<PathBuf>,
    /// Record laboratory results from this CSV table; every row is stored, or none
    #[arg(long, value_name = "FILE", conflicts_with = "archive")]
    lab: Option<PathBuf>,
    /// Read a column under another heading; once for each
    #[arg(long = "column", value_name = "COLUMN=HEADING", requires = "lab")]
    headings: Vec<String>,
    /// List the columns that a table may have
    #[arg(long)]
    lab_columns: bool,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl Import {
    /// Takes it in.
    pub(crate) fn run(self) -> Result<Report, Trouble> {
        if self.lab_columns {
            return list_columns();
        }
        let book = self.book.as_deref().unwrap_or(Path::new(""));
        match (&self.archive, &self.lab) {
            (Some(archive), _) => {
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
            (None, Some(table)) => {
                let headings = headings(&self.headings)?;
                let text = text_of(table)?;
                let imported = shelf::open(book)?
                    .import_lab_csv(&text, &headings, &shelf::stamp(&self.by))
                    .map_err(|error| {
                        let trouble = Trouble::from(error);
                        if trouble.is_about("lab") {
                            trouble.hint(
                                "--column sand_percent=HEADING where a heading differs; --lab-columns lists the columns",
                            )
                        } else {
                            trouble
                        }
                    })?;
                let words = format!(
                    "Recorded {} results from {} new samples; {} stood in the book already.",
                    imported.observations.len(),
                    imported.samples.len(),
                    imported.known_already
                );
                let json = json!({
                    "samples": imported.samples, "observations": imported.observations,
                    "known_already": imported.known_already
                });
                Report::new(&json, words)
            }
            (None, None) => Err(Refusal::new("archive", "nothing to import was named")
                .given("nothing")
                .accepted("--archive FILE or --lab FILE")
                .into()),
        }
    }
}

fn text_of(path: &Path) -> Result<String, Trouble> {
    let bytes = std::fs::read(path)
        .map_err(|error| Trouble::other(format!("{} could not be read: {error}", path.display())))?;
    String::from_utf8(bytes).map_err(|_| {
        Refusal::new("file", format!("{} is no text in UTF-8", path.display()))
            .given(path.display())
            .accepted("a text file; a spreadsheet saves its table as CSV in UTF-8")
            .into()
    })
}

fn headings(pairs: &[String]) -> Result<LabColumns, Refusal> {
    let mut columns = LabColumns::default();
    for pair in pairs {
        let known = pair.split_once('=').and_then(|(name, heading)| {
            Some((LabColumn::all().find(|column| column.heading() == name.trim())?, heading))
        });
        let Some((column, heading)) = known else {
            let names: Vec<&str> = LabColumn::all().map(LabColumn::heading).collect();
            return Err(Refusal::new("column", format!("{pair:?} does not name a column"))
                .given(pair)
                .accepted(format!("COLUMN=HEADING, with one of {}", names.join(", ")))
                .example("clay_percent=Clay (%)"));
        };
        columns = columns.read(column, heading.trim());
    }
    Ok(columns)
}

fn list_columns() -> Result<Report, Trouble> {
    let rows: Vec<Vec<String>> = LabColumn::all()
        .map(|column| {
            vec![
                column.heading().to_owned(),
                if column.required() { "required".to_owned() } else { String::new() },
                column.accepted().to_owned(),
                format!("such as {}", column.example()),
            ]
        })
        .collect();
    let json: Vec<serde_json::Value> = LabColumn::all()
        .map(|column| {
            json!({
                "column": column.heading(), "required": column.required(),
                "accepted": column.accepted(), "example": column.example()
            })
        })
        .collect();
    Report::new(&json!({ "columns": json }), columns(&rows, ""))
}
