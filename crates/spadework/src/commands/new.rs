//! `new`: a farm book with its farm.

use std::path::PathBuf;

use book::Book;
use book::model::Farm;
use clap::Args;
use serde_json::json;

use super::farm_args::FarmArgs;
use crate::args::Global;
use crate::report::Report;
use crate::shelf;
use crate::trouble::Trouble;

/// Options of `new`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework new home.farmbook --name \"Long Furrow\" --latitude 42.5 --last-frost 05-12 --first-frost 10-02")]
pub(crate) struct New {
    /// The file to make, such as home.farmbook; nothing is ever written over
    book: PathBuf,
    /// What the farm is called
    #[arg(long)]
    name: String,
    #[command(flatten)]
    farm: FarmArgs,
    /// Who makes the book
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl New {
    /// Makes it.
    pub(crate) fn run(self, global: &Global) -> Result<Report, Trouble> {
        let farm = self.farm.put(Farm::named(self.name.trim(), global.system()))?;
        let folder = self.book.parent().filter(|folder| !folder.as_os_str().is_empty());
        if let Some(folder) = folder.filter(|folder| !folder.is_dir()) {
            let message = format!("there is no folder {}, so no book was made", folder.display());
            return Err(Trouble::of_book(message).hint("make the folder first, or choose another place"));
        }
        Book::create(&self.book, farm.clone(), &shelf::stamp(&self.by))?;
        let path = self.book.display();
        let text = format!(
            "Made {path} for {}, in {} units.\nNext: spadework record plot {path} \"Lower field\" --area 4000sqft, or spadework serve {path}",
            farm.name,
            farm.units.words()
        );
        Report::new(&json!({ "book": self.book, "farm": farm }), text)
    }
}
