//! `import --lab`: laboratory results from a table.

use book::{Book, BookError, LabColumn, LabColumns};
use ground::kit::Refusal;
use serde_json::json;

use crate::report::{Report, columns};
use crate::shelf;
use crate::trouble::Trouble;

/// Records the results of a table.
pub(super) fn import(book: &mut Book, text: &str, pairs: &[String], by: &str) -> Result<Report, Trouble> {
    let imported = book.import_lab_csv(text, &headings(pairs)?, &shelf::stamp(by)).map_err(|error| {
        let in_the_table = matches!(error, BookError::Rows(_));
        let trouble = Trouble::from(error);
        if in_the_table {
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

/// The columns that a table may have.
pub(super) fn list_columns() -> Result<Report, Trouble> {
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
