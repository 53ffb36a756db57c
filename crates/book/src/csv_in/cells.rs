//! A table as its cells, for those who know what its columns hold.

use super::table::{RowRefusal, Table};

/// A table: its headings, and each row with its line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TableCells {
    /// The headings.
    pub headings: Vec<String>,
    /// The cells of each row, as many as there are headings or fewer, and the line they stand on.
    pub rows: Vec<(u64, Vec<String>)>,
}

/// Parts a table into its cells: commas, semicolons or tabs between them; empty rows are passed over.
///
/// # Errors
/// Lines that cannot be read, or too many of them.
pub fn read_cells(text: &str) -> Result<TableCells, Vec<RowRefusal>> {
    let Table { headings, lines, trouble, .. } = Table::read(text, None)?;
    if !trouble.is_empty() {
        return Err(trouble);
    }
    let owned = |cells: &csv::StringRecord| cells.iter().map(str::to_owned).collect::<Vec<_>>();
    Ok(TableCells {
        headings: owned(&headings),
        rows: lines.iter().map(|line| (line.number, owned(&line.cells))).collect(),
    })
}
