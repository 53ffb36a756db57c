//! `record structure`.

use std::path::PathBuf;

use book::model::{Structure, StructureKind, StructureSide};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::kit::units::{field_unit, typed};
use ground::kit::{Bounded, Refusal};
use serde_json::json;

use crate::args::Global;
use crate::records;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Options of `record structure`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework record structure home.farmbook \"East tunnel\" --kind high-tunnel --plot \"Lower field\" --length 96ft --width 30ft")]
pub(crate) struct RecordStructure {
    /// The farm book
    book: PathBuf,
    /// What it is called
    name: String,
    /// What it is
    #[arg(long, value_parser = PossibleValuesParser::new(StructureKind::ALL.map(flag)))]
    kind: String,
    /// Name of the plot it stands on
    #[arg(long, value_name = "NAME")]
    plot: Option<String>,
    /// Length
    #[arg(long)]
    length: Option<String>,
    /// Width
    #[arg(long)]
    width: Option<String>,
    /// Anything else
    #[arg(long, default_value = "")]
    note: String,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

/// The words of a kind as one argument.
fn flag(kind: StructureKind) -> String {
    kind.words().replace(' ', "-")
}

impl RecordStructure {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let unit = field_unit(StructureSide::UNIT, system);
        let side = |field: &str, text: &Option<String>| -> Result<Option<StructureSide>, Refusal> {
            text.as_deref().map(|text| typed(field, text, unit)).transpose()
        };
        let plot = match &self.plot {
            Some(name) => Some(shelf::plot(&snapshot, name)?),
            None => None,
        };
        let structure = Structure {
            plot: plot.map(|plot| plot.id),
            name: self.name.trim().to_owned(),
            kind: StructureKind::ALL
                .into_iter()
                .find(|kind| flag(*kind) == self.kind)
                .unwrap_or(StructureKind::Other),
            length_m: side("length", &self.length)?,
            width_m: side("width", &self.width)?,
            note: self.note,
        };
        let held =
            book.record(structure, &shelf::stamp(&self.by)).map_err(|error| in_units(error, system))?;
        let stands = plot.map(|plot| format!(" on {}", plot.body.name)).unwrap_or_default();
        let text = format!(
            "Recorded: {} {}{stands} (record {}).",
            held.body.kind.words(),
            held.body.name,
            records::short(&book, held.id)
        );
        Report::new(&json!({ "recorded": held }), wrapped(&text, terminal.width, "  "))
    }
}
