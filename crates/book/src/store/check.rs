//! Looking a whole book over.

use std::collections::BTreeMap;

use jiff::Timestamp;
use rusqlite::Connection;
use serde::Serialize;
use serde_json::Value;

use super::migrate::{LATEST, migrate};
use super::{Book, attachment};
use crate::error::{BookError, Result};
use crate::model::{Body, EntryId, Kind, Links};

/// Complaints of SQLite shown at most.
const MOST_COMPLAINTS: u32 = 20;

/// What was looked over and what was found.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct CheckReport {
    /// Records, withdrawn ones too.
    pub records: usize,
    /// Revisions of them.
    pub revisions: usize,
    /// Attached files.
    pub attachments: usize,
    /// What is wrong; empty for a sound book.
    pub problems: Vec<Problem>,
}

/// Something wrong in a book.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// Where: the file, a record, an attached file.
    pub place: String,
    /// What is wrong there.
    pub detail: String,
}

impl CheckReport {
    /// Is nothing wrong?
    #[must_use]
    pub fn is_clean(&self) -> bool {
        self.problems.is_empty()
    }

    fn add(&mut self, place: impl Into<String>, detail: impl Into<String>) {
        self.problems.push(Problem { place: place.into(), detail: detail.into() });
    }
}

impl Book {
    /// Looks the whole book over: the file's structure, the links, every revision of every record,
    /// every attached file against its SHA-256.
    ///
    /// # Errors
    /// Only when the book cannot be read at all; what is merely wrong stands in the report.
    pub fn check(&self) -> Result<CheckReport> {
        let mut report = CheckReport::default();
        let looked = look_over(&self.connection, &mut report);
        match looked.map_err(|error| BookError::of(&self.path, error)) {
            Ok(()) => Ok(report),
            Err(BookError::Damaged { detail, .. }) => {
                report.add("file", detail);
                Ok(report)
            }
            Err(other) => Err(other),
        }
    }
}

fn look_over(connection: &Connection, report: &mut CheckReport) -> rusqlite::Result<()> {
    structure(connection, report)?;
    schema(connection, report)?;
    log(connection, report)?;
    attachments(connection, report)
}

fn structure(connection: &Connection, report: &mut CheckReport) -> rusqlite::Result<()> {
    let mut statement = connection.prepare(&format!("PRAGMA integrity_check({MOST_COMPLAINTS})"))?;
    for line in statement.query_map([], |row| row.get::<_, String>(0))? {
        let line = line?;
        if line != "ok" {
            report.add("file", line);
        }
    }
    let mut statement = connection.prepare("PRAGMA foreign_key_check")?;
    let links =
        statement.query_map([], |row| Ok((row.get::<_, Option<i64>>(1)?, row.get::<_, String>(2)?)))?;
    for link in links {
        let (row, table) = link?;
        let row = row.map_or_else(|| "?".to_owned(), |row| row.to_string());
        report.add(format!("revision {row} of the log"), format!("points to a missing {table}"));
    }
    Ok(())
}

/// The tables, guards and views must be those this program makes.
fn schema(connection: &Connection, report: &mut CheckReport) -> rusqlite::Result<()> {
    let mut model = Connection::open_in_memory()?;
    migrate(&mut model, 0, LATEST)?;
    let (wanted, found) = (objects(&model)?, objects(connection)?);
    for (name, sql) in &wanted {
        match found.get(name) {
            None => report.add(format!("table or view {name}"), "is missing"),
            Some(other) if other != sql => report.add(format!("table or view {name}"), "was changed"),
            Some(_) => {}
        }
    }
    Ok(())
}

fn objects(connection: &Connection) -> rusqlite::Result<BTreeMap<String, Option<String>>> {
    connection
        .prepare("SELECT name, sql FROM sqlite_schema")?
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect()
}

fn log(connection: &Connection, report: &mut CheckReport) -> rusqlite::Result<()> {
    let mut kinds: BTreeMap<String, (Option<Kind>, u32)> = BTreeMap::new();
    let mut statement = connection.prepare("SELECT id, kind FROM entry")?;
    for entry in statement.query_map([], |row| Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?)))? {
        let (id, kind) = entry?;
        if id.parse::<EntryId>().map_or(true, |parsed| parsed.to_string() != id) {
            report.add(format!("record {id}"), "its identity is malformed");
        }
        let known = Kind::of_name(&kind);
        if known.is_none() {
            report.add(format!("record {id}"), format!("its kind {kind:?} is unknown"));
        }
        kinds.insert(id, (known, 0));
    }
    report.records = kinds.len();
    let farms = kinds.values().filter(|(kind, _)| *kind == Some(Kind::Farm)).count();
    if farms != 1 {
        report.add("file", format!("a book has one farm, and this one has {farms}"));
    }

    let mut statement =
        connection.prepare("SELECT entry_id, number, recorded_at, body FROM revision ORDER BY sequence")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        report.revisions += 1;
        let (id, number): (String, u32) = (row.get(0)?, row.get(1)?);
        let (recorded_at, body): (String, String) = (row.get(2)?, row.get(3)?);
        let place = format!("record {id} revision {number}");
        if let Err(error) = recorded_at.parse::<Timestamp>() {
            report.add(&place, format!("its time is malformed: {error}"));
        }
        let Some((kind, last)) = kinds.get_mut(&id) else { continue };
        if number != *last + 1 {
            report.add(&place, format!("it follows revision {last}"));
        }
        *last = number;
        let Some(kind) = *kind else { continue };
        match serde_json::from_str::<Value>(&body)
            .map_err(|error| error.to_string())
            .and_then(|json| Body::read(kind, &json).map_err(|refusal| refusal.to_string()))
        {
            Err(why) => report.add(&place, why),
            Ok(body) => links(&body.links(), &kinds, &place, report),
        }
    }
    for (id, (_, last)) in &kinds {
        if *last == 0 {
            report.add(format!("record {id}"), "it has no revision");
        }
    }
    Ok(())
}

/// Each link must lead to a record of the right kind; that it leads somewhere, SQLite has looked.
fn links(
    links: &Links,
    kinds: &BTreeMap<String, (Option<Kind>, u32)>,
    place: &str,
    report: &mut CheckReport,
) {
    for (link, wanted) in links.records() {
        let Some(id) = link else { continue };
        if let Some((Some(kind), _)) = kinds.get(&id.to_string())
            && *kind != wanted
        {
            report.add(place, format!("its {} {id} is a {}", wanted.name(), kind.name()));
        }
    }
}

fn attachments(connection: &Connection, report: &mut CheckReport) -> rusqlite::Result<()> {
    let mut statement = connection.prepare("SELECT sha256, bytes FROM attachment")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        report.attachments += 1;
        let sha256: String = row.get(0)?;
        if attachment::hash(row.get_ref(1)?.as_blob()?) != sha256 {
            report.add(format!("attached file {sha256}"), "its bytes are not those that were attached");
        }
    }
    Ok(())
}
