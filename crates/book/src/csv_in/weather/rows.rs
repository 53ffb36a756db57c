//! From the cells of a weather table to days, every wrong cell named.

use std::collections::BTreeMap;

use ground::kit::Refusal;
use jiff::Span;
use jiff::civil::Date;

use super::{COMMENT, Gap, WeatherImport, WeatherRead, dates, units_words};
use crate::csv_in::table::{Line, RowRefusal, Table, short};
use crate::model::Record;
use crate::model::weather::{WeatherColumn, WeatherDay, WeatherTable, WeatherUnit};

/// A column that is read: its place, heading, what it holds, its unit.
struct Reading<'a> {
    place: usize,
    heading: &'a str,
    column: WeatherColumn,
    unit: WeatherUnit,
}

/// Reads a table of daily weather, one row a day.
///
/// A cell that is empty, or holds one of the usual marks for a missing value (`M`, `NA`, `-999` and
/// the like), says nothing; a trace of rain is none. A day without any value is left out, and days
/// missing between the first and the last are told.
///
/// # Errors
/// Every cell that is refused, with its line and the heading of its column; days that stand in the table twice;
/// a column whose unit is not said.
pub fn read_weather_csv(text: &str, import: &WeatherImport) -> Result<WeatherRead, Vec<RowRefusal>> {
    let table = Table::read(text, COMMENT)?;
    let (date_place, readings) = readings(&table, import)?;
    let mut refusals = Vec::new();
    let mut days: BTreeMap<Date, (u64, WeatherDay)> = BTreeMap::new();
    for line in &table.lines {
        let (day, wrong) = day(line, date_place, &readings, import, table.delimiter == b';');
        refusals.extend(wrong.into_iter().map(|refusal| RowRefusal { line: line.number, refusal }));
        let Some(day) = day.filter(|day| !day.is_empty()) else { continue };
        if let Err(refusal) = day.check() {
            refusals.push(RowRefusal { line: line.number, refusal: headed(refusal, &readings) });
        }
        if let Some((first, _)) = days.get(&day.date) {
            refusals.push(RowRefusal {
                line: line.number,
                refusal: Refusal::new(
                    heading(import, date_place),
                    format!("{} stands in the table twice, first on line {first}", day.date),
                )
                .given(day.date)
                .accepted("each day once"),
            });
        } else {
            days.insert(day.date, (line.number, day));
        }
    }
    refusals.extend(table.trouble);
    refusals.extend(shares_in_percent(&readings, &days));
    if refusals.is_empty() && days.is_empty() {
        refusals.push(RowRefusal { line: 1, refusal: Refusal::new("", "no row of the table holds a value") });
    }
    if !refusals.is_empty() {
        refusals.sort_by_key(|refusal| refusal.line);
        return Err(refusals);
    }
    let table = WeatherTable {
        name: import.name.trim().to_owned(),
        what: import.what,
        wind_height_m: import.wind_height_m,
        days: days.into_values().map(|(_, day)| day).collect(),
        columns: import.columns.clone(),
        date_order: import.date_order,
        note: import.note.clone(),
    };
    table.check().map_err(|refusal| vec![RowRefusal { line: 1, refusal }])?;
    let passed = import.columns.iter().filter(|read| read.column.is_none() && !read.heading.is_empty());
    let passed_over = passed.map(|read| read.heading.clone()).collect();
    Ok(WeatherRead { gaps: gaps(&table.days), table, passed_over })
}

fn heading(import: &WeatherImport, place: usize) -> &str {
    import.columns.get(place).map_or("date", |read| read.heading.as_str())
}

/// Where the date stands, and what else is read.
fn readings<'a>(
    table: &Table,
    import: &'a WeatherImport,
) -> Result<(usize, Vec<Reading<'a>>), Vec<RowRefusal>> {
    let mut refusals = Vec::new();
    let mut refuse = |refusal| refusals.push(RowRefusal { line: 1, refusal });
    let same = import.columns.iter().map(|read| read.heading.clone()).eq(table.headings.iter().map(short));
    if !same {
        refuse(
            Refusal::new("", "the headings of the table are not those that were looked at")
                .given(table.headings.iter().take(20).collect::<Vec<_>>().join(", "))
                .accepted("the same table"),
        );
        return Err(refusals);
    }
    let mut date = None;
    let mut readings: Vec<Reading<'a>> = Vec::new();
    for (place, read) in import.columns.iter().enumerate() {
        let Some(column) = read.column else { continue };
        if readings.iter().any(|before| before.column == column)
            || (column == WeatherColumn::Date && date.is_some())
        {
            refuse(
                Refusal::new(&read.heading, format!("another column is read as {} too", column.words()))
                    .given(column.name())
                    .accepted("one column for each; pass the other over"),
            );
            continue;
        }
        if column == WeatherColumn::Date {
            date = Some(place);
            continue;
        }
        match read.unit.filter(|unit| column.units().contains(unit)) {
            Some(unit) => readings.push(Reading { place, heading: &read.heading, column, unit }),
            None => refuse(
                Refusal::new(
                    &read.heading,
                    format!("the heading does not say the unit of the {}", column.words()),
                )
                .given(read.unit.map_or("no unit", WeatherUnit::symbol))
                .accepted(units_words(column))
                .example(column.units().first().map_or("", |unit| unit.symbol())),
            ),
        }
    }
    if readings.is_empty() && refusals.is_empty() {
        refusals.push(RowRefusal {
            line: 1,
            refusal: Refusal::new("", "no column of the table is understood as weather")
                .given(table.headings.iter().take(20).collect::<Vec<_>>().join(", "))
                .accepted(
                    WeatherColumn::ALL.iter().map(|column| column.name()).collect::<Vec<_>>().join(", "),
                )
                .example("date,tmax_c,tmin_c,rain_mm"),
        });
    }
    match date {
        Some(date) if refusals.is_empty() => Ok((date, readings)),
        Some(_) => Err(refusals),
        None => {
            refusals.push(RowRefusal {
                line: 1,
                refusal: Refusal::new("date", "no column of the table is understood as the date")
                    .given(table.headings.iter().take(20).collect::<Vec<_>>().join(", "))
                    .accepted("a column of dates")
                    .example("date"),
            });
            Err(refusals)
        }
    }
}

/// One row: the day, unless its date cannot be read, and every cell that is refused.
fn day(
    line: &Line,
    date_place: usize,
    readings: &[Reading<'_>],
    import: &WeatherImport,
    comma_is_decimal: bool,
) -> (Option<WeatherDay>, Vec<Refusal>) {
    let mut refusals = Vec::new();
    let written = line.cell(date_place).unwrap_or_default();
    let mut day = match dates::read(written, import.date_order) {
        Ok(date) => Some(WeatherDay::empty(date)),
        Err(trouble) => {
            let message = if written.is_empty() {
                "the date is missing".to_owned()
            } else {
                format!("{:?}: {}", short(written), trouble.words())
            };
            refusals.push(
                Refusal::new(heading(import, date_place), message)
                    .given(if written.is_empty() { "nothing".to_owned() } else { short(written) })
                    .accepted(import.date_order.words())
                    .example("2026-06-14"),
            );
            None
        }
    };
    // The other cells are looked at too, so that one look finds all that is wrong.
    let mut unplaced = WeatherDay::empty(Date::ZERO);
    let into = day.as_mut().unwrap_or(&mut unplaced);
    for reading in readings {
        let Some(text) = line.cell(reading.place).filter(|text| !is_missing(text)) else { continue };
        let text = if reading.column == WeatherColumn::Rain && is_trace(text) { "0" } else { text };
        // Where semicolons part the cells, a comma parts the decimals.
        let decimal = comma_is_decimal && text.matches(',').count() == 1 && !text.contains('.');
        let read = if decimal {
            reading.column.read(reading.heading, &text.replace(',', "."), reading.unit, into)
        } else {
            reading.column.read(reading.heading, text, reading.unit, into)
        };
        if let Err(refusal) = read {
            refusals.push(refusal);
        }
    }
    (day, refusals)
}

/// The usual marks for a value that is missing.
pub(super) fn is_missing(text: &str) -> bool {
    const WORDS: [&str; 10] = ["-", "--", "---", "m", "na", "n/a", "nan", "null", "none", "missing"];
    const NUMBERS: [f64; 6] = [-99.0, -99.9, -999.0, -999.9, -9999.0, -99999.0];
    let text = text.trim().to_lowercase();
    text.is_empty()
        || WORDS.contains(&text.as_str())
        || text.parse::<f64>().is_ok_and(|number| NUMBERS.contains(&number))
}

/// Rain too little to measure.
fn is_trace(text: &str) -> bool {
    ["t", "tr", "trace"].contains(&text.trim().to_lowercase().as_str())
}

/// The refusal of a check, with the heading of the table in the place of the book's own field.
fn headed(refusal: Refusal, readings: &[Reading<'_>]) -> Refusal {
    match readings.iter().find(|reading| reading.column.name() == refusal.field) {
        Some(reading) => Refusal { field: reading.heading.to_owned(), ..refusal },
        None => refusal,
    }
}

/// Humidities that never go above one are shares, taken for percent.
fn shares_in_percent(readings: &[Reading<'_>], days: &BTreeMap<Date, (u64, WeatherDay)>) -> Vec<RowRefusal> {
    let humid = readings.iter().filter(|reading| reading.unit == WeatherUnit::Percent);
    humid
        .filter_map(|reading| {
            let values = days.values().filter_map(|(_, day)| reading.column.of(day));
            let most =
                values.fold(None, |most: Option<f64>, value| Some(most.map_or(value, |m| m.max(value))))?;
            (most > 0.0 && most <= 1.0).then(|| RowRefusal {
                line: 1,
                refusal: Refusal::new(
                    reading.heading,
                    format!(
                        "no humidity of this column is above 1 (the highest is {most}): shares, not percent?"
                    ),
                )
                .given(most)
                .accepted("percent, or the unit \"0 to 1\"")
                .example("0 to 1"),
            })
        })
        .collect()
}

fn gaps(days: &[WeatherDay]) -> Vec<Gap> {
    let one = Span::new().days(1);
    days.windows(2)
        .filter_map(|pair| {
            let from = pair[0].date.checked_add(one).ok()?;
            let to = pair[1].date.checked_sub(one).ok()?;
            (from <= to).then_some(Gap { from, to })
        })
        .collect()
}
