//! `export`: a farm book as one JSON archive, or as CSV tables.

use std::path::PathBuf;

use clap::Args;
use ground::kit::Refusal;
use serde_json::json;

use crate::report::Report;
use crate::shelf;
use crate::trouble::Trouble;

/// Options of `export`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework export home.farmbook --archive home.json
  spadework export home.farmbook --archive - | less
  spadework export home.farmbook --csv tables")]
pub(crate) struct Export {
    /// The farm book
    book: PathBuf,
    /// Write everything, history and photos too, to one JSON file; - writes it to stdout
    #[arg(long, value_name = "FILE")]
    archive: Option<PathBuf>,
    /// Write one CSV table for each kind of record, and the history, into this folder: plots.csv,
    /// observations.csv and so on
    #[arg(long, value_name = "FOLDER", conflicts_with = "archive")]
    csv: Option<PathBuf>,
}

impl Export {
    /// Writes it.
    pub(crate) fn run(self) -> Result<Report, Trouble> {
        let book = shelf::read(&self.book)?;
        if let Some(folder) = &self.csv {
            let files = book.export_csv(folder)?;
            let names: Vec<String> = files.iter().map(|file| file.display().to_string()).collect();
            return Report::new(&json!({ "files": files }), names.join("\n"));
        }
        match self.archive {
            None => Err(Refusal::new("archive", "it is not said what to write")
                .given("nothing")
                .accepted("--archive FILE, or --csv FOLDER")
                .example("--archive home.json")
                .into()),
            Some(file) if file.as_os_str() != "-" => {
                book.save_archive(&file)?;
                Report::new(&json!({ "files": [file] }), file.display().to_string())
            }
            Some(_) => {
                let archive = book.to_archive()?;
                let json = serde_json::from_str(&archive)
                    .map_err(|error| Trouble::other(format!("the archive cannot be read back: {error}")))?;
                Ok(Report { json, text: archive, exit: crate::trouble::Exit::Done })
            }
        }
    }
}
