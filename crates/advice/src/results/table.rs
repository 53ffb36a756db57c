//! Results as a table of text: a heading for each column, a row for each bag.

use book::{RowRefusal, read_cells};
use ground::kit::Refusal;

use super::{CellRefusal, Column, ResultRow};

const BAG: [&str; 3] = ["bag", "point", "label"];
const NOTE: &str = "note";

/// Columns, rows, and the line of each row.
pub type TableRead = (Vec<Column>, Vec<ResultRow>, Vec<u64>);

/// Reads a table: a column `bag` (or `point`), columns by their names (`sand_top`, `feel`, `hard_from`) or the headings
/// of figures ("pH", "P (Mehlich-3) ppm"), and `note`. Gives the columns, the rows, and the line each row stands on.
///
/// # Errors
/// Headings that are not understood, no column for the bag, rows with more cells than there are headings.
pub fn read_table(text: &str) -> Result<TableRead, Vec<RowRefusal>> {
    let table = read_cells(text)?;
    let mut refusals = Vec::new();
    let at_head = |refusal: Refusal| RowRefusal { line: 1, refusal };
    let is = |heading: &str, name: &str| heading.trim().eq_ignore_ascii_case(name);
    let bag = table.headings.iter().position(|heading| BAG.iter().any(|name| is(heading, name)));
    let note = table.headings.iter().position(|heading| is(heading, NOTE));
    if bag.is_none() {
        refusals.push(at_head(
            Refusal::new("bag", "No column says which bag or point the results are of")
                .given(table.headings.join(", "))
                .accepted("a column with the heading bag, or point")
                .example("bag,sand_top,silt_top,clay_top"),
        ));
    }
    let mut columns = Vec::new();
    let mut places = Vec::new();
    for (at, heading) in table.headings.iter().enumerate() {
        if Some(at) == bag || Some(at) == note || heading.trim().is_empty() {
            continue;
        }
        match Column::of(heading) {
            Ok(column) => {
                columns.push(column);
                places.push(at);
            }
            Err(refusal) => refusals.push(at_head(refusal)),
        }
    }
    let width = table.headings.len();
    for (line, cells) in table.rows.iter().filter(|(_, cells)| cells.len() > width) {
        refusals.push(RowRefusal {
            line: *line,
            refusal: Refusal::new("", format!("{} cells stand under {width} headings", cells.len()))
                .given(cells.len())
                .accepted("as many cells as headings; a cell with a comma in it stands in quotation marks"),
        });
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let cell =
        |cells: &[String], at: Option<usize>| at.and_then(|at| cells.get(at)).cloned().unwrap_or_default();
    let rows = table
        .rows
        .iter()
        .map(|(_, cells)| ResultRow {
            bag: cell(cells, bag),
            cells: places.iter().map(|at| cell(cells, Some(*at))).collect(),
            note: cell(cells, note),
        })
        .collect();
    Ok((columns, rows, table.rows.iter().map(|(line, _)| *line).collect()))
}

/// Refusals of cells, told by the lines of the table they came from.
#[must_use]
pub fn table_refusals(refused: Vec<CellRefusal>, lines: &[u64]) -> Vec<RowRefusal> {
    refused
        .into_iter()
        .map(|cell| RowRefusal {
            line: lines.get(cell.row).copied().unwrap_or(1),
            refusal: Refusal { field: cell.column_words, ..cell.refusal },
        })
        .collect()
}
