//! Taking in laboratory results: pasted or sent as a table, all rows or none.

use askama::Template;
use book::{BookError, LabColumn, LabColumns, RowRefusal};
use ground::kit::Refusal;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Field, Form};
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};

/// Addresses of this page.
pub const ROUTES: &[Route] = &[
    Route::page("/import", "The form for a table of laboratory results", show),
    Route::save("/import", "Takes in a table of laboratory results", FIELDS, save).up_to(8 << 20),
];

const FIELDS: &[Field] = &[
    Field::file("file", "A table from your disk", "A CSV file, as a spreadsheet saves it").optional(),
    Field::lines(
        "table",
        "Or the table itself",
        "Copy the cells from a spreadsheet and paste them here, with their headings",
    )
    .optional(),
    Field::lines(
        "headings",
        "Headings that differ",
        "If the table calls a column something else: one a line, our heading, an equals sign, the table's heading",
    )
    .optional(),
];

#[derive(Template, Serialize)]
#[template(path = "import.html")]
struct Import {
    #[serde(skip)]
    shell: Shell,
    form: Form,
    columns: Vec<Column>,
    rows: Vec<RowRefusal>,
    /// What came in just before.
    taken: Option<String>,
}

/// A column that is understood.
#[derive(Serialize)]
struct Column {
    heading: &'static str,
    required: bool,
    accepted: &'static str,
    example: &'static str,
}

fn page(ask: &Ask, form: Form, rows: Vec<RowRefusal>) -> Import {
    let columns = LabColumn::all().map(|column| Column {
        heading: column.heading(),
        required: column.required(),
        accepted: column.accepted(),
        example: column.example(),
    });
    let shell = ask.shell(Section::Settings, "Take in laboratory results");
    Import {
        shell: if form.is_refused() { shell.refused() } else { shell },
        form,
        columns: columns.collect(),
        rows,
        taken: taken(ask),
    }
}

/// How much came in, told by the numbers in the address that a post leads to.
fn taken(ask: &Ask) -> Option<String> {
    let count = |name: &str| ask.query.text(name).and_then(|text| text.parse::<u32>().ok());
    let (samples, results, known) = (count("samples")?, count("results")?, count("known")?);
    let already = if known > 0 {
        format!(" {known} stood in the book already and were left as they are.")
    } else {
        String::new()
    };
    Some(format!("{results} results and {samples} new samples were taken in.{already}"))
}

fn show(ask: &Ask) -> Outcome {
    ask.desk()?;
    Shown::page(page(ask, ask.form(FIELDS), Vec::new()))
}

fn save(ask: &Ask) -> Outcome {
    let mut read = ask.reader(FIELDS);
    let pasted = read.lines("table");
    let headings = read.lines("headings");
    let columns = read.take(columns(&headings));
    let file = ask.files.iter().find(|file| file.field == "file");
    let text = match file {
        Some(file) => String::from_utf8_lossy(&file.bytes).into_owned(),
        None => pasted,
    };
    // A file cannot be put back into its field, so its text stands in the other one to be mended there.
    let again = |form: Form, rows: Vec<RowRefusal>| page(ask, form.set("table", &text), rows);
    if text.trim().is_empty() {
        read.refuse(
            Refusal::new("table", "There is no table: choose a file or paste the cells")
                .given("nothing")
                .accepted("a table with the headings plot and date, and at least one result"),
        );
        return Err(read.refused(|form| again(form, Vec::new())));
    }
    let Some(columns) = columns else {
        return Err(read.refused(|form| again(form, Vec::new())));
    };
    match ask.write(|book, stamp| book.import_lab_csv(&text, &columns, stamp))? {
        Err(BookError::Rows(rows)) => {
            read.refuse(wrong_places(rows.len()));
            Err(read.refused(|form| again(form, rows)))
        }
        other => {
            let kept = read.kept(other, |form| again(form, Vec::new()))?;
            let (samples, results) = (kept.samples.len(), kept.observations.len());
            let known = kept.known_already;
            let twin = serde_json::json!({
                "samples": kept.samples, "observations": kept.observations, "known_already": known,
            });
            Shown::kept(format!("/import?samples={samples}&results={results}&known={known}"), twin)
        }
    }
}

/// "clay_percent = Clay (%)", one a line.
fn columns(headings: &str) -> Result<LabColumns, Refusal> {
    headings.lines().filter(|line| !line.trim().is_empty()).try_fold(
        LabColumns::default(),
        |columns, line| {
            let refused = || {
                Refusal::new(
                    "headings",
                    format!("Headings: \u{201c}{}\u{201d} could not be read", line.trim()),
                )
                .given(line.trim())
                .accepted("one of the headings below, an equals sign, and the heading in the table")
                .example("clay_percent = Clay (%)")
            };
            let (ours, theirs) = line.split_once('=').ok_or_else(refused)?;
            let (ours, theirs) = (ours.trim(), theirs.trim());
            let column = LabColumn::all().find(|column| column.heading() == ours).ok_or_else(refused)?;
            if theirs.is_empty() { Err(refused()) } else { Ok(columns.read(column, theirs)) }
        },
    )
}

/// Refuses a table of which some places are wrong, however it was to be read.
pub(crate) fn wrong_places(count: usize) -> Refusal {
    let places = if count == 1 { "one place is wrong" } else { "several places are wrong" };
    Refusal::new("table", format!("Nothing was taken in: {places}. They are listed below, line by line"))
        .accepted("every row right")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_may_have_headings_of_its_own() {
        let read = columns("clay_percent = Clay (%)\n\n sand_percent=Sand = coarse").unwrap();
        assert_eq!(read.heading(LabColumn::Clay), "Clay (%)");
        assert_eq!(read.heading(LabColumn::Sand), "Sand = coarse");
        assert_eq!(read.heading(LabColumn::Silt), "silt_percent");
        for text in ["clay", "claye = Clay", "clay_percent = "] {
            assert_eq!(columns(text).unwrap_err().field, "headings", "{text}");
        }
    }
}
