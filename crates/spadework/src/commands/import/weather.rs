//! `import --weather`: daily weather from a table of any station.

use book::model::weather::{ColumnRead, DateOrder, WeatherColumn, WeatherUnit, WeatherWhat, WindHeight};
use book::{Book, BookError, Gap, WeatherImport, WeatherProposal, propose_weather_columns};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::kit::units::{field_unit, typed};
use ground::kit::{Bounded, Refusal};
use serde_json::json;

use crate::args::Global;
use crate::records;
use crate::report::{Report, columns, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Gaps named one by one.
const MOST_GAPS: usize = 10;

/// What is said of a weather table.
#[derive(Debug, Args)]
#[group(id = "told_of_weather")]
pub(super) struct Told {
    /// The station or gauge the weather is from
    #[arg(long, value_name = "NAME")]
    station: Option<String>,
    /// Say what a column holds and in which unit, or none to pass it over; once for each
    #[arg(long = "map", value_name = "HEADING=COLUMN:UNIT", requires = "weather")]
    maps: Vec<String>,
    /// Which comes first in a date
    #[arg(long, requires = "weather", value_parser = PossibleValuesParser::new(["year-first", "day-first", "month-first"]))]
    dates: Option<String>,
    /// The table is a forecast; a measured day takes its place
    #[arg(long, requires = "weather")]
    forecast: bool,
    /// Height of the wind gauge above the ground
    #[arg(long, value_name = "HEIGHT", requires = "weather")]
    wind_height: Option<String>,
    /// Anything else
    #[arg(long, value_name = "TEXT", default_value = "", requires = "weather")]
    note: String,
    /// Show how the columns are read, and store nothing
    #[arg(long, requires = "weather")]
    show_map: bool,
}

impl Told {
    /// Records a table.
    pub(super) fn import(
        &self,
        book: &mut Book,
        text: &str,
        by: &str,
        global: &Global,
        terminal: &Terminal,
    ) -> Result<Report, Trouble> {
        let snapshot = book.snapshot()?;
        let mut proposal =
            propose_weather_columns(text, &snapshot.weather_tables).map_err(BookError::Rows)?;
        for pair in &self.maps {
            let (heading, column, unit) = map(pair)?;
            proposal.set(heading, column, unit)?;
        }
        let date_order = match self.dates.as_deref() {
            Some("day-first") => Some(DateOrder::DayMonthYear),
            Some("month-first") => Some(DateOrder::MonthDayYear),
            Some(_) => Some(DateOrder::YearMonthDay),
            None => proposal.date_order,
        };
        if self.show_map {
            return shown(&proposal, date_order);
        }
        let Some(date_order) = date_order else {
            return Err(Refusal::new("dates", "the dates of this table could be day first or month first")
                .given("nothing")
                .accepted("--dates day-first or --dates month-first")
                .example("--dates month-first")
                .into());
        };
        let unit = field_unit(WindHeight::UNIT, global.system_or(snapshot.farm.body.units));
        let wind_height = self.wind_height.as_deref().map(|text| typed("wind-height", text, unit));
        let import = WeatherImport {
            name: self.station.clone().unwrap_or_default(),
            what: if self.forecast { WeatherWhat::Forecast } else { WeatherWhat::Measured },
            wind_height_m: wind_height.transpose()?,
            columns: proposal.columns,
            date_order,
            note: self.note.clone(),
        };
        let imported = book.import_weather_csv(text, &import, &shelf::stamp(by)).map_err(|error| {
            Trouble::from(error).hint("--show-map, which shows how the columns are read; --map corrects them")
        })?;
        let table = &imported.read.table;
        let (first, last) = (table.days.first(), table.days.last());
        let span = match (first, last) {
            (Some(first), Some(last)) => {
                format!("{} to {}", advice::words::day(first.date), advice::words::day(last.date))
            }
            _ => String::new(),
        };
        let id = records::short(book, imported.id);
        let head = if imported.known_already {
            format!("This table stands in the book already (record {id}); nothing was stored.")
        } else {
            format!(
                "Recorded: {} days of {} weather, {}, {span} (record {id}).",
                table.days.len(),
                table.what.words(),
                table.name
            )
        };
        let mut text = wrapped(&head, terminal.width, "  ");
        if !imported.read.gaps.is_empty() {
            text.push('\n');
            let gaps = format!("Days without weather: {}.", gap_words(&imported.read.gaps));
            text.push_str(&wrapped(&gaps, terminal.width, "  "));
        }
        if !imported.read.passed_over.is_empty() {
            text.push('\n');
            let passed = format!("Passed over: {}.", imported.read.passed_over.join(", "));
            text.push_str(&wrapped(&passed, terminal.width, "  "));
        }
        let json = json!({
            "table": imported.id, "known_already": imported.known_already, "days": table.days.len(),
            "first_day": first.map(|day| day.date), "last_day": last.map(|day| day.date),
            "gaps": imported.read.gaps, "passed_over": imported.read.passed_over,
            "columns": table.columns, "date_order": table.date_order,
        });
        Report::new(&json, text)
    }
}

fn gap_words(gaps: &[Gap]) -> String {
    let one = |gap: &Gap| {
        if gap.from == gap.to { gap.from.to_string() } else { format!("{} to {}", gap.from, gap.to) }
    };
    let mut words = gaps.iter().take(MOST_GAPS).map(one).collect::<Vec<_>>().join(", ");
    if gaps.len() > MOST_GAPS {
        words.push_str(&format!(" and {} more gaps", gaps.len() - MOST_GAPS));
    }
    words
}

/// `Max temp=tmax_c:F`; the last equals sign parts, since a heading may hold one.
fn map(pair: &str) -> Result<(&str, Option<WeatherColumn>, Option<WeatherUnit>), Refusal> {
    let refused = |message: String, accepted: String| {
        Refusal::new("map", message).given(pair).accepted(accepted).example("Max temp=tmax_c:F")
    };
    let names = || WeatherColumn::ALL.iter().map(|column| column.name()).collect::<Vec<_>>().join(", ");
    let Some((heading, said)) = pair.rsplit_once('=') else {
        return Err(refused(format!("{pair:?} has no equals sign"), "HEADING=COLUMN:UNIT".to_owned()));
    };
    if said.trim().eq_ignore_ascii_case("none") {
        return Ok((heading, None, None));
    }
    let (name, unit) = said.split_once(':').map_or((said, None), |(name, unit)| (name, Some(unit)));
    let column = WeatherColumn::of_name(name)
        .ok_or_else(|| refused(format!("{name:?} names no column"), format!("none, {}", names())))?;
    let unit = match unit {
        None => None,
        Some(unit) => Some(WeatherUnit::of_name(unit).ok_or_else(|| {
            let units: Vec<&str> = column.units().iter().map(|unit| unit.symbol()).collect();
            refused(format!("{unit:?} is no unit of this column"), units.join(", "))
        })?),
    };
    Ok((heading, Some(column), unit))
}

fn shown(proposal: &WeatherProposal, date_order: Option<DateOrder>) -> Result<Report, Trouble> {
    let row = |read: &ColumnRead| {
        let holds = read.column.map_or("passed over", WeatherColumn::name);
        let unit = match (read.column, read.unit) {
            (_, Some(unit)) => unit.symbol(),
            (Some(column), None) if !column.units().is_empty() => "say the unit",
            _ => "",
        };
        vec![read.heading.clone(), holds.to_owned(), unit.to_owned()]
    };
    let rows: Vec<Vec<String>> = proposal.columns.iter().map(row).collect();
    let order = date_order.map_or("day or month first? say --dates", DateOrder::words);
    let before = if proposal.as_before.is_some() { "\nAs the last table with these headings." } else { "" };
    let text = format!("{}\nDates: {order}{before}", columns(&rows, ""));
    let json =
        json!({ "columns": proposal.columns, "date_order": date_order, "as_before": proposal.as_before });
    Report::new(&json, text)
}

/// The columns that a weather table may have.
pub(super) fn list_columns() -> Result<Report, Trouble> {
    let units = |column: &WeatherColumn| {
        column.units().iter().map(|unit| unit.symbol()).collect::<Vec<_>>().join(", ")
    };
    let rows: Vec<Vec<String>> = WeatherColumn::ALL
        .iter()
        .map(|column| {
            vec![
                column.name().to_owned(),
                column.words().to_owned(),
                column.accepted(None),
                if column.units().is_empty() { String::new() } else { format!("or in {}", units(column)) },
            ]
        })
        .collect();
    let json: Vec<serde_json::Value> = WeatherColumn::ALL
        .iter()
        .map(|column| {
            json!({
                "column": column.name(), "holds": column.words(), "accepted": column.accepted(None),
                "units": column.units(),
            })
        })
        .collect();
    Report::new(&json!({ "columns": json }), columns(&rows, ""))
}
