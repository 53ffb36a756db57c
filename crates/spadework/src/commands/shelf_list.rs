//! `shelf`: the materials, how they are sold, and what is in hand.

use std::path::PathBuf;

use advice::words::capital;
use clap::Args;
use ground::fertility::blend::catalogue::{CATALOGUE, MaterialKind};

use crate::args::Global;
use crate::report::{Report, table, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `shelf`.
#[derive(Debug, Args)]
#[command(
    after_help = "Materials come onto it with `spadework record material`, counts and purchases with `spadework record stock`.

Examples:
  spadework shelf farm.farmbook
  spadework shelf --catalogue"
)]
pub(crate) struct Shelf {
    /// The farm book
    #[arg(required_unless_present = "catalogue")]
    book: Option<PathBuf>,
    /// The generic materials that a shelf begins from, with their keys
    #[arg(long, conflicts_with = "book")]
    catalogue: bool,
}

impl Shelf {
    pub(crate) fn run(self, _global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let Some(path) = self.book.filter(|_| !self.catalogue) else { return of_catalogue(terminal) };
        let snapshot = shelf::read(&path)?.snapshot()?;
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

/// The generic materials, by kind.
fn of_catalogue(terminal: &Terminal) -> Result<Report, Trouble> {
    let mut text = String::new();
    for kind in MaterialKind::ALL {
        let of_kind: Vec<_> = CATALOGUE.iter().filter(|row| row.kind == kind).collect();
        if of_kind.is_empty() {
            continue;
        }
        text.push_str(&format!("{}{}\n", if text.is_empty() { "" } else { "\n\n" }, capital(kind.words())));
        let rows: Vec<Vec<String>> =
            of_kind.iter().map(|row| vec![row.key.clone(), row.name.clone()]).collect();
        text.push_str(&table(&rows, "  ", terminal.width));
    }
    text.push_str("\n\n");
    let about = "Analyses and sources: spadework calc generic-material --set material=KEY.";
    text.push_str(&wrapped(about, terminal.width, ""));
    Report::new(&*CATALOGUE, text)
}
