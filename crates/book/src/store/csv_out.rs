//! The current records as CSV tables (RFC 4180), one a kind: the same columns as the views of the file.

use std::path::{Path, PathBuf};

use ground::kit::Refusal;
use rusqlite::types::ValueRef;

use super::{Book, whole};
use crate::error::{BookError, Result};

/// The tables: one a kind; one row a cover that was sown, a sign, a layer, a ring, a figure of a laboratory, a day and a
/// month of weather, a point of a sampling plan and a spot where something was found; and every revision ever made.
pub const CSV_TABLES: [&str; 37] = [
    "farm",
    "plots",
    "beds",
    "structures",
    "samples",
    "observations",
    "decisions",
    "notes",
    "photos",
    "weather_normals",
    "weather_tables",
    "crops",
    "plantings",
    "water_supplies",
    "watering_systems",
    "waterings",
    "laboratories",
    "imports",
    "materials",
    "stocks",
    "applications",
    "harvests",
    "jobs",
    "covers",
    "plan_parts",
    "underlays",
    "sampling_plans",
    "cover_seeds",
    "signs",
    "layers",
    "rings",
    "lab_figures",
    "weather_days",
    "weather_months",
    "sampling_points",
    "spots",
    "history",
];

impl Book {
    /// Writes one CSV file a kind into `folder`, which is made if need be, and gives their names.
    ///
    /// The tables are for reading in a spreadsheet. A text that a spreadsheet would take for a
    /// formula gets an apostrophe in front; the archive keeps every text as it is.
    ///
    /// # Errors
    /// One of the files is there already (then none is written), or the folder cannot be written.
    pub fn export_csv(&self, folder: impl AsRef<Path>) -> Result<Vec<PathBuf>> {
        let folder = folder.as_ref();
        std::fs::create_dir_all(folder).map_err(|source| BookError::io(folder, "made", source))?;
        let tables: Vec<(&str, PathBuf)> =
            CSV_TABLES.iter().map(|view| (*view, folder.join(format!("{view}.csv")))).collect();
        if let Some((_, taken)) = tables.iter().find(|(_, file)| file.exists()) {
            return Err(BookError::Exists { path: taken.clone() });
        }
        for (view, file) in &tables {
            let text = self.csv_table(view)?;
            whole::appear(file, |draft| {
                std::fs::write(draft, &text).map_err(|source| BookError::io(file, "written", source))
            })?;
        }
        Ok(tables.into_iter().map(|(_, file)| file).collect())
    }

    /// One of [`CSV_TABLES`] as CSV.
    ///
    /// # Errors
    /// There is no such table, or the book cannot be read.
    pub fn csv_table(&self, view: &str) -> Result<Vec<u8>> {
        if !CSV_TABLES.contains(&view) {
            return Err(Refusal::new("table", format!("there is no table called {view:?}"))
                .given(view)
                .accepted(CSV_TABLES.join(", "))
                .example("plots")
                .into());
        }
        let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        let broken = |error: String| BookError::Io {
            path: PathBuf::from(format!("{view}.csv")),
            doing: "written",
            source: std::io::Error::other(error),
        };
        let records = self.read(|connection| {
            let mut statement = connection.prepare(&format!("SELECT * FROM {view}"))?;
            let names: Vec<String> = statement.column_names().map(str::to_owned).collect();
            let width = names.len();
            let mut records = vec![names];
            let mut rows = statement.query([])?;
            while let Some(row) = rows.next()? {
                records.push(
                    (0..width)
                        .map(|column| row.get_ref(column).map(cell))
                        .collect::<rusqlite::Result<_>>()?,
                );
            }
            Ok(records)
        })?;
        for record in &records {
            out.write_record(record).map_err(|error| broken(error.to_string()))?;
        }
        out.into_inner().map_err(|error| broken(error.to_string()))
    }
}

fn cell(value: ValueRef<'_>) -> String {
    match value {
        ValueRef::Null | ValueRef::Blob(_) => String::new(),
        ValueRef::Integer(number) => number.to_string(),
        ValueRef::Real(number) => number.to_string(),
        ValueRef::Text(text) => {
            let text = String::from_utf8_lossy(text);
            if text.starts_with(['=', '+', '-', '@', '\t', '\r']) {
                format!("'{text}")
            } else {
                text.into_owned()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::CSV_TABLES;
    use crate::model::Kind;

    #[test]
    fn every_kind_has_its_table() {
        for kind in Kind::ALL {
            assert!(CSV_TABLES.contains(&kind.view()), "{}", kind.view());
        }
    }
}
