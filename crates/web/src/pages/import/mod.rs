//! Taking in laboratory results: a look at the columns, then all rows or none; and undoing it as a whole.

mod columns;
mod one;
mod undo;

use askama::Template;
use book::model::LabHeading;
use book::model::weather::DateOrder;
use book::{
    BookError, LabColumn, LabColumns, LabImport, LabProposal, RowRefusal, propose_lab_columns,
    read_lab_headings, table_text,
};
use ground::kit::Refusal;
use ground::kit::units::Dimension;
use serde::Serialize;

use self::columns::Said;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, Width};
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};

/// Addresses of this page.
pub const ROUTES: &[Route] = &[
    Route::page("/import", "The form for a table of laboratory results, and the tables that came in", show),
    Route::save("/import", "Looks at a table of laboratory results (look), or takes it in", FIELDS, save)
        .up_to(8 << 20),
    Route::page(
        "/imports/{id}",
        "What came in with a table: which row went where, and what was noticed",
        one::show,
    ),
    Route::save("/imports/{id}/undo", "Undoes a table that came in, as a whole", undo::FIELDS, undo::save),
];

const FIELDS: &[Field] = &[
    Field::file("file", "A table from your disk", "A CSV file, as the laboratory sends it or a spreadsheet saves it").optional(),
    Field::lines(
        "table",
        "Or the table itself",
        "Copy the cells from a spreadsheet and paste them here, with their headings",
    )
    .optional(),
    Field::text("laboratory", "Laboratory", "Its name; what its columns mean is remembered by it for the next table")
        .width(Width::Middle)
        .optional(),
    Field::measure(
        "basis_depth",
        "Depth that its amounts per area speak of",
        "Needed where figures are in lb/acre or kg/ha; 6 2/3 in or 17 cm is what most laboratories mean",
        Dimension::Depth,
    )
    .optional(),
    Field::day("date", "Day of samples that have none", "For rows without a date whose bag is not written down yet").optional(),
    Field::pick(
        "date_order",
        "Dates are written as",
        "",
        &[
            Choice::new("year_month_day", "Year, month, day (2026-06-14), or with the month in letters"),
            Choice::new("day_month_year", "Day, month, year (14/06/2026)"),
            Choice::new("month_day_year", "Month, day, year (06/14/2026)"),
        ],
    )
    .optional(),
    Field::lines(
        "headings",
        "Headings that differ",
        "If the table calls a column something else: one a line, our heading, an equals sign, the table's heading",
    )
    .optional(),
    // The headings that were looked at; another table is looked at anew.
    Field::hidden("seen").optional(),
    // The name of the file whose text stands in the form once it was looked at.
    Field::hidden("file_name").optional(),
];

const ORDERS: [(&str, DateOrder); 3] = [
    ("year_month_day", DateOrder::YearMonthDay),
    ("day_month_year", DateOrder::DayMonthYear),
    ("month_day_year", DateOrder::MonthDayYear),
];

/// Columns that are asked about; no laboratory prints more.
const MOST_COLUMNS: usize = 80;
/// Wrong cells that are listed.
const MOST_ROWS: usize = 100;

#[derive(Template, Serialize)]
#[template(path = "import.html")]
struct ImportPage {
    #[serde(skip)]
    shell: Shell,
    form: Form,
    columns: Vec<Column>,
    /// What the columns seem to hold, once a table was looked at.
    proposal: Option<LabProposal>,
    /// Names of the fields of the columns, each with its heading and first cells.
    #[serde(skip)]
    places: Vec<Place>,
    rows: Vec<RowRefusal>,
    /// Wrong places that are not listed.
    further: usize,
    /// What came in just before, or was undone.
    taken: Option<String>,
    /// Tables that came in.
    imports: Vec<undo::ImportLine>,
}

#[derive(Debug)]
struct Place {
    heading: String,
    cells: String,
    names: [String; 3],
}

/// A column that is understood.
#[derive(Serialize)]
struct Column {
    heading: &'static str,
    required: bool,
    accepted: &'static str,
    example: &'static str,
}

/// A table that was looked at, with what the person said of its columns.
struct Looked {
    proposal: LabProposal,
    said: Vec<Said>,
    /// Whether they were said to this very table.
    answered: bool,
}

impl Looked {
    fn new(ask: &Ask, proposal: LabProposal) -> Self {
        let answered = match ask.body.get("seen") {
            // Programs may leave the headings out.
            None => ask.body.get("column_0").is_some(),
            Some(before) => before.trim() == headings(&proposal).trim(),
        };
        Self { said: columns::said(ask, &proposal, answered), answered, proposal }
    }
}

fn headings(proposal: &LabProposal) -> String {
    proposal.columns.iter().map(|column| column.heading.as_str()).collect::<Vec<_>>().join("\t")
}

fn page(ask: &Ask, form: Form, looked: Option<&Looked>, mut rows: Vec<RowRefusal>) -> ImportPage {
    let own = LabColumn::all().map(|column| Column {
        heading: column.heading(),
        required: column.required(),
        accepted: column.accepted(),
        example: column.example(),
    });
    let shell = ask.shell(Section::Settings, "Take in laboratory results");
    let views = looked.map(|looked| columns::views(&looked.proposal, &looked.said)).unwrap_or_default();
    let mut form = form.and(Form::of(views));
    // Refusals of columns find their fields only now.
    for refusal in std::mem::take(&mut form.refusals) {
        form.refuse(refusal);
    }
    let place = |(at, column): (usize, &book::LabColumnSeen)| Place {
        heading: column.heading.clone(),
        cells: column.cells.join(", "),
        names: columns::names(at),
    };
    let further = rows.len().saturating_sub(MOST_ROWS);
    rows.truncate(MOST_ROWS);
    ImportPage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        form,
        columns: own.collect(),
        places: looked
            .map(|looked| looked.proposal.columns.iter().enumerate().map(place).collect())
            .unwrap_or_default(),
        proposal: looked.map(|looked| looked.proposal.clone()),
        rows,
        further,
        taken: taken(ask),
        imports: ask.snapshot().map(|snapshot| undo::lines(&snapshot)).unwrap_or_default(),
    }
}

/// How much came in or was undone, told by the numbers in the address that a post leads to.
fn taken(ask: &Ask) -> Option<String> {
    let count = |name: &str| ask.query.text(name).and_then(|text| text.parse::<u32>().ok());
    if let Some(undone) = count("undone") {
        return Some(format!(
            "The table was undone: {undone} records made from it no longer count. They stay in the history."
        ));
    }
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
    Shown::page(page(ask, ask.form(FIELDS), None, Vec::new()))
}

fn save(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let mut read = ask.reader(FIELDS);
    let pasted = read.lines("table");
    let file = ask.files.iter().find(|file| file.field == "file" && !file.bytes.is_empty());
    let text = match file.map(|file| table_text(&file.bytes)) {
        Some(Ok(text)) => text,
        Some(Err(refusal)) => {
            read.refuse(Refusal { message: crate::problem::capital(&refusal.message), ..refusal });
            return Err(read.refused(|form| page(ask, form, None, Vec::new())));
        }
        None => pasted,
    };
    // A file cannot be put back into its field, so its text stands in the other one to be mended there.
    if text.trim().is_empty() {
        read.refuse(
            Refusal::new("table", "There is no table: choose a file or paste the cells")
                .given("nothing")
                .accepted("a table with the headings plot and date, and at least one result"),
        );
        return Err(read.refused(|form| page(ask, form.set("table", &text), None, Vec::new())));
    }
    let told = columns_told(&read.lines("headings"));
    let Some(told) = read.take(told) else {
        return Err(read.refused(|form| page(ask, form.set("table", &text), None, Vec::new())));
    };
    let asked = ask.body.text("look").is_some() || ask.body.text("take").is_some();
    let laboratory = ask.body.text("laboratory").unwrap_or_default();
    let looked = match asked.then(|| propose_lab_columns(&text, &snapshot.laboratories, laboratory)) {
        None => None,
        Some(Ok(proposal)) if proposal.columns.len() <= MOST_COLUMNS => Some(Looked::new(ask, proposal)),
        Some(Ok(proposal)) => {
            read.refuse(
                Refusal::new("table", format!("The table has {} columns", proposal.columns.len()))
                    .given(proposal.columns.len())
                    .accepted(format!("at most {MOST_COLUMNS} columns; leave out those that are not needed")),
            );
            return Err(read.refused(|form| page(ask, form.set("table", &text), None, Vec::new())));
        }
        Some(Err(rows)) => {
            read.refuse(
                Refusal::new("table", "This could not be read as a table; see below").accepted("a table"),
            );
            return Err(read.refused(|form| page(ask, form.set("table", &text), None, rows)));
        }
    };
    if let Some(looked) = looked.as_ref().filter(|looked| ask.body.text("take").is_none() || !looked.answered)
    {
        return Shown::page(look(ask, &text, looked));
    }
    let again =
        |form: Form, rows: Vec<RowRefusal>| page(ask, form.set("table", &text), looked.as_ref(), rows);
    let import = match &looked {
        Some(looked) => Ok(columns::answers(&mut read, &looked.proposal, &looked.said))
            .map(|columns| (columns, looked.proposal.date_order)),
        // A program that sends a plain table has said with its headings what the columns hold.
        None => read_lab_headings(&text, &told).map(|import| (import.columns, Some(import.date_order))),
    };
    let (columns, proven) = match import {
        Ok(found) => found,
        Err(rows) => {
            read.refuse(wrong_places(rows.len()));
            return Err(read.refused(|form| again(form, rows)));
        }
    };
    let import = settings(&mut read, columns, proven, file_name(ask));
    if read.is_refused() {
        return Err(read.refused(|form| again(form, Vec::new())));
    }
    match ask.write(|book, stamp| book.import_lab_table(&text, &import, stamp))? {
        Err(BookError::Rows(rows)) => {
            read.refuse(wrong_places(rows.len()));
            if rows.iter().any(|row| row.refusal.field == "basis_depth_cm") {
                read.refuse(
                    Refusal::new(
                        "basis_depth",
                        "Figures per area stand in this table: say to what depth they speak",
                    )
                    .given("nothing")
                    .accepted("a depth")
                    .example("6 2/3 in"),
                );
            }
            Err(read.refused(|form| again(form, rows)))
        }
        other => {
            let kept = read.kept(other, |form| again(form, Vec::new()))?;
            let (samples, results) = (kept.samples.len(), kept.observations.len());
            let known = kept.known_already;
            let twin = serde_json::json!({
                "samples": kept.samples, "observations": kept.observations, "known_already": known,
                "import": kept.import, "remarks": kept.remarks,
            });
            let to = match kept.import {
                Some(id) => format!("/imports/{id}"),
                None => format!("/import?samples={samples}&results={results}&known={known}"),
            };
            Shown::kept(to, twin)
        }
    }
}

/// The name of the file that was sent, or that the table in the form came from; a table that was pasted has none.
fn file_name(ask: &Ask) -> &str {
    let sent = ask.files.iter().find(|file| file.field == "file" && !file.bytes.is_empty());
    sent.map(|file| file.file_name.as_str()).or_else(|| ask.body.text("file_name")).unwrap_or_default()
}

/// The page of a table that is looked at and not taken in yet.
fn look(ask: &Ask, text: &str, looked: &Looked) -> ImportPage {
    let proposal = &looked.proposal;
    let order = proposal.date_order.map_or("", order_key);
    let mut form = Form::filled(FIELDS, ask.units(), &ask.body)
        .set("table", text)
        .set("seen", headings(proposal))
        .set("file_name", file_name(ask))
        .with("laboratory", proposal.laboratory.as_deref().unwrap_or_default());
    if !order.is_empty() {
        form = form.set("date_order", order);
    }
    if ask.body.text("basis_depth").is_none() {
        form = form.measure("basis_depth", proposal.basis_depth_cm, ask.units());
    }
    page(ask, form, Some(looked), Vec::new())
}

fn order_key(order: DateOrder) -> &'static str {
    ORDERS.iter().find(|(_, known)| *known == order).map_or("", |(key, _)| key)
}

/// What the form says of the whole table.
fn settings(
    read: &mut Reader<'_>,
    columns: Vec<LabHeading>,
    proven: Option<DateOrder>,
    file_name: &str,
) -> LabImport {
    let order = read.choice("date_order");
    let date_order = ORDERS.iter().find(|(key, _)| Some(*key) == order).map(|(_, order)| *order);
    LabImport {
        laboratory: read.text("laboratory").unwrap_or_default().trim().to_owned(),
        file_name: file_name.to_owned(),
        basis_depth_cm: read.measure("basis_depth"),
        date: read.day_gone("date"),
        date_order: date_order.or(proven).unwrap_or(DateOrder::YearMonthDay),
        columns,
    }
}

/// "clay_percent = Clay (%)", one a line.
fn columns_told(headings: &str) -> Result<LabColumns, Refusal> {
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
        let read = columns_told("clay_percent = Clay (%)\n\n sand_percent=Sand = coarse").unwrap();
        assert_eq!(read.heading(LabColumn::Clay), "Clay (%)");
        assert_eq!(read.heading(LabColumn::Sand), "Sand = coarse");
        assert_eq!(read.heading(LabColumn::Silt), "silt_percent");
        for text in ["clay", "claye = Clay", "clay_percent = "] {
            assert_eq!(columns_told(text).unwrap_err().field, "headings", "{text}");
        }
    }
}
