//! `shelf`: the materials, how they are sold, and what is in hand.

use std::path::PathBuf;

use clap::Args;

use crate::args::Global;
use crate::report::{Report, table, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `shelf`.
#[derive(Debug, Args)]
#[command(
    after_help = "Materials come onto it with `spadework record material`, counts and purchases with `spadework record stock`.

Example:
  spadework shelf farm.farmbook"
)]
pub(crate) struct Shelf {
    /// The farm book
    book: PathBuf,
}

impl Shelf {
    pub(crate) fn run(self, _global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let lines = advice::feeding::shelf::shelf(&snapshot);
        if lines.is_empty() {
            let text = "Nothing is on the shelf. `spadework record material` puts something there.";
            return Report::new(&lines, wrapped(text, terminal.width, ""));
        }
        let mut rows = vec![
            ["material", "analysis, %", "sold", "price", "in hand", "organic rules"]
                .map(str::to_owned)
                .to_vec(),
        ];
        rows.extend(lines.iter().map(|line| {
            vec![
                line.name.clone(),
                line.grade.clone(),
                line.pack_words.clone(),
                line.price.map(|price| price.to_string()).unwrap_or_default(),
                line.in_hand.clone(),
                line.organic.words().to_owned(),
            ]
        }));
        let mut text = table(&rows, "", terminal.width);
        for line in lines.iter().filter(|line| !line.wanted.is_empty()) {
            let said = format!("{}: wanting {}", line.name, line.wanted.join(", "));
            text.push_str(&format!("\n{}", wrapped(&said, terminal.width, "  ")));
        }
        Report::new(&lines, text)
    }
}
