//! Taking in a table of daily weather: first a look at its columns, then all rows or none.

use askama::Template;
use book::model::WeatherWhat;
use book::model::weather::{ColumnRead, DateOrder, WeatherColumn, WeatherUnit};
use book::{BookError, RowRefusal, WeatherImport, WeatherProposal, propose_weather_columns};
use ground::kit::Refusal;
use ground::kit::units::Dimension;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Answer, Choice, Field, FieldView, Form, Reader, Width};
use crate::pages::import::wrong_places;
use crate::route::{Outcome, Shown};
use crate::shell::Section;
use crate::shell::Shell;

pub(super) const FIELDS: &[Field] = &[
    Field::file(
        "file",
        "A table from your disk",
        "A CSV file, as a weather station or a spreadsheet saves it",
    )
    .optional(),
    Field::lines(
        "table",
        "Or the table itself",
        "One row a day, with a row of headings on top. Copy the cells from a spreadsheet and paste them here",
    )
    .optional(),
    Field::text("name", "Station or gauge", "For example Farm station").width(Width::Middle),
    Field::one_of(
        "what",
        "What it is",
        "",
        &[Choice::new("measured", "Measured"), Choice::new("forecast", "A forecast")],
    ),
    Field::pick(
        "date_order",
        "Dates are written as",
        "",
        &[
            Choice::new("year_month_day", "Year, month, day (2026-06-14), or with the month in letters"),
            Choice::new("day_month_year", "Day, month, year (14/06/2026)"),
            Choice::new("month_day_year", "Month, day, year (06/14/2026)"),
        ],
    ),
    Field::measure(
        "wind_height",
        "Height of the wind gauge",
        "For example 6 ft or 2 m; it matters where wind is given",
        Dimension::Length,
    )
    .optional(),
    Field::lines("note", "Note", "").optional(),
    // The headings that were looked at; another table is looked at anew.
    Field::hidden("headings").optional(),
];

const ORDERS: [(&str, DateOrder); 3] = [
    ("year_month_day", DateOrder::YearMonthDay),
    ("day_month_year", DateOrder::DayMonthYear),
    ("month_day_year", DateOrder::MonthDayYear),
];

/// A column that is passed over.
const PASSED_OVER: &str = "-";
/// Wrong cells that are listed.
const MOST_ROWS: usize = 100;
/// Columns that are asked about; no station writes more.
const MOST_COLUMNS: usize = 80;

#[derive(Template, Serialize)]
#[template(path = "weather/import.html")]
struct ImportPage {
    #[serde(skip)]
    shell: Shell,
    form: Form,
    /// What the columns seem to hold, once a table was looked at.
    proposal: Option<WeatherProposal>,
    /// Names of the fields of the columns.
    #[serde(skip)]
    columns: Vec<String>,
    rows: Vec<RowRefusal>,
    /// Wrong places that are not listed.
    further: usize,
}

impl ImportPage {
    /// Whether a table with these headings came in before.
    fn as_before(&self) -> bool {
        self.proposal.as_ref().is_some_and(|proposal| proposal.as_before.is_some())
    }
}

/// A table that was looked at, with what the person said of its columns.
struct Looked {
    proposal: WeatherProposal,
    /// Texts of the columns' fields, in their order.
    said: Vec<String>,
    /// Whether they were said to this very table.
    answered: bool,
}

fn page(ask: &Ask, form: Form, looked: Option<&Looked>, mut rows: Vec<RowRefusal>) -> ImportPage {
    let shell = ask.shell(Section::Farm, "Take in a table of weather");
    let views: Vec<FieldView> = looked.map(views).unwrap_or_default();
    let columns = views.iter().map(|view| view.name.clone()).collect();
    let mut form = form.and(Form::of(views));
    // Refusals of columns find their fields only now.
    for refusal in std::mem::take(&mut form.refusals) {
        form.refuse(refusal);
    }
    let further = rows.len().saturating_sub(MOST_ROWS);
    rows.truncate(MOST_ROWS);
    ImportPage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        form,
        proposal: looked.map(|looked| looked.proposal.clone()),
        columns,
        rows,
        further,
    }
}

pub(super) fn show(ask: &Ask) -> Outcome {
    ask.desk()?;
    Shown::page(page(ask, ask.form(FIELDS).with("what", "measured"), None, Vec::new()))
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let mut read = ask.reader(FIELDS);
    let pasted = read.lines("table");
    let file = ask.files.iter().find(|file| file.field == "file" && !file.bytes.is_empty());
    let text = match file {
        Some(file) => String::from_utf8_lossy(&file.bytes).into_owned(),
        None => pasted,
    };
    if text.trim().is_empty() {
        read.refuse(
            Refusal::new("table", "There is no table: choose a file or paste the cells")
                .given("nothing")
                .accepted("a table with one row a day and a row of headings"),
        );
        return Err(read.refused(|form| page(ask, form.with("what", "measured"), None, Vec::new())));
    }
    let proposal = match propose_weather_columns(&text, &snapshot.weather_tables) {
        Ok(proposal) if proposal.columns.len() <= MOST_COLUMNS => proposal,
        Ok(proposal) => {
            let columns = proposal.columns.len();
            read.refuse(
                Refusal::new("table", format!("The table has {columns} columns"))
                    .given(columns)
                    .accepted(format!("at most {MOST_COLUMNS} columns; leave out those that are not needed")),
            );
            return Err(read.refused(|form| page(ask, form.set("table", &text), None, Vec::new())));
        }
        Err(rows) => {
            read.refuse(
                Refusal::new("table", "This could not be read as a table; see below").accepted("a table"),
            );
            return Err(read.refused(|form| page(ask, form.set("table", &text), None, rows)));
        }
    };
    let looked = Looked::new(ask, proposal);
    if ask.body.text("take").is_none() || !looked.answered {
        return Shown::page(look(ask, &text, file.map(|file| file.file_name.as_str()), &looked));
    }
    let import = answers(&mut read, &looked);
    let again = |form: Form, rows: Vec<RowRefusal>| page(ask, form.set("table", &text), Some(&looked), rows);
    let Some(import) = import.filter(|_| !read.is_refused()) else {
        return Err(read.refused(|form| again(form, Vec::new())));
    };
    match ask.write(|book, stamp| book.import_weather_csv(&text, &import, stamp))? {
        Err(BookError::Rows(rows)) => {
            read.refuse(wrong_places(rows.len()));
            Err(read.refused(|form| again(form, rows)))
        }
        other => {
            let kept = read.kept(other, |form| again(form, Vec::new()))?;
            let known = if kept.known_already { "&known=1" } else { "" };
            Shown::kept(format!("/weather?taken={}{known}", kept.id), kept)
        }
    }
}

/// The page of a table that is looked at and not taken in yet.
fn look(ask: &Ask, text: &str, file_name: Option<&str>, looked: &Looked) -> ImportPage {
    let form = Form::filled(FIELDS, ask.units(), &ask.body)
        .set("table", text)
        .set("headings", headings(&looked.proposal))
        .with("what", "measured")
        .with("name", file_name.and_then(|name| name.rsplit_once('.')).map_or("", |(stem, _)| stem));
    let order = looked.proposal.date_order.map_or("", |order| key(order));
    page(ask, form.set("date_order", order), Some(looked), Vec::new())
}

fn headings(proposal: &WeatherProposal) -> String {
    proposal.columns.iter().map(|read| read.heading.as_str()).collect::<Vec<_>>().join("\t")
}

fn key(order: DateOrder) -> &'static str {
    ORDERS.iter().find(|(_, known)| *known == order).map_or("", |(key, _)| key)
}

impl Looked {
    fn new(ask: &Ask, proposal: WeatherProposal) -> Self {
        let answered = match ask.body.get("headings") {
            // Programs may leave the headings out.
            None => ask.body.get("column_0").is_some(),
            Some(before) => before.trim() == headings(&proposal).trim(),
        };
        let said = |(at, read): (usize, &ColumnRead)| match ask.body.get(&format!("column_{at}")) {
            Some(text) if answered => text.trim().to_owned(),
            _ => value(read),
        };
        Self { said: proposal.columns.iter().enumerate().map(said).collect(), answered, proposal }
    }
}

/// What a column holds, as its field says it: `tmax_c °F`; empty where its unit is not known.
fn value(read: &ColumnRead) -> String {
    match (read.column, read.unit) {
        (None, _) => PASSED_OVER.to_owned(),
        (Some(WeatherColumn::Date), _) => WeatherColumn::Date.name().to_owned(),
        (Some(column), Some(unit)) => format!("{} {}", column.name(), unit.symbol()),
        (Some(_), None) => String::new(),
    }
}

/// A field for each column of the table.
fn views(looked: &Looked) -> Vec<FieldView> {
    let field = |(at, read): (usize, &ColumnRead)| {
        let label = if read.heading.is_empty() {
            format!("Column {} (without a heading)", at + 1)
        } else {
            format!("\u{201c}{}\u{201d}", read.heading)
        };
        let hint = match (read.column, read.unit) {
            (Some(column), None) if column != WeatherColumn::Date => {
                format!("This seems to be the {}; the heading does not say in which unit", column.words())
            }
            _ => String::new(),
        };
        let mut view = FieldView::pick(&format!("column_{at}"), &[]).labelled(&label, hint, false);
        view.answers = column_answers();
        view.typed(looked.said.get(at).map_or("", String::as_str))
    };
    looked.proposal.columns.iter().enumerate().map(field).collect()
}

/// Everything a column can be.
fn column_answers() -> Vec<Answer> {
    let answer = |value: String, label: String| Answer { value, label, chosen: false };
    let mut answers = vec![
        answer(PASSED_OVER.to_owned(), "Pass it over".to_owned()),
        answer(WeatherColumn::Date.name().to_owned(), "The day".to_owned()),
    ];
    for column in WeatherColumn::ALL.iter().filter(|column| **column != WeatherColumn::Date) {
        answers.extend(column.units().iter().map(|unit| {
            answer(
                format!("{} {}", column.name(), unit.symbol()),
                format!("{}, {}", crate::problem::capital(column.words()), unit.symbol()),
            )
        }));
    }
    answers
}

/// What the person said of the table.
fn answers(read: &mut Reader<'_>, looked: &Looked) -> Option<WeatherImport> {
    let name = read.text("name").map(str::to_owned);
    let what = read.choice("what").map(|what| match what {
        "forecast" => WeatherWhat::Forecast,
        _ => WeatherWhat::Measured,
    });
    let order = read.choice("date_order");
    let date_order = ORDERS.iter().find(|(key, _)| Some(*key) == order).map(|(_, order)| *order);
    let wind_height_m = read.measure("wind_height");
    let note = read.lines("note");
    let mut columns: Vec<ColumnRead> = Vec::with_capacity(looked.said.len());
    for (at, (before, said)) in looked.proposal.columns.iter().zip(&looked.said).enumerate() {
        match column_of(said) {
            Some((column, unit)) => {
                if let Some(column) = column
                    && let Some(first) = columns.iter().position(|read| read.column == Some(column))
                {
                    let other = &looked.proposal.columns[first].heading;
                    read.refuse(
                        Refusal::new(
                            format!("column_{at}"),
                            format!(
                                "\u{201c}{}\u{201d}: \u{201c}{other}\u{201d} is said to be the {} too",
                                before.heading,
                                column.words()
                            ),
                        )
                        .given(said)
                        .accepted("one column for each thing; pass the other over"),
                    );
                }
                columns.push(ColumnRead { heading: before.heading.clone(), column, unit });
            }
            None => read.refuse(
                Refusal::new(
                    format!("column_{at}"),
                    format!(
                        "\u{201c}{}\u{201d}: say what it holds and in which unit, or pass it over",
                        before.heading
                    ),
                )
                .given(if said.is_empty() { "nothing" } else { said })
                .accepted("one of the list")
                .example("tmax_c \u{b0}F"),
            ),
        }
    }
    if !read.is_refused() && columns.iter().all(|read| read.column != Some(WeatherColumn::Date)) {
        read.refuse(
            Refusal::new("column_0", "No column is said to hold the day")
                .given("nothing")
                .accepted("one column with the day"),
        );
    }
    Some(WeatherImport { name: name?, what: what?, wind_height_m, columns, date_order: date_order?, note })
}

/// The column and unit that a field's text names.
fn column_of(text: &str) -> Option<(Option<WeatherColumn>, Option<WeatherUnit>)> {
    if text == PASSED_OVER {
        return Some((None, None));
    }
    let (name, unit) = text.split_once(' ').unwrap_or((text, ""));
    let column = WeatherColumn::of_name(name)?;
    if column == WeatherColumn::Date {
        return Some((Some(column), None));
    }
    let unit = column.units().iter().copied().find(|known| known.symbol() == unit)?;
    Some((Some(column), Some(unit)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_answer_of_a_column_is_understood() {
        for answer in column_answers() {
            let (column, unit) = column_of(&answer.value).unwrap_or_else(|| panic!("{}", answer.value));
            let read = ColumnRead { heading: "x".to_owned(), column, unit };
            assert_eq!(value(&read), answer.value);
        }
        for text in ["", "tmax_c", "tmax_c mm", "rain", "snow in"] {
            assert_eq!(column_of(text), None, "{text}");
        }
    }
}
