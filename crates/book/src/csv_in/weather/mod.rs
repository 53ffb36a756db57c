//! Daily weather from a table of any station: the columns and units are proposed from the headings,
//! the person says the last word, and either every row is stored or none.

pub(super) mod dates;
mod headings;
mod normals;
mod rows;

use ground::kit::Refusal;
use jiff::civil::Date;
use serde::Serialize;

use super::table::{RowRefusal, Table, short};
use crate::error::{BookError, Result};
use crate::held::{Held, Stamp};
use crate::model::EntryId;
use crate::model::weather::{
    ColumnRead, DateOrder, WeatherColumn, WeatherTable, WeatherUnit, WeatherWhat, WindHeight,
};
use crate::store::Book;

pub use normals::read_normals_csv;
pub use rows::read_weather_csv;

/// Lines that begin so are remarks of the station.
const COMMENT: Option<u8> = Some(b'#');

/// What an import says beside the table itself.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherImport {
    /// The station or gauge.
    pub name: String,
    /// Measured or forecast.
    pub what: WeatherWhat,
    /// Height of the wind gauge.
    pub wind_height_m: Option<WindHeight>,
    /// What each column holds, in the order of the table; see [`propose_weather_columns`].
    pub columns: Vec<ColumnRead>,
    /// The order of day, month and year.
    pub date_order: DateOrder,
    /// Anything else.
    pub note: String,
}

/// What the columns of a table seem to hold.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WeatherProposal {
    /// One for each column of the table, in its order.
    pub columns: Vec<ColumnRead>,
    /// The order that the dates prove; `None` where day and month could be either way round.
    pub date_order: Option<DateOrder>,
    /// The table with the same headings that this follows.
    pub as_before: Option<EntryId>,
}

/// Days missing from a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Gap {
    /// First missing day.
    pub from: Date,
    /// Last missing day.
    pub to: Date,
}

/// A table as it was read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WeatherRead {
    /// What would be stored.
    pub table: WeatherTable,
    /// Days missing between its first and last.
    pub gaps: Vec<Gap>,
    /// Headings of columns that were passed over.
    pub passed_over: Vec<String>,
}

/// What came in.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ImportedWeather {
    /// The record of the table.
    pub id: EntryId,
    /// The table as it was read.
    pub read: WeatherRead,
    /// Did the same table stand in the book already? Then it was not stored twice.
    pub known_already: bool,
}

/// Proposes what the columns of a table hold: as the last of `tables` with the same headings was
/// read, else by what the headings say.
///
/// # Errors
/// The text is no table.
pub fn propose_weather_columns(
    text: &str,
    tables: &[Held<WeatherTable>],
) -> std::result::Result<WeatherProposal, Vec<RowRefusal>> {
    let table = Table::read(text, COMMENT)?;
    if table.lines.is_empty() {
        return Err(table.trouble);
    }
    let headings: Vec<&str> = table.headings.iter().collect();
    let same = |held: &&Held<WeatherTable>| {
        let known = held.body.columns.iter().map(|read| read.heading.as_str());
        !held.body.columns.is_empty() && known.eq(headings.iter().copied())
    };
    let before = tables.iter().rev().find(same);
    let columns = match before {
        Some(held) => held.body.columns.clone(),
        None => by_headings(&headings),
    };
    let date = columns.iter().position(|read| read.column == Some(WeatherColumn::Date));
    let dates = table.lines.iter().filter_map(|line| line.cell(date?));
    let proven = dates::proven(dates);
    let date_order = match (proven, before) {
        // The dates have the last word; where they leave it open, it is as it was.
        (None, Some(held)) if held.body.date_order != DateOrder::YearMonthDay => Some(held.body.date_order),
        _ => proven,
    };
    Ok(WeatherProposal { columns, date_order, as_before: before.map(|held| held.id) })
}

fn by_headings(headings: &[&str]) -> Vec<ColumnRead> {
    let mut columns: Vec<ColumnRead> = Vec::new();
    for heading in headings {
        let found = headings::understood(heading)
            .filter(|(column, _)| columns.iter().all(|before| before.column != Some(*column)));
        columns.push(ColumnRead {
            heading: short(heading),
            column: found.map(|(column, _)| column),
            unit: found.and_then(|(_, unit)| unit),
        });
    }
    columns
}

impl WeatherProposal {
    /// Says what the column of that heading holds and in which unit; `None` passes it over. Where
    /// another column was taken for the same thing, that one is passed over.
    ///
    /// # Errors
    /// There is no such heading, or the unit is none of that column.
    pub fn set(
        &mut self,
        heading: &str,
        column: Option<WeatherColumn>,
        unit: Option<WeatherUnit>,
    ) -> std::result::Result<(), Refusal> {
        let Some(place) =
            self.columns.iter().position(|read| read.heading.eq_ignore_ascii_case(heading.trim()))
        else {
            let known: Vec<&str> = self.columns.iter().map(|read| read.heading.as_str()).take(40).collect();
            return Err(Refusal::new("map", format!("the table has no column {:?}", short(heading)))
                .given(short(heading))
                .accepted(known.join(", "))
                .example(known.first().copied().unwrap_or("date")));
        };
        if let (Some(column), Some(unit)) = (column, unit)
            && !column.units().contains(&unit)
        {
            return Err(Refusal::new("map", format!("{} is not given in {}", column.words(), unit.symbol()))
                .given(unit.symbol())
                .accepted(units_words(column))
                .example(column.units().first().map_or("no unit", |unit| unit.symbol())));
        }
        for other in self.columns.iter_mut().filter(|other| column.is_some() && other.column == column) {
            (other.column, other.unit) = (None, None);
        }
        let said = headings::understood(heading).filter(|(said, _)| Some(*said) == column);
        if let Some(read) = self.columns.get_mut(place) {
            read.column = column;
            read.unit = column.and(unit.or_else(|| said.and_then(|(_, unit)| unit)));
        }
        Ok(())
    }
}

fn units_words(column: WeatherColumn) -> String {
    if column.units().is_empty() {
        return "no unit".to_owned();
    }
    column.units().iter().map(|unit| unit.symbol()).collect::<Vec<_>>().join(", ")
}

impl Book {
    /// Records a table of daily weather, see [`read_weather_csv`].
    ///
    /// # Errors
    /// [`BookError::Rows`] names every wrong cell; then nothing is stored.
    pub fn import_weather_csv(
        &mut self,
        text: &str,
        import: &WeatherImport,
        stamp: &Stamp,
    ) -> Result<ImportedWeather> {
        let read = read_weather_csv(text, import).map_err(BookError::Rows)?;
        let tables = self.snapshot()?.weather_tables;
        if let Some(same) = tables.iter().find(|held| held.body == read.table) {
            return Ok(ImportedWeather { id: same.id, read, known_already: true });
        }
        let held = self.record(read.table.clone(), stamp)?;
        Ok(ImportedWeather { id: held.id, read, known_already: false })
    }
}
