//! The weather that the book has: the usual one, the days, the forecast, and what is missing.

mod import;

use std::collections::BTreeMap;

use advice::words::day;
use askama::Template;
use book::model::{Body, EntryId, WeatherNormals, WeatherTable, WeatherWhat, month_name};
use book::{Held, Snapshot, WeatherOn};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{shown, shown_depth};
use crate::pages::things::fits_the_form;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::{when, words};

/// Addresses of the weather.
pub const ROUTES: &[Route] = &[
    Route::page("/weather", "The weather that the book has, and what is missing", show),
    Route::page("/weather/import", "The form for a table of daily weather", import::show),
    Route::save(
        "/weather/import",
        "Looks at a table of daily weather, or takes it in (take): column_0 and so on say what each column holds",
        import::FIELDS,
        import::save,
    )
    .up_to(8 << 20),
];

/// Days before today, and after it, that are shown one by one.
const BEFORE: i64 = 13;
const AFTER: i64 = 10;
/// Gaps that are named.
const GAPS: usize = 12;

#[derive(Template, Serialize)]
#[template(path = "weather.html")]
struct WeatherPage {
    #[serde(skip)]
    shell: Shell,
    /// What came in just before.
    taken: Option<String>,
    normals: Option<NormalsView>,
    tables: Vec<TableLine>,
    /// The measured days, as all tables together have them.
    measured: Option<Run>,
    /// The days around today.
    near: Vec<DayLine>,
    withdrawn: Vec<WithdrawnLine>,
}

/// The usual weather.
#[derive(Serialize)]
struct NormalsView {
    id: EntryId,
    source: String,
    months: Vec<MonthLine>,
}

#[derive(Serialize)]
struct MonthLine {
    month: &'static str,
    low: String,
    high: String,
    rain: String,
    /// Humidity, wind and sun, where they are known.
    rest: String,
}

/// One import, or one batch that was typed in.
#[derive(Serialize)]
struct TableLine {
    id: EntryId,
    name: String,
    what: WeatherWhat,
    days: usize,
    run: Run,
    note: String,
    /// Whether it can be changed by hand.
    by_hand: bool,
    written: String,
}

/// Days from the first to the last, with what is missing between them.
#[derive(Serialize)]
struct Run {
    from: String,
    to: String,
    days: usize,
    /// Days missing between the first and the last.
    missing: usize,
    /// "3 June 2026 to 5 June 2026".
    gaps: Vec<String>,
    /// Gaps that are not named.
    further: usize,
}

/// A day.
#[derive(Serialize)]
struct DayLine {
    date: Date,
    #[serde(skip)]
    told: String,
    says: String,
    forecast: bool,
    today: bool,
}

#[derive(Serialize)]
struct WithdrawnLine {
    id: EntryId,
    what: String,
    reason: String,
}

fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let units = ask.units();
    let days = snapshot.weather_days();
    let measured: Vec<Date> = days.values().filter(|on| !on.forecast).map(|on| on.day.date).collect();
    Shown::page(WeatherPage {
        shell: ask.shell(Section::Farm, "The weather in the book"),
        taken: ask.query.text("taken").and_then(|id| taken(&snapshot, id.parse().ok()?)),
        normals: snapshot.normals().map(|held| normals(held, units)),
        tables: snapshot.weather_tables.iter().rev().map(table_line).collect(),
        measured: run(&measured),
        near: near(&days, when::day_of(ask.stamp().at), units),
        withdrawn: withdrawn(&snapshot),
    })
}

/// "365 days were taken in, ..." for the table that came in just before.
fn taken(snapshot: &Snapshot, id: EntryId) -> Option<String> {
    let held = snapshot.weather_tables.iter().find(|held| held.id == id)?;
    let dates: Vec<Date> = held.body.days.iter().map(|day| day.date).collect();
    let run = run(&dates)?;
    let missing = match run.missing {
        0 => "no day between them is missing".to_owned(),
        1 => format!("one day between them is missing: {}", run.gaps.join(", ")),
        missing => format!("{missing} days between them are missing"),
    };
    Some(format!("{} days were taken in, {} to {}; {missing}.", run.days, run.from, run.to))
}

fn normals(held: &Held<WeatherNormals>, units: UnitSystem) -> NormalsView {
    let months = (1_i8..).zip(held.body.months.iter()).map(|(number, month)| {
        let mut rest: Vec<String> = Vec::new();
        rest.extend(month.rain_days.map(|days| format!("rain on {} days", days.get())));
        rest.extend(month.rh_mean_percent.map(|share| format!("humidity {}", shown(share, units))));
        rest.extend(month.wind_m_s.map(|wind| format!("wind {}", words::wind_in_words(wind.get(), units))));
        rest.extend(month.radiation_mj_m2_d.map(|sun| format!("sunlight {}", shown(sun, units))));
        rest.extend(month.sunshine_h.map(|sun| format!("sunshine {} a day", shown(sun, units))));
        MonthLine {
            month: month_name(number),
            low: shown(month.tmin_c, units),
            high: shown(month.tmax_c, units),
            rain: shown_depth(month.rain_mm, units),
            rest: rest.join(", "),
        }
    });
    NormalsView { id: held.id, source: held.body.source.clone(), months: months.collect() }
}

fn table_line(held: &Held<WeatherTable>) -> TableLine {
    let table = &held.body;
    let dates: Vec<Date> = table.days.iter().map(|day| day.date).collect();
    let by = if held.recorded_by.is_empty() { String::new() } else { format!(" by {}", held.recorded_by) };
    TableLine {
        id: held.id,
        name: table.name.clone(),
        what: table.what,
        days: table.days.len(),
        run: run(&dates).unwrap_or(Run {
            from: String::new(),
            to: String::new(),
            days: 0,
            missing: 0,
            gaps: Vec::new(),
            further: 0,
        }),
        note: table.note.clone(),
        by_hand: fits_the_form(table),
        written: format!("{}{by}", when::moment(held.recorded_at)),
    }
}

/// The run of some days that rise; nothing of none.
fn run(dates: &[Date]) -> Option<Run> {
    let (first, last) = (dates.first()?, dates.last()?);
    let (mut gaps, mut missing, mut further) = (Vec::new(), 0_usize, 0);
    for pair in dates.windows(2) {
        let (from, to) = (pair[0].saturating_add(1.day()), pair[1].saturating_sub(1.day()));
        if from > to {
            continue;
        }
        missing += usize::try_from((to - from).get_days()).unwrap_or_default() + 1;
        if gaps.len() == GAPS {
            further += 1;
        } else {
            gaps.push(if from == to { day(from) } else { format!("{} to {}", day(from), day(to)) });
        }
    }
    Some(Run { from: day(*first), to: day(*last), days: dates.len(), missing, gaps, further })
}

fn near(days: &BTreeMap<Date, WeatherOn>, today: Date, units: UnitSystem) -> Vec<DayLine> {
    let span = today.saturating_sub(BEFORE.days())..=today.saturating_add(AFTER.days());
    days.range(span)
        .map(|(date, on)| DayLine {
            date: *date,
            told: format!("{}, {}", date.strftime("%A"), day(*date)),
            says: words::day_words(&on.day, units),
            forecast: on.forecast,
            today: *date == today,
        })
        .collect()
}

fn withdrawn(snapshot: &Snapshot) -> Vec<WithdrawnLine> {
    let weather = |body: &Body| matches!(body, Body::WeatherNormals(_) | Body::WeatherTable(_));
    snapshot
        .withdrawn
        .iter()
        .filter(|one| weather(&one.record.body))
        .map(|one| WithdrawnLine {
            id: one.record.id,
            what: words::titled(&one.record.body),
            reason: one.reason.clone(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn gaps_between_days_are_counted_and_named() {
        let told = run(&[date(2026, 2, 27), date(2026, 3, 1), date(2026, 3, 5)]).expect("days");
        assert_eq!((told.days, told.missing, told.further), (3, 4, 0));
        assert_eq!(told.gaps, ["28 February 2026", "2 March 2026 to 4 March 2026"]);
        let years: Vec<Date> = (2000..2100).map(|year| date(year, 1, 1)).collect();
        let told = run(&years).expect("days");
        // A century of 99 gaps; 2000 to 2099 has 25 leap years, the last of them 2096.
        assert_eq!((told.gaps.len(), told.further), (GAPS, 99 - GAPS));
        assert_eq!(told.missing, 99 * 364 + 25);
        assert!(run(&[]).is_none());
        assert!(run(&[date(2026, 1, 1)]).expect("a day").gaps.is_empty());
    }
}
