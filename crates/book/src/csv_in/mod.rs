//! Laboratory results and daily weather from tables that a spreadsheet saved as CSV.
//!
//! Weather: see [`read_weather_csv`]. Laboratory results: see [`Book::import_lab_table`](crate::Book::import_lab_table).
//! One row a sample. What each column holds is told by its heading ([`LabColumn`], or a figure with its procedure
//! and unit: "P (Mehlich-3) ppm"), remembered of the laboratory, or told by the person. Cells may be parted by comma,
//! semicolon or tab; a decimal comma and a unit in a cell are understood. Either every row is stored or none.

mod cells;
mod columns;
mod figures;
mod guess;
mod lab;
mod place;
mod rows;
mod sheet;
mod table;
mod weather;

pub use cells::{TableCells, read_cells};
pub use columns::{LabColumn, LabColumns};
pub use figures::{LabCell, check_lab_heading, read_lab_cell};
pub use lab::{Imported, LabColumnSeen, LabImport, LabProposal, propose_lab_columns, read_lab_headings};
pub use rows::means_words;
pub use sheet::table_text;
pub(crate) use sheet::text_of;
pub use table::RowRefusal;
pub(crate) use table::Table;
pub use weather::{
    Gap, ImportedWeather, WeatherImport, WeatherProposal, WeatherRead, propose_weather_columns,
    read_normals_csv, read_weather_csv,
};

/// The layer meant where a table gives none: the plough layer.
const USUAL_LAYER_CM: (f64, f64) = (0.0, 20.0);
