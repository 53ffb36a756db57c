//! Which columns the results screen has, and drawing it anew with others: nothing typed is lost by that.

use advice::results::{Column, usual_columns};
use book::Snapshot;
use book::model::SamplingPurpose;
use ground::kit::Refusal;

use super::enter::{EnterPage, FIELDS, For, page};
use super::grid;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Width};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::typed::Typed;

/// Name of the button that draws the screen anew.
pub(super) const REDRAW: &str = "redraw";

pub(super) const COLUMNS: &[Field] = &[
    Field::any_of(
        "columns",
        "Columns",
        "",
        &[
            Choice::new("sand_top", "Jar: top of sand"),
            Choice::new("silt_top", "Jar: top of silt"),
            Choice::new("clay_top", "Jar: top of clay"),
            Choice::new("feel", "Feel test"),
            Choice::new("sand_percent", "Laboratory: sand"),
            Choice::new("silt_percent", "Laboratory: silt"),
            Choice::new("clay_percent", "Laboratory: clay"),
            Choice::new("organic_matter", "Organic matter"),
            Choice::new("ec", "Conductivity"),
            Choice::new("hard_from", "Probe: hard from"),
        ],
    )
    .optional(),
    Field::text(
        "figures",
        "Figures",
        "Their headings, with semicolons between them: pH; P (Mehlich-3) ppm; NO3-N ppm",
    )
    .optional(),
    Field::text("rows", "Rows", "Without a plan").optional().width(Width::Short),
];

/// The columns that are asked for, each once, or those of the purpose.
pub(super) fn columns_of(names: &[&str], purpose: Option<SamplingPurpose>) -> Result<Vec<Column>, Refusal> {
    let mut columns: Vec<Column> = Vec::new();
    for name in names.iter().map(|name| name.trim()).filter(|name| !name.is_empty()) {
        let column = Column::of(name)?;
        if !columns.contains(&column) {
            columns.push(column);
        }
    }
    Ok(if columns.is_empty() { usual_columns(purpose) } else { columns })
}

/// The empty screen.
pub(super) fn show(ask: &Ask, snapshot: &Snapshot, of: &For<'_>) -> Outcome {
    let mut names: Vec<&str> = ask.query.all("columns").collect();
    names.extend(ask.query.text("figures").unwrap_or_default().split(';'));
    let rows = ask.query.text("rows").and_then(|text| text.parse().ok()).unwrap_or(grid::USUAL_ROWS);
    let rows = rows.clamp(1, grid::MOST_ROWS);
    let blank = |columns: &[Column]| {
        let mut page = page(ask, snapshot, of, columns, rows, &Typed::default());
        page.form = of.usual(ask.form(FIELDS), ask).and(page.form);
        page
    };
    match columns_of(&names, of.purpose()) {
        Ok(columns) => Shown::page(blank(&columns)),
        Err(refusal) => {
            let refusal = Refusal { field: "figures".to_owned(), ..refusal };
            let page = blank(&usual_columns(of.purpose()));
            Err(refused(page, ask.form_from_query(COLUMNS), refusal))
        }
    }
}

/// The screen with other columns and all that was typed. A column that holds something stays, asked for or not.
pub(super) fn redraw(ask: &Ask, snapshot: &Snapshot, of: &For<'_>) -> Outcome {
    let standing: Vec<&str> = ask.body.all("column").collect();
    let rows = grid::typed_rows(&ask.body, standing.len());
    let filled = standing
        .iter()
        .enumerate()
        .filter(|(at, _)| {
            rows.iter().any(|row| row.cells.get(*at).is_some_and(|cell| !cell.trim().is_empty()))
        })
        .map(|(_, name)| *name);
    let mut names: Vec<&str> = ask.body.all("columns").collect();
    names.extend(ask.body.text("figures").unwrap_or_default().split(';'));
    names.extend(filled);
    let wanted = ask.body.text("rows").and_then(|text| text.parse().ok()).unwrap_or(grid::USUAL_ROWS);
    let count = wanted.max(rows.len()).clamp(1, grid::MOST_ROWS);
    let drawn = |columns: &[Column]| {
        let cells = moved(&ask.body, &standing, columns);
        let mut page = page(ask, snapshot, of, columns, count, &cells);
        page.form = Form::filled(FIELDS, ask.units(), &ask.body).and(page.form);
        page
    };
    match columns_of(&names, of.purpose()) {
        Ok(columns) => Shown::page(drawn(&columns)),
        Err(refusal) => {
            let refusal = Refusal { field: "figures".to_owned(), ..refusal };
            let columns = columns_of(&standing, of.purpose()).unwrap_or_else(|_| usual_columns(of.purpose()));
            Err(refused(drawn(&columns), Form::filled(COLUMNS, ask.units(), &ask.body), refusal))
        }
    }
}

/// The screen with the reason why its columns stay as they are.
fn refused(mut page: EnterPage, mut choose: Form, refusal: Refusal) -> Problem {
    choose.refuse(refusal.clone());
    page.shell = page.shell.refused();
    page.choose = choose;
    Problem::form(vec![refusal], page)
}

/// What was typed, each cell under its column's new place.
fn moved(typed: &Typed, standing: &[&str], columns: &[Column]) -> Typed {
    let places: Vec<Option<usize>> = standing
        .iter()
        .map(|name| {
            let column = Column::of(name).ok()?;
            columns.iter().position(|other| *other == column)
        })
        .collect();
    let mut cells = Typed::default();
    for (name, text) in typed.iter() {
        let Some((row, column)) = grid::cell_at(name) else {
            cells.add(name, text);
            continue;
        };
        if let Some(place) = places.get(column).copied().flatten() {
            cells.add(grid::cell_field(row, place), text);
        }
    }
    cells
}
