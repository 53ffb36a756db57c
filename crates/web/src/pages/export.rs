//! Taking the book out: the archive, a backup, tables for a spreadsheet.

use askama::Template;
use book::{Book, CSV_TABLES, Stamp};
use serde::Serialize;

use crate::ask::Ask;
use crate::problem::{Problem, Trouble};
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::when;

/// Addresses of this page.
pub const ROUTES: &[Route] = &[
    Route::page("/export", "What can be taken out of the book", show),
    Route::file("/export/archive.json", "The whole book as one JSON archive", archive),
    Route::file("/export/backup.farmbook", "A checked copy of the book", backup),
    Route::file("/export/tables/{table}", "One table of the book as CSV", table),
];

#[derive(Template, Serialize)]
#[template(path = "export.html")]
struct Export {
    #[serde(skip)]
    shell: Shell,
    file: String,
    tables: Vec<TableLine>,
}

/// A table that can be taken out.
#[derive(Serialize)]
struct TableLine {
    name: &'static str,
    path: String,
}

fn show(ask: &Ask) -> Outcome {
    let tables = CSV_TABLES.iter().map(|name| TableLine { name, path: format!("/export/tables/{name}.csv") });
    Shown::page(Export {
        shell: ask.shell(Section::Settings, "Export and backup"),
        file: ask.desk()?.path().display().to_string(),
        tables: tables.collect(),
    })
}

fn archive(ask: &Ask) -> Outcome {
    let bytes = ask.desk()?.book().to_archive()?.into_bytes();
    Ok(Shown::File { media_type: "application/json".to_owned(), name: Some(dated(ask, "json")?), bytes })
}

fn backup(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let unwritable = |error: std::io::Error| {
        Problem::from(Trouble::new(
            axum::http::StatusCode::INSUFFICIENT_STORAGE,
            "No backup was made",
            format!("The copy could not be written for a moment: {error}."),
        ).hint("Free some space for temporary files, or copy the book's file yourself while Spadework is not running."))
    };
    let folder = tempfile::tempdir().map_err(unwritable)?;
    let copy = folder.path().join("backup.farmbook");
    copy_of(&desk.book(), &copy)?;
    let bytes = std::fs::read(&copy).map_err(unwritable)?;
    Ok(Shown::File {
        media_type: "application/vnd.sqlite3".to_owned(),
        name: Some(dated(ask, "farmbook")?),
        bytes,
    })
}

fn copy_of(book: &Book, to: &std::path::Path) -> Result<(), Problem> {
    Ok(book.backup(to)?)
}

fn table(ask: &Ask) -> Outcome {
    let asked = ask.param("table");
    let name = asked.strip_suffix(".csv").unwrap_or(asked);
    let known = CSV_TABLES.iter().find(|known| **known == name).ok_or_else(|| {
        Problem::not_found(format!("There is no table called {name}. There are: {}.", CSV_TABLES.join(", ")))
    })?;
    let bytes = ask.desk()?.book().csv_table(known)?;
    let name = dated(ask, "csv")?.replacen(".csv", &format!("-{known}.csv"), 1);
    Ok(Shown::File {
        media_type: "text/csv; charset=utf-8; header=present".to_owned(),
        name: Some(name),
        bytes,
    })
}

/// "nettlewick-farm-2025-05-03.json".
pub(crate) fn dated(ask: &Ask, ending: &str) -> Result<String, Problem> {
    let Stamp { at, .. } = ask.stamp();
    let name = ask.snapshot()?.farm.body.name.to_lowercase();
    let name: String =
        name.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).take(40).collect();
    let name = name.trim_matches('-');
    let name = if name.is_empty() { "farm" } else { name };
    Ok(format!("{name}-{}.{ending}", when::day_of(at)))
}
